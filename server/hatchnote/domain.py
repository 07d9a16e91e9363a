"""The nouns that cross the borders between rooms: words, readings, work, parts, findings, tickets.

Every class here is frozen, holds plain values and knows nothing of files, databases or the web.
`to_json` in `hatchnote.tickets.document` turns them into Contract 2; nothing else does.

Units of measure are UCUM codes (https://ucum.org, essence 2.2). Seconds are seconds from the start
of the dictation; characters count Unicode code points in `Transcript.text`.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

Basis = Literal["measured", "rated", "set"]
Moment = Literal["as-found", "as-left"]
WorkState = Literal["done", "needed", "recommended", "declined", "not-done"]
PartUse = Literal["installed", "to-order", "removed"]
Judgement = Literal["within", "outside", "unknown"]
TicketStatus = Literal["draft", "checked", "approved", "returned"]


# ---------------------------------------------------------------- what was heard


@dataclass(frozen=True, slots=True)
class Word:
    """One word as the recogniser wrote it.

    `start` and `end` are seconds into the dictation and `p` is the recogniser's probability (0..1);
    all three are None where the words were typed.
    """

    text: str
    start: float | None = None
    end: float | None = None
    p: float | None = None


@dataclass(frozen=True, slots=True)
class SecondHearing:
    """The same seconds of sound decoded again, independently of the first hearing.

    `start` and `end` are seconds into the dictation; `text` is what the second listener wrote there
    ("" where it heard nothing); `listener` names the model and settings used.
    """

    start: float
    end: float
    text: str
    listener: str
    p: float | None = None


@dataclass(frozen=True, slots=True)
class Transcript:
    """The words of one dictation in order, with what a second listener heard where it listened."""

    words: tuple[Word, ...]
    id: str | None = None
    duration_s: float | None = None
    language: str = "en"
    second: tuple[SecondHearing, ...] = ()
    warnings: tuple[str, ...] = ()
    """Sentences a person should see, e.g. that the file was cut short after 12 s."""
    continues: str | None = None
    """The dictation that this one goes on from, where a person joined the two: they were read together."""

    @property
    def text(self) -> str:
        """The words joined by single spaces: what `Span.start_char` and `end_char` count in."""
        return " ".join(w.text for w in self.words)

    @staticmethod
    def from_text(text: str, *, id: str | None = None) -> Transcript:
        """Typed notes as a transcript without sound. White space is folded to single spaces."""
        return Transcript(words=tuple(Word(t) for t in text.split()), id=id)

    def word_offsets(self) -> list[tuple[int, int]]:
        """Start and end character of every word in `text`."""
        out: list[tuple[int, int]] = []
        at = 0
        for w in self.words:
            out.append((at, at + len(w.text)))
            at += len(w.text) + 1
        return out


@dataclass(frozen=True, slots=True)
class Span:
    """Where something was said: characters in the dictation's text, and seconds where there is sound.

    In JSON the characters are called `from` and `to`.
    """

    start_char: int
    end_char: int
    dictation: str | None = None
    start: float | None = None
    end: float | None = None
    continued: Span | None = None
    """The rest of it, where it began at the end of one dictation and ended in the one joined to it."""


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another way to read what was said: a value with its unit, or a text."""

    value: float | None
    ucum: str | None
    text: str


@dataclass(frozen=True, slots=True)
class Check:
    """The honest mark: why a person should look at this, and what else it could be."""

    why: str
    alternatives: tuple[Alternative, ...] = ()


# ---------------------------------------------------------------- what was read out of the words


@dataclass(frozen=True, slots=True)
class Reading:
    """One measurement, rating or setting. Slugs are those of models/vocabulary."""

    id: str
    point: str
    heard: Span
    said: str
    """The words it was read from, as heard."""
    value: float | None = None
    unit: str | None = None
    """The unit a technician reads, e.g. "in. w.c."."""
    ucum: str | None = None
    text: str | None = None
    """A designation or a state instead of a number: "BX42", "16x25x2", "208-230", "open"."""
    component: str | None = None
    number: str | None = None
    legs: str | None = None
    stage: str | None = None
    circuit: str | None = None
    position: str | None = None
    basis: Basis = "measured"
    moment: Moment | None = None
    difference: bool = False
    """True for a temperature difference: it never converts like a temperature."""
    tag: str | None = None
    """The machine, e.g. "RTU-3"; None when said of no particular machine."""
    confidence: float = 1.0
    check: Check | None = None
    rule: str = ""
    """The rule that made this, for `hatchnote extract --explain`."""


