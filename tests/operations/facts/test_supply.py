from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from flueleaf.domain.records.visits import Work
from flueleaf.operations.facts.supply import rows
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices, shipped


def work_with(document: dict[str, Any], run: dict[str, Any]) -> Work:
    document["works"][0]["supply"] = {"gas_rate": run}
    return read_visit(document, choices=choices(), today=dt.date(2026, 11, 25)).works[0]


CV = {"calorific_value_mj_m3": "39.6"}


@pytest.mark.parametrize(
    ("run", "note"),
    [
        (
            {"meter": {"unit": "m3", "volume": "0.083", "seconds": 120}, **CV},
            "0.083 m³ in 120 s at 39.6 MJ/m³, as metered; one step of the meter is 1.2 % of it",
        ),
        (
            {
                "meter": {"unit": "ft3", "revolutions": 2, "per_revolution": "1", "seconds": 75},
                **CV,
                "calorific_value_date": "2026-11-20",
                "corrected": True,
            },
            "2 × 1 ft³ by the test dial in 75 s at 39.6 MJ/m³ of 20 November 2026, "
            "corrected for temperature and pressure; one step of the meter is 0.5 % of it",
        ),
    ],
)
def test_the_record_prints_what_the_heat_input_stands_on(
    document: dict[str, Any], run: dict[str, Any], note: str
) -> None:
    gross, net = rows(work_with(document, run), shipped(), dt.date(2026, 11, 20))
    assert (gross.label, net.label) == ("heat input by the meter, gross", "heat input by the meter, net")
    assert gross.note == note
