"""Assessing a document and assessing a visit come to the same verdicts."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from flueleaf.domain.judging.as_json import assessment_json
from flueleaf.domain.problems import Refused
from flueleaf.operations.assessing import assess_document, assess_work
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices

TODAY = dt.date(2026, 11, 25)


def test_one_road_for_document_and_visit(document: dict[str, Any]) -> None:
    visit = read_visit(document, choices=choices(), today=TODAY)
    of_visit = assessment_json(assess_work(visit, visit.works[0], ()))
    work = document["works"][0]
    appliance = {
        key: work["appliance"][key]
        for key in ("kind", "flue", "limits", "limits_source", "rated_input", "test_points")
    }
    of_document = assess_document(
        {
            "date": document["date"],
            "fuel": work["appliance"]["fuel"],
            "appliance": appliance,
            "instrument": dict(work["instrument"]),
            "slips": work["slips"],
        },
        today=TODAY,
    )
    assert of_visit == of_document


def test_a_document_without_a_slip_is_refused() -> None:
    with pytest.raises(Refused, match="slips"):
        assess_document(
            {"fuel": "methane", "appliance": {"kind": "condensing boiler"}, "slips": []}, today=TODAY
        )
