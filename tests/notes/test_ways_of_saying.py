"""The same work told in other ways: grammar of acts, parts and findings. Invented lines, none from a dictation file."""

import pytest
from tests.notes.short import all_of

ACTS = {
    # a part, its count and its size before or behind the verb, or without one
    "Filters, six, sixteen by twenty by two, changed.": (
        ["replace air-filter x6 done"],
        ["6 air-filter 16x20x2 installed"],
    ),
    "Filters replaced, four, twenty by twenty by one.": (
        ["replace air-filter x4 done"],
        ["4 air-filter 20x20x1 installed"],
    ),
    "Two twenty by twenty by twos went in.": (
        ["replace air-filter x2 done"],
        ["2 air-filter 20x20x2 installed"],
    ),
    "A new inducer motor had gone in by ten.": (
        ["replace inducer-motor done"],
        ["1 inducer-motor installed"],
    ),
    "Contactor burnt, new one in, two pole thirty.": (
        ["replace contactor done"],
        ["1 contactor 2-pole 30 A installed"],
    ),
    "New transformer's in, forty V A.": (["replace transformer done"], ["1 transformer 40 VA installed"]),
    "A belt, B X fifty, was fitted.": (
        ["replace supply-fan-belt done"],
        ["1 supply-fan-belt BX50 installed"],
    ),
    "Replaced the relay, twenty four volt, and the fuse, five amp.": (
        ["replace fuse done", "replace relay done"],
        ["1 fuse 5 A installed", "1 relay 24 V installed"],
    ),
    "Put in a new forty five plus five, four forty volt.": (
        ["replace run-capacitor done"],
        ["1 run-capacitor 45+5 uF 440 V installed"],
    ),
    "Belts, B X fifty, are worn, so I hung two new ones.": (
        ["replace supply-fan-belt x2 done"],
        ["2 supply-fan-belt BX50 installed"],
    ),
    "Belt worn, A fifty two, not changed. Two to order.": (
        ["order supply-fan-belt x2 needed", "replace supply-fan-belt not-done"],
        ["2 supply-fan-belt A52 to-order"],
    ),
    "Order a bearing, no, order two.": (["order bearing x2 needed"], ["2 bearing to-order"]),
    "Parts needed, supply fan belt, B forty eight, quantity two.": (
        ["order supply-fan-belt x2 needed"],
        ["2 supply-fan-belt B48 to-order"],
    ),
    "Can you put a gas valve on order for me?": (["order gas-valve needed"], ["1 gas-valve to-order"]),
    "The old compressor goes back for the core.": ([], ["1 compressor removed"]),
    # the present told of oneself, and what one had to do
    "I swap the igniter and tighten the lugs.": (
        ["replace igniter done", "tighten wire-terminal done"],
        ["1 igniter installed"],
    ),
    "Had to replace the igniter.": (["replace igniter done"], ["1 igniter installed"]),
    "Was able to free up the damper.": (["repair outdoor-air-damper done"], []),
    "Ended up replacing the pressure switch.": (
        ["replace pressure-switch done"],
        ["1 pressure-switch installed"],
    ),
    "Put two pounds in it.": (["charge refrigerant done"], []),
    "The lugs were torqued to fifty inch pounds.": (["tighten wire-terminal done"], []),
    "I labelled the disconnect.": (["label disconnect done"], []),
    # acts as nouns, under headings
    "The control board's replacement is recommended.": (["replace control-board recommended"], []),
    "Gave the control board a reset.": (["reset control-board done"], []),
    "A quote for the compressor has been requested.": (["quote compressor needed"], []),
    "Owner wants a price on the condenser fan motor.": (["quote condenser-fan-motor needed"], []),
    "Did not do, condenser coil cleaning.": (["clean condenser-coil not-done"], []),
    "Recommendation, replace the drain pan.": (["replace drain-pan recommended"], []),
    "Smoke detector test not done.": (["test smoke-detector not-done"], []),
    "Offered, smoke detector replacement. Answer, no.": (["replace smoke-detector declined"], []),
    # state by frame
    "The disconnect is to be replaced.": (["replace disconnect needed"], []),
    "I told them they ought to get the evap coil washed and they said no thanks.": (
        ["clean evaporator-coil declined"],
        [],
    ),
    "Forgot to look at the pressure switch.": (["inspect pressure-switch not-done"], []),
    "Burners needed a brushing so I brushed them.": (["clean burner done"], []),
    "Compressor one has to be replaced, and the contactor with it.": (
        ["replace compressor 1 needed", "replace contactor needed"],
        [],
    ),
    # others, other days, and what is no act
    "The landlord replaced the thermostat.": ([], []),
    "Somebody on the day crew had bypassed the limit switch.": ([], []),
    "They changed the belt last year.": ([], []),
    "The contactor was replaced by the electrician.": ([], []),
    "If it trips again replace the control board.": ([], []),
    "It shut the unit down.": ([], []),
    "Follow up, none.": ([], []),
    "Clamp around the common, sixteen amps.": ([], []),
    "Reset the high pressure switch and the compressors both came up.": (
        ["reset high-pressure-switch done"],
        [],
    ),
    # what a pronoun means
    "The union on the gas line's leaking. Shut the gas off and tightened it.": (
        ["isolate gas-line done", "tighten gas-union done"],
        [],
    ),
    "Insulation on the suction line's missing, so I insulated it.": (["insulate refrigerant-line done"], []),
}

