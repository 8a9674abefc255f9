from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from flueleaf.domain.combustion.gas_rate import MeterRun, Plate
from flueleaf.domain.problems import Refused
from flueleaf.operations.intake.combustion import read_gas_rate
from flueleaf.storage.tables.fuels import load_fuels

DOCUMENT: dict[str, Any] = {
    "fuel": "natural gas",
    "meter": {"unit": "m3", "volume": Decimal("0.082"), "seconds": Decimal(120)},
    "calorific_value_mj_m3": Decimal("39.4"),
}


def read(**changes: Any) -> Any:
    return read_gas_rate(DOCUMENT | changes, fuels=load_fuels())


def refused(**changes: Any) -> list[str]:
    with pytest.raises(Refused) as caught:
        read(**changes)
    return [fault.where for fault in caught.value.faults]


def test_the_least_document_is_read() -> None:
    found = read()
    assert found.fuel is load_fuels()["natural gas"]
    assert found.run == MeterRun("m3", Decimal("0.082"), Decimal(120))
    assert (found.corrected, found.plate) == (False, None)


def test_the_plate_keeps_its_basis_and_its_tolerance() -> None:
    found = read(
        rated_input={"basis": "net", "kw": "24.0"}, tolerance_pct={"plus": 5, "minus": 10}, corrected=True
    )
    assert found.plate == Plate("net", Decimal("24.0"), Decimal(5), Decimal(10))
    assert found.corrected


def test_the_meters_step_and_the_watch_may_be_given() -> None:
    found = read(meter={**DOCUMENT["meter"], "step": "0.01", "timing_s": 2})
    assert (found.run.step_in_unit, found.run.timing_s) == (Decimal("0.01"), Decimal(2))


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"fuel": "kerosene"}, ["fuel"]),
        ({"fuel": None}, ["fuel"]),
        (
            {"meter": {"unit": "l", "volume": 0, "seconds": 0}},
            ["meter.unit", "meter.volume", "meter.seconds"],
        ),
        ({"meter": []}, ["meter"]),
        ({"meter": {**DOCUMENT["meter"], "volume": "0,082"}}, ["meter.volume"]),
        ({"meter": {**DOCUMENT["meter"], "dial": 1}}, ["meter.dial"]),
        ({"calorific_value_mj_m3": None}, ["calorific_value_mj_m3"]),
        ({"calorific_value_mj_m3": 1040}, ["calorific_value_mj_m3"]),
        ({"corrected": "no"}, ["corrected"]),
        ({"rated_input": {"basis": "", "kw": 0}}, ["rated_input.basis", "rated_input.kw"]),
        ({"tolerance_pct": {"plus": 5, "minus": 10}}, ["rated_input"]),
        ({"rated_input": {"basis": "net", "kw": 24}, "tolerance_pct": {"plus": 5}}, ["tolerance_pct.minus"]),
        ({"rated": 24}, ["rated"]),
    ],
)
def test_each_fault_is_named_where_it_stands(changes: dict[str, Any], where: list[str]) -> None:
    assert refused(**changes) == where
