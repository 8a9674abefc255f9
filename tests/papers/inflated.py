"""A PDF with its streams inflated: equal for equal pages, whatever build of zlib packed them."""

from __future__ import annotations

import re
import zlib

_STREAM = re.compile(rb"/Length (\d+)(.*?)stream\r?\n", re.DOTALL)
_OFFSETS = re.compile(rb"xref\n.*?trailer|/ID \[.*?\]|startxref\n\d+", re.DOTALL)


def inflated(pdf: bytes) -> bytes:
    """Return the file with every stream inflated, and without its lengths, offsets and identifier."""
    parts: list[bytes] = []
    at = 0
    while found := _STREAM.search(pdf, at):
        end = found.end() + int(found.group(1))
        data = pdf[found.end() : end]
        parts += [pdf[at : found.start()], found.group(2), _plain(data)]
        at = end
    parts.append(pdf[at:])
    return _OFFSETS.sub(b"", b"".join(parts))


def _plain(data: bytes) -> bytes:
    try:
        return zlib.decompress(data)
    except zlib.error:
        return data
