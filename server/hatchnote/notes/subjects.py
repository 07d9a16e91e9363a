"""What joining a value needs to know: the subject of a sentence, what it hands on, and the small words between."""

from __future__ import annotations

from dataclasses import dataclass, field

from hatchnote.notes.doc import Doc, Draft, Mention

FILLERS = frozenset(
    [
        "coming",
        "going",
        "out",
        "off",
        "degree",
        "degrees",
        "of",
        "on",
        "the",
        "in",
        "at",
        "a",
        "for",
        "is",
        "my",
        "our",
        "there",
        "it's",
        "uh",
        "um",
        "about",
        "around",
    ]
)

LINKERS = frozenset(
    [
        "against",
        "and",
        "or",
        "then",
        "uh",
        "um",
        "also",
        "another",
        "about",
        "around",
        "with",
        "to",
        "the",
        "on",
        "a",
        "an",
        "plus",
        "/",
        "-",
        "side",
        "section",
        "terminal",
        "herm",
        "common",
        "dry",
        "wet",
        "bulb",
    ]
)

NOMINAL_VOLTS = frozenset({115, 120, 200, 208, 220, 230, 240, 277, 380, 400, 415, 440, 460, 480, 575, 600})

BY_UNIT = {
    "uA": "flame-signal",
    "uF": "capacitance",
    "Hz": "frequency",
    "/min": "speed",
    "[cft_i]/min": "airflow",
    "[ft_i]/min": "air-speed",
    "um[Hg]": "vacuum",
    "[HP]": "power",
    "[Btu_IT]/h": "gas-input",
    "MOhm": "insulation-resistance",
    "GOhm": "insulation-resistance",
    "[ppm]": "co",
    "kOhm": "resistance",
    "Ohm": "resistance",
    "[in_i].[lbf_av]": "torque",
    "[ft_i].[lbf_av]": "torque",
    "[psi]": "",
}

COPULA = frozenset(
    [
        "is",
        "was",
        "are",
        "were",
        "at",
        "reads",
        "reading",
        "read",
        "says",
        "showing",
        "shows",
        "show",
        "got",
        "get",
        "gets",
        "getting",
        "seeing",
        "measuring",
        "pulling",
        "drawing",
        "pulls",
        "draws",
        "running",
        "runs",
        "sitting",
        "holding",
        "to",
        "has",
        "had",
        "have",
        "it's",
        "that's",
        "now",
        "came",
        "comes",
        "measured",
        "measure",
        "measures",
        "calls",
        "said",
        "be",
        "being",
        "from",
        "made",
        "makes",
        "i've",
        "i'm",
        "we've",
        "up",
        "down",
        "still",
        "about",
        "only",
        "just",
        "around",
        "roughly",
        "settled",
        "hit",
        "tested",
    ]
)

MOTORS = frozenset({"supply-fan-motor", "condenser-fan-motor", "inducer-motor"})

TIMED = frozenset(
    {
        "burner",
        "igniter",
        "inducer-motor",
        "gas-valve",
        "pressure-switch",
        "flame-sensor",
        "ignition-control",
        "compressor",
        "control-board",
        "smoke-detector",
    }
)

METER = (" dial ", " turn ", " rev ", " revolution ", " clocked ", " meter ")

HOLDING = (
    " held ",
    " hold ",
    " holding ",
    " nitrogen ",
    " decay ",
    " vacuum ",
    " microns ",
    " valved ",
    " pump ",
    " pressure test",
    " leak test",
)

FIRING = (
    " flame ",
    " lit ",
    " lights ",
    " light ",
    " drops out ",
    " prepurge ",
    " purge ",
    " lockout ",
    " locks out ",
    " ignition ",
)

STRONG_SCRATCH = (
    "scratch",
    "strike",
    "disregard",
    "forget that",
    "correction",
    "take that back",
    "misspoke",
)

VERB_POINTS = {
    "evacuate": (("vacuum",), None),
    "recover": (("refrigerant-charge",), "recovered"),
    "charge": (("refrigerant-charge",), "added"),
}

NAMED_ONLY = frozenset({"shaft-size", "torque"})
"""Points that must be named: no number of a part is taken for one of them by its unit."""

ELECTRIC = frozenset({"voltage", "current", "resistance", "insulation-resistance", "control-voltage"})

ONLY_SAID = frozenset(
    {"voltage", "control-voltage", "torque", "time", "draft", "shaft-size", "temperature-drop"}
)


@dataclass(slots=True)
class Subject:
    """What the next values are said of."""

    points: list[str]
    at: int
    comp: Mention | None = None
    used: int = 0
    strong: bool = True
    same: bool = False
    """The first point is that of the part's twin, said just before."""
    position: str | None = None
    mention: Mention | None = None
    nobody: bool = False
    """What is measured is no part the ticket knows: no component is looked for."""


@dataclass(slots=True)
class State:
    """What one sentence hands to the next."""

    last: Draft | None = None
    subject: Subject | None = None
    recent: list[Draft] = field(default_factory=list)
    topic: Subject | None = None
    """Set by a sentence of nothing but a name: "Compressor amps."."""


class Line:
    """One sentence while its values are joined."""

    def __init__(self, doc: Doc, state: State, index: int, begin: int, end: int) -> None:
        self.doc, self.state, self.index, self.begin, self.end = doc, state, index, begin, end
        self.points = doc.vocabulary.points
        self.items = doc.within(begin, end)
        self.subject: Subject | None = None
        self.made: list[Draft] = []
        self.rated_at = -1
        self.scratched: Draft | None = None
        self.scratch_at = -1
        self.strong_scratch = False
        self.foreign = False
        """Somebody else's instrument is spoken of: its values are no readings."""
        self.couple: tuple[Subject, Subject] | None = None
        """Two points named together, whose values go on machine by machine."""
        self.shadow: str | None = None
        """A point named and then followed by its positions: "statics: supply point six, return point four"."""


def doc_words(doc: Doc, m: Mention) -> str:
    """The words of a mention."""
    return " ".join(doc.norm[m.start : m.stop])


def as_mention(d: Draft) -> Mention | None:
    return Mention("word", d.at, d.at, comp=d.component, number=d.number) if d.component else None
