"""Comparing a picture of the window with the one that was accepted.

Kept are small pictures: half as large, in sixteen greys. Both are softened before they are compared, so that
the edges of letters may fall otherwise on another system; what is moved, gone or new is still seen.
"""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image, ImageChops, ImageFilter
from PySide6.QtGui import QImage

GREYS = 16
SOFTENED_PX = 2
DIFFERENT = 22  # of 255: further apart than softened edges of the same letter
MOST_DIFFERENT_PCT = 0.25  # of a picture: some words of running text


def small(image: QImage) -> Image.Image:
    """Return a picture as it is kept."""
    flat = image.convertToFormat(QImage.Format.Format_Grayscale8)
    data = bytes(flat.constBits())[: flat.sizeInBytes()]
    whole = Image.frombytes("L", (flat.width(), flat.height()), data, "raw", "L", flat.bytesPerLine())
    half = whole.resize((whole.width // 2, whole.height // 2), Image.Resampling.BOX)
    return half.point([round(v / 255 * (GREYS - 1)) for v in range(256)])


def keep(picture: Image.Image, path: Path) -> None:
    """Write a small picture as PNG."""
    shown = picture.copy()
    shown.putpalette([round(n / (GREYS - 1) * 255) for n in range(GREYS) for _ in range(3)])
    out = io.BytesIO()
    shown.save(out, "PNG", optimize=True, bits=4)
    path.write_bytes(out.getvalue())


def kept(path: Path) -> Image.Image:
    """Return a small picture as it was written."""
    with Image.open(path) as stored:
        return stored.convert("L").point([round(v / 255 * (GREYS - 1)) for v in range(256)])


def different_pct(one: Image.Image, other: Image.Image) -> float:
    """Return how much of two small pictures differs, in per cent of their area; 100 for other sizes."""
    if one.size != other.size:
        return 100.0
    soft = [
        picture.point([min(v, GREYS - 1) * 17 for v in range(256)]).filter(ImageFilter.BoxBlur(SOFTENED_PX))
        for picture in (one, other)
    ]
    histogram = ImageChops.difference(*soft).histogram()
    return 100 * sum(histogram[DIFFERENT:]) / (one.width * one.height)


def changed(one: Image.Image, other: Image.Image) -> bool:
    """Tell whether a picture shows something else than the other."""
    return different_pct(one, other) > MOST_DIFFERENT_PCT
