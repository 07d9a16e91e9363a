"""An office with one ticket to review: a dictation with sound, four checks, a photo. Invented."""

import hashlib
import io
import uuid
import wave

from hatchnote.domain import (
    Alternative,
    Check,
    Facts,
    Finding,
    Nameplate,
    Part,
    Reading,
    Span,
    Transcript,
    Word,
    WorkItem,
)
from hatchnote.domain import Equipment as Machine
from hatchnote.jobs import draft
from hatchnote.store import open_store, people, photos, places, recordings

TEXT = (
    "on rtu two suction one eighteen psig head three forty compressor one eleven four amps "
    "run capacitor thirty eight microfarad rated forty outdoor air ninety five degrees "
    "replaced the contactor the drain pan was rusted we recommend a new belt bx forty two"
)


def tone(seconds):
    """A WAV file of a plain tone: something real to seek in and play."""
    import math
    import struct

    out = io.BytesIO()
    with wave.open(out, "wb") as w:
        w.setnchannels(1)
        w.setsampwidth(2)
        w.setframerate(8000)
        w.writeframes(
            b"".join(struct.pack("<h", int(6000 * math.sin(n * 0.3))) for n in range(int(8000 * seconds)))
        )
    return out.getvalue()


def jpeg():
    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (640, 480), (70, 90, 110)).save(out, "JPEG")
    return out.getvalue()


def transcript(id):
    words = tuple(
        Word(w, 0.5 + n * 0.4, 0.85 + n * 0.4, 0.45 if w in ("eleven", "four") else 0.93)
        for n, w in enumerate(TEXT.split())
    )
    return Transcript(words, id=id, duration_s=1 + 0.4 * len(words))


def facts(heard):
    """Readings as if they had been read from `TEXT`; four of them ask a person to look."""

    def span(words):
        at = heard.text.index(words)
        first = heard.text[:at].count(" ")
        last = first + words.count(" ")
        return Span(at, at + len(words), heard.id, heard.words[first].start, heard.words[last].end)

    def reading(id, words, point, value, unit, ucum, **more):
        return Reading(
            id=id,
            point=point,
            heard=span(words),
            said=words,
            value=value,
            unit=unit,
            ucum=ucum,
            tag="RTU-2",
            **more,
        )

    def check(why, *alternatives):
        return Check(why, tuple(Alternative(v, u, t) for v, u, t in alternatives))

    return Facts(
        readings=(
            reading("r-suction", "suction one eighteen psig", "suction-pressure", 118.0, "psig", "[psi]"),
            reading("r-head", "head three forty", "discharge-pressure", 340.0, "psig", "[psi]",
                    check=check("the unit was not said", (340.0, "[psi]", "340 psig"), (34.0, "[psi]", "34 psig"))),
            reading("r-amps", "compressor one eleven four amps", "current", 11.4, "A", "A", component="compressor",
                    number="1", check=check("the two hearings differ: 11.4 and 114", (114.0, "A", "114 A"))),
            reading("r-cap", "run capacitor thirty eight microfarad", "capacitance", 38.0, "µF", "uF",
                    component="run-capacitor"),
            reading("r-rated", "rated forty", "capacitance", 40.0, "µF", "uF", component="run-capacitor",
                    basis="rated", check=check("no unit was said", (40.0, "uF", "40 µF"), (14.0, "uF", "14 µF"))),
            reading("r-oat", "outdoor air ninety five degrees", "outdoor-air-temperature", 95.0, "°F", "[degF]"),
        ),
        work=(
            WorkItem("w-contactor", "replace", "done", span("replaced the contactor"), component="contactor",
                     tag="RTU-2"),
            WorkItem("w-belt", "recommend", "recommended", span("we recommend a new belt bx forty two"),
                     component="supply-fan-belt", tag="RTU-2"),
        ),
        parts=(Part("p-contactor", "contactor", "installed", span("the contactor"), tag="RTU-2"),),
        findings=(
            Finding("f-pan", "drain-pan", "rusted-through", span("the drain pan was rusted"), tag="RTU-2",
                    check=check("rusted, or rusted through?", (None, None, "corroded"))),
        ),
        tags=("RTU-2",),
    )  # fmt: skip


