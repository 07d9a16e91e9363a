"""How an act is told: by whom it was done, when, under what condition, and under which heading of a form."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.wordlists import words

_PEOPLE = words(
    """
    genius idiot joker clown knucklehead dummy fool somebody someone anybody everybody whoever they he
    she tenant tenants landlord customer owner manager janitor custodian electrician electricians
    plumber roofer roofers contractor contractors crew maintenance company guy guys people man lady
    staff outfit tech technician mechanic helper supervisor predecessor engineer installer installers
    """
)
"""Work of others is no work of this visit."""
_CREW = frozenset(
    {"helper", "apprentice", "partner", "guy", "tech", "man", "crew", "buddy", "kid", "boys", "guys"}
)
"""With "my" or "our": those who are on the job with him."""
_SELF = frozenset({"i", "we", "me", "us", "myself"})
_BETWEEN = words(
    """
    had has have having already just also then all ever even never probably must obviously apparently
    once evidently been has've who that went ahead and did
    """
)
_THINGS_ACT = frozenset({"it", "which"})
_AGO = (
    " last year ",
    " last week ",
    " last month ",
    " last time ",
    " last spring ",
    " last summer ",
    " last fall ",
    " last winter ",
    " last visit ",
    " last trip ",
    " last season ",
    " years ago ",
    " year ago ",
    " months ago ",
    " month ago ",
    " weeks ago ",
    " week ago ",
    " days ago ",
    " yesterday ",
    " the other day ",
    " back in january ",
    " back in february ",
    " back in march ",
    " back in april ",
    " back in may ",
    " back in june ",
    " back in july ",
    " back in august ",
    " back in september ",
    " back in october ",
    " back in november ",
    " back in december ",
    " back in the spring ",
    " back in the fall ",
    " back in the summer ",
    " back in the winter ",
    " a while back ",
    " earlier this year ",
    " used to ",
    " in the spring ",
    " in the fall ",
    " in the summer ",
    " in the winter ",
    " this past ",
    " at the last visit ",
    " on the last visit ",
    " when we were here ",
    " when i was here ",
)
_UNREAL = frozenset({"if", "unless", "whether", "until", "till", "once"})
_ME = frozenset({"me", "mine", "my", "us", "up"})
_UNREAL_STOP = frozenset({"then", "i'll", "we'll", "but", "so"})

_HEADINGS = {
    "recommendation": "recommended",
    "recommendations": "recommended",
    "recommend": "recommended",
    "recommended": "recommended",
    "suggest": "recommended",
    "suggested": "recommended",
    "advise": "recommended",
    "advised": "recommended",
    "advice": "recommended",
    "suggestion": "recommended",
    "suggestions": "recommended",
    "needs": "needed",
    "needed": "needed",
    "required": "needed",
    "outstanding": "needed",
    "declined": "declined",
    "refused": "declined",
    "offered": "recommended",
    "quoted": "recommended",
}
_ENDS = (
    ("work", "done"),
    ("parts", "used"),
    ("parts",),
    ("readings",),
    ("readings", "after"),
    ("readings", "before"),
    ("findings",),
    ("conditions",),
    ("work",),
    ("follow", "up"),
    ("customer",),
    ("notes",),
    ("remarks",),
)
"""Headings of a form that end the one before."""
_LONG_HEADINGS = {
    ("to", "do"): "needed",
    ("still", "to", "do"): "needed",
    ("action", "required"): "needed",
    ("action", "needed"): "needed",
    ("work", "needed"): "needed",
    ("still", "needs"): "needed",
    ("still", "needed"): "needed",
    ("next", "visit"): "needed",
    ("next", "time"): "needed",
    ("next", "trip"): "needed",
    **dict.fromkeys(
        [
            (*lead, "next", when)
            for lead in (
                ("for",),
                ("on", "the"),
                ("to", "do"),
                ("to", "do", "on", "the"),
                ("do",),
                ("plan", "for"),
            )
            for when in ("visit", "time", "trip", "call")
        ],
        "needed",
    ),
    ("open", "items"): "needed",
    ("still", "open"): "needed",
    ("to", "be", "done"): "needed",
    ("when", "i", "come", "back"): "needed",
    ("on", "the", "return"): "needed",
    ("what", "i'd", "do"): "recommended",
    ("i'd", "recommend"): "recommended",
    ("did", "not", "do"): "not-done",
    ("not", "done"): "not-done",
    ("didn't", "do"): "not-done",
    ("skipped",): "not-done",
    ("did",): "done",
    ("done",): "done",
    ("work", "done"): "done",
    ("action",): "done",
    ("actions",): "done",
    ("work", "performed"): "done",
    ("also", "did"): "done",
    ("left", "undone"): "not-done",
    ("not", "accomplished"): "not-done",
    ("not", "completed"): "not-done",
    ("not", "performed"): "not-done",
    ("deferred",): "not-done",
    ("skipped", "today"): "not-done",
}


def segment(doc: Doc, at: int, begin: int, end: int) -> tuple[int, int]:
    """The stretch between marks of punctuation around token `at`."""
    if doc.breaks is None:
        doc.breaks = [i for i, t in enumerate(doc.tokens) if t.brk]
    k = bisect_right(doc.breaks, at)
    before = doc.breaks[k - 1] if k else 0
    behind = doc.breaks[k] if k < len(doc.breaks) else len(doc.tokens)
    return min(at, max(begin, before)), max(at + 1, min(end, behind))


def long_ago(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """Whether a state told in the past is of another day: "last year the compressor was bad"."""
    a, b = segment(doc, m.start, begin, end)
    if not {"was", "were", "had"} & set(doc.norm[max(a, m.start - 10) : m.start]):
        return False
    said = f" {' '.join(doc.norm[max(a, m.start - 10) : min(b, m.stop + 6)])} "
    return any(x in said for x in _AGO)


def not_ours(doc: Doc, m: Mention, begin: int, end: int) -> bool:
    """Whether an act told as done was another's or another day's: "the tenant shut it off", "replaced last year"."""
    a, b = segment(doc, m.start, begin, end)
    said = f" {' '.join(doc.norm[max(a, m.start - 10) : min(b, m.stop + 12)])} "
    if any(x in said for x in _AGO):
        return True
    for i in range(m.stop, min(b, m.stop + 7)):
        if doc.norm[i] == "by" and doc.norm[i + 1 : i + 3] != ["the", "time"]:
            return any(doc.norm[k] in _PEOPLE for k in range(i + 1, min(b, i + 5)))
    i = m.start - 1
    steps = 0
    while i >= a and doc.norm[i] in _BETWEEN and steps < 4:
        i -= 1
        steps += 1
    if i < a:
        return False
    word = doc.norm[i]
    if word in _CREW and i - 1 >= a and doc.norm[i - 1] in ("my", "our", "second", "other"):
        return False
    if word in _PEOPLE:
        return True
    if (
        word in _THINGS_ACT
        and i == m.start - 1
        and (i == a or doc.norm[i - 1] in ("and", "so", "then", "but"))
    ):
        return (
            m.stop < b
            and any(
                x.comp or doc.norm[x.start] in ("unit", "it") for x in doc.within(m.stop, min(b, m.stop + 4))
            )
        ) or (doc.norm[m.stop : m.stop + 2] == ["the", "unit"])
    # "the guy before me had put tape on it", "somebody on the night crew had pulled it"
    people = [k for k in range(a, i + 1) if doc.norm[k] in _PEOPLE]
    if any(doc.norm[k] in _CREW and k > a and doc.norm[k - 1] in ("my", "our") for k in people):
        return False
    if steps and people:
        return not any(doc.norm[k] in _SELF for k in range(a, m.start))
    return False


def unreal(doc: Doc, m: Mention, begin: int) -> bool:
    """ "If it trips again replace the board", "till somebody changes that": nothing that was done or is to be."""
    i = m.start - 1
    while i >= begin and m.start - i < 12:
        if doc.norm[i] in _UNREAL_STOP:
            return False
        if doc.norm[i] == "if" and doc.norm[i + 2 : i + 3] in (["was"], ["were"]) and doc.norm[i + 3] in _ME:
            return False  # "if it was me I'd put a new one in"
        if doc.norm[i] in _UNREAL:
            if not any(doc.tokens[k].brk for k in range(i + 1, m.start + 1)):
                return True
            return (
                doc.norm[i] in ("if", "unless")
                and i == begin
                and doc.tokens[m.start].brk > 0
                and _bare_verb(m)
            )
        i -= 1
    return False


def _bare_verb(m: Mention) -> bool:
    """ "If it trips again, replace the board": an order for then."""
    return any(t.form == "base" for t in m.of("verb")) and not any(t.form == "past" for t in m.of("verb"))


_ASKED_WHO = frozenset({"anybody", "anyone", "somebody", "someone", "they", "you", "we"})


_WONDER = frozenset({"asked", "asking", "asks", "know", "wondered", "wondering", "wonders"})
_TOLD_TO = frozenset({"somebody", "someone"})


def asked_whether(doc: Doc, at: int, begin: int) -> bool:
    """ "And did anybody ever send them a price on that": a question, whether it is written as one or not."""
    for i in range(at - 1, max(begin - 1, at - 9), -1):
        if doc.norm[i] in _WONDER and doc.norm[i + 1] in ("when", "what", "why", "how", "who", "which", "if"):
            return True  # "the customer asked when the filters were changed"
        asks = doc.norm[i] in ("did", "has") or (doc.norm[i] == "have" and doc.norm[i + 1] not in _TOLD_TO)
        if asks and doc.norm[i + 1] in _ASKED_WHO and i + 1 < at:
            opens = i == begin or doc.tokens[i].brk or doc.norm[i - 1] in ("and", "or", "so", "office", "but")
            return bool(opens)
        if doc.tokens[i + 1].brk:
            return False
    return False


def ours_now(doc: Doc, m: Mention, begin: int) -> bool:
    """ "I change the motor", "then we swap it": the present told of oneself is what was done."""
    i = m.start - 1
    while (
        i >= begin
        and doc.norm[i]
        in ("just", "then", "also", "go", "ahead", "and", "always", "did", "done", "now", "both")
        and m.start - i < 5
    ):
        if doc.tokens[i + 1].brk and doc.norm[i] != "and":
            return False
        i -= 1
    if unreal(doc, m, begin):
        return False
    if i >= begin and not doc.tokens[i + 1].brk and doc.norm[i] in ("i", "we"):
        return True
    if doc.norm[m.start - 1] not in ("and", "then") or m.start - 1 < begin:
        return False
    # "I take the wheel down and wash it"
    a = m.start - 1
    while a > begin and m.start - a < 14 and not doc.tokens[a].brk:
        a -= 1
    for k in range(a, m.start - 1):
        if doc.norm[k] in ("i", "we"):
            after = doc.norm[k + 1]
            owner = doc.owner[k + 1]
            return after not in ("would", "should", "will", "can", "could") and (
                owner is None or not owner.has("cue")
            )
    return False


_SHORT_SENTENCE = 7


def _heading_sentence(doc: Doc, begin: int, at: int) -> str | None:
    """ "Not done. Condenser coil cleaning.": a heading that is a sentence holds over the short ones behind it."""
    k = bisect_left(doc.sentences, (begin, 0))
    if k >= len(doc.sentences) or doc.sentences[k][1] - begin > _SHORT_SENTENCE:
        return None
    for j in range(k - 1, max(-1, k - 6), -1):
        a, b = doc.sentences[j]
        words = tuple(doc.norm[a:b])
        if words in _LONG_HEADINGS and words != ("did",):
            return _LONG_HEADINGS[words]
        if len(words) == 1 and words[0] in _HEADINGS:
            return _HEADINGS[words[0]]
        if words in _ENDS or b - a > _SHORT_SENTENCE or any(m.kind == "machine" for m in doc.within(a, b)):
            return None
    return None


def heading(doc: Doc, at: int, begin: int, end: int) -> str | None:
    """The state a heading gives to what follows: "Recommendation, replace the blade", "Did not do, cleaning"."""
    a, _ = segment(doc, at, begin, end)
    if a == begin:
        return _heading_sentence(doc, begin, at)
    if a > at:
        return None
    low, _ = segment(doc, a - 1, begin, end)
    words = tuple(doc.norm[low:a])
    if words and words[0] in ("and", "my", "the"):
        words = words[1:]
    if words in _LONG_HEADINGS:
        return _LONG_HEADINGS[words]
    return _HEADINGS.get(words[-1]) if words and len(words) <= 2 else None
