"""Two small line charts as SVG: readings F1 over noise, and wrong unmarked values over noise."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

NOISE = ("clean", "20dB", "10dB", "5dB", "0dB")
COLOURS = {
    "plain": "#888888",
    "segments": "#b8860b",
    "primed": "#2e7d32",
    "second-tiny": "#1565c0",
    "second-base": "#6a1b9a",
    "hatchnote": "#c62828",
}
_W, _H, _LEFT, _TOP = 380, 240, 50, 30


def curves(scores: Sequence[Any]) -> str:
    """`scores` have step, condition, f1, wrong_unmarked and read."""
    left = _chart("readings F1", scores, lambda s: s.f1, 0.0, 1.0, 0)
    worst = max((100 * s.wrong_unmarked / max(1, s.read) for s in scores if s.step in COLOURS), default=1.0)
    right = _chart(
        "wrong unmarked, % of readings",
        scores,
        lambda s: 100 * s.wrong_unmarked / max(1, s.read),
        0.0,
        worst * 1.1,
        _W + 80,
    )
    key = "".join(
        f'<text x="{_LEFT + 110 * i}" y="{_H + 90}" fill="{c}">— {step}</text>'
        for i, (step, c) in enumerate(COLOURS.items())
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {2 * _W + 160} {_H + 110}" font-family="sans-serif" '
        f'font-size="12"><rect width="100%" height="100%" fill="white"/>{left}{right}{key}</svg>\n'
    )


def _chart(
    title: str, scores: Sequence[Any], of: Callable[[Any], float], low: float, high: float, x0: int
) -> str:
    def x(i: int) -> float:
        return x0 + _LEFT + i * _W / (len(NOISE) - 1)

    def y(v: float) -> float:
        return _TOP + _H * (1 - (v - low) / ((high - low) or 1))

    out = [f'<text x="{x(0)}" y="{_TOP - 12}" font-weight="bold">{title}</text>']
    for k in range(5):
        v = low + k * (high - low) / 4
        out.append(f'<line x1="{x(0)}" x2="{x(len(NOISE) - 1)}" y1="{y(v)}" y2="{y(v)}" stroke="#ddd"/>')
        out.append(f'<text x="{x(0) - 8}" y="{y(v) + 4}" text-anchor="end">{v:.2f}</text>')
    for i, name in enumerate(NOISE):
        out.append(f'<text x="{x(i)}" y="{_TOP + _H + 20}" text-anchor="middle">{name}</text>')
    for step, colour in COLOURS.items():
        values = {s.condition: of(s) for s in scores if s.step == step}
        points = [(x(i), y(values[n])) for i, n in enumerate(NOISE) if n in values]
        if points:
            path = " ".join(f"{a:.1f},{b:.1f}" for a, b in points)
            out.append(f'<polyline points="{path}" fill="none" stroke="{colour}" stroke-width="2"/>')
    return "".join(out)
