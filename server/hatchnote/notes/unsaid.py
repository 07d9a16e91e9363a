"""What was said and then unsaid: "forget what I said about the cap being bad", "I said I greased them, I didn't".

The finding or act goes, where it was told before or is only told again here.
"""

from __future__ import annotations

from bisect import bisect_right

from hatchnote.notes.clauses import components
from hatchnote.notes.doc import Doc, Item
from hatchnote.notes.wordlists import words

_FORGET = words("forget disregard ignore scratch strike cancel")
_WHAT = (
    ("what", "i", "said"),
    ("what", "i", "told"),
    ("that", "bit"),
    ("the", "bit"),
    ("the", "part"),
    ("that", "part"),
)
_DENIED = words("didn't not wrong never wasn't weren't haven't")
_OUT = (["take", "that", "out"], ["leave", "that", "out"], ["cut", "that", "out"])
_SAID = (
    ("i", "said", "i"),
    ("i", "said", "we"),
    ("said", "i", "had"),
    ("said", "that", "i"),
    ("told", "you", "i"),
    ("told", "them", "i"),
)
_SAYS = frozenset(said[0] for said in _SAID)
_REACH = 30


def unsaid(doc: Doc) -> None:
    """Drop such findings and acts, with the parts that follow from the acts."""
    gone: list[Item] = []
    for begin, end in doc.sentences:
        for i in range(begin, end):
            if doc.norm[i] in _FORGET:
                gone += _forgotten(doc, i, begin, end)
            elif doc.norm[i] in _SAYS and any(tuple(doc.norm[i : i + 3]) == said for said in _SAID):
                gone += _denied(doc, i, end)
        gone += _taken_out(doc, begin, end)
    if gone:
        dropped = {id(x) for x in gone}
        doc.items[:] = [x for x in doc.items if id(x) not in dropped]


def _forgotten(doc: Doc, i: int, begin: int, end: int) -> list[Item]:
    """ "Forget what I said about the capacitor being bad": its trouble, told here and before."""
    if not any(tuple(doc.norm[i + 1 : i + 1 + len(w)]) == w for w in _WHAT):
        return []
    stop = i + 1
    while stop < end and not doc.tokens[stop].brk:
        stop += 1
    comps = {m.comp for m in components(doc, i, stop, heads=False)}
    if not comps:
        return []
    slugs = {t.slug for m in doc.within(i, stop) for t in m.of("condition")}
    verbs = {t.slug for m in doc.within(i, stop) for t in m.of("verb")}
    tag = doc.tag_at[i]
    out: list[Item] = []
    for x in doc.items:
        if x.at >= stop or x.tag != tag or x.fields.get("component") not in comps:
            continue
        here = x.at >= i
        found = x.kind == "finding" and (x.fields["condition"] in slugs or (not slugs and not verbs))
        done = x.kind in ("work", "part") and (not verbs or x.fields.get("verb") in verbs) and bool(verbs)
        wanted = x.kind == "work" and bool(slugs) and x.fields["state"] in ("needed", "recommended")
        if here or found or done or wanted:
            out.append(x)
    return out


def _denied(doc: Doc, i: int, end: int) -> list[Item]:
    """ "I said I greased the bearings. Actually they're sealed, so I didn't": not done, whenever it was told."""
    at = bisect_right(doc.sentences, (i, len(doc.norm))) - 1
    last = doc.sentences[min(at + 1, len(doc.sentences) - 1)][1]
    if not _DENIED & {*doc.norm[i + 3 : last]}:
        return []
    stop = next((k for k in range(i + 3, end) if doc.tokens[k].brk), end)
    told = [x for x in doc.items if x.kind in ("work", "part") and i <= x.at < stop]
    comps = {m.comp for m in components(doc, i, stop, heads=False)}
    verbs = {m.slug for m in doc.within(i, stop) if m.claimed == "verb"}
    acts = {(v, c) for v in verbs for c in comps}
    earlier = [
        x
        for x in doc.items
        if x.kind == "work"
        and x.at < i
        and x.tag == doc.tag_at[i]
        and x.fields["state"] == "done"
        and (x.fields["verb"], x.fields["component"]) in acts
    ]
    return [*told, *earlier]


def _taken_out(doc: Doc, begin: int, end: int) -> list[Item]:
    """ "So I didn't, take that out": said of the report, no act."""
    for i in range(begin + 1, end - 2):
        closes = i + 3 >= end or bool(doc.tokens[i + 3].brk)
        if doc.norm[i : i + 3] in _OUT and closes and _DENIED & {*doc.norm[max(begin, i - _REACH) : i]}:
            return [x for x in doc.items if x.kind in ("work", "part") and i <= x.at < i + 3]
    return []
