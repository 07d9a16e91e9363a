"""Cautions, gaps and hints: when each shows, what lifts it, and that every rule can show at all."""

import re
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from trade_facts import (
    caution_kinds,
    facts,
    finding,
    hint_texts,
    missing_things,
    part,
    reading,
    work,
)

from hatchnote.errors import BadInput
from hatchnote.measures import is_known
from hatchnote.trade import judge
from hatchnote.trade.cautions import fixed, rules
from hatchnote.trade.hints import rules as hint_rules
from hatchnote.trade.limits import limits
from hatchnote.trade.missing import rules as missing_rules

MODELS = Path(__file__).parents[2] / "models" / "vocabulary"
PACKAGE = Path(__file__).parents[2] / "server" / "hatchnote" / "trade"
ALWAYS = {"C01", "C04", "C15"}

# The least that brings up each caution.
SHOWS = {
    "C02": [work("tighten", "wire-terminal")],
    "C03": [reading("voltage", 480)],
    "C05": [reading("manifold-pressure", 3.5)],
    "C06": [reading("co", 12, position="ambient")],
    "C07": [finding("heat-exchanger", "cracked")],
    "C08": [work("recover", "refrigerant")],
    "C10": [finding("run-capacitor", "bulged")],
    "C11": [work("replace", "filter-drier")],
    "C12": [work("bypass", "low-pressure-switch")],
    "C13": [reading("humidity", 140)],
    "C14": [reading("suction-pressure", 118), reading("suction-line-temperature", 55)],
    "C16": [reading("suction-pressure", 118)],
    "C17": [reading("insulation-resistance", 20, component="compressor")],
    "C18": [work("replace", "smoke-detector", "recommended")],
    "C19": [finding("rollout-switch", "tripped")],
    "C20": [finding("gas-union", "leaking")],
}


@pytest.mark.parametrize("which", SHOWS)
def test_caution_shows(which):
    a = judge(facts(*SHOWS[which]))
    assert which in caution_kinds(a)
    because = next(c.because for c in a.cautions if c.id.startswith(which))
    if which not in ALWAYS:
        assert because, "a caution names what it is because of"


def test_caution_for_a_flammable_refrigerant():
    assert "C09" in caution_kinds(judge(facts(reading("suction-pressure", 118), refrigerant="R-454B")))
    assert "C09" not in caution_kinds(judge(facts(reading("suction-pressure", 118), refrigerant="R-410A")))


def test_cautions_of_altitude():
    f = facts(reading("manifold-pressure", 3.5))
    assert "C16" in caution_kinds(judge(f))
    assert not {"C16", "C21"} & caution_kinds(judge(f, altitude_ft=500))
    assert "C21" in caution_kinds(judge(f, altitude_ft=5000))


def test_every_caution_has_a_case_here():
    assert {r["id"] for r in rules()} == set(SHOWS) | ALWAYS | {"C09", "C21"}


def test_a_belt_change_brings_no_gas_or_refrigerant_caution():
    kinds = caution_kinds(judge(facts(work("replace", "supply-fan-belt"))))
    assert kinds == ALWAYS | {"C02"}


def test_cautions_for_a_visit_show_once_and_on_a_machine_that_exists():
    a = judge(facts(reading("voltage", 480, tag="RTU-1"), reading("voltage", 480, tag="RTU-2")))
    assert [c.tag for c in a.cautions if c.id.startswith("C01")] == ["RTU-1"]
    assert [c.tag for c in a.cautions if c.id.startswith("C03")] == ["RTU-1", "RTU-2"]


def test_dangers_to_people_come_first_and_general_words_last():
    a = judge(
        facts(
            finding("heat-exchanger", "cracked"),
            reading("voltage", 480),
            reading("co", 40, position="ambient"),
        )
    )
    order = [c.id.split("-")[0] for c in a.cautions]
    assert order == ["C06", "C07", "C03", "C01", "C15", "C04"] + [i for i in order if i == "H"]


@pytest.mark.parametrize("which", ["C05", "C06", "C07", "C12", "C19", "C20"])
def test_cautions_of_a_danger_cannot_be_switched_off(which):
    assert which in fixed()
    with pytest.raises(BadInput, match="cannot be switched off"):
        judge(facts(work("bypass")), muted=[which])


def test_other_cautions_can_be_switched_off():
    f = facts(reading("voltage", 480))
    assert "C03" not in caution_kinds(judge(f, muted=["C03"]))
    with pytest.raises(BadInput, match="does not exist"):
        judge(f, muted=["C99"])


def test_a_caution_about_a_doubtful_reading_still_shows_and_says_so():
    a = judge(facts(reading("co", 40, position="ambient", check="unclear")))
    text = next(c.text for c in a.cautions if c.id.startswith("C06"))
    assert "marked to check" in text


