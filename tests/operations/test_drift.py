from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest

from flueleaf.domain.judging.drift import Crossing, Dated, Drift, crossing, drift_of
from flueleaf.operations.drift import drift_text, trend_document

LIMIT = Decimal(350)


def csv(*values: object) -> str:
    return "date,value\n" + "".join(f"{2018 + n}-11-25,{value}\n" for n, value in enumerate(values))


def trend(*values: object, limit: Decimal | None = LIMIT) -> dict[str, Any]:
    return trend_document(csv(*values), name="co.csv", limit=limit)


def drift(*values: object) -> Drift:
    return drift_of(Dated(dt.date(2018 + n, 11, 25), Decimal(str(v))) for n, v in enumerate(values))


def test_a_drift_has_its_speed_and_its_day() -> None:
    said = trend(57, 70, 81, 90, 99, 117)
    assert (said["n"], said["significant"], said["method"], said["borderline"]) == (6, True, "exact", False)
    assert said["slope_low"] < said["slope_per_year"] < said["slope_high"]
    assert said["earliest"] < said["reaches_limit_on"] < said["latest"]
    assert said["tau"] == 1.0
    assert said["p_value"] == said["p_corrected"] == pytest.approx(2 / 720)
    assert said["text"].startswith("drift: +11 a year (")
    years = f"({said['earliest'].year} to {said['latest'].year})"
    assert said["text"].endswith(f"), reaches 350 about {said['reaches_limit_on']:%B %Y} {years}")


def test_without_a_limit_no_day_is_asked_for() -> None:
    said = trend(57, 70, 81, 90, 99, 117, limit=None)
    assert said["significant"]
    assert (said["reaches_limit_on"], said["earliest"], said["latest"]) == (None, None, None)
    assert "reaches" not in said["text"]


def test_where_none_can_be_claimed_it_is_said_from_how_many() -> None:
    four = trend(57, 70, 81, 90)
    assert four["text"] == "no drift can be claimed from 4 readings"
    assert (four["significant"], four["reaches_limit_on"], four["latest"]) == (False, None, None)
    assert four["slope_per_year"] is not None
    one = trend(57)
    assert one["text"] == "no drift can be claimed from 1 reading"
    assert (one["n"], one["slope_per_year"], one["tau"], one["method"]) == (1, None, None, "none")


def test_no_text_speaks_of_steadiness() -> None:
    for values in ((57,), (57, 57, 57, 57, 57, 57), (57, 70, 52, 71, 60)):
        text = trend(*values)["text"]
        assert text.startswith("no drift can be claimed from")
        assert not any(word in text for word in ("stable", "steady", "constant", "good"))


def test_the_unit_stands_behind_speed_and_limit() -> None:
    rising = drift(57, 70, 81, 90, 99, 117)
    text = drift_text(rising, "ppm", crossing(rising, LIMIT), LIMIT)
    assert text.startswith("drift: +11 ppm a year (")
    assert "reaches 350 ppm about" in text


def test_small_speeds_keep_two_digits_and_a_minus_is_one() -> None:
    falling = drift("0.0010", "0.0009", "0.0008", "0.0007", "0.0006", "0.0005")
    text = drift_text(falling, "", crossing(falling, Decimal("0.004")), Decimal("0.004"), upwards_only=True)
    assert text == "drift: −0.00010 a year (−0.00010 to −0.00010)"
    assert drift_text(drift(100, 300, 500, 700, 900), "ppm") == "drift: +200 ppm a year (200 to 200)"


def test_a_falling_line_nears_nothing_where_only_more_is_worse() -> None:
    falling = drift(500, 470, 440, 420, 390)
    reached = crossing(falling, LIMIT)
    assert "reaches 350" in drift_text(falling, "", reached, LIMIT)
    assert "350" not in drift_text(falling, "", reached, LIMIT, upwards_only=True)


def test_a_day_gone_by_is_said_so() -> None:
    rising = drift(300, 320, 340, 365, 380)
    reached = crossing(rising, LIMIT)
    assert "by this line 350 was reached about" in drift_text(rising, "", reached, LIMIT)
    later = drift(200, 220, 241, 262, 280)
    reached = crossing(later, LIMIT)
    assert reached.on is not None
    assert ", reaches 350 about" in drift_text(later, "", reached, LIMIT)
    eve = reached.on - dt.timedelta(days=1)
    assert ", reaches 350 about" in drift_text(later, "", reached, LIMIT, today=eve)
    assert "was reached" in drift_text(later, "", reached, LIMIT, today=reached.on)


@pytest.mark.parametrize(
    ("earliest", "latest", "words"),
    [
        (2030, 2040, "(2030 to 2040)"),
        (2033, 2033, "(2033)"),
        (2030, None, "(2030 or later, if at all)"),
        (None, 2040, "(2040 or earlier)"),
        (None, None, "(neither end can be told)"),
    ],
)
def test_the_interval_of_the_day_in_years(earliest: int | None, latest: int | None, words: str) -> None:
    days = [None if year is None else dt.date(year, 7, 1) for year in (earliest, latest)]
    reached = Crossing(dt.date(2033, 7, 1), *days)
    text = drift_text(drift(57, 70, 81, 90, 99, 117), "", reached, LIMIT)
    assert text.endswith(f"reaches 350 about July 2033 {words}")


def test_a_line_that_never_comes_near_has_no_day_in_its_sentence() -> None:
    rising = drift(57, 70, 81, 90, 99, 117)
    assert "350" not in drift_text(rising, "", Crossing(), LIMIT)


def test_a_day_beyond_what_an_appliance_lives_is_not_named() -> None:
    slow = drift(50, 51, 52, 53, 54)
    reached = crossing(slow, LIMIT)
    assert drift_text(slow, "ppm", reached, LIMIT).endswith(
        "; by this line 350 ppm lies more than 40 years ahead (2318 to 2319)"
    )
    this_century = Crossing(dt.date(2062, 12, 31))
    assert ", reaches 350 about December 2062" in drift_text(slow, "", this_century, LIMIT)
    assert "years ahead" in drift_text(slow, "", Crossing(dt.date(2063, 1, 1)), LIMIT)


def test_a_move_without_a_speed_gives_no_day() -> None:
    flat = Drift(9, slope_per_year=0.0, slope_low=0.0, slope_high=0.0, p_value=0.03, p_corrected=0.04)
    assert drift_text(flat, "ppm", Crossing(), LIMIT) == (
        "the 9 readings move one way, by less than their digits can say a year; no date follows"
    )


def test_a_drift_at_the_edge_says_so() -> None:
    assert drift_text(drift(1, 1, 2, 2, 3), "").endswith("; only just to be told from chance")


def test_without_an_interval_none_is_shown() -> None:
    bare = Drift(5, slope_per_year=12.0, p_value=0.01, p_corrected=0.01)
    assert drift_text(bare, "ppm") == "drift: +12 ppm a year"
