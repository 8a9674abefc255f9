"""Every doubt has its sheet, and the sheet's arithmetic is that of the doubt."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from tests.domain.judging.bench import ANALYSER, DAY, RULES, air_inlet, case, flue, limits

from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.records.visits import Slip
from flueleaf.operations.explaining.doubts import TITLES, doubt_key
from flueleaf.operations.explaining.draft import explain_assessment
from flueleaf.operations.explaining.explanation import Explanation

WINDOWS = limits(co2_pct={"max": ("8.8", "9.6"), "min": ("8.2", "8.7")}, source="book 7, page 4")
OLD = replace(ANALYSER, calibration_due=DAY - dt.timedelta(3))
SHORT = replace(ANALYSER, range={"co_ppm": Decimal(60)})
CALCULATED = replace(ANALYSER, co2_calculated=True)


def sheet(code: str, *slips: Slip, **fields: Any) -> Explanation:
    judged = case(*slips, **fields)
    assessment = assess(judged, RULES)
    doubt = next(doubt for doubt in assessment.doubts if doubt.code == code)
    (found,) = [
        one for one in explain_assessment(judged, assessment, judged.slips) if one.key == doubt_key(doubt)
    ]
    assert found.result == doubt.text
    assert found.title.startswith(TITLES[code])
    return found


# Worked apart: 12.04·16.15/20.95 = 9.28; 0.3 + 0.5748·0.3 = 0.472; 61/91000; 12.04 + 0.3.
SHEETS: list[tuple[str, tuple[Slip, ...], dict[str, Any], list[str]]] = [
    ("o2-co2-disagree", (flue(co2_pct="8.0"),), {}, [
        "· (20.95 − 4.8) / 20.95 = 9.28", "|8 − that| = 1.28", "0.3 + 0.574"
    ]),
    ("ratio-disagrees", (flue(ratio="0.0012"),), {}, [
        "61 / (10 000 · 9.1) = 0.00067", "0.0012 lies 0.0001 or more"
    ]),
    ("beyond-physics", (flue(co2_pct="12.6"),), {}, ["+ 0.3 of tolerance = 12.3", "12.6 is more than 12.3"]),
    ("beyond-physics", (air_inlet(o2_pct="21.4"),), {}, ["21.4 is more than 21.3"]),
    ("air-leak-suspected", (flue(o2_pct="9.6", co2_pct=None),), {}, [
        "9 %, and 0.3 of tolerance: 9.3 %", "9.6 is more"
    ]),
    ("range-exceeded", (flue(),), {"instrument": SHORT}, ["61 is more than 60"]),
    ("calibration-expired", (flue(),), {"instrument": OLD}, ["3 days past"]),
    ("not-settled", (flue(settled=False),), {}, []),
    ("no-second-witness", (flue(),), {"instrument": CALCULATED}, []),
    ("limit-unsourced", (flue(),), {"limits": limits(co_ppm="400")}, []),
    (
        "rates-swapped",
        (flue(o2_pct=None, co2_pct="8.4"), flue("min", o2_pct=None, co2_pct="9.2")),
        {"limits": WINDOWS},
        [],
    ),
]  # fmt: skip


@pytest.mark.parametrize(("code", "slips", "fields", "steps"), SHEETS)
def test_every_doubt_has_its_sheet(
    code: str, slips: tuple[Slip, ...], fields: dict[str, Any], steps: list[str]
) -> None:
    found = sheet(code, *slips, **fields)
    whole = "\n".join(found.steps)
    for step in steps:
        assert step in whole
    assert found.formula
    assert found.caution


def test_no_code_is_without_a_sheet() -> None:
    assert {code for code, *_ in SHEETS} == set(TITLES)


def test_both_rates_stand_on_the_sheet_of_rates_exchanged() -> None:
    one = sheet(
        "rates-swapped",
        flue(o2_pct=None, co2_pct="8.4"),
        flue("min", o2_pct=None, co2_pct="9.2"),
        limits=WINDOWS,
    )
    assert [(given.name, given.value) for given in one.inputs] == [
        ("CO2, high rate", "8.4 %"),
        ("CO2, low rate", "9.2 %"),
    ]


def test_a_change_has_the_sheet_of_the_change() -> None:
    last = PreviousVisit(DAY - dt.timedelta(365), (flue(co_ppm=200),))
    judged = case(flue(), previous=(last,))
    assessment = assess(judged, RULES)
    found = explain_assessment(judged, assessment, judged.slips)
    assert any(one.key.endswith("co_ppm.change") for one in found)
    assert not any("doubt" in one.key for one in found)
