"""No text breaks the reader; its cost grows with the length; chatter changes nothing; values trace to their words."""

import time

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.notes.short import reading

from hatchnote.notes import read_notes
from hatchnote.notes.explain import explain
from hatchnote.notes.vocabulary import load, walk

FORMS = [said for said, _ in walk(load().trie)]
NUMBERS = [
    "one",
    "two",
    "three",
    "four",
    "seven",
    "ten",
    "eleven",
    "twelve",
    "twenty",
    "thirty",
    "forty",
    "fifty",
    "ninety",
    "hundred",
    "thousand",
    "point",
    "oh",
    "zero",
    "half",
    "a",
    "and",
    "minus",
    "to",
    "over",
    "by",
    "plus",
]
FIGURES = [
    "1,",
    "18",
    "478",
    "3.5",
    "L2478",
    "16x25x2",
    "BX42",
    "410A",
    "RTU-3",
    "4-1/4",
    "½",
    "K",
    "-",
    "/",
    "3-8ths",
    "463",
    "phase",
    "C",
    "R",
    "L1",
]
SMALL = [
    "it",
    "that",
    "them",
    "scratch that",
    "no",
    "both",
    "on",
    "the",
    "now",
    "was",
    ".",
    ",",
    "'s",
    "R T U",
    "circuit",
    "unit",
    "for",
]
words = st.one_of(
    st.sampled_from(NUMBERS),
    st.sampled_from(FORMS),
    st.sampled_from(FIGURES),
    st.sampled_from(SMALL),
    st.text(max_size=5),
)


@settings(max_examples=400, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(words, max_size=40), st.sampled_from([" ", ", ", ". "]))
def test_any_words_are_read_without_raising_and_spans_hold_what_was_said(parts, joint):
    text = joint.join(parts)
    facts = read_notes(text, equipment=["RTU-3", "RTU-4"])
    folded = " ".join(text.split())
    for r in facts.readings:
        assert folded[r.heard.start_char : r.heard.end_char] == r.said != ""
    assert explain(text, facts)
    assert read_notes(text, equipment=["RTU-3", "RTU-4"]) == facts


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=300))
def test_any_text_at_all(text):
    read_notes(text)


SENTENCES = [
    "RTU-3 at the school.",
    "Suction is one eighteen.",
    "Manifold three and a half.",
    "Compressor two is eleven four.",
    "Outdoor ninety one.",
    "Control voltage twenty six point four.",
    "Blower amps six two.",
]
CHATTER = [
    "Hang on, somebody's honking.",
    "It smells like bread up here.",
    "My kid turns nine tomorrow.",
    "He said he'd be down at noon.",
    "Lost my good pen again.",
    "Traffic was awful, took an hour.",
]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, len(SENTENCES)), st.sampled_from(CHATTER)), max_size=6))
def test_chatter_between_sentences_changes_no_reading(places):
    plain = [reading(r) for r in read_notes(" ".join(SENTENCES)).readings]
    mixed = list(SENTENCES)
    for at, chatter in sorted(places, reverse=True):
        mixed.insert(at, chatter)
    assert [reading(r) for r in read_notes(" ".join(mixed)).readings] == plain


def _seconds(text):
    best = float("inf")
    for _ in range(3):
        start = time.process_time()
        read_notes(text)
        best = min(best, time.process_time() - start)
    return best


def test_cost_grows_with_the_length_not_its_square():
    """Eight times the words cost at most sixteen times as much, with marks of punctuation and without, or one alone."""
    base = " ".join(SENTENCES + CHATTER) + " Replaced the belt, cleaned the coil and tightened the lugs. "
    for text in (
        base * 6,
        base.replace(".", "").replace(",", "") * 6,
        "replaced " * 900,
        "the fan is good. " * 300,
    ):
        read_notes(text)
        assert _seconds(text * 8) < 16 * _seconds(text)


def test_ids_stay_when_the_text_is_read_again_and_differ_from_each_other():
    text = " ".join(SENTENCES)
    first, again = read_notes(text), read_notes(text)
    ids = [r.id for r in first.readings]
    assert ids == [r.id for r in again.readings] and len(set(ids)) == len(ids)
