"""Units: their forms, what neighbours decide, and errors that name file and line."""

import pytest

from hatchnote.errors import BadInput
from hatchnote.notes.tokens import tokenize
from hatchnote.notes.units import load_units


def code(form):
    tokens = tokenize(form)
    match = load_units().match(tokens, 0)
    return match.unit.ucum if match and match.stop == len(tokens) else None


# Every unit of the points in the trade, with its UCUM code (https://ucum.org, essence 2.2).
@pytest.mark.parametrize(
    ("forms", "ucum"),
    [
        (["volts", "V", "VAC", "V A C", "volts AC", "vdc", "volts D C"], "V"),
        (["millivolts", "mV"], "mV"),
        (["amps", "A", "amp", "amperes"], "A"),
        (["microamps", "µA", "uA", "micro amps"], "uA"),
        (["milliamps", "mA"], "mA"),
        (["ohms", "Ω"], "Ohm"),
        (["kilohms", "kΩ", "k ohms", "K ohm"], "kOhm"),
        (["megohms", "MΩ", "meg ohms"], "MOhm"),
        (["microfarads", "µF", "MFD", "M F D", "mike", "uF", "mfd"], "uF"),
        (["hertz", "Hz"], "Hz"),
        (["rpm", "R P M", "revolutions per minute", "revs a minute"], "/min"),
        (
            [
                "inches of water column",
                "in. w.c.",
                '" w.c.',
                "inches W C",
                "in wc",
                "inch water column",
                "iwc",
            ],
            "[in_i'H2O]",
        ),
        (["inches of mercury", "in. Hg", "inHg"], "[in_i'Hg]"),
        (["psi", "psig", "P S I G", "pounds per square inch", "PSI"], "[psi]"),
        (["Btu per hour", "Btu/h", "BTUH", "B T U an hour"], "[Btu_IT]/h"),
        (["MBH", "M B H"], "10*3.[Btu_IT]/h"),
        (["parts per million", "ppm", "P P M"], "[ppm]"),
        (["percent", "%", "per cent"], "%"),
        (["degrees Fahrenheit", "°F", "degrees F", "deg F"], "[degF]"),
        (["degrees Celsius", "°C"], "Cel"),
        (["cfm", "C F M", "cubic feet per minute", "cubic feet a minute"], "[cft_i]/min"),
        (["fpm", "feet per minute", "F P M"], "[ft_i]/min"),
        (["microns of vacuum"], "um[Hg]"),
        (["pounds"], "[lb_av]"),
        (["ounces", "oz"], "[oz_av]"),
        (["fluid ounces"], "[foz_us]"),
        (["horsepower", "hp", "horse", "H P"], "[HP]"),
        (["kilowatts", "kW"], "kW"),
        (["inch pounds", "in-lbs", "in. lb"], "[in_i].[lbf_av]"),
        (["foot pounds", "ft-lb", "ft lbs"], "[ft_i].[lbf_av]"),
        (["seconds", "s", "sec"], "s"),
        (["minutes", "min"], "min"),
        (["VA", "V A", "volt amps"], "V.A"),
        (["gpm", "gallons per minute"], "[gal_us]/min"),
        (["tons of cooling"], "12000.[Btu_IT]/h"),
    ],
)
def test_spoken_and_written_forms(forms, ucum):
    assert {form: code(form) for form in forms} == dict.fromkeys(forms, ucum)


@pytest.mark.parametrize(
    ("form", "ucum"),
    [
        ("gallons per day", "[gal_us]/d"),
        ("m/s²", "m/s2"),
        ("g/cm³", "g/cm3"),
        ("km^3", "km3"),
        ("kg / m2", "kg/m2"),
    ],
)
def test_units_made_of_two(form, ucum):
    assert code(form) == ucum


@pytest.mark.parametrize(
    ("line", "at", "ucum"),
    [
        ("manifold is three inches", 3, "[in_i'H2O]"),
        ("pulley is three inches", 3, "[in_i]"),
        ("the evacuation held at 500 microns", 5, "um[Hg]"),
        ("a 5 micron particle filter", 2, "um"),
        ("suction 118 pounds", 2, "[psi]"),
        ("added 2 pounds", 2, "[lb_av]"),
        ("a 5 ton rooftop unit", 2, "12000.[Btu_IT]/h"),
        ("5 tons of gravel", 1, "[ston_av]"),
        ("rotate it 90 degrees", 3, "deg"),
        ("return air 72 degrees", 3, "[degF]"),
    ],
)
def test_a_neighbour_decides_between_meanings(line, at, ucum):
    match = load_units().match(tokenize(line), at)
    assert match.unit.ucum == ucum
    assert ucum not in [u.ucum for u in match.others]
    assert match.others


UNIT = '[[unit]]\nucum = "[psi]"\nname = "psi"\nkind = "pressure"\nforms = ["squeeze(s)"]\n'


def test_a_company_adds_its_own_forms(tmp_path):
    own = tmp_path / "own.toml"
    own.write_text(UNIT)
    match = load_units(own).match(tokenize("squeezes"), 0)
    assert match.unit.ucum == "[psi]"
    assert load_units().match(tokenize("squeezes"), 0) is None


@pytest.mark.parametrize(
    ("content", "line", "why"),
    [
        (UNIT.replace("[psi]", "psig"), 2, "not a UCUM code"),
        (UNIT + '\n[[unit]]\nucum = "V"\nname = "V"\nkind = "voltage"\nforms = ["squeeze"]\n', 11, "twice"),
        (UNIT.replace('name = "psi"', 'nome = "psi"'), 3, "means nothing"),
        (UNIT.replace("squeeze(s)", "volts"), 5, "twice"),
        ("[[unit]\n", 1, "TOML"),
    ],
)
def test_a_wrong_vocabulary_is_told_with_file_and_line(tmp_path, content, line, why):
    own = tmp_path / "own.toml"
    own.write_text(content)
    with pytest.raises(BadInput) as told:
        load_units(own)
    assert "own.toml" in str(told.value)
    assert f"line {line}" in str(told.value)
    assert why in str(told.value)
