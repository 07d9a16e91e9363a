"""CSV: read back by the standard library's reader; the log's numbers against the rule's own arithmetic."""

import copy
import csv
import io
import json
import zipfile

import pytest

from hatchnote.errors import BadInput
from hatchnote.export import day_zip, parts_csv, pdf, readings_csv, refrigerant_log_csv
from hatchnote.export.day import folder_name
from hatchnote.export.refrigerant import Charge, LoggedTicket, leak_rate


def rows(data):
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))


def test_one_row_a_reading_with_ucum(ticket):
    told = [r for m in ticket["equipment"] for r in m["readings"]]
    read = rows(readings_csv(ticket))
    assert [r["item"] for r in read] == [r["id"] for r in told]
    for row, r in zip(read, told, strict=True):
        assert (float(row["value"]) if row["value"] else None) == r["value"]
        assert row["ucum"] == (r["ucum"] or "") and row["point"] == r["point"]
        assert row["difference"] == ("true" if r.get("difference") else "")
    assert read[0]["reference"] == "gauge" and "777" not in readings_csv(ticket).decode()


def test_rfc_4180_line_ends_quotes_and_header(ticket):
    """RFC 4180 section 2: CRLF (1), equal fields in every row (4), quotes around commas and doubled inside (6, 7)."""
    data = readings_csv(ticket)
    assert data.endswith(b"\r\n") and b"\n" not in data.replace(b"\r\n", b"")
    assert b'"Corner ""bakery"", north"' in data
    assert len({len(r) for r in csv.reader(io.StringIO(data.decode(), newline=""))}) == 1


def test_parts_and_formulas_in_text_are_defused_while_numbers_stay(ticket):
    parts = rows(parts_csv(ticket))
    assert [(p["use"], p["quantity"], p["size"]) for p in parts] == [
        ("installed", "1", "40+5 uF 370 V"), ("to-order", "4", "16x25x2")]  # fmt: skip
    assert parts[1]["description"] == "'=2+3"
    assert next(r for r in rows(readings_csv(ticket)) if r["item"] == "r8")["value"] == "-5"


def test_leak_rate_by_the_annualizing_method():
    """40 CFR 82.152, annualizing method: 12 lb of 60 lb, 120 days after the last addition."""
    assert leak_rate(12, 60, 120) == pytest.approx(12 / 60 * 365 / 120 * 100)
    assert leak_rate(12, 60, 120) == pytest.approx(60.83, abs=0.01)
    assert leak_rate(12, 60, 800) == pytest.approx(20.0)
    assert (
        leak_rate(12, None, 120) is None and leak_rate(12, 60, None) is None and leak_rate(12, 60, 0) is None
    )


def test_the_log_adds_pounds_and_ounces_and_knows_the_addition_before(ticket):
    later = copy.deepcopy(ticket)
    later["id"] = "later"
    later["visit"]["date"] = "2026-05-03"
    charges = {"RTU-3": Charge("R-410A", (12.0, 9.5))}
    log = rows(refrigerant_log_csv([LoggedTicket(t, "1 Sample Street", charges) for t in (later, ticket)]))
    assert [r["date"] for r in log] == ["2026-03-04", "2026-05-03"]
    for r in log:
        assert float(r["amount_lb"]) == 1.5  # 1 lb 8 oz; 16 oz a pound
        assert (r["refrigerant"], r["full_charge_lb"], r["circuit"]) == ("R-410A", "12", "1")
        assert (
            r["parts_and_services"] == "clean condenser coil; repair schrader core"
            and r["address"] == "1 Sample Street"
        )
        assert r["technician"] == "Sample Technician"
    assert log[0]["leak_rate_percent_per_year"] == ""
    assert log[1]["days_since_last_addition"] == "60"
    assert float(log[1]["leak_rate_percent_per_year"]) == pytest.approx(1.5 / 12 * 365 / 60 * 100, abs=0.01)
    assert "82.152" in log[1]["leak_rate_method"]


def test_what_was_added_before_the_days_asked_for_counts_and_is_not_listed(ticket):
    later = copy.deepcopy(ticket)
    later["id"] = "later"
    later["visit"]["date"] = "2026-05-03"
    for r in later["equipment"][0]["readings"]:
        if r["point"] == "refrigerant-charge":
            r["circuit"] = None  # the machine has one circuit: the same appliance as "circuit 1"
    logged = [LoggedTicket(t, None, {"RTU-3": Charge("R-410A", (12.0,))}) for t in (ticket, later)]
    (row,) = rows(refrigerant_log_csv(logged, since="2026-04-01"))
    assert (row["date"], row["days_since_last_addition"]) == ("2026-05-03", "60")
    assert float(row["leak_rate_percent_per_year"]) == pytest.approx(1.5 / 12 * 365 / 60 * 100, abs=0.01)


def test_a_recovery_told_without_an_amount_is_logged_and_named_so(ticket):
    ticket["equipment"][0]["work"][0].update(
        verb="recover", component="refrigerant", number=None, detail=None
    )
    log = rows(refrigerant_log_csv([LoggedTicket(ticket)]))
    assert [(r["event"], r["amount_as_recorded"]) for r in log] == [
        ("added", "1 lb 8 oz"), ("recovered", "amount not recorded")]  # fmt: skip
    assert log[0]["refrigerant"] == "R-410A"  # the only one the machine's own record names


def test_the_day_holds_every_ticket_and_cannot_escape_its_folder(ticket, photos):
    ticket["visit"]["site"] = "../../etc/cron.d"
    data = day_zip("2026-03-04", [LoggedTicket(ticket)], photos)
    archive = zipfile.ZipFile(io.BytesIO(data))
    names = archive.namelist()
    assert archive.testzip() is None and len(names) == len(set(names)) == 7
    assert all(n.startswith("2026-03-04/") and ".." not in n for n in names)
    one = next(n for n in names if n.endswith("ticket.json"))
    assert json.loads(archive.read(one)) == ticket
    assert archive.read(one.replace(".json", ".pdf")).startswith(b"%PDF-")
    assert archive.read("2026-03-04/readings.csv") == readings_csv(ticket)
    assert day_zip("2026-03-04", [LoggedTicket(ticket)], photos) == data


def test_two_visits_to_one_site_have_two_folders():
    assert folder_name("Bakery", "018f-aaaa-000000000001") != folder_name("Bakery", "018f-aaaa-000000000002")
    assert folder_name(None, "x") == "visit-x"


def test_a_photo_that_is_none_is_refused_in_one_sentence(ticket):
    with pytest.raises(BadInput, match=r"one\.jpg is no photo"):
        pdf(ticket, {"a" * 64: b"not a photo"})
