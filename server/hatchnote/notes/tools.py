"""Tools and stuffs, the acts they tell of, and the parts they are used on."""

from __future__ import annotations

from typing import NamedTuple

from hatchnote.notes.doc import Doc

_TOOLS: dict[str, tuple[str, ...]] = {
    "lubricate": (
        "grease gun",
        "grease",
        "lube",
        "lubricant",
        "zerk",
        "zerks",
        "grease fittings",
        "shot of oil",
        "drops of oil",
        "some oil",
        "oil",
    ),
    "clean": (
        "wire brush",
        "brush",
        "water hose",
        "garden hose",
        "hose",
        "pressure washer",
        "power washer",
        "coil cleaner",
        "cleaner",
        "foam",
        "degreaser",
        "rag",
        "scuff pad",
        "steel wool",
        "emery cloth",
        "emery",
        "sandpaper",
        "sand paper",
        "crocus cloth",
        "dollar bill",
        "shop vacuum",
        "vac",
        "soft brush",
        "fin comb",
        "comb",
        "compressed air",
        "air hose",
        "leaf blower",
        "water",
        "pump sprayer",
        "simple soap",
    ),
    "flush": ("nitrogen", "c o two", "bleach", "snake", "vinegar", "plunger", "drain gun"),
    "leak-test": (
        "sniffer",
        "leak detector",
        "electronic detector",
        "electronic leak detector",
        "soap bubbles",
        "bubbles",
        "soap",
        "soapy water",
        "soap and water",
        "leak soap",
        "leak spray",
        "halide torch",
        "ultrasonic",
    ),
    "inspect": (
        "camera",
        "mirror",
        "borescope",
        "bore scope",
        "scope",
        "flashlight",
        "inspection light",
        "light",
        "eyes",
    ),
    "align": ("straight edge", "straightedge", "laser", "string"),
}

DRAINS = frozenset({"condensate-line", "condensate-trap"})

_WASHED = frozenset({"drain-pan", "refrigerant-line"})

GREASED = frozenset(
    {
        "bearing",
        "supply-fan-motor",
        "condenser-fan-motor",
        "inducer-motor",
        "outdoor-air-damper",
        "economizer",
        "economizer-actuator",
        "roof-hatch",
        "panel-screw",
        "motor-mount",
        "sheave",
    }
)

SEEN = frozenset(
    {"heat-exchanger", "burner", "evaporator-coil", "condenser-coil", "ductwork", "drain-pan", "wiring"}
)

_ALIGNED = frozenset({"sheave", "motor-pulley", "supply-fan-belt"})


class Tool(NamedTuple):
    verb: str
    start: int
    stop: int


_STUFFS = (["tape"], ["gasket"], ["seal"], ["strip"], ["insulation"], ["stripping"])


_BY_FIRST_WORD: dict[str, list[tuple[str, list[str]]]] = {}
for _verb, _names in _TOOLS.items():
    for _name in _names:
        _BY_FIRST_WORD.setdefault(_name.split()[0], []).append((_verb, _name.split()))


def tool_in(doc: Doc, start: int, stop: int) -> Tool | None:
    for i in range(start, stop):
        best: Tool | None = None
        for verb, said in _BY_FIRST_WORD.get(doc.norm[i], ()):
            after = i + len(said)
            if doc.norm[i:after] == said and after <= stop and (best is None or after > best.stop):
                best = Tool(verb, i, after)
        owner = doc.owner[i]
        if best is not None and doc.norm[best.stop : best.stop + 1] in _STUFFS:
            continue  # "new foam tape"
        if best is not None and not (owner is not None and owner.part):
            return best
    return None


_POURED = frozenset({"poured", "dumped", "pour", "dump", "tossed", "threw", "put"})


def verb_of(doc: Doc, tool: Tool, comps: set[str]) -> str | None:
    name = " ".join(doc.norm[tool.start : tool.stop])
    if tool.verb == "leak-test":
        return "leak-test"
    if not comps:
        return None
    if tool.verb == "lubricate":
        return "lubricate" if comps <= GREASED else None
    if tool.verb == "align":
        return "align" if comps <= _ALIGNED else None
    if tool.verb == "inspect":
        return "inspect" if comps <= SEEN else None
    if comps <= DRAINS:
        return "flush" if name != "water" else None
    if (
        name == "water"
        and comps <= {"drain-pan"}
        and _POURED & set(doc.norm[max(0, tool.start - 6) : tool.start])
    ):
        return None  # "poured a bucket of water in the pan": to see it drain
    if tool.verb == "flush":
        return None if name == "nitrogen" or not comps <= _WASHED else "clean"
    if name in ("water", "air hose", "compressed air", "light") and comps & {
        "compressor",
        "gas-line",
        "refrigerant",
    }:
        return None
    return "clean"
