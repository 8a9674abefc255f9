"""An appliance without a flue has a chart for each point where it was measured, and none where it was not."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal
from types import SimpleNamespace

import pytest
from matplotlib import dates
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from flueleaf.desktop.charts.flueless_chart import FluelessChart, flueless_words, measured_at
from flueleaf.desktop.theme import current
from flueleaf.domain.records.register import Appliance, Customer, Point, Premises
from flueleaf.operations.pages import AppliancePage, ChartLimits, ReadingRow

COOKER = AppliancePage(
    Appliance("cooker", flue="none"), Premises(("3 Quay Lane",)), Customer("Ines Dunnaker")
)


def slip(
    year: int, point: Point, co: str | None, ratio: float | None, verdict: str, *, decides: bool = True
) -> ReadingRow:
    values = {} if co is None else {"co_ppm": Decimal(co)}
    return ReadingRow(dt.date(year, 11, 25), f"v{year}", point, "max", 1, values, ratio, verdict, decides)


HISTORY = (
    slip(2024, "outdoors", "0", None, "unjudged"),
    slip(2024, "oven", "48", 0.0025, "within"),
    slip(2024, "room", "19", None, "over", decides=False),
    slip(2024, "room", "3", None, "within"),
    slip(2025, "room", "3", None, "within"),
    slip(2025, "grill", "90", None, "unjudged"),
    slip(2025, "oven", "260", 0.0137, "over"),
)
PAGE = replace(
    COOKER,
    history=HISTORY,
    limits_at={"oven": ChartLimits(ratio=Decimal("0.009"), ratio_source="owner")},
)


def test_what_is_measured_at_each_point_is_drawn_and_the_baseline_is_not() -> None:
    assert measured_at(PAGE) == [("grill", "co_ppm"), ("oven", "ratio"), ("room", "co_ppm")]
    assert measured_at(COOKER) == []
    assert measured_at(replace(COOKER, history=HISTORY[:1])) == []


def test_the_words_say_point_by_point_what_was_read_and_whose_limit_stands() -> None:
    assert flueless_words(PAGE) == (
        "CO, grill: at high rate 1 reading, 90; last 25 Nov 2025, unjudged; no limit is known. "
        "CO/CO2 ratio, oven: at high rate 2 readings, 0.0025 to 0.0137; last 25 Nov 2025, over; "
        "your own limit 0.009. "
        "CO, room: at high rate 2 readings, 3; last 25 Nov 2025, within; no limit is known. "
        "1 earlier attempt superseded by a later one, 1 of them over."
    )


@pytest.mark.usefixtures("keeper")
def test_each_point_has_its_own_chart_with_its_own_limit() -> None:
    figure = Figure()
    library = SimpleNamespace(dates=dates, family="sans-serif", MaxNLocator=MaxNLocator)
    FluelessChart(PAGE).draw(library, figure, current())
    grill, oven, room = figure.axes
    titles = [next(text.get_text() for text in axes.texts) for axes in figure.axes]
    assert titles == ["CO, grill, ppm", "CO/CO2 ratio, oven", "CO, room, ppm"]
    # A limit is written at its line; the line lies level from side to side.
    limits = [[text.get_text() for text in axes.texts if "limit" in text.get_text()] for axes in figure.axes]
    assert limits == [[], ["your own limit 0.009"], []]
    assert [0.009, 0.009] in [list(line.get_ydata()) for line in oven.lines]
    assert grill.get_xlim() == oven.get_xlim() == room.get_xlim()
    assert 19.0 in {line.get_ydata()[0] for line in room.lines}  # a superseded attempt has its mark
