"""The office's pages and the API behind them: who may see them, documents, history, import, corrections."""

import csv
import io
import re
import zipfile

import pypdf
import pytest
from browsing import new_id

from hatchnote import own_words
from hatchnote.domain import Alternative, Check, Facts, Reading, Span, Transcript, WorkItem
from hatchnote.jobs import draft
from hatchnote.store import recordings

PAGES = ("", "/sites", "/import", "/corrections", "/users", "/queue", "/words.json")
TEXT = "on rtu two the whirly thing is worn suction one eighteen"


@pytest.fixture(autouse=True)
def own_file(settings, monkeypatch):
    """Reading in this process uses the company's file of this test's data folder, and of no other."""
    monkeypatch.setenv("HATCHNOTE_VOCABULARY", "")
    monkeypatch.setenv("HATCHNOTE_VOCABULARY", str(own_words.use(settings)))


@pytest.fixture
def ticket(store, ana, visit):
    """A ticket of Ana's with one reading to check and one kind of work."""
    heard = Transcript.from_text(TEXT, id=new_id())
    at = TEXT.index("suction")
    said = Span(at, len(TEXT), heard.id)
    facts = Facts(
        readings=(
            Reading("r1", "suction-pressure", said, "suction one eighteen", 118.0, "psig", "[psi]", tag="RTU-2",
                    check=Check("the unit was not said", (Alternative(180.0, "[psi]", "180 psig"),))),
        ),
        work=(WorkItem("w1", "inspect", "done", Span(15, 27, heard.id), component="bearing", tag="RTU-2"),),
        tags=("RTU-2",),
    )  # fmt: skip
    recordings.add_hearing(
        store, recordings.Hearing(heard.id, "2026-03-04T15:00:00Z", heard, facts), ticket_id=visit, key="k"
    )
    draft.redraft(store, visit, who=None, why="listened")
    return visit


def edit(person, ticket, **values):
    revision = person.get(f"/tickets/{ticket}").json["revision"]
    change = {"id": new_id(), "at": "2026-03-05T10:00:00Z", **values}
    return person.post(f"/tickets/{ticket}/edits", {"base_revision": revision, "edits": [change]})


@pytest.mark.parametrize("path", PAGES)
def test_pages_are_for_the_office_only(path, olga, adam, ana, nobody):
    for person in (olga, adam):
        assert person.client.get("/office" + path).status_code == 200
    assert ana.client.get("/office" + path).status_code == 403
    answer = nobody.client.get("/office" + path)
    assert answer.status_code == 302 and answer.location.startswith("/signin")


def test_pages_of_one_thing_are_for_the_office_only_too(ticket, store, olga, ana, nobody):
    site = draft.tickets.ticket(store, ticket)["site_id"]
    for path in (
        f"/tickets/{ticket}",
        f"/tickets/{ticket}/record",
        f"/sites/{site}",
        f"/equipment/{site}/RTU-2",
    ):
        assert olga.client.get("/office" + path).status_code == 200, path
        assert ana.client.get("/office" + path).status_code == 403
        assert nobody.client.get("/office" + path).status_code == 302
    assert olga.client.get(f"/office/tickets/{new_id()}").status_code == 404


def test_no_page_holds_a_script_or_a_style_of_its_own(ticket, olga):
    for path in (*PAGES[:-1], f"/tickets/{ticket}", f"/tickets/{ticket}/record"):
        answer = olga.client.get("/office" + path)
        text = answer.text
        assert not re.search(r"<script(?![^>]*\bsrc=)", text) and "<style" not in text
        assert not re.search(r"\s(style|on\w+)=", text), path
        assert "'unsafe" not in answer.headers["Content-Security-Policy"]
        assert answer.headers["Cache-Control"] == "no-store"


