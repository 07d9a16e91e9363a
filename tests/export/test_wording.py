"""Numbers keep their value however they are written, and text survives the table."""

import csv
import io

from hypothesis import given
from hypothesis import strategies as st

from hatchnote.export import wording
from hatchnote.export.tables import write


@given(st.decimals(min_value=-(10**7), max_value=10**7, places=4, allow_nan=False))
def test_a_number_read_back_is_the_same_number(value):
    text = wording.number(float(value))
    assert float(text.replace(",", "")) == float(value)
    assert "e" not in text and not text.endswith(".")


def test_thousands_are_set_off_from_ten_thousand_up():
    assert [wording.number(v) for v in (1725, 9999, 10000, 150000, -12345.5, 0.07, 1e-7)] == [
        "1725", "9999", "10,000", "150,000", "-12,345.5", "0.07", "0.0000001"]  # fmt: skip


@given(st.lists(st.text(st.characters(exclude_categories=("Cs",)), max_size=30), min_size=1, max_size=4))
def test_any_text_survives_a_table(cells):
    """RFC 4180: what was put in is what a reader gets out, but for the apostrophe that defuses a formula."""
    data = write([f"c{n}" for n in range(len(cells))], [cells]).decode("utf-8")
    row = list(csv.reader(io.StringIO(data, newline="")))[1:]
    expected = [("'" + c if c[:1] and c[:1] in "=+-@\t\r" else c) for c in cells]
    assert row == ([expected] if expected != [""] else [[""]]) or (expected == [""] and row == [[]])


def test_sides_stand_before_and_numbers_behind():
    assert wording.component("bearing", "left") == "left bearing"
    assert wording.component("compressor", "2") == "compressor 2"
    assert wording.component(None) == "" and wording.plain("co") == "CO"