def seed(folder, *, site="Cedar Court Bakery", date="2026-03-04"):
    """Put the scene into the data folder. Needs accounts Nell (technician) and Desk (office). Ids by name."""
    store = open_store(folder)
    nell = next(u for u in people.users(store) if u.name == "Nell")
    site_id, ticket, sound, photo = (str(uuid.uuid4()) for _ in range(4))
    known = places.site_named(store, site)
    if known:
        site_id = known["id"]
    else:
        places.put_site(store, site_id, name=site, altitude_ft=120, address="1 Sample Street")
        plate = Nameplate(volts="460", refrigerant="R-410A", charge_lb=(12.5,), capacitor_uf=(40.0,),
                          capacitor_tolerance_pct=6)  # fmt: skip
        places.put_machine(store, site_id, Machine("RTU-2", ("the middle unit",), plate))
    places.put_visit(store, ticket, site_id=site_id, date=date, technician_id=nell.id)
    data = tone(22)
    segment = str(uuid.uuid4())
    recordings.put_recording(
        store,
        sound,
        ticket_id=ticket,
        technician_id=nell.id,
        started_at=f"{date}T15:00:00.000Z",
        segments=[recordings.Segment(segment, 0, len(data), hashlib.sha256(data).hexdigest(), "audio/wav")],
        marks=[],
        finished=True,
        settings={},
    )
    recordings.receive_segment(store, segment, sha256=store.blobs.put(data), size=len(data))
    picture = jpeg()
    photos.add(
        store,
        {
            "id": photo,
            "ticket_id": ticket,
            "user_id": nell.id,
            "sha256": store.blobs.put(picture),
            "thumb_sha256": store.blobs.put(picture),
            "name": "plate.jpg",
            "mime": "image/jpeg",
            "bytes": len(picture),
            "width": 640,
            "height": 480,
            "taken_at": f"{date}T15:00:08",
            "caption": None,
            "recording_id": sound,
            "at_s": 8.0,
        },
    )
    heard = transcript(sound)
    recordings.add_hearing(
        store,
        recordings.Hearing(sound, f"{date}T15:00:00.000Z", heard, facts(heard)),
        ticket_id=ticket,
        key="scene",
    )
    draft.redraft(store, ticket, who=None, why="listened")
    store.close()
    return {"site": site_id, "ticket": ticket, "sound": sound, "photo": photo}


def seed_cut(folder, *, site="Cedar Court Annex", date="2026-03-06"):
    """A ticket whose dictation was cut in two by a call: read apart as a server does. Ids by name."""
    from hatchnote.notes import read_notes

    store = open_store(folder)
    nell = next(u for u in people.users(store) if u.name == "Nell")
    site_id, ticket, first, second = (str(uuid.uuid4()) for _ in range(4))
    known = places.site_named(store, site)
    if known:
        site_id = known["id"]
    else:
        places.put_site(store, site_id, name=site, altitude_ft=120, address=None)
    places.put_visit(store, ticket, site_id=site_id, date=date, technician_id=nell.id)
    said = ((first, 1, "RTU-3 suction pressure is one."), (second, 4, "Eighteen psig. Head three forty."))
    for id, minute, text in said:
        at = f"{date}T15:0{minute}:00.000Z"
        words = tuple(Word(w, 0.3 + n * 0.4, 0.65 + n * 0.4, 0.93) for n, w in enumerate(text.split()))
        heard = Transcript(words, id=id, duration_s=2.0 + 0.4 * len(words))
        data, segment = tone(heard.duration_s), str(uuid.uuid4())
        pieces = [recordings.Segment(segment, 0, len(data), hashlib.sha256(data).hexdigest(), "audio/wav")]
        recordings.put_recording(store, id, ticket_id=ticket, technician_id=nell.id, started_at=at, segments=pieces,
                                 marks=[], finished=True, settings={})  # fmt: skip
        recordings.receive_segment(store, segment, sha256=store.blobs.put(data), size=len(data))
        hearing = recordings.Hearing(id, at, heard, read_notes(heard))
        recordings.add_hearing(store, hearing, ticket_id=ticket, key="scene")
    draft.redraft(store, ticket, who=None, why="listened")
    store.close()
    return {"ticket": ticket, "first": first, "second": second}