def test_what_people_type_is_text_on_the_pages(ana, olga):
    name = "<img src=x onerror=alert(1)>"
    assert ana.put(f"/visits/{new_id()}", {"site_name": name, "date": "2026-03-04"}).status_code == 201
    for path in ("/office", "/office/sites", "/office?q=<script>alert(1)</script>"):
        text = olga.client.get(path).text
        assert "<img src=x" not in text and "<script>alert" not in text


def test_the_worklist_filters_searches_and_says_what_is_wrong_with_a_filter(ticket, olga):
    def rows(query):
        return olga.client.get("/office" + query, headers={"HX-Request": "true"}).text.count('class="open"')

    assert rows("?q=whirly") == 1 and rows("?q=zebra") == 0
    assert rows("?status=draft") == 1 and rows("?status=approved") == 0
    for query in ("?from=2026-13-01", "?sort=colour", "?cursor=%%%"):
        answer = olga.client.get("/office" + query)
        assert answer.status_code == 200 and 'role="alert"' in answer.text


def test_documents_of_a_ticket(ticket, olga, ana, ben, nobody):
    answer = ana.get(f"/tickets/{ticket}/document.pdf")
    assert answer.mimetype == "application/pdf"
    text = " ".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(answer.data)).pages)
    assert "118 psig (to be confirmed)" in text and "not yet approved" in text
    readings = list(csv.DictReader(io.StringIO(olga.get(f"/tickets/{ticket}/readings.csv").text, newline="")))
    assert [(r["point"], r["value"], r["ucum"]) for r in readings] == [("suction-pressure", "118", "[psi]")]
    for name in ("document.pdf", "parts.csv", "readings.csv"):
        assert ben.get(f"/tickets/{ticket}/{name}").status_code == 404
        assert nobody.get(f"/tickets/{ticket}/{name}").status_code == 401


def test_an_approved_document_names_its_digest_and_who_approved(ticket, olga):
    edit(olga, ticket, op="accept", kind="reading", item="r1")
    for to in ("checked", "approved"):
        assert olga.post(f"/tickets/{ticket}/status", {"to": to}).status_code == 200
    digest = olga.get(f"/tickets/{ticket}/about").json["digest"]
    data = olga.get(f"/tickets/{ticket}/document.pdf").data
    text = " ".join(p.extract_text() for p in pypdf.PdfReader(io.BytesIO(data)).pages)
    assert digest in re.sub(r"\s", "", text) and "Olga" in text and "not yet approved" not in text


def test_the_day_and_the_log_are_for_the_office(ticket, olga, ana):
    names = zipfile.ZipFile(io.BytesIO(olga.get("/days/2026-03-04.zip").data)).namelist()
    assert sum(n.endswith("ticket.pdf") for n in names) == 1
    assert olga.get("/refrigerant-log.csv?from=2026-01-01&to=2026-12-31").text.startswith("date,site,")
    assert olga.get("/days/2026-02-31.zip").status_code == 400
    assert ana.get("/days/2026-03-04.zip").status_code == 403
    assert ana.get("/refrigerant-log.csv").status_code == 403


def test_history_of_a_machine(ticket, store, olga):
    site = draft.tickets.ticket(store, ticket)["site_id"]
    answer = olga.get(f"/equipment/{site}/RTU-2/history?point=suction-pressure").json
    assert [(r["date"], r["value"], r["marked"]) for r in answer["readings"]] == [("2026-03-04", 118.0, True)]
    assert answer["series"][0]["point"] == "suction-pressure" and answer["series"][0]["n"] == 1
    page = olga.client.get(f"/office/equipment/{site}/RTU-2?point=suction-pressure").text
    assert page.count("<circle") == 1 and "dot marked" in page


# ---------------------------------------------------------------- import


