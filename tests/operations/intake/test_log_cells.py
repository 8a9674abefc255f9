from __future__ import annotations

from decimal import Decimal

import pytest

from flueleaf.operations.intake.log_cells import (
    Sign,
    clock_s,
    decimal_sign,
    decimals,
    is_nothing,
    minutes_s,
    moment_s,
    number_of,
)


@pytest.mark.parametrize("cell", ["", "NaN", "nan", "-", "---", "—", "N/A", "#N/A", "null", "...", "__"])
def test_what_says_that_there_is_no_reading(cell: str) -> None:
    assert is_nothing(cell)


@pytest.mark.parametrize("cell", ["0", "-1", "inf", "x", "OFL", "> 4000", "0.0"])
def test_what_says_something(cell: str) -> None:
    assert not is_nothing(cell)


@pytest.mark.parametrize(
    ("cells", "sign"),
    [
        (["60,5"], ","),
        (["60.5"], "."),
        (["60"], ""),
        (["1,234"], ""),  # as well a thousand
        (["1,234", "0,123"], ","),
        (["1234,567"], ","),
        (["1.234"], "."),
        (["60,5 ppm"], ","),
        (["60,5", "4.8"], ""),
        (["10:00:00,5", "61"], ""),
    ],
)
def test_the_decimal_sign_is_what_leaves_no_doubt(cells: list[str], sign: str) -> None:
    assert decimal_sign(cells) == sign


@pytest.mark.parametrize(
    ("cell", "sign", "number"),
    [
        ("61", "", "61"),
        ("61.0", "", "61.0"),
        ("61,50", ",", "61.50"),
        ("61 ppm", "", "61"),
        ("4.8%", ".", "4.8"),
        ("−3", "", "-3"),
        ("6.1e1", "", "61"),
        ("1,234", "", None),
        ("1,234", ".", None),
        ("1.234", ",", None),
        ("1.234,5", ",", None),
        ("1,2,3", ",", None),
        ("inf", "", None),
        ("nan", "", None),
        ("6 1", "", None),
        ("٦", "", None),
        ("1_000", "", None),
        ("9" * 41, "", None),
    ],
)
def test_a_number_keeps_its_digits_or_is_none(cell: str, sign: Sign, number: str | None) -> None:
    found = number_of(cell, sign, ("ppm", "%"))
    assert found == (None if number is None else Decimal(number))
    if number is not None and "e" not in cell:
        assert str(found) == number


def test_decimals_are_counted() -> None:
    assert [decimals(one) for one in (None, Decimal("60"), Decimal("4.80"), Decimal("1E+3"))] == [0, 0, 2, 0]


@pytest.mark.parametrize(
    ("cell", "seconds"),
    [
        ("00:00:00", "0"),
        ("14:03:05", "50585"),
        ("14:03:05.25", "50585.25"),
        ("14:03:05,25", "50585.25"),
        ("2:03:05 PM", "50585"),
        ("12:00:00 am", "0"),
        ("12:00:01 p.m.", "43201"),
        ("30:00:00", "108000"),
        ("14:03", None),
        ("14:60:00", None),
        ("14:03:60", None),
        ("13:00:00 pm", None),
        ("0:00:00 am", None),
        ("noon", None),
    ],
)
def test_a_clock_time_in_seconds(cell: str, seconds: str | None) -> None:
    assert clock_s(cell) == (None if seconds is None else Decimal(seconds))


@pytest.mark.parametrize(
    ("cell", "seconds"), [("1:05", "65"), ("90:00.5", "5400.5"), ("1:60", None), ("65", None)]
)
def test_minutes_and_seconds(cell: str, seconds: str | None) -> None:
    assert minutes_s(cell) == (None if seconds is None else Decimal(seconds))


NOON = 1_795_435_385  # date -u -d '2026-11-23 12:03:05' +%s


@pytest.mark.parametrize(
    ("cell", "seconds", "zoned"),
    [
        ("2026-11-23T12:03:05", NOON, False),
        ("2026-11-23 12:03:05", NOON, False),
        ("2026/11/23 12:03:05", NOON, False),
        ("23/11/2026 12:03:05", NOON, False),
        ("23.11.2026 12:03:05", NOON, False),
        ("23/11/2026, 12:03:05 pm", NOON, False),
        ("2026-11-23T12:03:05Z", NOON, True),
        ("2026-11-23T13:03:05+01:00", NOON, True),
        ("2026-11-23T06:33:05-0530", NOON, True),
        ("2026-11-23", None, False),
        ("2026-11-23T12:03", None, False),
        ("2026-02-30T12:03:05", None, False),
        ("2026-11-23T24:00:00", None, False),
        ("11/23/2026 12:03:05", None, False),
        ("61", None, False),
    ],
)
def test_date_and_time(cell: str, seconds: int | None, zoned: bool) -> None:
    assert moment_s(cell) == (None if seconds is None else (Decimal(seconds), zoned))
