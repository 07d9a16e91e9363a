"""The whole main job on files: sound, typed notes and photos in, one ticket out. No server, no database."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from hatchnote.domain import Equipment, Facts, Nameplate, Photo, Ticket, Transcript, Visit
from hatchnote.errors import BadInput
from hatchnote.tickets.assemble import assemble

Progress = Callable[[str, float], None]
"""Called with what is being done and how far it is, 0..1."""


@dataclass(frozen=True, slots=True)
class Job:
    """What goes in. Paths must exist; `equipment` are the machines known at the site."""

    sounds: Sequence[Path] = ()
    notes: Sequence[Path] = ()
    photos: Sequence[Path] = ()
    equipment: Sequence[Equipment] = ()
    site: str | None = None
    technician: str | None = None
    date: str | None = None
    """YYYY-MM-DD; today when left out."""
    altitude_ft: float | None = None


def ticket_from_files(job: Job, *, progress: Progress | None = None) -> Ticket:
    """Do the main job on files.

    Raises BadInput with one sentence when a file cannot be used; nothing is written anywhere.
    """
    names = _names([*job.sounds, *job.notes])
    typed = names[len(job.sounds) :]
    transcripts = [*_listen(job, names, progress), *map(_typed, job.notes, typed)]
    facts = read_all(transcripts, job.equipment)
    plates: dict[str | None, Nameplate] = {e.tag: e.nameplate for e in job.equipment}
    visit = Visit(
        date=job.date or dt.date.today().isoformat(),
        site=job.site,
        technician=job.technician,
        altitude_ft=job.altitude_ft,
    )
    return ticket_from_facts(
        transcripts,
        facts,
        id=str(uuid.uuid4()),
        visit=visit,
        nameplates=plates,
        photos=list({photo.id: photo for photo in map(_photo, job.photos)}.values()),
    )


def ticket_from_facts(
    transcripts: Sequence[Transcript],
    facts: Facts,
    *,
    id: str,
    visit: Visit,
    nameplates: Mapping[str | None, Nameplate] | None = None,
    photos: Sequence[Photo] = (),
) -> Ticket:
    """Judge the facts and assemble the ticket; used by the files' way and by the server's worker."""
    from hatchnote.trade import judge

    assessment = judge(facts, nameplates, altitude_ft=visit.altitude_ft)
    return assemble(transcripts, facts, assessment, id=id, visit=visit, photos=photos)


def read_all(transcripts: Iterable[Transcript], equipment: Sequence[Equipment]) -> Facts:
    """The facts of several dictations of one visit, each read by itself, in order."""
    from hatchnote.notes import read_notes

    facts = Facts()
    for transcript in transcripts:
        facts = facts + read_notes(transcript, equipment=equipment)
    return facts


def _listen(job: Job, names: Sequence[str], progress: Progress | None) -> list[Transcript]:
    if not job.sounds:
        return []
    from hatchnote.speech import transcribe

    vocabulary = [name for e in job.equipment for name in (e.tag, *e.nicknames)]
    out = []
    for n, (path, name) in enumerate(zip(job.sounds, names, strict=False)):
        if not path.is_file():
            raise BadInput(f"There is no sound file at {path}; check the name.")

        def tell(done: float, n: int = n, path: Path = path) -> None:
            if progress:
                progress(f"listening to {path.name}", (n + done) / len(job.sounds))

        out.append(transcribe(path, vocabulary, id=name, progress=tell))
    return out


def _names(paths: Sequence[Path]) -> list[str]:
    """A name for each file's dictation, its own where that is free: two files may be called alike."""
    names: list[str] = []
    for path in paths:
        candidates = (path.stem, path.name, *(f"{path.stem}-{n}" for n in range(2, len(paths) + 2)))
        names.append(next(c for c in candidates if c not in names))
    return names


def _typed(path: Path, name: str) -> Transcript:
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise BadInput(f"There is no text file at {path}; check the name.") from None
    except UnicodeDecodeError:
        raise BadInput(f"{path} is not UTF-8 text; save it as UTF-8 and try again.") from None
    except OSError as error:
        raise BadInput(f"{path} cannot be read ({error.strerror}); name a text file.") from None
    return Transcript.from_text(text, id=name)


def _photo(path: Path) -> Photo:
    import hashlib

    from hatchnote.photos import describe

    if not path.is_file():
        raise BadInput(f"There is no photo at {path}; check the name.")
    data = path.read_bytes()
    facts = describe(data, name=path.name)
    digest = hashlib.sha256(data).hexdigest()
    return Photo(
        id=digest[:32],
        sha256=digest,
        name=path.name,
        width=facts.width,
        height=facts.height,
        taken_at=facts.taken_at,
    )
