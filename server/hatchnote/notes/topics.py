"""What a sentence of nothing but a name sets for the next: "Compressor amps. Twelve one."

Such a heading stands until a sentence speaks of something else.
"""

from __future__ import annotations

from hatchnote.notes.doc import Mention
from hatchnote.notes.subjects import COPULA, ELECTRIC, FILLERS, LINKERS, Line, Subject
from hatchnote.notes.wordlists import words

_LONGEST = 9
_READ_OF_PARTS = ELECTRIC | {"capacitance", "flame-signal"}
_SMALL = words("here we've we i've i well so okay they're those these say says again")


def topic_of(line: Line) -> Subject | None:
    """What the sentence, read to its end, sets for the next; None where it tells something itself."""
    subject = line.subject
    opened = line.state.topic
    if line.made:
        goes_on = opened is not None and line.made[0].point in opened.points
        return opened if goes_on else None
    if subject is None or subject.nobody or line.end - line.begin > _LONGEST:
        return None
    if not subject.strong and (subject.comp is None or not _implied(line, subject.comp)):
        return None
    telling = ("verb", "condition")
    for m in line.items:
        if (
            m.kind in ("value", "size")
            or m.claimed == "verb"
            or (not m.has("point") and any(map(m.has, telling)))
        ):
            return None
        if m.has("cue", "not", "needed", "declined", "recommended"):
            return None
    return subject


def set_topic(line: Line) -> None:
    """Take up what the sentence before has set, where this one begins with values of it."""
    topic = line.state.topic
    if topic is None:
        return
    i = line.begin
    while i < line.end:
        m = line.doc.owner[i]
        if m is not None and m.kind == "value":
            line.subject = Subject(topic.points, i, topic.comp, strong=topic.strong, position=topic.position)
            line.subject.mention = topic.mention
            return
        named = m is not None and (m.kind in ("machine", "circuit", "legs", "stage") or _only_cue(m))
        word = line.doc.norm[i]
        if not named and (m is not None and m.kind != "word"):
            return
        if (
            not named
            and word not in COPULA
            and word not in FILLERS
            and word not in LINKERS
            and word not in _SMALL
        ):
            return
        i += 1


def _only_cue(m: Mention) -> bool:
    return m.has("cue", "found", "was", "left", "rated", "set", "also") and not m.has("point") and not m.comp


def _implied(line: Line, part: Mention) -> bool:
    return line.doc.vocabulary.components[part.comp].implied in _READ_OF_PARTS