def test_a_dry_run_names_every_problem_and_writes_nothing(olga):
    table = (
        "site,tag,altitude_ft,phase,capacitor_uf,sensor_curve\r\n"
        "Mill Lane,RTU-1,99999,3,40;5,10K-2\r\n"
        "Mill Lane,,12,3,,\r\n"
        "Mill Lane,RTU-2,12,2,40;x,20K\r\n"
        "Mill Lane,RTU-3\r\n"
        "Mill Lane,RTU-4,,,,\r\n"
        "mill lane,rtu-4,,,,\r\n"
    )
    found = olga.post("/imports/equipment?dry_run=1", {"csv": table}).json
    assert not found["written"] and found["rows"] == 6
    told = {(p["row"], p["column"]) for p in found["problems"]}
    assert told == {(2, "altitude_ft"), (3, "tag"), (4, "phase"), (4, "capacitor_uf"), (4, "sensor_curve"),
                    (5, None), (7, "tag")}  # fmt: skip
    assert not olga.post("/imports/equipment", {"csv": table}).json["written"]
    assert olga.get("/sites").json["sites"] == []


def test_a_clean_table_is_written_once_and_twice_is_the_same(olga):
    row = "Mill Lane,1 Mill Lane,RTU-1,old one; north unit,460,12.5;9,3"
    table = f"site,address,tag,nicknames,volts,charge_lb,phase\n{row}"
    dry = olga.post("/imports/equipment?dry_run=1", {"csv": table}).json
    assert (dry["written"], dry["new_sites"], dry["new_machines"]) == (False, ["Mill Lane"], 1)
    assert olga.post("/imports/equipment", {"csv": table}).json["written"]
    (site,) = olga.get("/sites").json["sites"]
    machine = olga.get(f"/sites/{site['id']}/equipment/RTU-1").json
    assert machine["nicknames"] == ["old one", "north unit"]
    assert machine["nameplate"] == {"volts": "460", "charge_lb": [12.5, 9.0], "phase": 3}
    again = olga.post("/imports/equipment", {"csv": table}).json
    assert (again["new_machines"], again["changed_machines"], again["new_sites"]) == (0, 0, [])


def test_a_table_with_few_columns_leaves_what_was_entered_before(olga):
    table = (
        "site,address,altitude_ft,tag,nicknames,volts,phase\nMill Lane,1 Mill Lane,900,RTU-1,old one,460,3\n"
    )
    olga.post("/imports/equipment", {"csv": table})
    few = "site,tag,volts,refrigerant,nicknames\nmill lane,rtu-1,,R-410A,\n"
    dry = olga.post("/imports/equipment?dry_run=1", {"csv": few}).json
    assert (dry["new_machines"], dry["changed_machines"], dry["problems"]) == (0, 1, [])
    assert olga.post("/imports/equipment", {"csv": few}).json["written"]
    (site,) = olga.get("/sites").json["sites"]
    assert (site["name"], site["address"], site["altitude_ft"]) == ("Mill Lane", "1 Mill Lane", 900)
    machine = olga.get(f"/sites/{site['id']}/equipment/RTU-1").json
    assert (machine["tag"], machine["nicknames"]) == ("RTU-1", ["old one"])
    assert machine["nameplate"] == {"volts": "460", "phase": 3, "refrigerant": "R-410A"}


def test_the_refrigerant_log_looks_back_for_the_last_addition(olga, ana):
    olga.post("/imports/equipment", {"csv": "site,tag,refrigerant,charge_lb\nMill Lane,RTU-1,R-410A,12\n"})
    for date, much in (("2026-02-01", "two pounds"), ("2026-04-02", "one pound")):
        visit, text = new_id(), f"RTU-1 added {much} of R-410A."
        ana.put(f"/visits/{visit}", {"site_name": "Mill Lane", "date": date})
        ana.put(f"/notes/{new_id()}", {"ticket_id": visit, "text": text, "at": f"{date}T15:00:00Z"})
    table = olga.get("/refrigerant-log.csv?from=2026-04-01&to=2026-04-30").text
    (row,) = csv.DictReader(io.StringIO(table))
    assert (row["date"], row["amount_lb"], row["days_since_last_addition"]) == ("2026-04-02", "1", "60")
    # 40 CFR 82.152, annualizing method: 1 lb of 12 lb in 60 days.
    assert float(row["leak_rate_percent_per_year"]) == pytest.approx(1 / 12 * 365 / 60 * 100, abs=0.01)


