"""Stage: which number belongs to which point. Sentence by sentence, from left to right.

A subject is what is being measured: a point ("suction"), or a part with the point implied ("compressor two is eleven
four"). A value takes, in this order, the subject behind it ("eleven superheat"), the subject before it, what its unit
can only be, what the sentence before leaves open. A value that finds nothing is no reading.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import islice

from hatchnote.notes.clauses import focus_before
from hatchnote.notes.doc import Doc, Draft, Mention, Value
from hatchnote.notes.fitting import OUTSIDE, Fit, fit
from hatchnote.notes.focus import is_point
from hatchnote.notes.numbers import Parse
from hatchnote.notes.numbers.words import CLASS
from hatchnote.notes.spoken_units import INCHES
from hatchnote.notes.vocabulary import PointEntry

REQUIRES = ("values", "sizes", "components", "tag_at", "circuit_at")
ASSIGNS = ("drafts",)

_FILLERS = frozenset(
    [
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
_LINKERS = frozenset(
    [
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
_NOMINAL_VOLTS = frozenset({115, 120, 200, 208, 220, 230, 240, 277, 380, 400, 415, 440, 460, 480, 575, 600})
_BY_UNIT = {
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
_COPULA = frozenset(
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
_MOTORS = frozenset({"supply-fan-motor", "condenser-fan-motor", "inducer-motor"})


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


@dataclass(slots=True)
class State:
    """What one sentence hands to the next."""

    last: Draft | None = None
    subject: Subject | None = None
    recent: list[Draft] = field(default_factory=list)


def joining(doc: Doc) -> None:
    """Make a draft of every value that is a reading."""
    state = State()
    for number, begin, end in doc.numbered_sentences():
        _Sentence(doc, state, number, begin, end).read()


class _Sentence:
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
        self.shadow: str | None = None
        """A point named and then followed by its positions: "statics: supply point six, return point four"."""

    # ------------------------------------------------------------ walking

    def read(self) -> None:
        k = 0
        while k < len(self.items):
            m = self.items[k]
            if m.kind == "value" and m.value is not None and not m.claimed:
                k += self.value(k)
                continue
            if m.kind == "size":
                self.size(m)
            elif m.kind == "word":
                self.word(k)
            elif m.kind == "legs":
                self.legs(m)
            k += 1
        if self.scratched is not None and self.strong_scratch and self.scratch_at > self.begin + 3:
            self.scratched.withdrawn = True  # taken back, and nothing said in its place
        if self.made:
            self.state.recent = [d for d in self.made]
            self.state.last = self.made[-1]
            self.state.subject = self.subject or self.state.subject

    def legs(self, m: Mention) -> None:
        """Legs alone say what is measured: between lines volts, between terminals of a winding ohms."""
        if (
            self.subject is not None
            and any(p in _ELECTRIC for p in self.subject.points[:2])
            and not (
                self.subject.used
                and m.slug[0] == "L"
                and "-" in m.slug
                and self.subject.points[0] == "current"
            )
        ):
            return
        if "-" not in m.slug:
            self.subject = Subject(["current", "voltage"], m.start, mention=m)
            return
        point = "resistance" if m.slug[0] in "CRS" and "-" in m.slug and m.slug[-1] in "CRSG" else "voltage"
        self.subject = Subject([point], m.start, mention=m)

    def word(self, k: int) -> None:
        m = self.items[k]
        if m.claimed in ("suffix", "position"):
            return
        if m.has("point", "co") and self._dioxide(m):
            self.subject, self.foreign = None, True
            return
        if (
            m.has("point")
            and m.stop < self.end
            and self.doc.norm[m.stop] in ("monitor", "alarm", "detector", "meter", "tester")
        ):
            self.subject = None if self.doc.norm[m.stop] in ("monitor", "alarm") else self.subject
            self.foreign = self.doc.norm[m.stop] in ("monitor", "alarm")
            return
        points = [t for t in m.of("point") if not t.weak]
        weak = [t for t in m.of("point") if t.weak]
        if m.has("cue", "rated"):
            self.rated_at = m.stop
        if m.has("cue", "scratch") and self._takes_back(k):
            self.scratched = self.made[-1] if self.made else self.state.last if k <= 2 else None
            self.scratch_at = m.stop
            self.strong_scratch = any(w in doc_words(self.doc, m) for w in _STRONG_SCRATCH)
            return
        if m.claimed == "verb" and m.has("verb"):
            verb = m.slug
            if verb in _VERB_POINTS:
                named, place = _VERB_POINTS[verb]
                self.subject = Subject(list(named), m.start, None, position=place, mention=m)
                return
        if points and not self._ends_value(m):
            slugs = [t.slug for t in points]
            if m.has("component") and m.comp and self._is_part_here(k):
                slugs = []
            if slugs:
                old = self.subject
                if (
                    old is not None
                    and old.strong
                    and not old.used
                    and old.points[0] in ("static-pressure", "humidity")
                ):
                    self.shadow = old.points[0]
                self.subject = Subject(slugs, m.start, self._component_near(k), mention=m)
                return
        if weak and doc_words(self.doc, m) in ("low", "high") and self._staged():
            m.kind, m.slug = "stage", doc_words(self.doc, m)
            self.subject = Subject(
                [self.made[-1].point if self.made else self.state.last.point], m.start, mention=m
            )  # type: ignore[union-attr]
            return
        if weak and doc_words(self.doc, m) in ("low", "high") and not self._value_next(k):
            return
        if weak and (self.subject is None or self.subject.used or "current" not in self.subject.points):
            if not (self.subject and not self.subject.used and self.subject.strong):
                comp = self.subject.comp if self.subject and self.subject.comp else None
                self.subject = Subject(
                    [t.slug for t in weak], m.start, comp or self._component_near(k), strong=False, mention=m
                )
            return
        if m.comp and m.part:
            self.part(k)

    def _staged(self) -> bool:
        """Whether the firing stage is spoken of: "high" then is no high side."""
        last = self.made[-1] if self.made else self.state.last
        stage = any(x.kind == "stage" for x in self.doc.within(max(0, self.begin - 20), self.end))
        return last is not None and last.point == "manifold-pressure" and (stage or bool(self.made))

    def _dioxide(self, m: Mention) -> bool:
        """ "C O two" with no further number behind it is another gas, unless the word was repaired."""
        if (
            any(r.start == m.start for r in self.doc.repairs)
            or m.stop >= self.end
            or self.doc.norm[m.stop] not in ("2", "two")
        ):
            return False
        nxt = m.stop + 1
        return nxt >= self.end or not (
            self.doc.tokens[nxt].kind == "n" or CLASS.get(self.doc.norm[nxt], ".") in "dtxhpzZ"
        )

    def part(self, k: int) -> None:
        """A part: the subject's own, or a subject with its implied point."""
        m = self.items[k]
        if self._capacitor_side(m):
            return
        entry = self.doc.vocabulary.components[m.comp]
        subject = self.subject
        if subject is not None and not subject.used and subject.strong:
            if any(m.comp in self.points[p].components for p in subject.points):
                subject.comp = m
                return
            if m.modifier:
                return
        if m.modifier and subject is not None and subject.strong and entry.implied is None and subject.used:
            return
        if (
            m.modifier
            and subject is not None
            and subject.strong
            and not (subject.used and self._value_next(k))
        ):
            if any(m.comp in self.points[p].components for p in subject.points):
                subject.comp = m
            return
        if (
            subject is not None
            and subject.used
            and subject.strong
            and subject.mention is not None
            and any(m.comp in self.points[p].components for p in subject.points)
            and self._value_next(k)
            and entry.implied != subject.points[0]
            and entry.implied is None
        ):
            subject.comp = m
            return
        implied = [entry.implied] if entry.implied else []
        marked = [p for p in entry.marked if p not in implied]
        extra = [
            p.slug
            for p in self.points.values()
            if m.comp in p.components
            and p.slug not in implied
            and p.slug not in marked
            and p.slug not in _NAMED_ONLY
        ]
        self.subject = Subject(implied + marked + extra, m.start, m, strong=False, mention=m)
        last = self.made[-1] if self.made else None
        if (
            last is not None
            and last.component == m.comp
            and last.number != m.number
            and last.basis == "measured"
            and last.point not in marked
        ):
            # "compressor one tested at two hundred megs, compressor two at one fifty"
            self.subject.points = [last.point, *(p for p in self.subject.points if p != last.point)]
            self.subject.same = True

    def _capacitor_side(self, m: Mention) -> bool:
        """ "on the compressor side" beside a capacitor says which section of it."""
        subject = self.subject
        if (
            subject is None
            or "capacitance" not in subject.points[:1]
            or m.comp not in ("compressor", *_MOTORS)
        ):
            return False
        after = self.doc.norm[m.stop] if m.stop < self.end else ""
        return m.modifier or after in ("side", "section", "terminal")

    def _is_part_here(self, k: int) -> bool:
        """A word that is a part and a point ("fuse", "belt", "suction line") is a part unless a value follows."""
        return not is_point(self.doc, self.items[k])

    def _value_next(self, k: int) -> bool:
        m = self.items[k]
        for i in range(m.stop, min(self.end, m.stop + 5)):
            owner = self.doc.owner[i]
            if owner is not None and owner.kind in ("value", "legs"):
                return True
            if owner is not None and (
                owner.comp or owner.has("point") or owner.has("verb") or owner.has("condition")
            ):
                return False
        return False

    def _ends_value(self, m: Mention) -> bool:
        return m.claimed == "suffix"

    def _position(self, m: Mention) -> Subject | None:
        """ "Return static negative point four, total one point four": a position of the point spoken of before."""
        last = self.made[-1] if self.made else None
        if last is None:
            return None
        entry = self.points[last.point]
        if not entry.positions or last.point not in ("static-pressure", "humidity"):
            return None
        i = m.start - 1
        while i > self.begin and (
            self.doc.norm[i] in _COPULA or self.doc.norm[i] in ("minus", "negative", "about")
        ):
            i -= 1
        if any(self.doc.tokens[x].brk for x in range(i + 1, m.start + 1)):
            return None
        position = entry.positions.get(self.doc.norm[i])
        return Subject([last.point], m.start, None, position=position) if position else None

    def _position_of_subject(self, m: Mention, subject: Subject | None) -> Subject | None:
        """ "Return side negative point three five" after a static: no temperature can be that."""
        if subject is None or subject.mention is None or m.value is None:
            return None
        last = self.made[-1] if self.made else self.state.last
        point = last.point if last is not None else ""
        if point not in ("static-pressure", "humidity", "co"):
            point = self.shadow or ""
        if not point:
            return None
        if min((fit(self.points[p], m.value).cost for p in subject.points), default=0.0) < OUTSIDE and not (
            bool(self.made)
            and m.value.ucum is None
            and subject.mention.stop - subject.mention.start == 1
            and (
                point == "humidity"
                or (
                    point == "co"
                    and m.value.first < 40
                    and self.doc.norm[subject.mention.start] in ("ambient", "room", "space", "indoors")
                )
            )
        ):
            return None
        positions = self.points[point].positions
        for i in range(subject.mention.start, subject.mention.stop):
            if self.doc.norm[i] in positions:
                return Subject([point], m.start, None, position=positions[self.doc.norm[i]])
        return None

    def _pieces(self, k: int) -> None:
        """ "suction 1, 18", "208, 2 09": figures that the recogniser parted; put together where only that makes sense."""
        m = self.items[k]
        if k + 1 >= len(self.items) or m.value is None or self.subject is None or self.subject.used:
            return
        b = self.items[k + 1]
        if (
            b.kind != "value"
            or b.value is None
            or b.claimed
            or b.start != m.stop
            or m.value.ucum
            or m.value.shape != "N"
            or b.value.shape != "N"
        ):
            return
        a_text, b_text = self.doc.tokens[m.start].text, self.doc.tokens[b.start].text
        if not (
            a_text.isdigit() and b_text.isdigit() and len(a_text) + len(b_text) <= 4 and len(a_text) == 1
        ):
            return
        points = [self.points[p] for p in self.subject.points if not self.points[p].text]
        if not points or min(fit(p, m.value).cost for p in points) < 1.9:
            return
        joined = Value(
            [Parse(float(a_text + b_text), "put together", 0.5, a_text + b_text)],
            "written",
            b.value.ucum,
            b.value.unit_text,
            shape="N",
        )
        if min(fit(p, joined).cost for p in points) >= 1.9:
            return
        joined.why = f"heard as {a_text}, {b_text}"
        joined.ambiguous = True
        m.value = joined
        for i in range(b.start, b.stop):
            self.doc.owner[i] = m
        m.stop = b.stop
        self.items.pop(k + 1)
        b.kind = "dropped"

    def _share(self, k: int, subject: Subject) -> None:
        """ "Low fire 1.7, high fire 3.5 on the manifold": the values before it in the list are of the same point."""
        j = k - 1
        row: list[Mention] = []
        while j >= 0:
            m = self.items[j]
            if m.kind == "value" and not m.claimed:
                row.append(m)
            elif m.kind == "value" or (
                m.kind not in ("stage", "legs")
                and not (m.kind == "word" and m.has("cue") and not m.has("point"))
            ):
                break
            j -= 1
        kept = list(self.made)
        for m in reversed(row):
            if m.value is not None and (m.value.ucum is None or m.value.ucum == self.items[k].value.ucum):  # type: ignore[union-attr]
                if fit(self.points[kept[-1].point], m.value).cost < OUTSIDE:
                    self._take(
                        m, Subject([kept[-1].point], m.start, subject.comp), "in a list before its point"
                    )

    def _takes_back(self, k: int) -> bool:
        """Whether the words really take something back: "sorry" and "wait" only beside a value."""
        m = self.items[k]
        text = doc_words(self.doc, m)
        last = self.made[-1] if self.made else self.state.last
        if last is None:
            return False
        if any(w in text for w in _STRONG_SCRATCH):
            return True
        near = self.made and m.start - self.made[-1].stop <= 4
        ahead = [x for x in self.items[k + 1 : k + 5] if x.kind == "value"]
        return bool(near and ahead and ahead[0].start - m.stop <= 8)

    def _component_near(self, k: int) -> Mention | None:
        """The part that a point's own words name, or the part just before it in the clause."""
        m = self.items[k]
        if m.comp:
            return m
        for j in range(k - 1, max(-1, k - 4), -1):
            other = self.items[j]
            if other.kind == "value" or self._break_between(other.stop, m.start):
                return None
            if other.comp and other.part:
                return other
        return None

    def _break_between(self, start: int, stop: int) -> bool:
        return any(self.doc.tokens[i].brk for i in range(start, min(stop + 1, len(self.doc.tokens))))

    # ------------------------------------------------------------ values

    def value(self, k: int) -> int:
        """Join the value at item `k`; how many items were used."""
        m = self.items[k]
        value = m.value
        assert value is not None
        if self.foreign and self.subject is None:
            return 1
        if m.start > self.begin and (
            self.doc.norm[m.start - 1] == "by"
            or self.doc.norm[m.start - 2 : m.start] in (["by", "a"], ["by", "about"])
        ):
            return 1  # an offset, no reading
        if self.scratched is not None and self._again(m):
            return 1
        if (
            k + 1 < len(self.items)
            and self.items[k + 1].kind == "size"
            and value.ucum is None
            and self.items[k + 1].start - m.stop <= 2
        ):
            return 1  # "four of the sixteen by twenty by two"
        self._pieces(k)
        if self.pair(k):
            return 2
        position = self._position(m)
        if position is not None and self._take(m, position, "position of the point before") is not None:
            return 1
        if self._rated_voltage(k):
            return 1
        used = self._same_pattern(k)
        if used:
            return used
        if m.start > self.begin and self._for_before(m) and value.ucum is None and not value.text:
            return 1
        behind = self._behind(k)
        subject = self.subject
        if (subject is None or subject.used) and behind is None and self._asked(k):
            for other in self._open(k):
                if (
                    not self._strange(m, other)
                    and self._take(m, other, "rating or setting of the point before") is not None
                ):
                    return 1
        use_behind = behind is not None and (
            subject is None or subject.used > 0 or not subject.strong or self._far(subject, m)
        )
        if (
            use_behind
            and subject is not None
            and not subject.strong
            and not subject.used
            and behind is not None
        ):
            # "compressor eleven amps": a weak subject gives way to a point said right behind
            use_behind = True
        if use_behind and behind is not None:
            moved = self._position_of_subject(m, behind)
            if moved is not None:
                moved.mention, behind = behind.mention, moved
            draft = self._take(m, behind, "point behind the value")
            if draft is not None:
                if behind.mention is not None:
                    behind.mention.claimed = "suffix"
                self._share(k, behind)
                return 1
        if subject is not None and subject.used and self._after_and(k) and self._strange(m, subject):
            for other in self._open(k):
                if (
                    other.points[:1] != subject.points[:1]
                    and not self._strange(m, other)
                    and self._take(m, other, "goes on from before") is not None
                ):
                    return 1
        placed = self._position_of_subject(m, self.subject)
        if placed is not None and self._take(m, placed, "position of the point before") is not None:
            if subject is not None:
                subject.used += 1
            return 1
        if subject is not None and (not subject.used or self._goes_on(k)):
            draft = self._take(
                m, subject, "point before the value" if subject.strong else "part with its point implied"
            )
            if draft is not None:
                subject.used += 1
                return 1
        for before in self._open(k):
            if self._strange(m, before):
                continue
            draft = self._take(m, before, "goes on from the sentence before")
            if draft is not None:
                return 1
        by_unit = self._by_unit(k)
        if by_unit is not None:
            self._take(m, by_unit, "by its unit")
        return 1

    def _for_before(self, m: Mention) -> bool:
        """ "right for forty eight": told of what a reading fits, not read."""
        owner = self.doc.owner[m.start - 1]
        return self.doc.norm[m.start - 1] == "for" and (owner is None or not owner.has("cue"))

    def _asked(self, k: int) -> bool:
        """Whether "plate says" or "setpoint" stands right before the value."""
        m = self.items[k]
        return any(
            x.kind == "word" and x.has("cue", "rated", "set") and not x.has("point") and m.start - x.stop <= 3
            for x in self.items[max(0, k - 2) : k]
        )

    def _strange(self, m: Mention, subject: Subject) -> bool:
        """Whether the value would be unlikely as the subject's point."""
        assert m.value is not None
        return bool(subject.points) and fit(self.points[subject.points[0]], m.value).cost >= 1.9

    def _far(self, subject: Subject, m: Mention) -> bool:
        return m.start - subject.at > 14

    def _goes_on(self, k: int) -> bool:
        """Whether a value follows the one before in a list, or a word between takes the subject up again."""
        m = self.items[k]
        j = k - 1
        while j >= 0 and self.items[j].kind not in ("value", "size"):
            j -= 1
        start = self.items[j].stop if j >= 0 else self.begin
        if j >= 0 and not self.items[j].claimed.startswith("reading"):
            return True
        words = [
            i for i in range(start, m.start) if self.doc.owner[i] is None or self.doc.owner[i].kind == "word"
        ]  # type: ignore[union-attr]
        if all(
            self.doc.norm[i] in _LINKERS or (self.doc.owner[i] is not None and self.doc.owner[i].modifier)
            for i in words
        ):  # type: ignore[union-attr]
            return True
        return any(
            self.doc.norm[i] in _COPULA or (self.doc.owner[i] is not None and self.doc.owner[i].has("cue"))  # type: ignore[union-attr]
            for i in words
        )

    def _behind(self, k: int) -> Subject | None:
        """The point said right behind the value: "nineteen degree split", "118 on the suction"."""
        m = self.items[k]
        i = m.stop
        steps = 0
        while i < self.end and steps < 5:
            if self.doc.tokens[i].brk:
                return None
            owner = self.doc.owner[i]
            if owner is None:
                if self.doc.norm[i] not in _FILLERS:
                    return None
                i += 1
                steps += 1
                continue
            if owner.kind != "word":
                return None
            points = [t.slug for t in owner.of("point") if not t.weak or owner.stop - owner.start > 1]
            on = any(
                self.doc.norm[x] in ("on", "at", "in", "for", "of", "through", "across")
                for x in range(m.stop, owner.start)
            )
            if points and not (owner.has("component") and not on):
                own_value = self._value_next(self.items.index(owner, k))
                pending = self.subject is not None and not self.subject.used
                if own_value and pending and not on:
                    return None
                comp = owner if owner.comp else None
                return Subject(points, owner.start, comp, mention=owner)
            if self._capacitor_side(owner):
                return None
            if owner.comp and on and owner.part:
                entry = self.doc.vocabulary.components[owner.comp]
                if (
                    self.subject is not None
                    and self.subject.strong
                    and any(owner.comp in self.points[p].components for p in self.subject.points)
                ):
                    if self.subject.comp is None or self.subject.used:
                        if self.subject.comp is None:
                            for d in self.made:
                                if d.component is None and owner.comp in self.points[d.point].components:
                                    d.component, d.number = owner.comp, owner.number
                        self.subject.comp = owner
                        owner.claimed = "suffix"
                    return None
                named = [entry.implied] if entry.implied else []
                named += [
                    p.slug for p in self.points.values() if owner.comp in p.components and p.slug not in named
                ]
                return Subject(named, owner.start, owner, strong=False, mention=owner)
            return None
        return None

    def _again(self, m: Mention) -> bool:
        """The value that stands in for the one taken back."""
        old = self.scratched
        self.scratched = None
        if old is None or m.start - self.scratch_at > 14:
            return False
        fresh = (
            self.subject is not None
            and self.subject.strong
            and self.subject.at > self.scratch_at
            and old.point not in self.subject.points
        )
        if fresh:
            if self.strong_scratch:
                old.withdrawn = True
            return False
        subject = Subject([old.point], m.start)
        draft = self._take(m, subject, "taken back and said again")
        if draft is None:
            return False
        for name in ("component", "number", "circuit", "stage", "position", "legs"):
            if getattr(draft, name) is None:
                setattr(draft, name, getattr(old, name))
        draft.at = draft.at
        old.withdrawn = True
        draft.doubts.clear()
        if self.subject is not None:
            self.subject.used += 1
        return True

    def _rated_voltage(self, k: int) -> bool:
        """ "rated four sixty, three phase", "two oh eight to two thirty on the plate"."""
        m = self.items[k]
        value = m.value
        assert value is not None
        if value.ucum not in (None, "V"):
            return False
        if value.text:
            low, _, high = value.text.partition("-")
            nominal = float(low) in _NOMINAL_VOLTS and float(high) in _NOMINAL_VOLTS
            named = (
                self.subject is not None
                and self.subject.strong
                and "voltage" not in self.subject.points
                and value.ucum is None
            )
            if not nominal or (named and not self.subject.used):  # type: ignore[union-attr]
                return False
            draft = self._take(m, Subject(["voltage"], m.start), "rated")
            if draft is not None:
                draft.basis, draft.component, draft.number = "rated", None, None
            return draft is not None
        nxt = self.items[k + 1] if k + 1 < len(self.items) else None
        phased = nxt is not None and nxt.kind == "phase" and nxt.start - m.stop <= 1
        rated = self.rated_at >= 0 and 0 <= m.start - self.rated_at <= 1
        if (
            (phased or rated)
            and value.first in _NOMINAL_VOLTS
            and (value.ucum == "V" or phased or self.subject is None)
        ):
            if rated and not phased and value.ucum is None and self.state.last is not None:
                return False
            draft = self._take(m, Subject(["voltage"], m.start), "rated")
            if draft is not None:
                draft.basis, draft.component, draft.number = "rated", None, None
            return draft is not None
        return False

    def _open(self, k: int) -> list[Subject]:
        """Subjects that what was said before leaves open for a rating, a setting or a value of now."""
        m = self.items[k]
        cues = [x for x in self.items[max(0, k - 5) : k] if x.kind == "word" and x.has("cue")]
        out: list[Subject] = []
        if any(x.has("cue", "rated", "set") for x in cues[-2:]):
            for d in [*reversed(self.made), *reversed(self.state.recent)][:6]:
                if d.point == "power" or d.text or d.tag != self.doc.tag_at[m.start]:
                    continue
                subject = Subject([d.point], m.start, None, strong=False, position=d.position)
                subject.comp = _as_mention(d)
                out.append(subject)
        elif (
            any(x.has("cue", "left", "setting", "found", "was", "from") for x in cues[-3:])
            or self._adjusting(k)
            or self._conjoined(k)
        ):
            for d in islice(reversed(self.doc.drafts), 12):
                if d.tag != self.doc.tag_at[m.start] or (d.basis == "set" and d.point != "opening"):
                    continue
                subject = Subject([d.point], m.start, None, strong=False, position=d.position)
                subject.comp = _as_mention(d)
                out.append(subject)
        if (
            self.state.last is not None
            and self.state.last.sentence == self.index - 1
            and not self.made
            and self._said_it(m)
        ):
            d = self.state.last
            again = Subject([d.point], m.start, None, strong=False, position=d.position)
            again.comp = _as_mention(d)
            out.append(again)
        near = self._pronoun(m)
        if near is not None:
            entry = self.doc.vocabulary.components[near.comp]
            points = [p for p in (entry.implied, *entry.marked) if p]
            points += [
                p.slug for p in self.points.values() if near.comp in p.components and p.slug not in points
            ]
            if points:
                out.append(Subject(points, m.start, near, strong=False, mention=near))
        return out

    def _said_it(self, m: Mention) -> bool:
        return any(self.doc.norm[i] in ("it", "it's") for i in range(max(self.begin, m.start - 4), m.start))

    def _pronoun(self, m: Mention) -> Mention | None:
        """The part meant by "it reads", "they're" right before the value."""
        for i in range(m.start - 1, max(self.begin - 1, m.start - 5), -1):
            word = self.doc.norm[i]
            if word in ("it", "it's", "they", "that", "that's", "those", "these"):
                return focus_before(self.doc, i)
            if word not in _COPULA and word not in _FILLERS:
                return None
        return None

    def _same_pattern(self, k: int) -> int:
        """ "Return seventy three, supply fifty three on three. On two I've got seventy four and fifty five": the same points again."""
        m = self.items[k]
        if (
            self.subject is not None
            or self.made
            or m.value is None
            or m.value.ucum not in (None, "[degF]", "[psi]")
        ):
            return 0
        before = [x for x in self.items[:k] if x.kind == "machine"]
        if not before or not self.state.recent:
            return 0
        run = [m]
        while (
            k + len(run) < len(self.items)
            and self.items[k + len(run)].kind == "value"
            and self.items[k + len(run)].start - run[-1].stop <= 1
        ):
            run.append(self.items[k + len(run)])
        pattern: list[Draft] = []
        for d in self.state.recent:
            if d.tag != self.doc.tag_at[m.start] and d.basis == "measured" and d.text is None:
                pattern.append(d)
        pattern = pattern[: len(run)]
        if len(pattern) != len(run) or len(run) < 2:
            return 0
        done = 0
        for x, d in zip(run, pattern, strict=True):
            subject = Subject([d.point], x.start, _as_mention(d), strong=False, position=d.position)
            draft = self._take(x, subject, "the same points as on the machine before")
            if draft is None:
                break
            done += 1
        return done

    def _adjusting(self, k: int) -> bool:
        return any(
            x.kind == "word" and x.claimed == "verb" and any(t.slug == "adjust" for t in x.of("verb"))
            for x in self.items[max(0, k - 4) : k]
        )

    def _after_and(self, k: int) -> bool:
        m = self.items[k]
        return (
            k > 0
            and self.items[k - 1].kind == "value"
            and m.start - self.items[k - 1].stop == 1
            and self.doc.norm[m.start - 1] == "and"
        )

    def _conjoined(self, k: int) -> bool:
        return self._after_and(k) and any(
            x.kind == "word" and x.has("cue", "left", "setting", "found") for x in self.items[:k]
        )

    def _by_unit(self, k: int) -> Subject | None:
        m = self.items[k]
        assert m.value is not None
        ucum = m.value.ucum
        if ucum is None:
            return None
        if ucum in ("s", "min", "h"):
            return self._timed(m)
        point = _BY_UNIT.get(ucum)
        if ucum in (INCHES, "[in_i'H2O]") and any(
            x.comp == "variable-frequency-drive" for x in self.items[:k]
        ):
            point = "static-pressure"
        if not point:
            return None
        return Subject([point], m.start)

    def _timed(self, m: Mention) -> Subject | None:
        """Seconds of a flame, a meter, minutes of a vacuum or a pressure test; other times are chatter."""
        before = self.doc.norm[self.begin : self.end]
        text = f" {' '.join(before)} "
        near = [x for x in self.doc.within(self.begin, m.start) if x.comp in _TIMED]
        seconds = m.value is not None and m.value.ucum == "s"
        if any(w in text for w in _METER):
            return Subject(["time"], m.start) if seconds else None
        if any(w in text for w in _HOLDING) or (self.made and self.made[-1].point == "vacuum"):
            return Subject(["time"], m.start)
        if near and seconds:
            return Subject(["time"], m.start, near[-1])
        if seconds and any(w in text for w in _FIRING):
            return Subject(["time"], m.start)
        return None

    def pair(self, k: int) -> bool:
        """ "one eighteen over three fifty": suction over head."""
        if k + 1 >= len(self.items):
            return False
        a, b = self.items[k], self.items[k + 1]
        if b.kind != "value" or b.value is None or b.claimed or b.value.link != "over":
            return False
        low = self._take(a, Subject(["suction-pressure"], a.start), "low over high")
        high = self._take(b, Subject(["discharge-pressure"], b.start), "low over high") if low else None
        return high is not None

    # ------------------------------------------------------------ drafts

    def _take(self, m: Mention, subject: Subject, rule: str) -> Draft | None:
        value = m.value
        assert value is not None
        best: tuple[float, PointEntry, Fit] | None = None
        for rank, slug in enumerate(subject.points):
            point = self.points[slug]
            if point.text:
                continue
            found = fit(point, value, subject.comp.comp if subject.comp is not None else None)
            if (
                not subject.strong
                and value.ucum is None
                and subject.comp is not None
                and subject.mention is subject.comp
            ):
                entry = self.doc.vocabulary.components[subject.comp.comp]
                if slug not in entry.marked and slug != entry.implied and not (subject.same and rank == 0):
                    continue
            cost = found.cost + 0.3 * rank
            if best is None or cost < best[0]:
                best = (cost, point, found)
        if best is None or best[2].cost >= 50:
            return None
        cost, point, found = best
        if found.outside and (not subject.strong or m.start - subject.at > 6):
            return None
        draft = Draft(
            point.slug,
            m.start,
            m.start,
            m.stop,
            found.value,
            found.ucum,
            sentence=self.index,
            rule=rule,
            source=m,
        )
        draft.cost, draft.others = found.cost, found.others
        if value.text:
            draft.text, draft.value = value.text, None
        if (
            m.start
            and self.doc.norm[m.start - 1] == "-"
            and self.doc.tokens[m.start].glued
            and m.start > 1
            and self.doc.tokens[m.start - 2].kind == "n"
            and self.doc.owner[m.start - 2] is None
        ):
            draft.doubts.append("figures run together")
        if value.ambiguous:
            draft.doubts.append(value.why)
        if found.tie:
            draft.doubts.append("the words can be read in two ways")
        if found.cost >= OUTSIDE:
            draft.doubts.append("outside what this can be")
        self._fill(draft, point, subject, m)
        m.claimed = "reading"
        self.doc.drafts.append(draft)
        self.made.append(draft)
        return draft

    def _fill(self, draft: Draft, point: PointEntry, subject: Subject, m: Mention) -> None:
        comp = subject.comp
        if comp is not None and (comp.comp in point.components or comp.comp == point.default):
            draft.component, draft.number = comp.comp, comp.number
        elif point.default:
            draft.component = point.default
        elif point.components and point.slug not in _ONLY_SAID:
            near = focus_before(self.doc, m.start, point.components)
            if near is not None:
                draft.component, draft.number = near.comp, near.number
        draft.tag = self.doc.tag_at[m.start]
        if point.circuit or (draft.component == "compressor" and draft.number is None):
            draft.circuit = self.doc.circuit_at[m.start]
        if subject.position:
            draft.position = subject.position

    def size(self, m: Mention) -> None:
        if m.claimed:
            return
        point = "belt-size" if m.comp == "supply-fan-belt" else "filter-size"
        draft = Draft(
            point, m.start, m.start, m.stop, text=m.slug, sentence=self.index, rule="designation", source=m
        )
        draft.tag = self.doc.tag_at[m.start]
        m.claimed = "reading"
        self.doc.drafts.append(draft)
        self.made.append(draft)


_TIMED = frozenset(
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
    }
)
_METER = (" dial ", " turn ", " rev ", " revolution ", " clocked ", " meter ")
_HOLDING = (
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
_FIRING = (
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
_STRONG_SCRATCH = (
    "scratch",
    "strike",
    "disregard",
    "forget that",
    "correction",
    "take that back",
    "misspoke",
)
_VERB_POINTS = {
    "evacuate": (("vacuum",), None),
    "recover": (("refrigerant-charge",), "recovered"),
    "charge": (("refrigerant-charge",), "added"),
}


def doc_words(doc: Doc, m: Mention) -> str:
    """The words of a mention."""
    return " ".join(doc.norm[m.start : m.stop])


def _as_mention(d: Draft) -> Mention | None:
    return Mention("word", d.at, d.at, comp=d.component, number=d.number) if d.component else None


_NAMED_ONLY = frozenset({"shaft-size", "torque"})
"""Points that must be named: no number of a part is taken for one of them by its unit."""
_ELECTRIC = frozenset({"voltage", "current", "resistance", "insulation-resistance", "control-voltage"})
_ONLY_SAID = frozenset({"voltage", "control-voltage", "torque", "time", "draft"})
