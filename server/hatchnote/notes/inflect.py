"""English endings, as far as the trade's spoken forms need them: plurals and the forms of a verb."""

from __future__ import annotations

from collections.abc import Iterator

_IRREGULAR = {
    "put": ("put", "putting"),
    "set": ("set", "setting"),
    "cut": ("cut", "cutting"),
    "hit": ("hit", "hitting"),
    "get": ("got", "getting"),
    "take": ("took", "taking"),
    "throw": ("threw", "throwing"),
    "hang": ("hung", "hanging"),
    "blow": ("blew", "blowing"),
    "bring": ("brought", "bringing"),
    "find": ("found", "finding"),
    "leave": ("left", "leaving"),
    "shut": ("shut", "shutting"),
    "run": ("ran", "running"),
    "do": ("did", "doing"),
    "go": ("went", "going"),
    "come": ("came", "coming"),
    "be": ("was", "being"),
    "make": ("made", "making"),
    "give": ("gave", "giving"),
    "stick": ("stuck", "sticking"),
    "slide": ("slid", "sliding"),
    "see": ("saw", "seeing"),
    "write": ("wrote", "writing"),
    "tear": ("tore", "tearing"),
    "suck": ("sucked", "sucking"),
    "feed": ("fed", "feeding"),
    "weld": ("welded", "welding"),
    "tie": ("tied", "tying"),
    "re": ("re", "re"),
    "swing": ("swung", "swinging"),
    "rerun": ("reran", "rerunning"),
    "redo": ("redid", "redoing"),
    "reset": ("reset", "resetting"),
    "bid": ("bid", "bidding"),
    "rebuild": ("rebuilt", "rebuilding"),
    "grind": ("ground", "grinding"),
    "fit": ("fit", "fitting"),
    "send": ("sent", "sending"),
    "build": ("built", "building"),
    "shine": ("shined", "shining"),
    "hold": ("held", "holding"),
    "draw": ("drew", "drawing"),
    "need": ("needed", "needing"),
    "keep": ("kept", "keeping"),
    "spin": ("spun", "spinning"),
    "bleed": ("bled", "bleeding"),
    "light": ("lit", "lighting"),
    "freeze": ("froze", "freezing"),
    "break": ("broke", "breaking"),
    "lose": ("lost", "losing"),
    "wear": ("wore", "wearing"),
    "shake": ("shook", "shaking"),
    "swell": ("swelled", "swelling"),
    "eat": ("ate", "eating"),
    "let": ("let", "letting"),
    "bend": ("bent", "bending"),
}
_DOUBLE = frozenset(
    [
        "swap",
        "snug",
        "strap",
        "mop",
        "scrub",
        "plug",
        "unplug",
        "unclog",
        "trim",
        "drop",
        "scrap",
        "rub",
        "rip",
        "wrap",
        "rewrap",
        "jam",
        "tag",
        "stop",
        "unstop",
        "zip",
        "pin",
        "evac",
        "drip",
        "clip",
        "strip",
        "vac",
        "chat",
        "flip",
        "grab",
        "jog",
        "pop",
        "dab",
        "hum",
        "trip",
        "rot",
        "pit",
        "flop",
        "flap",
        "shut",
        "quit",
        "slap",
        "tap",
        "slip",
        "lap",
        "top",
    ]
)
_PARTICIPLE = {
    "throw": "thrown",
    "take": "taken",
    "blow": "blown",
    "write": "written",
    "go": "gone",
    "do": "done",
    "tear": "torn",
    "see": "seen",
    "give": "given",
    "rerun": "rerun",
    "redo": "redone",
    "fit": "fitted",
    "come": "come",
    "run": "run",
    "get": "gotten",
    "draw": "drawn",
}


_COMPOUND = frozenset(
    [
        "leak",
        "pressure",
        "bubble",
        "power",
        "wire",
        "chemical",
        "deep",
        "function",
        "bench",
        "trip",
        "nitrogen",
        "visually",
        "laser",
        "zip",
        "red",
        "scuff",
        "shop",
        "wet",
        "double",
        "triple",
        "foil",
        "steel",
        "silver",
    ]
)
"""First words that stay as they are: leak check, leak checked."""


def past_and_ing(verb: str) -> tuple[str, str]:
    """replace -> replaced, replacing; swap -> swapped, swapping."""
    if verb in _IRREGULAR:
        return _IRREGULAR[verb]
    if verb in _DOUBLE:
        return verb + verb[-1] + "ed", verb + verb[-1] + "ing"
    if verb.endswith("ee"):
        return verb + "d", verb + "ing"
    if verb.endswith("e"):
        return verb + "d", verb[:-1] + "ing"
    if verb.endswith("y") and verb[-2:-1] not in ("a", "e", "o", "u"):
        return verb[:-1] + "ied", verb + "ing"
    if verb.endswith("c"):
        return verb + "'d", verb + "'ing"
    return verb + "ed", verb + "ing"


def third(verb: str) -> str:
    """replace -> replaces; flush -> flushes."""
    return plural(verb)


def plural(said: str) -> str:
    """The plural of a spoken form: its last word gets the ending."""
    if said.endswith(("s", "x", "ch", "sh", "z")):
        return said + ("" if said.endswith("ss") is False and said.endswith("s") else "es")
    if said.endswith("y") and said[-2:-1] not in ("a", "e", "o", "u"):
        return said[:-1] + "ies"
    return said + "s"


def inflections(said: str) -> Iterator[tuple[str, str]]:
    """(form, text) of a verb phrase: base, past, ing, third, and part where the participle differs."""
    first, _, rest = said.partition(" ")
    if first == "re" and rest:
        yield from ((form, f"re {text}") for form, text in inflections(rest))
        return
    if first in _COMPOUND and rest and " " not in rest:
        past, ing = past_and_ing(rest)
        yield from (
            ("base", said),
            ("past", f"{first} {past}"),
            ("ing", f"{first} {ing}"),
            ("third", f"{first} {third(rest)}"),
        )
        return
    tail = f" {rest}" if rest else ""
    past, ing = past_and_ing(first)
    yield "base", said
    yield "past", past + tail
    if first == "label":
        yield "past", f"labelled{tail}"
    yield "ing", ing + tail
    yield "third", third(first) + tail
    if first in _PARTICIPLE:
        yield "past", _PARTICIPLE[first] + tail
