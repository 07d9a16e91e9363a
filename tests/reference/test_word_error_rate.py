"""Word error rate on human speech by jiwer (https://github.com/jitsi/jiwer); sources in speech/SOURCES.md.

Digit strings are compared digit by digit after folding: recognisers group spoken digits at random, and a
word error rate would count the grouping.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import jiwer
import pytest

from hatchnote.speech import transcribe
from hatchnote.speech.settings import ListenSettings

pytestmark = pytest.mark.speech

FOLDER = Path(__file__).parent / "speech"
CLIPS = [json.loads(line) for line in (FOLDER / "said.jsonl").read_text(encoding="utf-8").splitlines()]
DIGITS = dict(
    zip(
        ["zero", "oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"],
        "00123456789",
        strict=True,
    )
)
TENS = {"twenty": "2", "thirty": "3", "forty": "4"}


@pytest.fixture(scope="module")
def heard() -> dict[str, str]:
    settings = ListenSettings(second_model="none")
    return {c["file"]: transcribe(FOLDER / c["file"], settings=settings).text for c in CLIPS}


def plain(text: str) -> str:
    return " ".join(re.sub(r"[^a-z' ]", " ", text.lower().replace("mr.", "mister")).split())


def figures(text: str) -> str:
    """Digits as one string: "forty five" and "45" and "4, 5" are all 45."""
    out = ""
    words = re.findall(r"[a-z]+|\d", text.lower())
    for i, word in enumerate(words):
        if word.isdigit() or word in DIGITS:
            out += DIGITS.get(word, word)
        elif word in TENS:
            out += TENS[word] + ("" if i + 1 < len(words) and words[i + 1] in DIGITS else "0")
    return out


def test_read_sentences(heard):
    clips = [c for c in CLIPS if c["kind"] == "reading"]
    rate = jiwer.wer([plain(c["text"]) for c in clips], [plain(heard[c["file"]]) or "-" for c in clips])
    # Whisper base reaches 12 % on LibriSpeech test-other (Radford et al. 2022, table 8, greedy 12.5 %).
    assert rate <= 0.15


def test_spoken_digits(heard):
    clips = [c for c in CLIPS if c["kind"] == "digits"]
    rate = jiwer.cer([figures(c["text"]) for c in clips], [figures(heard[c["file"]]) or "-" for c in clips])
    assert rate <= 0.10
