"""Invented slips and data plates as a camera would hand them over, drawn when a test needs one."""

from __future__ import annotations

import io
from pathlib import Path

from PIL import Image
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPainter

READINGS = (
    ("O2", "4.9 %"),
    ("CO2", "9.2 %"),
    ("CO", "70 ppm"),
    ("CO/CO2", "0.0008"),
    ("FLUE", "56.0 C"),
    ("AIR", "18.0 C"),
)


def slip(width_px: int = 900, height_px: int = 1400, name: str = "SLIP 1") -> QImage:
    """Return a slip of thermal paper lying on a worktop."""
    image = QImage(width_px, height_px, QImage.Format.Format_RGB32)
    image.fill(QColor("#6d5a45"))
    painter = QPainter(image)
    paper = QRect(width_px // 6, height_px // 20, width_px * 2 // 3, height_px * 9 // 10)
    painter.fillRect(paper, QColor("#f4f1ea"))
    painter.setPen(QColor("#3a3a40"))
    font = QFont("Commissioner")
    font.setPixelSize(max(height_px // 26, 8))
    painter.setFont(font)
    line = height_px // 14
    rows = ((name, ""), ("HALVARD SUND 24", ""), ("20.11.2026", "19:42"), ("", ""), *READINGS)
    for number, (left, right) in enumerate(rows):
        row = QRect(paper.left() + line // 2, paper.top() + line * (number + 1), paper.width() - line, line)
        painter.drawText(row, Qt.AlignmentFlag.AlignLeft, left)
        painter.drawText(row, Qt.AlignmentFlag.AlignRight, right)
    painter.end()
    return image


def saved(path: Path, image: QImage | None = None) -> Path:
    """Save a picture by the ending of its name; returns the file."""
    assert (image or slip()).save(str(path))
    return path


def lying_jpeg(width_px: int = 60, height_px: int = 40) -> bytes:
    """Return a JPEG, red on its left half, that its camera noted to be turned by a quarter to the right."""
    picture = Image.new("RGB", (width_px, height_px), "blue")
    picture.paste("red", (0, 0, width_px // 2, height_px))
    exif = Image.Exif()
    exif[0x0112] = 6  # orientation, Exif 2.32 table 4: the 0th row is the right side; recalled
    held = io.BytesIO()
    picture.save(held, "JPEG", exif=exif)
    return held.getvalue()
