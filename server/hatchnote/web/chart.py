"""A plot of one thing measured over time, as SVG for the page. Pure: values in, markup out; all text is escaped."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

from hatchnote.export.wording import number

WIDTH, HEIGHT = 720, 220
_LEFT, _RIGHT, _TOP, _BOTTOM = 64, 18, 16, 32


@dataclass(frozen=True, slots=True)
class Dot:
    """One reading: its day (YYYY-MM-DD), value, the moment's name, and whether it is still to be checked."""

    date: str
    value: float
    moment: str
    marked: bool
    ticket: str


def plot(name: str, unit: str, dots: Sequence[Dot], limits: Mapping[str, float] | None = None) -> Markup:
    """The SVG. `limits` are lines across it by name, e.g. {"rated": 40.0}. Empty when there are no dots."""
    if not dots:
        return Markup("")
    lines = dict(limits or {})
    days = [dt.date.fromisoformat(d.date).toordinal() for d in dots]
    first, last = min(days), max(days)
    ticks = nice_ticks(
        min([d.value for d in dots] + list(lines.values())),
        max([d.value for d in dots] + list(lines.values())),
    )
    low, high = ticks[0], ticks[-1]

    def x(day: int) -> float:
        inner = WIDTH - _LEFT - _RIGHT
        return _LEFT + (inner / 2 if first == last else (day - first) / (last - first) * inner)

    def y(value: float) -> float:
        return HEIGHT - _BOTTOM - (value - low) / (high - low) * (HEIGHT - _TOP - _BOTTOM)

    parts = [
        Markup('<svg viewBox="0 0 {} {}" role="img" aria-label="{}">').format(
            WIDTH, HEIGHT, _spoken(name, unit, dots)
        )
    ]
    for tick in ticks:
        parts.append(
            Markup('<line class="axis" x1="{}" x2="{}" y1="{:.1f}" y2="{:.1f}"/>').format(
                _LEFT, WIDTH - _RIGHT, y(tick), y(tick)
            )
        )
        parts.append(
            Markup('<text x="{}" y="{:.1f}" text-anchor="end">{}</text>').format(
                _LEFT - 8, y(tick) + 4, number(tick)
            )
        )
    for day in sorted({first, (first + last) // 2, last}):
        anchor = (
            "middle" if first == last else "start" if day == first else "end" if day == last else "middle"
        )
        parts.append(
            Markup('<text x="{:.1f}" y="{}" text-anchor="{}">{}</text>').format(
                x(day), HEIGHT - 10, anchor, dt.date.fromordinal(day)
            )
        )
    for label, value in lines.items():
        parts.append(
            Markup('<line class="rated" x1="{}" x2="{}" y1="{:.1f}" y2="{:.1f}"/>').format(
                _LEFT, WIDTH - _RIGHT, y(value), y(value)
            )
        )
        parts.append(
            Markup('<text x="{}" y="{:.1f}" text-anchor="end">{} {}</text>').format(
                WIDTH - _RIGHT, y(value) - 4, label, number(value)
            )
        )
    path = " ".join(f"{x(day):.1f},{y(d.value):.1f}" for day, d in zip(days, dots, strict=True))
    parts.append(Markup('<polyline class="path" points="{}"/>').format(path))
    parts.append(
        Markup("".join(_circle(d, unit, x(day), y(d.value)) for day, d in zip(days, dots, strict=True)))
    )
    parts.append(Markup("</svg>"))
    return Markup("").join(parts)


def _circle(d: Dot, unit: str, x: float, y: float) -> str:
    """Markup of one dot. A plain f-string: a plot may have thousands, and only the words need escaping."""
    kind = "dot marked" if d.marked else "dot left" if d.moment == "as left" else "dot"
    told = escape(f"{d.date}: {number(d.value)} {unit}, {d.moment}{', to be checked' if d.marked else ''}")
    return f'<circle class="{kind}" cx="{x:.1f}" cy="{y:.1f}" r="4"><title>{told}</title></circle>'


def nice_ticks(low: float, high: float) -> list[float]:
    """Three to seven round numbers that enclose both values."""
    if low == high:
        low, high = low - (abs(low) * 0.1 or 1), high + (abs(high) * 0.1 or 1)
    rough = (high - low) / 4
    size = 10 ** math.floor(math.log10(rough))
    step = next(m * size for m in (1, 2, 2.5, 5, 10) if m * size >= rough)
    start = math.floor(low / step)
    end = math.ceil(high / step)
    return [round(n * step, 12) for n in range(start, end + 1)]


def _spoken(name: str, unit: str, dots: Sequence[Dot]) -> str:
    last = dots[-1]
    return f"{name}: {len(dots)} readings from {dots[0].date} to {last.date}, the last {number(last.value)} {unit}"
