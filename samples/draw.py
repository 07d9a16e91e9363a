"""Draws the sample photos with Pillow: plates, gauges and worn parts that never existed, legible and plainly drawn.

`draw(name, taken_at, out)` writes a JPEG of 1200 × 900 px with the time it was taken (and its offset) in the EXIF.
"filters-dirty.jpg" is stored lying down with the orientation tag 6, as phones do.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont

SIZE = (1200, 900)
Picture = Image.Image


def draw(name: str, taken_at: str, out: Path) -> None:
    """Draw the photo `name`; `taken_at` is ISO 8601 with an offset."""
    if name not in PICTURES:
        raise SystemExit(f"There is no drawing for {name}; add one to samples/draw.py.")
    rng = np.random.default_rng(sum(map(ord, name)))
    picture = _like_a_photo(PICTURES[name](rng), rng)
    exif = Image.Exif()
    when = datetime.fromisoformat(taken_at)
    details = exif.get_ifd(0x8769)
    exif[0x0132] = details[0x9003] = details[0x9004] = when.strftime("%Y:%m:%d %H:%M:%S")
    details[0x9010] = details[0x9011] = when.isoformat()[-6:]
    if name in LYING:
        picture = picture.transpose(Image.Transpose.ROTATE_90)
        exif[0x0112] = 6
    out.parent.mkdir(parents=True, exist_ok=True)
    picture.save(out, quality=82, exif=exif)


# ---------------------------------------------------------------- shared strokes


def _surface(
    rng: np.random.Generator, colour: tuple[int, int, int], grain: float = 8, size: tuple[int, int] = SIZE
) -> Picture:
    """A sheet with a little grain and a light that falls off to one side."""
    width, height = size
    light = np.linspace(1.08, 0.82, width)[None, :, None] * np.linspace(1.04, 0.9, height)[:, None, None]
    sheet = np.array(colour)[None, None, :] * light + rng.normal(0, grain, (height, width, 1))
    return Image.fromarray(np.clip(sheet, 0, 255).astype(np.uint8))


def _like_a_photo(picture: Picture, rng: np.random.Generator) -> Picture:
    soft = np.asarray(picture.filter(ImageFilter.GaussianBlur(0.8)), dtype=np.float32)
    noisy = soft + rng.normal(0, 3, soft.shape)
    return Image.fromarray(np.clip(noisy, 0, 255).astype(np.uint8))


def _font(size: int, bold: bool = False) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    try:
        return ImageFont.truetype("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf", size)
    except OSError:
        return ImageFont.load_default(size)


# ---------------------------------------------------------------- the pictures


def _nameplate(rng: np.random.Generator) -> Picture:
    picture = _surface(rng, (120, 128, 120))
    plate = _surface(rng, (205, 208, 205), 5, (1000, 740))
    pen = ImageDraw.Draw(plate)
    pen.rectangle((8, 8, 991, 731), outline=(60, 60, 60), width=4)
    for x, y in ((34, 34), (966, 34), (34, 706), (966, 706)):
        pen.ellipse((x - 12, y - 12, x + 12, y + 12), fill=(110, 110, 110), outline=(50, 50, 50), width=2)
    pen.text((500, 56), "PACKAGED ROOFTOP UNIT  RTU-3", font=_font(38, True), fill=(20, 20, 20), anchor="mm")
    rows = (
        ("VOLTS / PHASE / HZ", "460 / 3 / 60"),
        ("COMPRESSOR RLA (2)", "18.6 A"),
        ("SUPPLY FAN FLA", "11.4 A"),
        ("REFRIGERANT / CHARGE", "R-410A   12 LB 0 OZ x 2"),
        ("GAS", "NATURAL"),
        ("INPUT / OUTPUT BTU/H", "250000 / 202500"),
        ("MANIFOLD IN. W.C.", "3.5"),
        ("INLET MIN / MAX IN. W.C.", "5.0 / 13.5"),
        ("AIR TEMP RISE F", "35 - 65"),
        ("BELT / FILTERS", "B58 / 6 x 20x20x2"),
    )
    for i, (what, value) in enumerate(rows):
        y = 110 + i * 58
        pen.line((40, y + 46, 960, y + 46), fill=(130, 130, 130), width=2)
        pen.text((50, y), what, font=_font(30), fill=(40, 40, 40))
        pen.text((500, y), value, font=_font(32, True), fill=(15, 15, 15))
    picture.paste(plate.rotate(-1.5, expand=False, fillcolor=(120, 128, 120)), (100, 80))
    return picture


def _gauge(rng: np.random.Generator) -> Picture:
    picture = _surface(rng, (90, 96, 104))
    pen = ImageDraw.Draw(picture)
    cx, cy, r = 600, 450, 390
    pen.ellipse((cx - r - 26, cy - r - 26, cx + r + 26, cy + r + 26), fill=(35, 70, 140))
    pen.ellipse((cx - r, cy - r, cx + r, cy + r), fill=(238, 238, 232))

    def at(psig: float, radius: float) -> tuple[float, float]:
        angle = math.radians(135 + 270 * psig / 250)
        return cx + radius * math.cos(angle), cy + radius * math.sin(angle)

    for psig in range(0, 251, 5):
        long = psig % 50 == 0
        pen.line(
            (*at(psig, r - 14), *at(psig, r - (56 if long else 34))),
            fill=(20, 20, 20),
            width=7 if long else 3,
        )
        if long:
            pen.text(at(psig, r - 96), str(psig), font=_font(44, True), fill=(20, 20, 20), anchor="mm")
    pen.text((cx, cy + 150), "PSIG", font=_font(46, True), fill=(20, 20, 20), anchor="mm")
    pen.text((cx, cy + 205), "LOW SIDE", font=_font(34), fill=(35, 70, 140), anchor="mm")
    pen.line((*at(119, -60), *at(119, r - 60)), fill=(200, 30, 30), width=12)
    pen.ellipse((cx - 26, cy - 26, cx + 26, cy + 26), fill=(40, 40, 40))
    return picture


def _flame(rng: np.random.Generator) -> Picture:
    picture = _surface(rng, (46, 46, 50), 6)
    glow = Image.new("RGB", SIZE, (0, 0, 0))
    pen = ImageDraw.Draw(glow)
    for i in range(5):
        y = 130 + i * 160
        for reach, colour in ((760, (20, 50, 160)), (620, (40, 100, 230)), (400, (150, 200, 255))):
            tips = [(220, y - 40), (220 + reach, y + rng.integers(-14, 14)), (220, y + 40)]
            pen.polygon(tips, fill=colour)
    glow = glow.filter(ImageFilter.GaussianBlur(16))
    lit = np.asarray(picture, dtype=np.int16) + np.asarray(glow, dtype=np.int16)
    picture = Image.fromarray(np.clip(lit, 0, 255).astype(np.uint8))
    pen = ImageDraw.Draw(picture)
    for i in range(5):
        y = 130 + i * 160
        pen.rectangle((60, y - 46, 230, y + 46), fill=(96, 98, 102), outline=(30, 30, 30), width=4)
    pen.line((330, 60, 330, 140), fill=(190, 190, 190), width=14)
    pen.line((330, 140, 420, 140), fill=(210, 205, 195), width=10)
    return picture


def _belt(rng: np.random.Generator) -> Picture:
    picture = _surface(rng, (150, 140, 122), 12)
    pen = ImageDraw.Draw(picture)
    box = (110, 150, 1090, 750)
    pen.rounded_rectangle(box, radius=300, outline=(24, 24, 26), width=78)
    pen.rounded_rectangle((126, 166, 1074, 734), radius=286, outline=(52, 52, 54), width=12)
    for _ in range(26):
        x = rng.integers(380, 820)
        y = 150 if rng.random() < 0.5 else 672
        lean = rng.integers(-14, 14)
        pen.line((x, y + 2, x + lean, y + 76), fill=(120, 108, 96), width=int(rng.integers(3, 8)))
    pen.line((600, 148, 574, 232), fill=(170, 150, 130), width=16)
    pen.text((700, 189), "BX42", font=_font(46, True), fill=(205, 205, 205), anchor="mm")
    return picture


def _filters(rng: np.random.Generator) -> Picture:
    picture = _surface(rng, (130, 134, 138), 6, (900, 1200))
    pen = ImageDraw.Draw(picture)
    for row in range(2):
        for column in range(2):
            x, y = 60 + column * 400, 90 + row * 530
            pen.rectangle((x, y, x + 380, y + 500), fill=(178, 164, 140), outline=(80, 70, 60), width=8)
            for fold in range(0, 350, 18):
                shade = 88 + int(rng.integers(-16, 16))
                pen.rectangle(
                    (x + 16 + fold, y + 20, x + 26 + fold, y + 480), fill=(shade, shade - 8, shade - 18)
                )
            for _ in range(240):
                px, py, d = rng.integers(x + 14, x + 356), rng.integers(y + 18, y + 470), rng.integers(4, 16)
                shade = int(rng.integers(46, 84))
                pen.ellipse((px, py, px + d, py + d), fill=(shade, shade - 4, shade - 10))
            pen.rectangle(
                (x + 120, y + 226, x + 260, y + 274), fill=(214, 206, 186), outline=(80, 70, 60), width=3
            )
            pen.text((x + 190, y + 250), "16x25x2", font=_font(28, True), fill=(40, 40, 40), anchor="mm")
    return picture


def _contactor(rng: np.random.Generator) -> Picture:
    picture = _surface(rng, (168, 172, 174), 6)
    pen = ImageDraw.Draw(picture)
    pen.rounded_rectangle((240, 110, 960, 790), radius=24, fill=(44, 44, 48), outline=(20, 20, 22), width=6)
    for i, line in enumerate(("L1", "L2", "L3")):
        x = 300 + i * 220
        for y in (150, 650):
            pen.rectangle((x, y, x + 160, y + 100), fill=(186, 178, 150), outline=(80, 74, 60), width=4)
            pen.ellipse(
                (x + 50, y + 20, x + 110, y + 80), fill=(150, 150, 150), outline=(60, 60, 60), width=4
            )
            pen.line((x + 58, y + 50, x + 102, y + 50), fill=(60, 60, 60), width=6)
        pen.text((x + 80, 285), line, font=_font(34, True), fill=(230, 230, 230), anchor="mm")
        pen.rectangle((x + 20, 340, x + 140, 580), fill=(190, 132, 84), outline=(70, 50, 30), width=4)
        for _ in range(90 if i == 1 else 34):
            px, py = rng.integers(x + 26, x + 130), rng.integers(350, 568)
            d = int(rng.integers(5, 22 if i == 1 else 12))
            pen.ellipse((px, py, px + d, py + d), fill=(34, 26, 22))
    return picture


def _capacitor(rng: np.random.Generator) -> Picture:
    picture = _surface(rng, (140, 146, 152), 8)
    pen = ImageDraw.Draw(picture)
    pen.rounded_rectangle(
        (380, 230, 820, 860), radius=60, fill=(196, 198, 200), outline=(90, 90, 92), width=6
    )
    pen.chord((372, 120, 828, 360), 180, 360, fill=(206, 208, 210), outline=(90, 90, 92), width=6)
    for x, label in ((455, "HERM"), (600, "C"), (745, "FAN")):
        pen.rectangle((x - 14, 92, x + 14, 168), fill=(212, 196, 140), outline=(80, 70, 40), width=3)
        pen.text((x, 205), label, font=_font(26, True), fill=(40, 40, 40), anchor="mm")
    for i, row in enumerate(("45 + 5 uF", "± 6 %", "370 VAC", "50/60 Hz")):
        pen.text((600, 430 + i * 80), row, font=_font(54, True), fill=(25, 25, 60), anchor="mm")
    for _ in range(60):
        px, py = rng.integers(390, 800), rng.integers(300, 400)
        pen.ellipse((px, py, px + 10, py + 5), fill=(120, 98, 60))
    return picture


LYING = frozenset({"filters-dirty.jpg"})
PICTURES: dict[str, Callable[[np.random.Generator], Picture]] = {
    "nameplate-rtu-3.jpg": _nameplate,
    "gauge-suction.jpg": _gauge,
    "burner-flame.jpg": _flame,
    "belt-cracked.jpg": _belt,
    "filters-dirty.jpg": _filters,
    "contactor-pitted.jpg": _contactor,
    "capacitor-bulged.jpg": _capacitor,
}
