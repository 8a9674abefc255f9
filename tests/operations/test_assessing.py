"""Assessing a document and assessing a visit come to the same verdicts."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from flueleaf.domain.judging.as_json import assessment_json
from flueleaf.domain.problems import Refused
from flueleaf.operations.assessing import assess_document, assess_work
from flueleaf.operations.combustion import gas_rate_document
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
            "gas_rate": work["supply"]["gas_rate"],
        },
        today=TODAY,
    )
    # A visit tells of checks and close-up too, a document of readings alone.
    of_readings = [one for one in of_visit.pop("procedure")["taken"] if one["attempt"]]
    assert of_readings == of_document.pop("procedure")["taken"]
    assert of_visit == of_document
    litres = {
        slip["rate"]: slip["condensate_l_per_h"] for slip in of_visit["slips"] if slip["point"] == "flue"
    }
    assert litres["max"] is not None
    assert litres["min"] is None


RUN = {"meter": {"unit": "m3", "volume": "0.082", "seconds": 120}, "calorific_value_mj_m3": "39.4"}
WARM = {"point": "flue", "rate": "max", "o2_pct": 5, "co_ppm": 30, "flue_c": 45, "air_c": 18}


def assessed(**more: Any) -> dict[str, Any]:
    document = {"fuel": "natural gas", "appliance": {"kind": "condensing boiler"}, "slips": [WARM], **more}
    return assess_document(document, today=TODAY)


def test_a_meter_run_gives_the_litres_of_condensate() -> None:
    slip = assessed(gas_rate=RUN)["slips"][0]
    net_kw = gas_rate_document({"fuel": "natural gas", **RUN})["input_net_kw"]
    kg_per_h = slip["condensate_kg_per_kwh_net"] * net_kw
    # 0.9902 kg/l at 45 °C (IAPWS-97).
    assert slip["condensate_l_per_h"] == pytest.approx(kg_per_h / 0.9902, rel=1e-4)
    assert assessed()["slips"][0]["condensate_l_per_h"] is None


@pytest.mark.parametrize(
    ("run", "where"),
    [
        ({**RUN, "fuel": "propane"}, "gas_rate.fuel"),
        ({**RUN, "meter": {}}, "gas_rate.meter.unit"),
        ({**RUN, "surplus": 1}, "gas_rate.surplus"),
        ([], "gas_rate"),
    ],
)
def test_a_faulty_meter_run_is_refused_where_it_stands(run: Any, where: str) -> None:
    with pytest.raises(Refused) as caught:
        assessed(gas_rate=run)
    assert caught.value.faults[0].where == where


def test_a_run_of_an_oil_boiler_is_refused() -> None:
    with pytest.raises(Refused, match=r"gas_rate\.fuel: missing"):
        assess_document(
            {
                "fuel": "kerosene",
                "appliance": {"kind": "oil boiler"},
                "slips": [{**WARM, "co_ppm": 5}],
                "gas_rate": RUN,
            },
            today=TODAY,
        )


def test_a_run_noted_for_another_gas_tells_a_visit_nothing(document: dict[str, Any]) -> None:
    document["works"][0]["supply"]["gas_rate"]["fuel"] = "propane"
    visit = read_visit(document, choices=choices(), today=TODAY)
    slips = assess_work(visit, visit.works[0], ()).slips
    assert {slip.figures.condensate_l_per_h for slip in slips} == {None}


def test_a_document_without_a_slip_is_refused() -> None:
    with pytest.raises(Refused, match="slips"):
        assess_document(
            {"fuel": "methane", "appliance": {"kind": "condensing boiler"}, "slips": []}, today=TODAY
        )
