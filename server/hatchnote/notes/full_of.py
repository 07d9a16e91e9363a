"""What a part is full of, packed with or covered in, whatever it is: water floods, all else is dirt."""

from __future__ import annotations

from hatchnote.notes.doc import Doc, Mention
from hatchnote.notes.vocabulary import Term
from hatchnote.notes.wordlists import words

_LEADS = {
    "full": "of",
    "packed": "with",
    "caked": "with",
    "loaded": "with",
    "matted": "with",
    "coated": "with",
    "covered": "with",
    "crawling": "with",
    "stuffed": "with",
}
_OTHERS = {"covered": "in", "coated": "in", "caked": "in"}
_WATER = words("water rainwater rain condensate")
_GOOD = words("ants refrigerant charge gas oil juice air life grease it them holes hole foam insulation")
_COVERS = words("tarp plastic cardboard plywood cover board sheet bag paint snow")
_ENDS = words("and but so on in at from which that is are was i with over all the then around under where")
_MOST = 3


_VESSELS = words("can box bag bucket bowl jar sack barrel drum wheelbarrow truck trunk")


def _done(doc: Doc, i: int) -> bool:
    """ "Full of wasp nest cleaned it out": what was done about it stands there, without a pause."""
    owner = doc.owner[i]
    return owner is not None and any(t.kind == "verb" and t.form == "past" for t in owner.terms)


def full_of(doc: Doc) -> None:
    """Put a condition on every such turn of speech that the vocabulary does not know as a whole."""
    for i in range(len(doc.norm) - 2):
        lead = doc.norm[i]
        with_what = doc.norm[i + 1]
        if with_what not in (_LEADS.get(lead), _OTHERS.get(lead)) or doc.tokens[i + 1].brk:
            continue
        if i and doc.norm[i - 1] in _VESSELS:
            continue  # "sounds like a coffee can full of rocks"
        owner = doc.owner[i]
        if owner is not None and (owner.stop > i + 2 or not owner.has("condition")):
            continue
        stop = i + 2
        while (
            stop < len(doc.norm)
            and stop - i - 2 < _MOST
            and not doc.tokens[stop].brk
            and doc.norm[stop] not in _ENDS
            and (doc.owner[stop] is None or not doc.owner[stop].has("component"))  # type: ignore[union-attr]
            and not _done(doc, stop)
        ):
            stop += 1
            if doc.norm[stop - 1] in _WATER:
                break
        what = {*doc.norm[i + 2 : stop]}
        if stop == i + 2 or what & (_GOOD | _COVERS):
            continue
        slug = "flooded" if what & _WATER else "dirty"
        for other in doc.within(i, stop):
            doc.drop(other)
        if owner is not None:
            doc.drop(owner)
        doc.put(Mention("word", i, stop, (Term("condition", slug, "adjective"),)))
    doc.settle()
