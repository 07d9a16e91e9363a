"""Twelve invented dictations and all that should follow from each: nothing more, nothing less.

`computed` is (name, value, judgement), value None where it is unknown or a designation; the outside value behind each
is said in the line beside it where it is not plain arithmetic on the numbers said. Every visit also shows C01, C04
and C15.
"""

from dataclasses import dataclass, field

from hatchnote.domain import Nameplate


@dataclass(frozen=True)
class Scenario:
    name: str
    said: str
    computed: list
    cautions: set
    missing: list = field(default_factory=list)
    hints: list = field(default_factory=list)
    plates: dict = field(default_factory=dict)
    altitude_ft: float | None = None


SCENARIOS = [
    Scenario(
        "low charge on a leaking core",
        "R T U four, four ten A. Outdoor air eighty. Suction one hundred, discharge three hundred, suction line sixty, "
        "liquid line ninety two. It's low on charge, found the Schrader core leaking, changed the core. "
        "Leak checked the rest, no other leaks.",
        [
            ("superheat", 28.5, "outside"),  # dew 31.48 °F at 100 psig (CoolProp 7.2.0)
            ("subcooling", 3.8, "outside"),  # bubble 95.84 °F at 300 psig (CoolProp 7.2.0)
            ("compression ratio", 2.74, "within"),  # 314.7 / 114.7
            ("condensing over ambient", 15.8, "within"),
        ],
        {"C08", "C16"},
        hints=["H-low-charge-rtu-4"],
    ),
    Scenario(
        "one high leg on an uneven supply",
        "R T U one, plate says four sixty, three phase. L one to L two four fifty two, L two to L three four "
        "sixty four, L one to L three four fifty five. Compressor one eighteen two on L one, seventeen four on L two, "
        "twenty one six on L three. Compressor plate says twenty two.",
        [
            ("voltage unbalance", 1.53, "within"),  # worked example, published unit literature
            ("supply voltage", 457.0, "within"),  # 414 to 506 V, NEMA MG 1
            ("current unbalance, compressor 1", 13.3, "outside"),
            ("amps against the plate, compressor 1", 98.0, "within"),
        ],
        {"C03"},
        hints=["H-unbalanced-supply-rtu-1"],
    ),
    Scenario(
        "gas valve replaced, three things not written down",
        "R T U two. Replaced the gas valve. Inlet seven inches. Return sixty eight, supply one eighteen.",
        [
            ("temperature rise", 50.0, "outside"),  # plate 25 to 45
            ("airflow from the rise", 2963.0, "unknown"),  # 160000 / (1.08 x 50)
            ("inlet gas pressure", 7.0, "within"),
        ],
        {"C05", "C16"},
        missing=[
            "Leak test of the gas joints that were touched",
            "Manifold pressure as left",
            "Flame signal, or a check of the ignition sequence",
        ],
        plates={"RTU-2": Nameplate(gas="natural", output_btuh=160000, rise_min=25, rise_max=45)},
    ),
    Scenario(
        "cracked heat exchanger, machine shut off",
        "R T U seven, heating call. Flue C O two hundred fifty, oxygen nine percent. Heat exchanger is cracked. "
        "Ambient C O fourteen parts. Shut the gas off and locked out the disconnect.",
        [
            ("CO air-free", 439.1, "outside"),  # 250 x 20.9 / 11.9
            ("CO in the air", 14.0, "outside"),  # 9 ppm, 40 CFR 50.8
        ],
        {"C05", "C06", "C07"},
        missing=["Who was told, and when"],
        hints=["H-flue-gas-in-air-rtu-7"],
    ),
    Scenario(
        "circuit opened, evacuated and recharged",
        "R T U three, R twenty two. Recovered five pounds eight ounces. Replaced the filter drier. "
        "Leak tested with nitrogen. Evacuated to four hundred fifty microns. Weighed in six pounds, "
        "plate says six pounds eight ounces.",
        [
            ("net charge added of the full charge", 7.7, "unknown"),
            ("vacuum", 450.0, "within"),  # 500 microns
        ],
        {"C08", "C11"},
    ),
    Scenario(
        "wrong belt fitted, tension and alignment not said",
        "R T U five. Belt was cracked, replaced it with an A forty four. The tag calls for an A forty two.",
        [("belt against the plate", None, "outside")],
        {"C02"},
        missing=["Belt tension or deflection as left", "Alignment of the sheaves"],
    ),
    Scenario(
        "weak section of a dual capacitor",
        "R T U one. Run capacitor is rated forty five plus five, reads thirty nine point one on the compressor side "
        "and four point nine on the fan side. Replaced the capacitor. Compressor is pulling fourteen two, "
        "plate says sixteen five.",
        [
            ("amps against the plate, compressor", 86.0, "within"),
            ("capacitor deviation, compressor section", -13.1, "outside"),  # 42.3 to 47.7 uF
            ("capacitor deviation, fan section", -2.0, "within"),
        ],
        {"C02", "C03", "C10"},
        missing=["That the power was locked out for the work", "That the terminals were tightened"],
    ),
    Scenario(
        "one sensor far off, its twin on the curve",
        "R T U six. Return air sensor reads eleven point three K and return air is seventy two. "
        "Supply air sensor reads point six K.",
        [
            ("sensor against its curve, supply air", None, "unknown"),
            ("sensor against its curve, return air", -0.1, "within"),  # 11307 ohm at 72 °F on 10K-2
        ],
        set(),
        hints=["H-sensor-fault-rtu-6"],
        plates={"RTU-6": Nameplate(sensor_curve="10K-2")},
    ),
    Scenario(
        "outdoor air share on a high site",
        "R T U eight. Outdoor fifty, return seventy five, mixed seventy. Return humidity fifty percent.",
        [
            ("outdoor air", 20.0, "within"),
            ("return air wet bulb", 61.8, "unknown"),  # PsychroLib at 12.228 psia
        ],
        set(),
        altitude_ft=5000,
    ),
    Scenario(
        "a flammable blend topped off",
        "R T U nine, four fifty four B. Suction one eighteen, discharge three seventy five, suction line fifty five, "
        "liquid line ninety nine. Added one pound four ounces.",
        [
            ("superheat", 9.9, "within"),  # dew 45.09 °F (CoolProp 7.2.0, G22)
            ("subcooling", 17.0, "within"),  # bubble 115.97 °F; plate target 16
            ("compression ratio", 2.94, "within"),
            ("net charge added of the full charge", 10.4, "unknown"),  # 1.25 of 12 lb
        ],
        {"C08", "C09"},
        missing=["Leak check, or where the leak is"],
        plates={"RTU-9": Nameplate(subcooling_target=16, charge_lb=(12.0,))},
        altitude_ft=0,
    ),
    Scenario(
        "valve energized, no manifold pressure",
        "R T U two, no heat. Twenty five volts at the gas valve and manifold pressure is zero. Inlet seven.",
        [
            ("control voltage", 25.0, "within"),
            ("manifold pressure", 0.0, "unknown"),  # the reading is marked to check
            ("inlet gas pressure", 7.0, "within"),
        ],
        {"C05", "C16"},
        hints=["H-valve-not-opening-rtu-2"],
        plates={"RTU-2": Nameplate(gas="natural")},
    ),
    Scenario(
        "a switch left bypassed, the refrigerant never said",
        "R T U three. Suction one thirty, suction line fifty five. Left the low pressure switch jumpered.",
        [("superheat", None, "unknown")],
        {"C12", "C14", "C16"},
    ),
]
