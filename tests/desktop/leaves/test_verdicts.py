from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest

from flueleaf.desktop.leaves.verdicts import bullets, judged_rows, values_table
from flueleaf.operations.pages import JudgedRow, ReadingRow


def judged(quantity: str, value: str, limit: str, sense: str, verdict: str) -> JudgedRow:
    margin = Decimal(limit) - Decimal(value) if sense == "at most" else Decimal(value) - Decimal(limit)
    return JudgedRow(quantity, Decimal(value), value, Decimal(limit), sense, "maker", verdict, margin)


def slip(*rows: JudgedRow) -> ReadingRow:
    values = {"co2_pct": Decimal("9.1"), "co_ppm": Decimal(61)}
    return ReadingRow(dt.date(2026, 11, 20), "v", "flue", "max", 1, values, 0.00067, "within", judged=rows)


def test_the_two_limits_of_a_window_share_a_graph_and_the_worse_verdict() -> None:
    row = slip(
        judged("co2_pct", "9.1", "8.8", "at least", "within"),
        judged("co2_pct", "9.1", "9.20", "at most", "near"),
    )
    (facts,) = bullets([row])
    assert (facts.low, facts.high, facts.value) == (8.8, 9.2, 9.1)
    assert facts.verdict == "near"
    assert facts.value_text == "9.1 %, from 8.8 to 9.20"
    assert facts.title == "CO2, flue, high rate"


@pytest.mark.parametrize(
    ("status", "whose", "detail"),
    [("owner", "the limit you entered", "own copy, Edition 4"), ("common practice", "the table’s limit", "")],
)
def test_a_limit_the_owner_entered_is_told_as_that(status: str, whose: str, detail: str) -> None:
    row = JudgedRow("ratio", Decimal("0.002"), "0.002", Decimal("0.011"), "at most", "table", "within",
                    Decimal("0.009"), status=status, limit_source="own copy, Edition 4")  # fmt: skip
    (told,) = judged_rows([slip(row)])
    assert told.cells[3] == whose
    (facts,) = bullets([slip(row)])
    assert (facts.source, facts.detail) == (whose, detail)


def test_a_missing_value_is_unjudged_and_has_no_bar() -> None:
    (facts,) = bullets([slip(JudgedRow("co_ppm", None, "", None, "at most", "none", "unjudged"))])
    assert (facts.value, facts.verdict, facts.value_text) == (None, "unjudged", "no value")


@pytest.mark.parametrize(
    ("value", "margin"),
    [("61", "289"), ("350", "0"), ("350.004", "−0.004"), ("349.96", "0.04"), ("412", "−62")],
)
def test_a_margin_never_reads_as_none_where_there_is_one(value: str, margin: str) -> None:
    (row,) = judged_rows([slip(judged("co_ppm", value, "350", "at most", "near"))])
    assert row.cells[2] == margin


def test_what_is_judged_twice_alike_is_said_once() -> None:
    twice = judged("ratio", "0.0007", "0.004", "at most", "within")
    assert len(judged_rows([slip(twice, twice)])) == 1


def test_the_readings_stand_in_columns() -> None:
    columns, rows = values_table([slip()])
    assert [column.title for column in columns] == ["", "flue, high rate"]
    assert [row.cells for row in rows] == [("CO2, %", "9.1"), ("CO, ppm", "61")]