class TestMissing:
    def test_gas_valve(self):
        f = facts(work("replace", "gas-valve"))
        assert missing_things(judge(f)) == [
            "Leak test of the gas joints that were touched",
            "Manifold pressure as left",
            "Flame signal, or a check of the ignition sequence",
        ]

    def test_gas_valve_with_everything_noted(self):
        f = facts(
            work("replace", "gas-valve"),
            work("leak-test", "gas-union"),
            reading("manifold-pressure", 3.5, moment="as-left"),
            reading("flame-signal", 3.1),
        )
        assert missing_things(judge(f)) == []

    def test_a_manifold_pressure_as_found_does_not_fill_the_gap(self):
        f = facts(work("adjust", "gas-valve"), reading("manifold-pressure", 3.1, moment="as-found"))
        assert missing_things(judge(f)) == ["Manifold pressure as left"]

    def test_refrigerant_circuit_opened(self):
        assert len(missing_things(judge(facts(work("replace", "compressor"))))) == 5
        f = facts(
            work("replace", "compressor"),
            work("leak-test"),
            reading("vacuum", 400),
            reading("refrigerant-charge", 6, position="recovered"),
            reading("refrigerant-charge", 6.5, position="added"),
            reading("refrigerant-charge", 6.5, basis="rated", position="total"),
            reading("current", 14, component="compressor", number="1"),
            refrigerant="R-410A",
        )
        assert missing_things(judge(f)) == []

    def test_charge_added_without_amount_or_kind(self):
        things = missing_things(judge(facts(work("charge", "refrigerant"))))
        assert "How much refrigerant was added, in pounds and ounces" in things
        assert "Which refrigerant was added" in things

    def test_belt(self):
        assert len(missing_things(judge(facts(work("replace", "supply-fan-belt"))))) == 3
        f = facts(
            work("replace", "supply-fan-belt"),
            work("align", "sheave"),
            reading("belt-deflection", 0.3),
            part("supply-fan-belt", size="BX44"),
        )
        assert missing_things(judge(f)) == []

    def test_motor_and_capacitor_want_amps_of_their_own(self):
        f = facts(work("replace", "supply-fan-motor"), reading("current", 4, component="compressor"))
        assert missing_things(judge(f)) == ["Blower motor amps as left, against the plate"]
        g = facts(
            work("replace", "run-capacitor"), work("tighten", "wire-terminal"), work("isolate", "disconnect")
        )
        assert missing_things(judge(g)) == ["Amps of the motor the capacitor serves, against the plate"]

    def test_sensor(self):
        assert missing_things(judge(facts(work("replace", "supply-air-sensor")))) == [
            "Resistance of the new sensor",
            "Temperature measured beside the new sensor",
        ]

    def test_electrical_work(self):
        assert missing_things(judge(facts(work("replace", "contactor")))) == [
            "That the power was locked out for the work",
            "That the terminals were tightened",
        ]

    @pytest.mark.parametrize(
        "what",
        [
            [finding("heat-exchanger", "cracked")],
            [finding("rollout-switch", "tripped")],
            [finding("burner", "flame-rollout")],
            [reading("co", 40, position="ambient")],
            [reading("co", 300, position="flue"), reading("oxygen", 9, position="flue")],
            [finding("gas-line", "leaking")],
        ],
        ids=["exchanger", "rollout switch", "rollout", "ambient CO", "flue CO", "gas leak"],
    )
    def test_a_safety_condition_asks_for_left_off_and_who_was_told(self, what):
        things = missing_things(judge(facts(*what)))
        assert "Whether the machine was left off" in things
        assert "Who was told, and when" in things

    def test_a_safety_condition_with_the_machine_isolated_and_someone_told(self):
        f = facts(finding("heat-exchanger", "cracked"), work("isolate", "gas-line"))
        assert missing_things(judge(f)) == ["Who was told, and when"]
        assert missing_things(judge(replace(f, told=(("RTU-1", "told the manager at ten"),)))) == []

    def test_work_that_is_only_recommended_asks_for_nothing(self):
        assert missing_things(judge(facts(work("replace", "gas-valve", "recommended")))) == []

    def test_every_gap_says_why_in_one_line(self):
        for rule in missing_rules():
            for item in rule["item"]:
                assert item["why"].endswith(".")
                assert "\n" not in item["why"]