FOUND = {
    "The bearing on the left is noisy.": ["bearing left noisy"],
    "Condenser fan motors are running, number two is howling.": ["condenser-fan-motor 2 noisy"],
    "The contactor for compressor two is pitted.": ["contactor pitted"],
    "Fitted a new belt in place of the worn one.": ["supply-fan-belt worn"],
    "Condenser fan motor's dead seized.": ["condenser-fan-motor seized"],
    "The coil sensor reads fifty K, which is out of range.": ["coil-sensor out-of-range"],
    "Nothing wrong with the belt.": ["supply-fan-belt normal"],
    "The actuator responds intermittently.": ["economizer-actuator intermittent"],
    "Igniter's cracked clean through.": ["igniter cracked"],
    "The limit's marked to open at one sixty.": [],
    "Had a bent ladder.": [],
    "Test lead's cracked.": [],
    "The inducer won't come on.": ["inducer-motor failed"],
    "Fins are fine but the condenser coil is matted over.": ["condenser-coil dirty"],
    "There's a hairline crack in the heat exchanger.": ["heat-exchanger cracked"],
    "The damper won't budge.": ["outdoor-air-damper seized"],
    "The board's no longer supported.": ["control-board obsolete"],
    "The disconnect's rusted over.": ["disconnect corroded"],
}


@pytest.mark.parametrize("text", ACTS)
def test_work_and_parts(text):
    _, work, parts, _ = all_of(text)
    assert (work, parts) == tuple(sorted(x) for x in ACTS[text])


@pytest.mark.parametrize("text", FOUND)
def test_findings(text):
    assert all_of(text)[3] == sorted(FOUND[text])


PARTS = {
    "contactor": "contactor",
    "blower belt": "supply-fan-belt",
    "gas valve": "gas-valve",
    "drain pan": "drain-pan",
}
FRAMES = (
    "Found the {} damaged.",
    "There's a damaged {}.",
    "The {} was found damaged.",
    "The {} appears to be damaged.",
    "{}, damaged.",
    "Checked the {} and it's damaged.",
    "Turns out the {} is damaged.",
    "Looked at the {}, looks damaged.",
)


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("frame", FRAMES)
def test_a_condition_in_every_frame(frame, part):
    assert all_of(frame.format(part))[3] == [f"{PARTS[part]} damaged"]


@pytest.mark.parametrize("part", PARTS)
def test_a_denied_condition_is_none(part):
    assert all_of(f"The {part} is not damaged.")[3] == []
