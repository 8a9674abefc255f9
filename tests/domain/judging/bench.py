"""Short ways to set up a case; not a test."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.assessment import Assessment, Judged, SlipAssessment
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.records.register import Instrument, MakerLimits, Point, Rate, Tolerance, Window
from flueleaf.domain.records.visits import Slip
from flueleaf.storage.tables.fuels import load_fuels
from flueleaf.storage.tables.kinds import load_kinds
from flueleaf.storage.tables.rules import load_rules

DAY = dt.date(2026, 11, 26)
GAS = load_fuels()["natural gas"]
PROPANE = load_fuels()["propane"]
BOILER: Kind = load_kinds()["condensing boiler"]
FIRE: Kind = load_kinds()["gas fire"]
RULES = load_rules()
ANALYSER = Instrument(
    name="analyser 1",
    calibration_due=dt.date(2027, 3, 1),
    tolerance={
        "co_ppm": Tolerance(Decimal(10), Decimal("0.05")),
        "o2_pct": Tolerance(Decimal("0.3")),
        "co2_pct": Tolerance(Decimal("0.3")),
    },
)


OF_SLIP = ("attempt", "confirmed", "air_humidity_pct", "settled")


def slip(point: Point, rate: Rate = "max", **values: Any) -> Slip:
    """Return a slip; measured values as text or int, other fields under their own names."""
    own = {key: values.pop(key) for key in OF_SLIP if key in values}
    return Slip(point, rate, {key: Decimal(value) for key, value in values.items()}, **own)


def flue(rate: Rate = "max", **values: Any) -> Slip:
    """Return a good flue slip of natural gas with some values changed; None leaves one out."""
    good = {"o2_pct": "4.8", "co2_pct": "9.1", "co_ppm": 61} | values
    return slip("flue", rate, **{key: value for key, value in good.items() if value is not None})


def air_inlet(**values: Any) -> Slip:
    """Return a good air-inlet slip with some values changed; None leaves one out."""
    good = {"o2_pct": "20.9", "co2_pct": "0.0"} | values
    return slip("air inlet", **{key: value for key, value in good.items() if value is not None})


def case(*slips: Slip, **fields: Any) -> Case:
    """Return a case of a condensing boiler on natural gas with the analyser."""
    given = {"date": DAY, "fuel": GAS, "kind": BOILER, "instrument": ANALYSER} | fields
    return Case(slips=slips, **given)


def judge(*slips: Slip, **fields: Any) -> Assessment:
    """Return the assessment of a case."""
    return assess(case(*slips, **fields), RULES)


def judge_one(one: Slip, **fields: Any) -> SlipAssessment:
    """Return the assessment of one slip."""
    return judge(one, **fields).slips[0]


def limits(**fields: Any) -> MakerLimits:
    """Return maker's limits; numbers as text, windows as pairs of text by rate."""
    given: dict[str, Any] = {}
    for key, value in fields.items():
        if key in ("co2_pct", "o2_pct"):
            given[key] = {rate: Window(Decimal(a), Decimal(b)) for rate, (a, b) in value.items()}
        else:
            given[key] = value if key == "source" else Decimal(value)
    return MakerLimits(**given)


def verdicts(one: SlipAssessment) -> list[tuple[str, str]]:
    """Return quantity and verdict of everything judged."""
    return [(judged.quantity, judged.verdict) for judged in one.judged]


def of(one: SlipAssessment, quantity: str) -> Judged:
    """Return the first verdict on a quantity."""
    return next(judged for judged in one.judged if judged.quantity == quantity)


def codes(found: Assessment | SlipAssessment) -> list[str]:
    """Return the codes of the doubts."""
    return [doubt.code for doubt in found.doubts]
