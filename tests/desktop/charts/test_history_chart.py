from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal
from types import SimpleNamespace

import pytest
from matplotlib import dates
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from flueleaf.desktop.charts import history_chart
from flueleaf.desktop.charts.combustion_chart import combustion_words
from flueleaf.desktop.charts.history_chart import HistoryChart, days_formatter, flue_rows, history_words
from flueleaf.desktop.theme import current
from flueleaf.domain.records.register import Appliance, Customer, Point, Premises, Rate
from flueleaf.operations.drifts import drifts_of
from flueleaf.operations.pages import AppliancePage, ChartLimits, ReadingRow

EMPTY = AppliancePage(Appliance("condensing boiler"), Premises(("3 Quay Lane",)), Customer("Ines Dunnaker"))


def slip(
    year: int, rate: Rate, co: str, verdict: str, *, point: Point = "flue", decides: bool = True
) -> ReadingRow:
    values = {"o2_pct": Decimal("4.8"), "co2_pct": Decimal("9.1"), "co_ppm": Decimal(co)}
    return ReadingRow(dt.date(year, 11, 25), f"v{year}", point, rate, 1, values, 0.0007, verdict, decides)


HISTORY = (
    slip(2024, "max", "57", "within"),
    slip(2024, "max", "900", "over", decides=False),
    slip(2024, "max", "0", "within", point="air inlet"),
    slip(2024, "min", "18", "within"),
    slip(2025, "max", "61", "near"),
)
PAGE = replace(
    EMPTY,
    history=HISTORY,
    last=HISTORY[-1:],
    limits=ChartLimits(Decimal(350), "table", Decimal("0.0040"), "maker"),
    o2_tolerance_pct=0.3,
    co2_tolerance_pct=0.2,
)


def test_only_the_flue_is_charted() -> None:
    assert len(flue_rows(PAGE)) == 4


def test_the_words_say_readings_rates_and_limits() -> None:
    assert history_words(PAGE) == (
        "At high rate: 2 readings, CO 57 to 61 ppm; last 25 Nov 2025, near. "
        "At low rate: 1 reading, CO 18 ppm; last 25 Nov 2024, within. "
        "1 earlier attempt superseded by a later one, 1 of them over. "
        "Rule table’s limit 350 ppm CO; maker’s limit 0.004 CO/CO2 ratio."
    )


def test_nothing_is_said_of_nothing() -> None:
    assert history_words(EMPTY) == "No flue readings yet."
    assert combustion_words(EMPTY) == "No slip with both O2 and CO2 yet."
    assert history_words(replace(PAGE, limits=ChartLimits())).endswith("No limit applies.")


def test_the_combustion_words_say_the_last_visit_and_the_crosses() -> None:
    assert combustion_words(PAGE) == (
        "25 Nov 2025: high rate O2 4.8 %, CO2 9.1 %. The line is complete combustion of natural gas; "
        "the crosses are the analyser’s tolerance, ±0.3 % O2, ±0.2 % CO2."
    )


def test_the_days_under_the_chart_are_named_by_the_window(monkeypatch: pytest.MonkeyPatch) -> None:
    days = [dt.date(2025, month, 1) for month in (11, 12)] + [dt.date(2026, month, 1) for month in (1, 2, 3)]
    formatter = days_formatter(SimpleNamespace(dates=dates), dates.AutoDateLocator(minticks=3, maxticks=8))
    assert formatter.format_ticks(dates.date2num(days)) == ["Nov", "Dec", "2026", "Feb", "Mar"]
    monkeypatch.setattr(history_chart, "short_month", lambda month: f"month {month}")
    assert formatter.format_ticks(dates.date2num(days))[-1] == "month 3"


@pytest.mark.usefixtures("keeper")
def test_a_drift_is_drawn_only_where_it_can_be_claimed() -> None:
    def page(*values: str) -> AppliancePage:
        rows = tuple(slip(2020 + n, "max", value, "within") for n, value in enumerate(values))
        limits = ChartLimits(Decimal(350), "table")
        return replace(EMPTY, history=rows, limits=limits, drifts=drifts_of(rows, "natural gas", limits))

    assert drawn_drifts(page("60", "71", "80", "92")) == []
    rising = page("60", "71", "80", "92", "99")
    co = next(row.drift for row in rising.drifts if row.quantity == "co_ppm")
    assert co.first is not None
    assert co.last is not None
    ends = [
        (co.value_on(co.first, slope), co.value_on(co.last, slope))
        for slope in (co.slope_per_year, co.slope_low, co.slope_high)
    ]
    assert drawn_drifts(rising) == ends


def drawn_drifts(page: AppliancePage) -> list[tuple[float, float]]:
    """Return the ends of the lines of drift in the chart of CO, in the order drawn."""
    figure = Figure()
    library = SimpleNamespace(dates=dates, family="sans-serif", MaxNLocator=MaxNLocator)
    HistoryChart(page).draw(library, figure, current())
    lower = figure.axes[1]
    return [
        tuple(line.get_ydata()) for line in lower.lines if line.get_zorder() == history_chart.DRIFT_ZORDER
    ]
