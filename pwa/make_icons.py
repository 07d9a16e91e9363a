"""Draw the app's icons and its second of silence: `python pwa/make_icons.py`.

The sign is our own: an open roof hatch seen from the side, with a line of speech rising out of it.
"""

from __future__ import annotations

import wave
from pathlib import Path

from PIL import Image, ImageDraw

PWA = Path(__file__).resolve().parent
DEEP, PAPER, RECORD = "#12323f", "#ffffff", "#ff9aa8"
_OVERSAMPLE = 4


def icon(size: int, *, margin: float) -> Image.Image:
    """A square of `size` px; `margin` is the part of it kept free on every side (more for masked icons)."""
    full = size * _OVERSAMPLE
    image = Image.new("RGB", (full, full), DEEP)
    draw = ImageDraw.Draw(image)

    def at(x: float, y: float) -> tuple[float, float]:
        inner = full * (1 - 2 * margin)
        return full * margin + x * inner, full * margin + y * inner

    def line(points: list[tuple[float, float]], colour: str, width: float) -> None:
        w = int(full * (1 - 2 * margin) * width)
        placed = [at(*p) for p in points]
        draw.line(placed, fill=colour, width=w, joint="curve")
        for x, y in placed:
            draw.ellipse([x - w / 2, y - w / 2, x + w / 2, y + w / 2], fill=colour)

    line([(0.04, 0.86), (0.28, 0.86), (0.28, 0.68), (0.80, 0.68), (0.80, 0.86), (0.96, 0.86)], PAPER, 0.085)
    line([(0.28, 0.60), (0.06, 0.20)], PAPER, 0.085)
    for x, top, bottom in ((0.42, 0.40, 0.54), (0.54, 0.20, 0.54), (0.66, 0.32, 0.54), (0.78, 0.10, 0.54)):
        line([(x, top), (x, bottom)], RECORD, 0.07)
    return image.resize((size, size), Image.Resampling.LANCZOS)


def main() -> None:
    folder = PWA / "icons"
    for name, size, margin in (
        ("icon-180.png", 180, 0.16),
        ("icon-192.png", 192, 0.16),
        ("icon-512.png", 512, 0.16),
        ("icon-512-mask.png", 512, 0.24),
    ):
        icon(size, margin=margin).quantize(32).save(folder / name, optimize=True)
    with wave.open(str(PWA / "silence.wav"), "wb") as f:
        f.setnchannels(1)
        f.setsampwidth(1)
        f.setframerate(8000)
        f.writeframes(bytes([128]) * 8000)


if __name__ == "__main__":
    main()