class TestHints:
    def test_energized_valve_without_pressure(self):
        f = facts(reading("manifold-pressure", 0), reading("control-voltage", 25, component="gas-valve"))
        assert hint_texts(judge(f)) == [
            "Consistent with a gas valve that is energized and does not open, or no gas reaching it: "
            "manifold pressure 0 in. w.c.; gas valve control voltage 25 V."
        ]

    def test_no_voltage_no_hint(self):
        f = facts(reading("manifold-pressure", 0), reading("control-voltage", 0, component="gas-valve"))
        assert hint_texts(judge(f)) == []

    def test_low_charge_names_its_readings_and_circuit(self):
        f = facts(
            reading("suction-pressure", 98, circuit="2"),
            reading("suction-line-temperature", 56, circuit="2"),
            reading("discharge-pressure", 308, circuit="2"),
            reading("liquid-line-temperature", 94, circuit="2"),
            reading("suction-pressure", 120, circuit="1"),
            reading("suction-line-temperature", 52, circuit="1"),
            reading("discharge-pressure", 375, circuit="1"),
            reading("liquid-line-temperature", 98, circuit="1"),
            refrigerant="R-410A",
        )
        (text,) = hint_texts(judge(f))
        assert text.startswith("Consistent with too little refrigerant")
        assert "circuit 2" in text
        assert "circuit 1" not in text
        assert "98 psig" in text

    def test_superheat_of_one_circuit_and_subcooling_of_another_make_no_pattern(self):
        f = facts(
            reading("suction-pressure", 98, circuit="1"),
            reading("suction-line-temperature", 56, circuit="1"),
            reading("discharge-pressure", 308, circuit="2"),
            reading("liquid-line-temperature", 94, circuit="2"),
            refrigerant="R-410A",
        )
        assert hint_texts(judge(f)) == []

    def test_restriction_against_low_charge(self):
        f = facts(
            reading("suction-pressure", 90),
            reading("suction-line-temperature", 60),
            reading("discharge-pressure", 380),
            reading("liquid-line-temperature", 96),
            refrigerant="R-410A",
        )
        (text,) = hint_texts(judge(f))
        assert "restriction" in text

    def test_high_leg_with_unbalanced_volts(self):
        f = facts(
            *(reading("voltage", v, legs=p) for v, p in ((452, "L1-L2"), (464, "L2-L3"), (455, "L1-L3"))),
            *(
                reading("current", a, component="compressor", legs=p)
                for a, p in ((18, "L1"), (17, "L2"), (22, "L3"))
            ),
        )
        (text,) = hint_texts(judge(f))
        assert "supply's own unbalance" in text

    def test_high_leg_with_even_volts(self):
        f = facts(
            *(reading("voltage", 460, legs=p) for p in ("L1-L2", "L2-L3", "L1-L3")),
            *(
                reading("current", a, component="compressor", legs=p)
                for a, p in ((18, "L1"), (17, "L2"), (22, "L3"))
            ),
        )
        (text,) = hint_texts(judge(f))
        assert "the supply is even" in text

    def test_sensor_far_off_while_its_twin_agrees(self):
        f = facts(
            reading("resistance", 627, component="supply-air-sensor"),
            reading("resistance", 11200, component="return-air-sensor"),
            reading("return-air-temperature", 72),
        )
        (text,) = hint_texts(judge(f))
        assert "its twin agrees" in text
        assert "627 Ohm" in text

    def test_hints_from_a_doubtful_reading_say_so(self):
        (text,) = hint_texts(judge(facts(reading("flame-signal", 0.3, check="unclear"))))
        assert text.endswith("Depends on something marked to check.")

    def test_hints_never_order_a_part(self):
        for rule in hint_rules():
            assert not re.search(r"\b(replace|change|order|install|must|should be)\b", rule["text"])


def every_text():
    """All texts that this room can show: rule files and the strings of its code."""
    for name in ("limits", "cautions", "completeness", "hints"):
        text = (MODELS / f"{name}.toml").read_text(encoding="utf-8")
        yield name, "\n".join(line for line in text.splitlines() if not line.startswith("#"))
    for path in sorted(PACKAGE.rglob("*.py")):
        yield path.name, path.read_text(encoding="utf-8")


@pytest.mark.parametrize("word", [r"\bsafe(ly)?\b", r"\bpassed\b", r"\bOK\b", r"\bok to run\b"])
def test_no_text_says_more_than_a_comparison_can(word):
    for where, text in every_text():
        assert not re.search(word, text, re.IGNORECASE), f"{where} says {word}"


def test_every_unit_in_the_rule_files_is_a_ucum_code():
    for limit in limits().by_kind.values():
        assert is_known(limit.ucum)
    for name in ("cautions", "completeness", "hints", "limits"):
        text = (MODELS / f"{name}.toml").read_text(encoding="utf-8")
        tomllib.loads(text)
        for code in re.findall(r'ucum = "([^"]+)"', text):
            assert is_known(code), f"{name}: {code}"


def test_every_limit_names_its_source():
    for limit in limits().by_kind.values():
        for r in limit.ranges:
            assert r.source.strip()
            assert r.low is not None or r.high is not None


SLUG_FILES = {"component": "components", "verb": "verbs", "condition": "conditions", "point": "points"}


@pytest.mark.parametrize("key", SLUG_FILES)
def test_rule_files_use_only_slugs_of_the_vocabulary(key):
    known = set(tomllib.loads((MODELS / f"{SLUG_FILES[key]}.toml").read_text(encoding="utf-8"))) | {"none"}
    for name, text in every_text():
        for listed in re.findall(rf"\b{key} = \[([^\]]*)\]", text) if not name.endswith(".py") else []:
            strangers = set(re.findall(r'"([^"]+)"', listed)) - known
            assert not strangers, f"{name}: {key} {sorted(strangers)}"
