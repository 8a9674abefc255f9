"""Logo and signature: PNG files as base64 text, checked before they are drawn."""

from __future__ import annotations

import base64
import binascii
import functools
import io

from PIL import Image

from flueleaf.domain.problems import UserProblem
from flueleaf.domain.words import said

_PNG = b"\x89PNG\r\n\x1a\n"
# Larger pictures make a paper heavy and gain nothing in print (300 dpi over the width of a page).
MOST_PIXELS = 2500 * 2500


@functools.lru_cache(maxsize=8)
def picture(png_text: str, name: str) -> Image.Image:
    """Return a picture, its transparency laid on white.

    Args:
        png_text: the PNG file as base64.
        name: what it is ("logo"), for the message.

    Raises:
        UserProblem: it is no readable PNG, or too large.
    """
    try:
        data = base64.b64decode(png_text, validate=True)
    except (binascii.Error, ValueError) as error:
        raise UserProblem(said("The {name} cannot be printed: it is damaged.", name=name)) from error
    if not data.startswith(_PNG):
        raise UserProblem(said("The {name} cannot be printed: it is no PNG picture.", name=name))
    try:
        return _flat(data, name)
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as error:
        raise UserProblem(
            said("The {name} cannot be printed: the PNG picture is damaged.", name=name)
        ) from error


def _flat(data: bytes, name: str) -> Image.Image:
    with Image.open(io.BytesIO(data), formats=("PNG",)) as read:
        if read.width * read.height > MOST_PIXELS:
            raise UserProblem(
                said(
                    "The {name} cannot be printed: it has {width} × {height} points; accepted: up to "
                    "2500 × 2500.",
                    name=name,
                    width=read.width,
                    height=read.height,
                )
            )
        opaque = read.mode in ("1", "L", "RGB") and "transparency" not in read.info
        if opaque:
            return read.convert("L" if read.mode == "1" else read.mode)
        layered = read.convert("RGBA")
        white = Image.new("RGBA", layered.size, "white")
        return Image.alpha_composite(white, layered).convert("RGB")
