"""Work with its state, parts with size and count, findings. Invented lines."""

import pytest
from tests.notes.short import all_of

CASES = {
    "Replaced the belt with a B X forty four.": (
        ["replace supply-fan-belt done"],
        ["1 supply-fan-belt BX44 installed"],
        [],
    ),
    "Changed out all six filters, they're twenty by twenty by two pleats.": (
        ["replace air-filter x6 done"],
        ["6 air-filter 20x20x2 installed"],
        [],
    ),
    "Two new belts, A fifty fours.": (
        ["replace supply-fan-belt x2 done"],
        ["2 supply-fan-belt A54 installed"],
        [],
    ),
    "No heat exchanger cracks, no gas leaks.": ([], [], []),
    "Threw in a new igniter.": (["replace igniter done"], ["1 igniter installed"], []),
    "Hung a new condenser fan motor, one third horse ten seventy five.": (
        ["replace condenser-fan-motor done"],
        ["1 condenser-fan-motor 1/3 hp 1075 rpm installed"],
        [],
    ),
    "Contactor's pitted, swapped it out for a two pole forty amp, twenty four volt coil.": (
        ["replace contactor done"],
        ["1 contactor 2-pole 40 A 24 V installed"],
        ["contactor pitted"],
    ),
    "Hosed off the condenser coil, it was packed with cottonwood.": (
        ["clean condenser-coil done"],
        [],
        ["condenser-coil dirty"],
    ),
    "Blew out the drain line with nitrogen.": (["flush condensate-line done"], [], []),
    "Greased both blower bearings.": (["lubricate bearing x2 done"], [], []),
    "Snugged up all the lugs.": (["tighten wire-terminal done"], [], []),
    "Shut the gas off and tagged the unit.": (["isolate gas-line done", "label done"], [], []),
    "Gasket's missing, put a new one on.": (
        ["install gasket done"],
        ["1 gasket installed"],
        ["gasket missing"],
    ),
    "Needs a new contactor.": (["replace contactor needed"], [], []),
    "Heat exchanger has to be replaced, please quote that.": (
        ["quote heat-exchanger needed", "replace heat-exchanger needed"],
        [],
        [],
    ),
    "Bearings need replaced and so does the belt.": (
        ["replace bearing needed", "replace supply-fan-belt needed"],
        [],
        [],
    ),
    "Blower wheel's caked, needs pulled and cleaned.": (
        ["clean supply-fan-wheel needed"],
        [],
        ["supply-fan-wheel dirty"],
    ),
    "I recommend replacing the burners.": (["replace burner recommended"], [], []),
    "They should replace the smoke detector.": (["replace smoke-detector recommended"], [], []),
    "Offered to replace the bearings and they said no.": (["replace bearing declined"], [], []),
    "Recommended replacing the actuator. Customer declined.": (
        ["replace economizer-actuator declined"],
        [],
        [],
    ),
    "Recommended a new belt, they want to wait.": (["replace supply-fan-belt declined"], [], []),
    "Did not check the belt.": (["inspect supply-fan-belt not-done"], [], []),
    "Didn't clean the burners, no time.": (["clean burner not-done"], [], []),
    "Couldn't get to the evap coil.": (["inspect evaporator-coil not-done"], [], []),
    "Order a new motor pulley.": (["order motor-pulley needed"], ["1 motor-pulley to-order"], []),
    "Order two one inch pillow blocks.": (["order bearing x2 needed"], ["2 bearing 1 in. to-order"], []),
    "Replaced all three fuses with forty fives.": (["replace fuse x3 done"], ["3 fuse 45 A installed"], []),
    "No leaks found on the gas union.": ([], [], []),
    "Heat exchanger's rusted but no cracks or holes.": ([], [], ["heat-exchanger corroded"]),
    "Found a leak at the gas union, tightened it.": (["tighten gas-union done"], [], ["gas-union leaking"]),
    "Condenser fan two is noisy.": ([], [], ["condenser-fan-motor 2 noisy"]),
    "Left rollout switch was tripped.": ([], [], ["rollout-switch left tripped"]),
    "Filters look good, belt's fine.": ([], [], ["air-filter normal", "supply-fan-belt normal"]),
    "Found a cracked belt.": ([], [], ["supply-fan-belt cracked"]),
    "The switch on the wall is theirs, everything else is fine.": ([], [], []),
    "Leak checked the rest of it.": (["leak-test done"], [], []),
    "I'll need to come back with two people.": (["return-visit needed"], [], []),
    "Replaced the contactor, no, I mean the relay.": (["replace relay done"], ["1 relay installed"], []),
    "Do not turn this back on.": ([], [], []),
    "Replaced the inducer motor and the gasket, the old inducer's coming back with me for warranty.": (
        ["replace gasket done", "replace inducer-motor done"],
        ["1 gasket installed", "1 inducer-motor installed", "1 inducer-motor removed"],
        [],
    ),
}


@pytest.mark.parametrize("text", CASES)
def test_case(text):
    _, work, parts, findings = all_of(text)
    assert (work, parts, findings) == tuple(sorted(x) for x in CASES[text])
