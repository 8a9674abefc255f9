"""Reads papers back with libraries that had no part in writing them."""

from __future__ import annotations

import dataclasses
import datetime as dt
import io
import itertools
from collections.abc import Iterator
from typing import Any

import pdfplumber
import pypdf

from flueleaf.papers.registry import all_kinds
from flueleaf.papers.sample_facts import sample_seals
from flueleaf.papers.text import chemical, day

# Not printed as they stand: pictures, and words that stand for others.
_NOT_PRINTED = {"logo_png", "signature_png", "kind"}


def drawn(facts: Any) -> bytes:
    """Return the PDF of facts of any kind."""
    return all_kinds()[facts.head.kind].draw(facts, sample_seals(facts.head.number))


def page_texts(pdf: bytes) -> list[str]:
    """Return the text of every page."""
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def text_of(pdf: bytes) -> str:
    """Return the text of a paper in one line."""
    return " ".join(" ".join(page_texts(pdf)).replace("\xa0", " ").split())


def squeezed(text: str) -> str:
    """Return a text without white space and without case, so that wrapping does not matter."""
    return "".join(text.split()).casefold()


def strings(facts: object, name: str = "") -> Iterator[str]:
    """Return every text of the facts, dates as they are printed."""
    if isinstance(facts, str):
        if facts and name not in _NOT_PRINTED:
            yield chemical(facts)
    elif isinstance(facts, dt.datetime):
        yield day(facts.date())
    elif isinstance(facts, dt.date):
        yield day(facts)
    elif isinstance(facts, tuple):
        for item in facts:
            yield from strings(item)
    elif dataclasses.is_dataclass(facts):
        for field in dataclasses.fields(facts):
            yield from strings(getattr(facts, field.name), field.name)


def overlaps(pdf: bytes) -> list[str]:
    """Return pairs of words that are printed over each other, and words outside the margins."""
    found = []
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        for page in read.pages:
            words = page.extract_words(keep_blank_chars=False, use_text_flow=True)
            found += [
                word["text"] for word in words if word["x0"] < 59 or word["x1"] > 545 or word["bottom"] > 825
            ]
            words.sort(key=lambda word: word["top"])
            for one, other in itertools.combinations(words, 2):
                if other["top"] >= one["bottom"]:
                    continue
                across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
                down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
                if across > 0.6 and down > 2.5:
                    found.append(f"{one['text']} / {other['text']}")
    return found
