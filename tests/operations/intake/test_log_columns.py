from __future__ import annotations

from decimal import Decimal

import pytest

from flueleaf.operations.intake.log_columns import (
    KEYS,
    columns_of,
    factor_of,
    is_unit,
    known,
    unit_of,
    unit_words,
    writing_of,
)

WHERES = {key: f"--{key}" for key in KEYS}


def found(*header: str, **named: str) -> dict[str, str]:
    columns, faults = columns_of(header, named, WHERES)
    assert faults == []
    return {key: column.header for key, column in columns.items()}


def refused(*header: str, **named: str) -> list[str]:
    return [fault.text for fault in columns_of(header, named, WHERES)[1]]


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        (("time", "co"), {"time": "time", "co_ppm": "co"}),
        (("t/s", "CO/ppm"), {"time": "t/s", "co_ppm": "CO/ppm"}),
        (
            ("time_s", "co_ppm", "o2_pct", "co2_pct"),
            {"time": "time_s", "co_ppm": "co_ppm", "o2_pct": "o2_pct", "co2_pct": "co2_pct"},
        ),
        (
            ("Time [s]", "CO₂ [%]", "CO [ppm]", "O₂ (vol.%)"),
            {"time": "Time [s]", "co_ppm": "CO [ppm]", "o2_pct": "O₂ (vol.%)", "co2_pct": "CO₂ [%]"},
        ),
        (
            ("Date Time", "Carbon monoxide, ppm", "CO/CO2"),
            {"time": "Date Time", "co_ppm": "Carbon monoxide, ppm"},
        ),
        (("Elapsed (min)", "CO ppm (dry)", "T flue"), {"time": "Elapsed (min)", "co_ppm": "CO ppm (dry)"}),
        (("Time", "Elapsed", "CO%", "O2%"), {"time": "Time", "co_ppm": "CO%", "o2_pct": "O2%"}),
        (("time", "CO [%]", "CO [ppm]"), {"time": "time", "co_ppm": "CO [ppm]"}),
        (("time", "CO [mg/m3]", "CO [ppm]"), {"time": "time", "co_ppm": "CO [ppm]"}),
        (("time", "CO (corrected)", "CO"), {"time": "time", "co_ppm": "CO"}),
    ],
)
def test_usual_headers_are_known(header: tuple[str, ...], expected: dict[str, str]) -> None:
    assert found(*header) == expected
    assert known(header, {})


def test_a_name_given_wins_and_need_not_be_exact() -> None:
    assert found("t", "co", "CO", time="t", co_ppm="CO")["co_ppm"] == "CO"
    assert found("Uhr", "Wert 1", time="uhr", co_ppm="wert1") == {"time": "Uhr", "co_ppm": "Wert 1"}
    assert known(("Uhr", "Wert 1"), {"time": "uhr", "co_ppm": "wert1"})
    assert not known(("Uhr", "Wert 1"), {})


def test_a_column_holds_one_thing() -> None:
    assert refused("t", "co", o2_pct="co") == [
        "--o2_pct: “co” is not accepted; accepted: a column of its own"
    ]
    # A column named for one thing is not looked at for another.
    assert found("t", "O2", co_ppm="O2") == {"time": "t", "co_ppm": "O2"}


def test_what_is_not_found_is_said_with_what_there_is() -> None:
    assert refused("a", "b", "", "b") == [
        "--time: missing; accepted: one of “a”, “b”",
        "--co_ppm: missing; accepted: one of “a”, “b”",
    ]
    assert refused("t", "co", o2_pct="x") == ["--o2_pct: “x” is not accepted; accepted: one of “t”, “co”"]


def test_two_that_would_do_are_asked_about() -> None:
    assert refused("t", "co", "CO ppm") == [
        "--co_ppm: missing; accepted: one column: several would do; name one of “t”, “co”, “CO ppm”"
    ]
    assert "several would do" in refused("t", "co", "O2", "O2 %")[0]


def test_units_are_taken_in_or_refused() -> None:
    assert factor_of("co_ppm", unit_of("co_ppm", "CO [%]")) == 10_000
    assert factor_of("co2_pct", unit_of("co2_pct", "CO2 ppm")) == Decimal("0.0001")
    assert factor_of("time", unit_of("time", "Time [min]")) == 60
    assert factor_of("time", unit_of("time", "Time [hh:mm:ss]")) == 1
    assert factor_of("co_ppm", unit_of("co_ppm", "CO [mg/m³]")) is None
    assert factor_of("co_ppm", unit_of("co_ppm", "CO (probe 2)")) == 1
    assert writing_of(unit_of("time", "Time (mm:ss)")) == "mm:ss"
    assert writing_of("s") == ""
    assert is_unit("co_ppm", "[ppm]")
    assert not is_unit("co_ppm", "61")
    assert unit_words("co_ppm") == "a column in ppm, %"
    assert unit_words("o2_pct") == "a column in %, ppm"
    assert unit_words("time") == "a column in s, min, h, hh:mm:ss"
