from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest

from flueleaf.domain.judging.drift import MOST_READINGS, Dated
from flueleaf.domain.problems import Refused
from flueleaf.operations.intake.trend import limit_of, read_readings

DATE = "a date as YYYY-MM-DD, 1950-01-01 to 2200-01-01"
NUMBER = "a number from −1,000,000,000 to 1,000,000,000, with a point for decimals"
FIRST = Dated(dt.date(2024, 11, 25), Decimal(57))


def read(text: str) -> tuple[Dated, ...]:
    return read_readings(text, name="co.csv")


def refused(text: str) -> list[str]:
    with pytest.raises(Refused) as told:
        read(text)
    return [fault.text for fault in told.value.faults]


@pytest.mark.parametrize(
    "text",
    [
        "date,value\n2024-11-25,57\n",
        "2024-11-25,57",
        "Date , VALUE\r\n\r\n 2024-11-25 , 57 \r\n",
        "value,date\n57,2024-11-25\n",
        '"date","value"\n"2024-11-25","57"\n,\n',
    ],
)
def test_a_reading_is_read(text: str) -> None:
    assert read(text) == (FIRST,)


def test_rows_keep_their_order_and_digits_and_none_is_dropped() -> None:
    found = read("date,value\n2025-11-25,0.00070\n2024-11-25,57\n2024-11-25,57\n2024-11-25,-1e-3\n")
    assert [str(one.value) for one in found] == ["0.00070", "57", "57", "-0.001"]
    assert found[1] == found[2] == FIRST


def test_every_fault_is_told_with_its_line() -> None:
    assert refused("date,value\n\n25/11/2024,57\n2024-11-25,57 ppm\n2024-02-30,\n2024-11-25\n") == [
        f"line 3, date: “25/11/2024” is not accepted; accepted: {DATE}",
        f"line 4, value: “57 ppm” is not accepted; accepted: {NUMBER}",
        f"line 5, date: “2024-02-30” is not accepted; accepted: {DATE}",
        f"line 5, value: missing; accepted: {NUMBER}",
        "line 6: “2024-11-25” is not accepted; accepted: two values, date,value",
    ]


@pytest.mark.parametrize("value", ["nan", "inf", "Infinity", "1e10", "-1000000001", "1_0", "٣", "1" * 41])
def test_no_number_no_reading(value: str) -> None:
    assert refused(f"date,value\n2024-11-25,{value}\n")[0].startswith("line 2, value: ")


@pytest.mark.parametrize("date", ["1949-12-31", "2200-01-02", "20241125", "2024-11-25T10:00", "٢٠٢٤-11-25"])
def test_no_date_no_reading(date: str) -> None:
    assert refused(f"date,value\n{date},57\n")[0].startswith("line 2, date: ")


def test_the_ends_of_what_is_accepted() -> None:
    assert len(read("1950-01-01,1e9\n2200-01-01,-1e9\n")) == 2


def test_other_columns_are_refused() -> None:
    assert refused("date,co_ppm\n2024-11-25,57\n")[0].startswith("line 1, date: “date”")
    assert refused("date,value,note\n") == [
        "line 1: “date,value,note” is not accepted; accepted: two values, date,value"
    ]


@pytest.mark.parametrize("text", ["", "\n\n", "date,value\n"])
def test_a_file_without_readings_is_refused(text: str) -> None:
    assert refused(text) == ["co.csv: missing; accepted: a line date,value, then a line for each reading"]


def test_what_is_no_csv_is_refused() -> None:
    assert refused('date,value\n2024-11-25,"57\n')[0].startswith("co.csv: “")


def test_too_many_readings_are_refused_in_one_line() -> None:
    lines = "2024-11-25,57\n" * (MOST_READINGS - 1)
    assert len(read(lines + "2024-11-26,58")) == MOST_READINGS
    assert refused(lines + "2024-11-26,58\n2024-11-27,x\n") == [
        "co.csv: “2001 readings” is not accepted; accepted: at most 2000 readings"
    ]


def test_a_limit_is_a_number() -> None:
    assert limit_of("0.0040") == Decimal("0.0040")
    with pytest.raises(Refused, match="--limit: “350 ppm” is not accepted"):
        limit_of("350 ppm")
