"""Yearly services of the worked evening's first appliance, its CO at high rate as told."""

from __future__ import annotations

import copy
import datetime as dt
from typing import Any

from flueleaf.operations import drafting
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)
CO = ("60", "71", "80", "92", "99")


def visit_of(document: dict[str, Any], year: int, co_ppm: str, **slip: Any) -> dict[str, Any]:
    """Return the document of a service in a year, at its one appliance; CO at high rate as given."""
    made = copy.deepcopy(document)
    visit_id = f"1c0d2f6e-8a1b-4c3d-9e5f-0a1b2c3d{year}"
    made |= {"visit_id": visit_id, "date": f"{year}-11-20", "purpose": "service", "papers": [], "lines": []}
    made.pop("issued_at", None)
    del made["works"][1:]
    made["works"][0]["appliance"]["installed"] = "2020-11-20"
    high = next(s for s in made["works"][0]["slips"] if (s["point"], s["rate"]) == ("flue", "max"))
    high.pop("ratio", None)
    high["co_ppm"] = co_ppm
    high |= slip
    return made


def sign(book: Book, document: dict[str, Any], year: int, co_ppm: str, **slip: Any) -> None:
    at = dt.datetime(year, 11, 20, 20, 15, tzinfo=dt.UTC)
    drafting.sign_off(book, visit_of(document, year, co_ppm, **slip), issued_at=at, today=TODAY)
