"""The gold lines of this benchmark and how an answer is counted right."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from hatchnote.measures import UnknownUnit, measure

HERE = Path(__file__).resolve().parent


class Line(NamedTuple):
    text: str
    gold: tuple[tuple[float, str], ...]


def read_lines(name: str) -> list[Line]:
    """Lines of `text || value UCUM || ...`; see the head of trade.txt."""
    out = []
    for row in (HERE / name).read_text(encoding="utf-8").splitlines():
        if not row.strip() or row.startswith("#"):
            continue
        text, *answers = (part.strip() for part in row.split("||"))
        pairs = [answer.split(" ", 1) for answer in answers if answer]
        out.append(Line(text, tuple((float(value), code) for value, code in pairs)))
    return out


def same(one: tuple[float, str], other: tuple[float, str]) -> bool:
    """Whether two answers are the same amount: 0.5 h and 30 min are, 5 um and 5 um[Hg] are not."""
    try:
        a, b = measure(one[1]), measure(other[1])
    except UnknownUnit:
        return False
    if a.dimension != b.dimension:
        return False
    x, y = (one[0] + a.offset) * a.factor, (other[0] + b.offset) * b.factor
    return (
        abs(x - y) <= 2e-3 * max(abs(x), abs(y))
        if one[1] != other[1]
        else abs(one[0] - other[0]) < 1e-6 * max(1.0, abs(one[0]))
    )


class Score(NamedTuple):
    right: int
    found: int
    gold: int

    @property
    def f1(self) -> float:
        return 2 * self.right / (self.found + self.gold) if self.found + self.gold else 1.0


def score(lines: list[Line], answers: list[list[tuple[float, str]]]) -> Score:
    """Right, found and wanted quantities; each gold quantity is matched at most once."""
    right = found = gold = 0
    for line, given in zip(lines, answers, strict=True):
        left = list(line.gold)
        for answer in given:
            for wanted in left:
                if same(answer, wanted):
                    left.remove(wanted)
                    right += 1
                    break
        found += len(given)
        gold += len(line.gold)
    return Score(right, found, gold)
