"""The PDF says what the JSON says, nothing else, and never obeys what was dictated."""

import io
import itertools
import re

import pypdf
import pytest
from PIL import Image

from hatchnote.export import pdf
from hatchnote.export.document import CHECK_MARK, Approval


def read_back(data):
    """All text of the document, white space folded, as an independent reader sees it."""
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    return re.sub(r"\s+", " ", " ".join(p.extract_text() for p in pages))


def number_as_printed(value):
    """Written here on its own, so that the wording module is checked and not trusted."""
    text = repr(value).removesuffix(".0")
    return f"{int(text):,}" if value >= 10_000 else text


def test_every_reading_in_the_pdf_equals_the_json(ticket, photos):
    text = read_back(pdf(ticket, photos)).replace(",", "")
    for machine in ticket["equipment"]:
        for r in machine["readings"]:
            if r["value"] is None:
                assert r["text"] in text, r
                continue
            unit = r["unit"] if r["unit"] == "%" else " " + r["unit"]
            assert number_as_printed(r["value"]).replace(",", "") + unit in text, r
            assert r["point"].replace("-", " ") in text, r
            for part in (r["component"], r["legs"], r["number"]):
                assert (part or "").replace("-", " ") in text or (part or "") in text, r


def test_found_and_left_stand_in_one_row(ticket, photos):
    assert "suction pressure, circuit 1 118 psig 131.5 psig" in read_back(pdf(ticket, photos))


def test_work_parts_recommendations_cautions_and_gaps_are_there(ticket, photos):
    text = read_back(pdf(ticket, photos))
    for machine in ticket["equipment"]:
        for w in machine["work"]:
            words = f"{w['verb'].replace('-', ' ')} "
            name = w["component"].replace("-", " ")
            assert re.search(words + rf"(\w+ )?{name}", text), w
        for p in machine["parts"]:
            assert p["component"].replace("-", " ") in text and p["size"] in text
        for c in machine["cautions"]:
            assert c["text"] in text
        for m in machine["missing"]:
            assert m["what"] in text and m["why"] in text
    assert "Recommended: replace contactor" in text and "Declined: replace left bearing" in text
    assert "Signature" in text and "Bulged capacitor #1 *before*" in text


def test_what_is_doubtful_says_so_and_what_was_taken_back_is_gone(ticket, photos):
    text = read_back(pdf(ticket, photos))
    assert f"11.4 A {CHECK_MARK}" in text
    assert f"11.05 °F difference {CHECK_MARK}" in text
    assert "777" not in text and "LEFT-OUT-PICTURE" not in text


def test_dictated_text_never_becomes_markup(ticket, photos):
    hostile = ticket["equipment"][0]["work"][1]["detail"]
    text = read_back(pdf(ticket, photos)).replace(" ", "")
    assert hostile.replace(" ", "") in text
    assert "root:" not in text


def test_a_draft_says_draft_and_an_approved_one_names_its_digest_and_revision(ticket, photos):
    digest = "0123456789abcdef" * 4
    draft = read_back(pdf(ticket, photos))
    assert "not yet approved" in draft and digest not in draft
    approved = read_back(
        pdf(
            {**ticket, "status": "approved"},
            photos,
            approval=Approval(5, digest, "Sample Office", "2026-03-05"),
        )
    )
    assert "not yet approved" not in approved
    assert "Revision 5" in approved and digest in approved.replace(" ", "")


def test_the_document_is_tagged_archivable_and_its_fonts_are_embedded(ticket, photos):
    reader = pypdf.PdfReader(io.BytesIO(pdf(ticket, photos)))
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and root["/Lang"] == "en-US" and "/StructTreeRoot" in root
    xmp = root["/Metadata"].get_data().decode()
    assert re.search(r"pdfaid:part[^\d]*2", xmp) and re.search(r"pdfaid:conformance[^A-Z]*A", xmp)
    assert re.search(r"pdfuaid:part[^\d]*1", xmp)
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            descriptor = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor), font


def elements(node, depth=0):
    """The structure tree as (role, element), in reading order."""
    node = node.get_object()
    if "/S" in node:
        yield str(node["/S"]), node
    kids = node.get("/K", [])
    kids = kids.get_object() if hasattr(kids, "get_object") else kids
    for kid in kids if isinstance(kids, list) else [kids]:
        kid = kid.get_object() if hasattr(kid, "get_object") else kid
        if isinstance(kid, dict) and depth < 60:
            yield from elements(kid, depth + 1)


def attribute(element, name):
    found = element.get("/A", {})
    found = found.get_object() if hasattr(found, "get_object") else found
    for one in found if isinstance(found, list) else [found]:
        if name in one.get_object():
            return one.get_object()[name]
    return None


def test_the_tags_say_what_is_a_heading_a_table_a_picture(ticket, photos):
    """ISO 14289-1 (PDF/UA-1): 7.4 headings in order, 7.5 header cells with a scope, 7.3 figures with a text."""
    reader = pypdf.PdfReader(io.BytesIO(pdf(ticket, photos)))
    tree = list(elements(reader.trailer["/Root"]["/StructTreeRoot"]))
    levels = [int(role[2:]) for role, _ in tree if re.fullmatch(r"/H[1-6]", role)]
    assert levels[0] == 1 and all(b - a <= 1 for a, b in itertools.pairwise(levels)), levels
    headers = [e for role, e in tree if role == "/TH"]
    assert headers and all(attribute(e, "/Scope") in ("/Column", "/Row", "/Both") for e in headers)
    figures = [e for role, e in tree if role == "/Figure"]
    assert len(figures) == 1 and "Bulged capacitor" in str(figures[0]["/Alt"])
    assert {"/TD", "/TR", "/Table", "/LI", "/P"} <= {role for role, _ in tree}
    root = reader.trailer["/Root"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] and "Service record" in reader.metadata.title
    assert all(page["/Tabs"] == "/S" for page in reader.pages if "/Annots" in page)


def test_photos_carry_no_location_into_the_document(ticket, photos):
    assert Image.open(io.BytesIO(photos["a" * 64])).getexif().get_ifd(0x8825)
    data = pdf(ticket, photos)
    reader = pypdf.PdfReader(io.BytesIO(data))
    pictures = [image for page in reader.pages for image in page.images]
    assert len(pictures) == 1
    assert not pictures[0].image.getexif()
    assert b"GPS-ROOFTOP" not in pictures[0].data and b"GPS-CARRIER" not in data


def test_a_photo_whose_bytes_are_missing_is_named(ticket, photos):
    assert "Plate, not yet sent (the picture is not at hand)" in read_back(pdf(ticket, photos))


@pytest.mark.parametrize("name", ["مخبز الزاوية", "角のパン屋", "Пекарня 🥐", "ab\u202ecd\x00\x07"])
def test_any_name_makes_a_document(ticket, name):
    made = pdf({**ticket, "visit": {**ticket["visit"], "site": name}}, {})
    assert made.startswith(b"%PDF-") and "118 psig" in read_back(made)


def test_the_same_ticket_makes_the_same_bytes(ticket, photos):
    assert pdf(ticket, photos) == pdf(ticket, photos)


def test_an_empty_ticket_is_still_a_document(ticket):
    bare = {
        **ticket,
        "equipment": [{**ticket["equipment"][1], "readings": [], "summary": "Nothing was recorded."}],
    }
    assert "Signature" in read_back(pdf(bare, {}))
