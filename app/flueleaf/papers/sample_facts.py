"""Invented business, customer, premises and pictures for the sample papers."""

from __future__ import annotations

import base64
import datetime as dt
import math
import struct
import zlib
from collections.abc import Iterable

from flueleaf.papers.facts import Business, Head, Party, Place, Seals

ISSUED_AT = dt.datetime(2026, 11, 20, 20, 15, tzinfo=dt.UTC)


def sample_business() -> Business:
    """Return an invented sole trader."""
    return Business(
        name="Edda Farrowgate",
        trading_name="Farrowgate Heating",
        address=("Unit 3, Old Sail Loft", "Quay Lane", "Port Ellery"),
        postcode="QX3 2DF",
        telephone="01632 960 118",
        email="edda@farrowgate.example",
        registration="900 417",
        logo_png=base64.b64encode(_logo()).decode("ascii"),
        signature_png=base64.b64encode(_signature()).decode("ascii"),
    )


def sample_head(kind: str, number: str, replaces: str = "") -> Head:
    """Return the head of a sample paper."""
    return Head(
        number=number,
        kind=kind,
        issued_at=ISSUED_AT,
        business=sample_business(),
        customer=Party(
            name="Isolde Quennell",
            address=("14 Cooper’s Rise", "Port Ellery"),
            postcode="QX3 7TB",
            telephone="07700 900 362",
            email="isolde@quennell.example",
        ),
        premises=Place(("14 Cooper’s Rise", "Port Ellery"), "QX3 7TB", "Isolde Quennell"),
        replaces=replaces,
    )


def sample_seals(number: str) -> Seals:
    """Return invented seals for a sample paper."""
    return Seals(number, "4be1907a" * 8, "c05d2e63" * 8)


def grey_png(width: int, height: int, rows: Iterable[bytes]) -> bytes:
    """Return a greyscale PNG (8 bit) of rows of ``width`` bytes each."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    body = zlib.compress(b"".join(b"\0" + row for row in rows), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def _signature() -> bytes:
    """Return a pen line that looks signed."""
    width, height = 420, 120
    canvas = [bytearray(b"\xff" * width) for _ in range(height)]
    for step in range(9000):
        t = step / 9000
        x = 20 + 370 * t + 16 * math.sin(38 * t)
        y = 62 - (34 - 26 * t) * math.sin(44 * t + 0.6) * (1 - 0.4 * math.cos(7 * t)) + 12 * t
        radius = 1.2 + 0.9 * math.sin(44 * t) ** 2
        _dab(canvas, x, y, radius)
    return grey_png(width, height, (bytes(row) for row in canvas))


def _logo() -> bytes:
    """Return two leaves of a flue pipe seen from the side."""
    size = 240
    rows = []
    for y in range(size):
        row = bytearray(b"\xff" * size)
        for x in range(size):
            right = math.hypot(x - 60, y - 180) < 170 and math.hypot(x - 240, y) < 170
            left = math.hypot(x - 180, y - 240) < 120 and math.hypot(x, y - 120) < 120
            if right:
                row[x] = 0x30
            elif left:
                row[x] = 0x90
        rows.append(bytes(row))
    return grey_png(size, size, rows)


def _dab(canvas: list[bytearray], x: float, y: float, radius: float) -> None:
    for row in range(int(y - radius), int(y + radius) + 2):
        for column in range(int(x - radius), int(x + radius) + 2):
            inside = radius + 0.5 - math.hypot(column - x, row - y)
            if inside > 0 and 0 <= row < len(canvas) and 0 <= column < len(canvas[0]):
                ink = 255 - int(225 * min(1.0, inside))
                canvas[row][column] = min(canvas[row][column], ink)
