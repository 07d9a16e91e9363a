"""How a value, a point and a component are written for a reader: one wording for documents and pages.

Everything here takes the plain values of Contract 2 and gives plain text; nothing is looked up.
"""

from __future__ import annotations

from typing import Any

Json = dict[str, Any]

_ACRONYMS = {"co": "CO"}
_AFTER = {"left", "right", "top", "bottom", "middle", "front", "rear"}
_BASIS = {"rated": "rated", "set": "setting"}
MOMENT_NAMES = {"as-found": "as found", "as-left": "as left", None: "recorded"}
STATE_NAMES = {
    "done": "done",
    "needed": "needed",
    "recommended": "recommended",
    "declined": "declined",
    "not-done": "not done",
}
USE_NAMES = {"installed": "installed", "to-order": "to order", "removed": "removed"}


def plain(slug: str | None) -> str:
    """ "outdoor-air-damper" → "outdoor air damper"; None → ""."""
    if not slug:
        return ""
    return " ".join(_ACRONYMS.get(word, word) for word in slug.split("-"))


def component(slug: str | None, number: str | None = None) -> str:
    """ "compressor", "2" → "compressor 2"; "bearing", "left" → "left bearing"; None → ""."""
    name = plain(slug)
    if not number:
        return name
    return f"{number} {name}".strip() if number in _AFTER else f"{name} {number}".strip()


def number(value: float) -> str:
    """The shortest text that is the same number, thousands set off from ten thousand up: "118", "0.32", "150,000"."""
    text = format(value, ".12g")
    if "e" in text:
        text = format(value, ".12f").rstrip("0").rstrip(".")
    whole, dot, rest = text.partition(".")
    if len(whole.lstrip("-")) > 4:
        whole = f"{int(whole):,}"
    return whole + dot + rest


def value(item: Json) -> str:
    """A reading's or computed value's number with its unit, or its text: "118 psig", "open", "BX42"."""
    if item.get("value") is None:
        return str(item.get("text") or "not readable")
    unit = item.get("unit") or ""
    shown = number(float(item["value"]))
    if item.get("difference") and "°" in unit:
        unit += " difference"
    return f"{shown}{unit}" if unit == "%" else f"{shown} {unit}".strip()


def reading_name(reading: Json) -> str:
    """What was measured and where: "current, compressor 2, L1", "static pressure, supply"."""
    parts = [plain(reading["point"]), component(reading.get("component"), reading.get("number"))]
    parts += [reading.get("legs") or ""]
    parts += [f"{reading['stage']} stage" if reading.get("stage") else ""]
    parts += [f"circuit {reading['circuit']}" if reading.get("circuit") else ""]
    parts += [plain(reading.get("position")), _BASIS.get(reading.get("basis") or "", "")]
    return ", ".join(p for p in parts if p)


def reading_key(reading: Json) -> tuple[object, ...]:
    """Two readings with one key are the same thing measured at another moment."""
    fields = ("point", "component", "number", "legs", "stage", "circuit", "position", "basis", "difference")
    return tuple(reading.get(f) for f in fields)


def work_name(work: Json) -> str:
    """ "replace supply fan belt", "clean condenser coil 1"."""
    quantity = work.get("quantity")
    count = f" × {number(float(quantity))}" if quantity is not None and quantity != 1 else ""
    return f"{plain(work['verb'])} {component(work.get('component'), work.get('number'))}".strip() + count


def finding_name(finding: Json) -> str:
    """ "flame sensor: dirty"."""
    return f"{component(finding['component'], finding.get('number'))}: {plain(finding['condition'])}"


def machine_name(tag: str | None) -> str:
    """ "RTU-3", or what stands for no particular machine."""
    return tag or "No particular machine"