@dataclass(frozen=True, slots=True)
class WorkItem:
    """Something done, needed, recommended, declined, or planned and left."""

    id: str
    verb: str
    state: WorkState
    heard: Span
    component: str | None = None
    number: str | None = None
    detail: str | None = None
    quantity: float | None = None
    tag: str | None = None
    confidence: float = 1.0
    check: Check | None = None
    rule: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """A part fitted, taken out, or to be ordered."""

    id: str
    component: str
    use: PartUse
    heard: Span
    description: str = ""
    size: str | None = None
    quantity: float = 1
    tag: str | None = None
    confidence: float = 1.0
    check: Check | None = None
    rule: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """A condition somebody saw, heard or measured on a component."""

    id: str
    component: str
    condition: str
    heard: Span
    number: str | None = None
    tag: str | None = None
    confidence: float = 1.0
    check: Check | None = None
    rule: str = ""


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything read out of one or more transcripts, in order of speech."""

    readings: tuple[Reading, ...] = ()
    work: tuple[WorkItem, ...] = ()
    parts: tuple[Part, ...] = ()
    findings: tuple[Finding, ...] = ()
    withdrawn: tuple[Reading, ...] = ()
    """Readings taken back by voice: kept in the record, out of the ticket."""
    tags: tuple[str, ...] = ()
    """Machines named, in order of first mention, even those without any item."""
    refrigerants: tuple[tuple[str | None, str], ...] = ()
    """(tag, "R-410A") for every refrigerant named; tag None when said of no particular machine."""
    told: tuple[tuple[str | None, str], ...] = ()
    """(tag, "told the manager at ten twenty") wherever he says that he informed somebody."""

    def __add__(self, other: Facts) -> Facts:
        tags = self.tags + tuple(t for t in other.tags if t not in self.tags)
        return Facts(
            self.readings + other.readings,
            self.work + other.work,
            self.parts + other.parts,
            self.findings + other.findings,
            self.withdrawn + other.withdrawn,
            tags,
            self.refrigerants + other.refrigerants,
            self.told + other.told,
        )


# ---------------------------------------------------------------- machines


@dataclass(frozen=True, slots=True)
class Nameplate:
    """What the machine's own plate says. Every field may be unknown. It outranks every other limit."""

    volts: str | None = None
    """As printed: "460", "208/230"."""
    phase: int | None = None
    compressor_rla: tuple[float, ...] = ()
    """A, one a compressor in order of their numbers."""
    fan_fla: float | None = None
    """A, supply fan motor."""
    condenser_fan_fla: float | None = None
    rise_min: float | None = None
    """°F difference."""
    rise_max: float | None = None
    gas: Literal["natural", "propane"] | None = None
    input_btuh: float | None = None
    output_btuh: float | None = None
    manifold_inwc: float | None = None
    inlet_min_inwc: float | None = None
    inlet_max_inwc: float | None = None
    capacitor_uf: tuple[float, ...] = ()
    """Rated µF, the larger section first."""
    capacitor_tolerance_pct: float | None = None
    refrigerant: str | None = None
    """ "R-410A"."""
    charge_lb: tuple[float, ...] = ()
    """Factory charge, lb, one a circuit."""
    superheat_target: float | None = None
    subcooling_target: float | None = None
    belt: str | None = None
    filters: str | None = None
    """As printed: "4x 16x25x2"."""
    max_static_inwc: float | None = None
    sensor_curve: Literal["10K-2", "10K-3", "Pt1000"] | None = None


@dataclass(frozen=True, slots=True)
class Equipment:
    """A machine known at the site: its tag, the names people call it by, and its plate."""

    tag: str
    nicknames: tuple[str, ...] = ()
    nameplate: Nameplate = field(default_factory=Nameplate)


# ---------------------------------------------------------------- what follows from it


@dataclass(frozen=True, slots=True)
class Computed:
    """A value worked out from readings, with the numbers put in and the source of the formula."""

    id: str
    name: str
    value: float | None
    unit: str
    ucum: str
    inputs: tuple[str, ...]
    """Ids of the readings it was computed from; `from` in JSON."""
    formula: str
    """The formula with the numbers put in: "55.0 °F − 44.95 °F (dew, R-410A, 130 psig)"."""
    source: str
    judgement: Judgement
    expected: str | None = None
    difference: bool = False
    tag: str | None = None
    depends_on_check: bool = False
    """True when an input is marked `check`: shown as depending on it, and never judged firmly."""


@dataclass(frozen=True, slots=True)
class Caution:
    """What to mind before hands go in, or a hint at what readings are consistent with."""

    id: str
    text: str
    because: tuple[str, ...]
    source: str | None = None
    kind: Literal["caution", "hint"] = "caution"
    tag: str | None = None


@dataclass(frozen=True, slots=True)
class Missing:
    """Something a complete record of this kind of work holds and this one does not."""

    id: str
    what: str
    why: str
    because: tuple[str, ...]
    tag: str | None = None


@dataclass(frozen=True, slots=True)
class Assessment:
    """What `hatchnote.trade.judge` returns."""

    computed: tuple[Computed, ...] = ()
    cautions: tuple[Caution, ...] = ()
    missing: tuple[Missing, ...] = ()


# ---------------------------------------------------------------- the ticket


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo of the ticket. Bytes live in the blob store under `sha256`."""

    id: str
    sha256: str
    name: str
    width: int
    height: int
    taken_at: str | None = None
    """ISO 8601, local time of the camera with its offset where it is known."""
    caption: str | None = None
    tag: str | None = None
    dictation: str | None = None
    at_s: float | None = None
    """Seconds into `dictation` when it was taken, where that is known."""
    rotation: int = 0
    """Degrees clockwise, applied for show only: 0, 90, 180, 270."""
    left_out: bool = False


@dataclass(frozen=True, slots=True)
class Visit:
    """Where, when and by whom. `date` is YYYY-MM-DD."""

    date: str
    site: str | None = None
    technician: str | None = None
    altitude_ft: float | None = None


@dataclass(frozen=True, slots=True)
class MachineRecord:
    """All that belongs to one machine (tag None: to no particular machine)."""

    tag: str | None
    summary: str
    readings: tuple[Reading, ...] = ()
    work: tuple[WorkItem, ...] = ()
    parts: tuple[Part, ...] = ()
    findings: tuple[Finding, ...] = ()
    computed: tuple[Computed, ...] = ()
    cautions: tuple[Caution, ...] = ()
    missing: tuple[Missing, ...] = ()
    photos: tuple[Photo, ...] = ()


@dataclass(frozen=True, slots=True)
class Ticket:
    """One visit's record: Contract 2 in `hatchnote.tickets.document`."""

    id: str
    status: TicketStatus
    visit: Visit
    equipment: tuple[MachineRecord, ...]
    dictations: tuple[Transcript, ...]
    withdrawn: tuple[Reading, ...] = ()

    def with_status(self, status: TicketStatus) -> Ticket:
        return replace(self, status=status)
