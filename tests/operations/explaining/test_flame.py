"""Every figure of a flame is told: none is left without a formula, and the last step ends in the figure."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from decimal import Decimal

import pytest

from flueleaf.domain.combustion.slip_figures import SlipFigures
from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.assessment import SlipAssessment
from flueleaf.domain.judging.case import Case
from flueleaf.domain.records.visits import Slip
from flueleaf.operations.explaining.draft import explain_assessment
from flueleaf.operations.explaining.explanation import Explanation
from flueleaf.operations.explaining.flame import BY_KEY, FLAME, SHARES, flame_value
from flueleaf.operations.tables import shipped

READINGS = {"o2_pct": "4.8", "co2_pct": "9.1", "co_ppm": "61", "no_ppm": "30", "flue_c": "44", "air_c": "18"}
KEYS = {entry.name for entry in dataclasses.fields(SlipFigures)}


def _told(
    fuel: str, kind: str, humidity: str | None = None, **other: str
) -> tuple[SlipAssessment, dict[str, Explanation]]:
    tables = shipped()
    values = {key: Decimal(text) for key, text in (READINGS | other).items()}
    wet = None if humidity is None else Decimal(humidity)
    slip = Slip(point="flue", rate="max", values=values, air_humidity_pct=wet)
    case = Case(
        date=dt.date(2026, 11, 25), fuel=tables.fuels[fuel], kind=tables.kinds[kind], slips=(slip,),
        input_net_kw_max=24.0,
    )  # fmt: skip
    assessment = assess(case, tables.rules)
    found = explain_assessment(case, assessment, case.slips)
    return assessment.slips[0], {one.key.rpartition(".")[2]: one for one in found}


def test_every_figure_has_its_entry_once() -> None:
    assert set(BY_KEY) == KEYS
    assert len(FLAME) == len(KEYS)


@pytest.mark.parametrize(
    ("fuel", "kind"),
    [("natural gas", "condensing boiler"), ("propane", "condensing boiler"), ("gas oil", "oil boiler")],
)
def test_the_last_step_is_the_figure(fuel: str, kind: str) -> None:
    slip, told = _told(fuel, kind, "60", co2_pct="9.1" if fuel == "natural gas" else "10.5")
    figures = dataclasses.asdict(slip.figures)
    assert {key for key, value in figures.items() if value is not None} <= set(told)
    for key in KEYS & set(told):
        one = told[key]
        number = re.findall(r"−?\d+(?:\.\d+)?(?=[…\s]|$)", one.steps[-1])
        written = [float(text.replace("−", "-")) for text in number]
        assert any(value == pytest.approx(figures[key], rel=1e-8) for value in written), one.steps
        assert one.result == f"{flame_value(slip.figures, key)} {BY_KEY[key].unit}".strip()
        assert one.formula
        assert one.source


def test_a_condensed_share_is_shown_in_percent() -> None:
    slip, told = _told("natural gas", "condensing boiler")
    share = slip.figures.condensed_fraction
    assert share is not None
    assert {"condensed_fraction"} == SHARES
    assert told["condensed_fraction"].result == f"{100 * share:.1f} %"


def test_each_basis_is_named() -> None:
    _, told = _told("natural gas", "condensing boiler")
    assert "Siegert" in told["loss_siegert_pct"].title
    assert "BS 845 style" in told["efficiency_net_bs845_pct"].title
    assert "upper bound" in told["efficiency_gross_condensing_pct"].title
    assert "short form" in told["excess_air_short_pct"].title
    assert [one.name for one in told["condensate_l_per_h"].inputs][-2:] == ["net heat input", "fuel"]
    assert "dew_point_humid_c" not in told


def test_what_the_readings_do_not_give_is_not_told() -> None:
    for wrong in ({"o2_pct": "21.0", "co2_pct": "0.0"}, {"flue_c": "10"}):
        slip, told = _told("natural gas", "condensing boiler", **wrong)
        absent = {key for key, value in dataclasses.asdict(slip.figures).items() if value is None}
        assert "efficiency_net_pct" in absent
        assert not absent & set(told)
