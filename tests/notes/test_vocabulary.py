"""The vocabulary's files: what is in them, and what a mistake in one is told as."""

import pytest

from hatchnote.notes import read_notes
from hatchnote.notes.fitting import _FACTOR
from hatchnote.notes.inflect import inflections, plural
from hatchnote.notes.spoken_forms import expand
from hatchnote.notes.vocabulary import BadVocabulary, load, walk

START = (
    "replace install repair adjust tighten clean lubricate inspect test measure remove reset isolate restore "
)
START += "leak-test recover "
START += (
    "evacuate charge flush seal insulate align rewire order recommend quote return-visit secure bypass label"
)


def test_every_verb_of_the_start_vocabulary_has_spoken_forms():
    spoken = load().spoken["verbs"]
    assert set(START.split()) == set(spoken)
    assert all(spoken.values())


def test_it_holds_the_points_components_and_conditions_it_started_from():
    v = load()
    assert (len(v.points), len(v.components), len(v.conditions)) >= (45, 57, 33)
    assert {"flame-signal", "vacuum", "belt-size", "time"} <= set(v.points)
    assert {"roof-hatch", "gas-union", "metering-valve"} <= set(v.components)


def test_windows_lie_inside_each_other():
    for p in load().points.values():
        assert p.possible[0] <= p.likely[0] < p.likely[1] <= p.possible[1], p.slug


def test_spoken_forms_are_lower_case_words():
    for said, _ in walk(load().trie):
        assert said == said.lower() and said.strip(), said


def write(tmp_path, text):
    path = tmp_path / "own.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("text", "line", "told"),
    [
        ('[points.voltage]\nucum = "Volt"\n', 2, "unknown unit"),
        (
            '[components.sheave]\nsaid = ["twirler"]\n\n[components.belt-guard]\nsaid = ["guard",\n "twirler"]\n',
            6,
            "both",
        ),
        ('[components.sheave]\ncolour = "red"\n', 1, "unknown key"),
        ('[components.sheave]\nsaid = ["Twirler"]\n', 2, "lower-case"),
        ("[points.voltage]\nlikely = [9, 2]\n", 1, "lower first"),
        ('[widgets.sheave]\nsaid = ["x"]\n', 1, "no kind"),
        ('[verbs.replace]\ncomponent = "flux-capacitor"\n', 1, "not in the vocabulary"),
    ],
)
def test_a_mistake_is_told_with_file_and_line(tmp_path, monkeypatch, text, line, told):
    path = write(tmp_path, text)
    monkeypatch.setenv("HATCHNOTE_VOCABULARY", str(path))
    with pytest.raises(BadVocabulary) as caught:
        load()
    assert f"own.toml:{line}:" in str(caught.value) and told in str(caught.value)


def test_broken_toml_is_told_with_the_file(tmp_path, monkeypatch):
    monkeypatch.setenv("HATCHNOTE_VOCABULARY", str(write(tmp_path, "[components.sheave\n")))
    with pytest.raises(BadVocabulary, match=r"own\.toml.*line 1"):
        load()


def test_a_missing_file_is_told(tmp_path, monkeypatch):
    monkeypatch.setenv("HATCHNOTE_VOCABULARY", str(tmp_path / "none.toml"))
    with pytest.raises(BadVocabulary, match="HATCHNOTE_VOCABULARY"):
        load()


def test_a_companys_own_words_are_read(tmp_path, monkeypatch):
    text = "The twizzler is worn. Whomped the condenser coil."
    assert not read_notes(text).findings
    own = '[components.sheave]\nsaid = ["twizzler"]\n\n[verbs.clean]\nsaid = ["whomp"]\n'
    monkeypatch.setenv("HATCHNOTE_VOCABULARY", str(write(tmp_path, own)))
    facts = read_notes(text)
    assert [(f.component, f.condition) for f in facts.findings] == [("sheave", "worn")]
    assert [(w.verb, w.component) for w in facts.work] == [("clean", "condenser-coil")]


@pytest.mark.parametrize(
    ("said", "past"),
    [
        ("replace", "replaced"),
        ("swap out", "swapped out"),
        ("leak check", "leak checked"),
        ("re torque", "re torqued"),
        ("put in", "put in"),
        ("dry", "dried"),
        ("hang", "hung"),
    ],
)
def test_the_first_word_of_a_verb_is_inflected(said, past):
    assert ("past", past) in list(inflections(said))


@pytest.mark.parametrize(
    ("one", "many"),
    [("switch", "switches"), ("belt", "belts"), ("relay", "relays"), ("assembly", "assemblies")],
)
def test_plurals(one, many):
    assert plural(one) == many


def test_window_factors_agree_with_pint():
    """Source: Pint's unit definitions. The factors are rounded and serve the windows only: within 0.1 %."""
    import pint

    q = pint.UnitRegistry().Quantity
    names = {
        "kOhm": "kohm",
        "Ohm": "ohm",
        "[oz_av]": "ounce",
        "[lb_av]": "pound",
        "kW": "kW",
        "[HP]": "horsepower",
        "[psi]": "psi",
        "[in_i'H2O]": "inH2O",
        "kPa": "kPa",
        "mm": "mm",
        "[in_i]": "inch",
        "min": "min",
        "s": "s",
        "h": "hour",
        "kg": "kg",
        "mA": "mA",
        "A": "A",
        "mV": "mV",
        "V": "V",
    }
    checked = 0
    for (a, b), factor in _FACTOR.items():
        if a in names and b in names:
            assert q(1, names[a]).to(names[b]).magnitude == pytest.approx(factor, rel=1e-3), (a, b)
            checked += 1
    assert checked >= 9


def test_forms_written_short_are_written_out():
    assert list(expand("left [it|them] (at|with)")) == [
        "left at", "left with", "left it at", "left it with", "left them at", "left them with",
    ]  # fmt: skip
    assert list(expand("as found")) == ["as found"]


@pytest.mark.parametrize(
    "said", ["left [it", "left it] at", "left [it (at)]", "a|b", "(a|b" + "|c" * 10_001 + ")"]
)
def test_a_form_written_short_that_cannot_be_written_out_is_refused(said):
    with pytest.raises(ValueError, match="list of forms"):
        list(expand(said))
