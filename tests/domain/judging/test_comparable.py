from __future__ import annotations

import datetime as dt
from decimal import Decimal

from flueleaf.domain.judging.comparable import Comparable, Taken, comparable
from flueleaf.domain.judging.drift import Dated
from flueleaf.domain.records.register import Rate


def slip(
    year: int,
    co: str,
    *,
    rate: Rate = "max",
    attempt: int = 1,
    decides: bool = True,
    adjusted: bool = False,
    fuel: str = "natural gas",
) -> Taken:
    values = {"co_ppm": Decimal(co), "o2_pct": Decimal("4.8")}
    return Taken(f"v{year}", day(year), rate, attempt, decides, values, adjusted, fuel)


def day(year: int) -> dt.date:
    return dt.date(year, 11, 25)


def co(found: Comparable, rate: Rate = "max") -> list[tuple[int, int]]:
    return [(one.date.year, int(one.value)) for one in found.readings.get(("co_ppm", rate), ())]


def test_each_quantity_and_rate_has_its_own_row() -> None:
    with_ratio = Taken("v2025", day(2025), "max", 1, True, {"ratio": Decimal("0.0007")})
    found = comparable(
        [slip(2023, "50"), slip(2023, "18", rate="min"), slip(2024, "57"), with_ratio], "natural gas"
    )
    assert found.readings == {
        ("co_ppm", "max"): (Dated(day(2023), Decimal(50)), Dated(day(2024), Decimal(57))),
        ("co_ppm", "min"): (Dated(day(2023), Decimal(18)),),
        ("ratio", "max"): (Dated(day(2025), Decimal("0.0007")),),
    }
    assert found.adjusted_on is None


def test_nothing_taken_nothing_found() -> None:
    assert comparable([], "natural gas") == Comparable({}, None)


def test_only_what_decides_is_compared() -> None:
    found = comparable([slip(2024, "50"), slip(2025, "60", decides=False)], "natural gas")
    assert co(found) == [(2024, 50)]


def test_a_second_attempt_means_that_something_was_adjusted() -> None:
    taken = [
        slip(2023, "150"),
        slip(2023, "40", rate="min"),
        slip(2024, "400", decides=False),
        slip(2024, "60", attempt=2),
        slip(2024, "20", rate="min"),
        slip(2025, "66"),
        slip(2025, "22", rate="min"),
    ]
    found = comparable(taken, "natural gas")
    assert co(found) == [(2024, 60), (2025, 66)]
    assert co(found, "min") == [(2024, 20), (2025, 22)]
    assert found.adjusted_on == day(2024)


def test_of_a_visit_with_an_adjustment_what_was_read_before_it_is_left_out() -> None:
    taken = [
        slip(2023, "150"),
        slip(2024, "60", adjusted=True),
        slip(2024, "40", rate="min"),
        slip(2025, "66"),
        slip(2025, "22", rate="min"),
    ]
    found = comparable(taken, "natural gas")
    assert co(found) == [(2024, 60), (2025, 66)]
    assert co(found, "min") == [(2025, 22)]


def test_the_last_adjustment_counts() -> None:
    found = comparable([slip(year, "60", adjusted=year in (2021, 2023)) for year in range(2020, 2026)],
                       "natural gas")  # fmt: skip
    assert [year for year, _ in co(found)] == [2023, 2024, 2025]
    assert found.adjusted_on == day(2023)


def test_another_fuel_begins_anew() -> None:
    taken = [
        slip(2021, "50", adjusted=True),
        slip(2022, "52"),
        slip(2023, "90", fuel="propane"),
        slip(2024, "51"),
        slip(2025, "53", fuel=""),
    ]
    found = comparable(taken, "natural gas")
    assert co(found) == [(2024, 51), (2025, 53)]
    assert found.adjusted_on is None
    assert co(comparable(taken, "propane")) == [(2025, 53)]