@pytest.mark.parametrize(
    "table, sentence",
    [("", "site among them"), ("name,tag\n", "site among them"), ("site,tag,colour\n", "no column 'colour'"),
     ("site,tag,tag\n", "stands twice"), ('site,tag\n"Mill,RTU-1\n', "no CSV")],
)  # fmt: skip
def test_what_is_no_table_is_refused_in_one_sentence(olga, table, sentence):
    answer = olga.post("/imports/equipment", {"csv": table})
    assert answer.status_code == 400 and sentence in answer.json["error"]


# ---------------------------------------------------------------- corrections


def test_a_correction_says_what_was_heard_and_what_was_meant(ticket, olga, ana):
    edit(olga, ticket, op="set", kind="work", item="w1", field="component", before="bearing", after="sheave")
    edit(olga, ticket, op="set", kind="reading", item="r1", field="value", before=118, after=180)
    found = {c["field"]: c for c in olga.get("/corrections").json["corrections"]}
    assert (found["component"]["heard"], found["component"]["meant"]) == ("whirly thing", "sheave")
    assert found["component"]["vocabulary"] == "components"
    assert (found["value"]["heard"], found["value"]["before"], found["value"]["meant"]) == (
        "suction one eighteen", 118, 180)  # fmt: skip
    assert found["value"]["vocabulary"] is None
    assert ana.get("/corrections").status_code == 403


def test_a_word_of_the_companys_own_is_previewed_and_then_read(ticket, olga, settings):
    entry = {"kind": "components", "slug": "sheave", "said": "whirly thing"}
    shown = olga.post("/vocabulary/preview", entry).json
    assert shown["looked_at"] == 1
    (changed,) = shown["tickets"]
    assert changed["id"] == ticket and any("sheave" in line for line in changed["after"])

    def read():
        return olga.post("/read", {"text": "rtu two the whirly thing is worn"}).json

    def components(answer):
        return {f["component"] for m in answer["facts"] for f in m["findings"]}

    assert "sheave" not in components(read())
    assert olga.post("/vocabulary/entries", entry).json == {"added": True}
    assert olga.post("/vocabulary/entries", entry).json == {"added": False}
    assert "sheave" in components(read())
    assert olga.post("/vocabulary/entries", {**entry, "said": "spinny wheel"}).json == {"added": True}
    text = (settings.data / "vocabulary.toml").read_text()
    assert text.count("[components.sheave]") == 1 and '"spinny wheel", "whirly thing"' in text


def test_a_word_that_cannot_be_is_refused_and_the_file_stays(ticket, olga, settings):
    before = (settings.data / "vocabulary.toml").read_bytes()
    for entry, sentence in (
        ({"kind": "components", "slug": "sheave", "said": "contactor"}, "belongs to both"),
        ({"kind": "components", "slug": "flux-thing", "said": "whirly"}, "no term"),
        ({"kind": "components", "slug": "sheave", "said": 'a"]\n[verbs.x]'}, "spoken form"),
    ):
        answer = olga.post("/vocabulary/entries", entry)
        assert answer.status_code == 400 and sentence in answer.json["error"], answer.json
    assert (settings.data / "vocabulary.toml").read_bytes() == before


# ---------------------------------------------------------------- what the pages load


def test_vendored_files_are_the_released_ones():
    import sys
    from pathlib import Path

    import hatchnote.web

    root = Path(__file__).parents[2]
    sys.path.insert(0, str(root / "pwa"))
    try:
        from check_vendor import problems
    finally:
        sys.path.remove(str(root / "pwa"))
    vendor = Path(hatchnote.web.__file__).parent / "static" / "vendor"
    assert problems(vendor) == []
    assert "htmx" in (root / "THIRD_PARTY.md").read_text()
