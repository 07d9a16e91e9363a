"""The unit said behind a number, in the words of the trade. "k" and "inches" stay open until the point is known."""

from __future__ import annotations

from typing import NamedTuple

from hatchnote.notes.doc import Doc

INCHES = "inch?"
"""Length or water column: the point decides."""
POUNDS = "[lb_av]"
KILO = "k?"
"""Kilohms or thousands: the point decides."""


class Unit(NamedTuple):
    stop: int
    ucum: str
    text: str
    factor: float = 1


_TABLE: dict[str, tuple[str, float]] = {}


def _add(ucum: str, forms: str, factor: float = 1) -> None:
    for form in forms.split(","):
        _TABLE[form.strip()] = (ucum, factor)


_add(
    "V",
    "volt, volts, v, vac, vdc, v a c, v d c, volts ac, volts dc, volts a c, volts d c, volt ac, v ac, v dc",
)
_add("mV", "millivolts, millivolt, mv, m v")
_add("A", "amp, amps, ampere, amperes, a, a m p s")
_add("mA", "milliamps, milliamp, ma, m a")
_add(
    "uA",
    "microamp, microamps, micro amp, micro amps, ua, µa, μa, microampere, microamperes,"
    " micro ampere, micro amperes",
)
_add("Ohm", "ohm, ohms, ω, Ω")
_add(
    "kOhm",
    "kilohm, kilohms, kilo ohm, kilo ohms, k ohm, k ohms, kω, kohm, kohms, thousand ohm, thousand ohms",
)
_add(
    "MOhm", "megohm, megohms, meg ohm, meg ohms, megs, meg, mega ohm, mega ohms, mohm, mω, megaohm, megaohms"
)
_add("GOhm", "gigohm, gigohms, gig ohms, gigs")
_add(
    "uF",
    "microfarad, microfarads, micro farad, micro farads, mfd, m f d, mike, mikes, uf, µf, μf, mf, u f, mic, mics",
)
_add("Hz", "hertz, hz, cycles per second")
_add("/min", "rpm, rpms, r p m, r p ms, revs, revolutions per minute, turns a minute")
_add(
    "[in_i'H2O]",
    "inches water, inches of water, inches of water column, inches water column, inch water column,"
    " inch of water column, in w c, in wc, inches w c, inches wc, inch w c, inch wc, water column, wc, w c, iwc,"
    " inch of water, in h2o, inches of w c, inches of wc",
)
_add(INCHES, 'inch, inches, in, "')
_add("[psi]", "psi, psig, p s i, p s i g, pounds per square inch, psi g")
_add("[lb_av]", "pound, pounds, lb, lbs")
_add("[oz_av]", "ounce, ounces, oz")
_add(
    "[degF]",
    "degree, degrees, degrees f, degrees fahrenheit, degree f, degree fahrenheit, fahrenheit, °, ° f, deg, deg f, f",
)
_add("Cel", "degrees c, degrees celsius, degree celsius, celsius, centigrade, ° c, deg c")
_add("%", "percent, per cent, %, percents")
_add("[ppm]", "parts, ppm, p p m, parts per million")
_add("[cft_i]/min", "cfm, cfms, c f m, c f ms, cubic feet per minute, cubic feet a minute")
_add("[ft_i]/min", "fpm, f p m, feet per minute, feet a minute, foot per minute")
_add("um[Hg]", "micron, microns")
_add("[HP]", "horse, horsepower, h p, hp, horses, horse power")
_add(
    "[Btu_IT]/h",
    "btu, btus, b t u, b t us, btuh, b t u h, btu per hour, btus per hour, b t us per hour, b t u per hour,"
    " b t us an hour, btus an hour, btu an hour, b t u an hour, btu h, btu / h",
)
_add("[Btu_IT]/h", "mbh, m b h, k btu, k btus", 1000)
_add("kW", "kilowatt, kilowatts, kw, k w")
_add("W", "watt, watts, w")
_add("[in_i].[lbf_av]", "inch pound, inch pounds, in lb, in lbs, inch lbs, inch lb")
_add("[ft_i].[lbf_av]", "foot pound, foot pounds, ft lb, ft lbs, foot lbs, feet pounds")
_add("s", "second, seconds, sec, secs")
_add("min", "minute, minutes, min, mins")
_add("h", "hour, hours, hr, hrs")
_add("kPa", "kpa, kilopascals, kilopascal")
_add("Pa", "pascals, pascal, pa")
_add("[VA]", "va, v a, volt amp, volt amps")
_add("poles", "pole, poles")
_add(KILO, "k")

_MORE = frozenset(w for form in _TABLE for w in form.split()[:1])
_SINGLE = frozenset(["v", "a", "f", "w", "k", "in", "hp"])
"""Short forms that are words or letters of their own unless they stand right behind the number."""


def known_words() -> frozenset[str]:
    """Every word that is part of a spoken unit."""
    return frozenset(word for form in _TABLE for word in form.split())


def unit_after(doc: Doc, at: int) -> Unit | None:
    """The unit that begins at token `at`, the longest form; None where none does."""
    n = len(doc.tokens)
    if at + 1 < n and doc.norm[at] in ("even", "flat") and not doc.tokens[at].brk and doc.norm[at + 1] in _MORE:
        at += 1  # "eleven even K"
    if at < n and doc.norm[at] in ("-", "of", "a") and at + 1 < n and doc.norm[at] == "-":
        at += 1
    if at + 2 < n and doc.norm[at] == "of" and doc.norm[at + 1] in ("a", "an") and not doc.tokens[at].brk:
        at += 2
    if at >= n or doc.tokens[at].brk or doc.norm[at] not in _MORE:
        return None
    parts: list[str] = []
    best: Unit | None = None
    for i in range(at, min(n, at + 5)):
        if i > at and doc.tokens[i].brk:
            break
        parts.append(doc.norm[i])
        entry = _TABLE.get(" ".join(parts))
        if entry and _stands(doc, at, i):
            best = Unit(i + 1, entry[0], " ".join(parts), entry[1])
    return best


def _stands(doc: Doc, at: int, last: int) -> bool:
    """A single letter is a unit only as figures have it behind them: "24V", "5 A"; "in" never before a place."""
    word = doc.norm[at]
    if last > at or word not in _SINGLE:
        return True
    token = doc.tokens[at]
    after = doc.norm[last + 1] if last + 1 < len(doc.tokens) and not doc.tokens[last + 1].brk else ""
    if word == "in":
        return token.glued or (doc.tokens[at - 1].kind in "nf" and after in ("", "w", "wc"))
    if word == "a":
        return token.glued or (token.text == "A" and doc.tokens[at - 1].kind == "n")
    if word == "k":
        return True
    if word == "f":
        return token.text == "F" or token.glued
    return token.glued or (token.text.isupper() and doc.tokens[at - 1].kind == "n") or word == "hp"
