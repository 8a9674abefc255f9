from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest

from flueleaf.domain.combustion.gas_rate import Dial, MeterRun, Plate
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


DIAL = {"unit": "ft3", "revolutions": 2, "per_revolution": "1", "seconds": "72"}


def test_a_dial_stands_for_its_volume() -> None:
    found = read(meter=DIAL).run
    assert found == MeterRun("ft3", Decimal(2), Decimal(72), dial=Dial(Decimal(2), Decimal(1)))


def test_exactly_one_way_of_telling_the_volume_is_taken_and_the_refusal_names_both() -> None:
    for meter in ({**DIAL, "volume": 1}, {"unit": "m3", "seconds": 60}):
        with pytest.raises(Refused, match=r"^meter\.volume: .*volume.* revolutions with per_revolution"):
            read(meter=meter)


def test_the_day_of_the_calorific_value_is_kept() -> None:
    assert read(calorific_value_date="2026-11-20").calorific_value_date == dt.date(2026, 11, 20)
    assert read().calorific_value_date is None


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
        ({"meter": {**DIAL, "revolutions": 0}}, ["meter.revolutions"]),
        ({"meter": {"unit": "ft3", "revolutions": 2, "seconds": 72}}, ["meter.per_revolution"]),
        ({"meter": {"unit": "ft3", "per_revolution": 2, "seconds": 72}}, ["meter.revolutions"]),
        ({"calorific_value_date": "20 November"}, ["calorific_value_date"]),
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
