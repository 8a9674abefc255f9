from __future__ import annotations

import json
from decimal import Decimal
from fractions import Fraction

import pytest
from tests.domain.judging.bench import air_inlet, flue, judge, slip

from flueleaf.domain.judging.as_json import assessment_json, number


def test_the_document_is_that_of_the_contract() -> None:
    document = json.loads(json.dumps(assessment_json(judge(air_inlet(), flue(flue_c=54, air_c=18)))))
    assert {"verdict", "slips", "doubts", "next_steps", "missing"} <= set(document)
    assert document["verdict"] == "within"
    one = document["slips"][1]
    # The close figures printed in the headless contract.
    assert (one["point"], one["rate"], one["ratio_text"], one["derived"]) == ("flue", "max", "0.0007", [])
    assert one["ratio"] == 61 / 91000
    assert (one["co2_pct"], one["o2_pct"], one["co_ppm"], one["flue_c"]) == (9.1, 4.8, 61, 54)
    for key, figure in (
        ("co_undiluted_ppm", 79.1), ("co_mg_per_kwh", 85.2), ("dew_point_c", 54.1),
        ("loss_net_pct", 1.79), ("efficiency_net_pct", 98.21), ("efficiency_gross_pct", 88.73),
    ):  # fmt: skip
        assert one[key] == pytest.approx(figure, abs=0.06), key
    judged = one["judged"][0]
    expected = {"quantity": "co_ppm", "value": 61, "limit": 350, "sense": "at most", "source": "table"}
    assert judged | expected == judged
    assert (judged["verdict"], judged["margin"]) == ("within", 289)
    assert round(judged["standard_uncertainty"], 1) == 5.8
    assert judged["chance_beyond"] == pytest.approx(0.0)
    assert document["missing"] == [{"point": "flue", "rate": "min", "text": "flue at low rate"}]


def test_what_is_not_there_is_null() -> None:
    one = assessment_json(judge(slip("flue", o2_pct="4.8")))["slips"][0]
    assert one["ratio"] is None
    assert one["ratio_text"] is None
    assert one["judged"][0] | {"value": None, "margin": None, "chance_beyond": None} == one["judged"][0]
    assert one["derived"] == ["co2_pct"]


def test_a_doubt_names_code_quantity_and_text() -> None:
    document = assessment_json(judge(flue(co2_pct="8.0")))
    doubt = document["doubts"][0]
    assert (doubt["code"], doubt["quantity"], doubt["confirmed"]) == ("o2-co2-disagree", "co2_pct", False)
    assert doubt["text"]
    assert document["slips"][0]["doubts"] == [doubt]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Decimal("61"), "61"),
        (Decimal("61.0"), "61.0"),
        (Decimal("9.10"), "9.1"),
        (Decimal("0.0000001"), "1e-07"),
        (Decimal("1E+3"), "1000"),
        (Fraction(289), "289"),
        (Fraction(1, 10), "0.1"),
        (None, "null"),
    ],
)
def test_numbers_are_the_nearest_double_or_whole(value: Decimal | Fraction | None, text: str) -> None:
    assert json.dumps(number(value)) == text
