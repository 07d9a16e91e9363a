"""Short remarks in the manners of many technicians, each with what the ticket should say. Invented lines.

One line of `remarks_of_the_trade.txt` each: what was said | readings | work | parts | findings, several divided by
";" ("(marked)" behind a reading: a person is asked to look). A heading with "#" names the manner of speech; the
lines under one are that manner in several hands, so that a rule fitted to one sentence fails the others.
"""

from pathlib import Path

import pytest
from tests.notes.short import finding, part, reading, work

from hatchnote.notes import read_notes

LINES = [
    [*(column.strip() for column in line.split("|")), "", "", "", ""][:5]
    for line in (Path(__file__).parent / "remarks_of_the_trade.txt").read_text(encoding="utf-8").splitlines()
    if line.strip() and not line.startswith("#")
]


def _expected(column: str) -> list[str]:
    return sorted(item.strip() for item in column.split(";") if item.strip())


@pytest.mark.parametrize("line", LINES, ids=[x[0] for x in LINES])
def test_remark(line):
    said, *expected = line
    facts = read_notes(said)
    read = [reading(r) + (" (marked)" if r.check else "") for r in facts.readings]
    done, parts, found = map(work, facts.work), map(part, facts.parts), map(finding, facts.findings)
    got = [sorted(read), sorted(done), sorted(parts), sorted(found)]
    assert got == [_expected(column) for column in expected]


def test_apostrophes_left_out_read_as_if_they_were_there():
    """Typed and spoken notes of one thing say one thing."""
    whole = (
        "The belt isn't tight, I didn't change it. That's a B X forty two. They're loose. The compressor won't start. "
        "I'm coming back Tuesday. Couldn't check the gas valve. Head's steady, it's at three forty."
    )
    bare = whole.replace("'", "").replace("Heads steady", "Head's steady")
    one, other = read_notes(whole), read_notes(bare)
    for a, b in ((one.readings, other.readings), (one.work, other.work), (one.findings, other.findings)):
        assert len(a) == len(b) > 0
    assert [reading(r) for r in one.readings] == [reading(r) for r in other.readings]
    assert [work(w) for w in one.work] == [work(w) for w in other.work]
    assert [finding(f) for f in one.findings] == [finding(f) for f in other.findings]
