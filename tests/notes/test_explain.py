"""The text marked up for the terminal."""

import re

from hatchnote.notes import read_notes
from hatchnote.notes.explain import explain

TEXT = "RTU-3 suction 1, 18. Manifold 3.2, scratch that, 3.5. Replaced the belt."


def plain(text):
    return re.sub(r"\x1b\[[0-9;]*m", "", text)


def test_the_text_is_whole_and_every_item_has_a_line_with_its_rule():
    facts = read_notes(TEXT)
    shown = plain(explain(TEXT, facts))
    text, legend = shown.split("\n\n")
    assert re.sub(r"\[\d+\]\??", "", text) == TEXT
    lines = legend.splitlines()
    assert len(lines) == len(facts.readings) + len(facts.withdrawn) + len(facts.work) + len(
        facts.parts
    ) + len(facts.findings)
    assert all("<- " in line and line.rstrip()[-2:] != "<-" for line in lines)


def test_checks_and_withdrawn_values_are_seen():
    shown = plain(explain(TEXT, read_notes(TEXT)))
    assert 'check: heard "1, 18"' in shown
    assert re.search(r"withdrawn\s+RTU-3\s+manifold-pressure 3\.2", shown)
