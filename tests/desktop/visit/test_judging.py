"""What the judgement shows on the leaf: sums are added up again only where a line differs."""

from __future__ import annotations

import copy
import datetime as dt
import json
from typing import Any

import pytest

from flueleaf.desktop.visit.judging import Sums, tally_of
from flueleaf.domain.records.business import Business
from flueleaf.operations import drafting
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

TODAY = dt.date(2026, 11, 25)
BUSINESS = Business(name="Jory Quillfeather", vat="standard", vat_number="GB999999973")


@pytest.fixture
def draft() -> dict[str, Any]:
    """The worked evening, as a leaf reads it off its fields."""
    document = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    read: dict[str, Any] = json.loads(json.dumps(document, default=lambda number: f"{number:f}"))
    read.pop("issued_at", None)
    return read


def judged(draft: dict[str, Any]) -> drafting.Judgement:
    return drafting.judge(draft, drafting.Past(), today=TODAY)


def test_the_same_lines_are_added_up_once(draft: dict[str, Any]) -> None:
    sums = Sums()
    tally, faults = sums.of(judged(draft), BUSINESS)
    assert (tally, faults) == tally_of(judged(draft), BUSINESS)
    assert tally is not None
    draft["works"][0]["slips"][-1]["co_ppm"] = "62"
    assert sums.of(judged(draft), BUSINESS)[0] is tally


@pytest.mark.parametrize(
    "change",
    [
        lambda draft: draft["lines"][0].update(quantity="7"),
        lambda draft: draft["lines"].pop(),
        lambda draft: draft.update(date="2026-11-01"),
        lambda draft: draft["customer"].update(kind="business"),
        lambda draft: draft["lines"][0].update(unit_price="dear"),
        lambda draft: draft.update(lines=[]),
    ],
)
def test_whatever_counts_is_added_up_anew(draft: dict[str, Any], change: Any) -> None:
    sums = Sums()
    first, _faults = sums.of(judged(draft), BUSINESS)
    draft = copy.deepcopy(draft)
    change(draft)
    after, faults = sums.of(judged(draft), BUSINESS)
    assert (after, faults) == tally_of(judged(draft), BUSINESS)
    assert after is not first


def test_another_business_is_another_sum(draft: dict[str, Any]) -> None:
    sums = Sums()
    with_vat, _faults = sums.of(judged(draft), BUSINESS)
    without, _faults = sums.of(judged(draft), Business(name="Jory Quillfeather", vat="none"))
    assert without != with_vat
