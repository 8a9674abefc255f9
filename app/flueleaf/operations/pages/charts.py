"""What the charts of an appliance draw: its readings, the limits that hold, the fuel's combustion line."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from flueleaf.domain.combustion.constants import O2_IN_DRY_AIR_PCT
from flueleaf.domain.combustion.gas import co2_from_o2_pct
from flueleaf.domain.judging.assessment import WORKED_OUT
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.limits import default_tolerances, limits_for, tables_for
from flueleaf.domain.judging.rule_table import OWNERS
from flueleaf.domain.judging.uncertainty import Tolerances
from flueleaf.domain.records.register import Appliance, Instrument, Point
from flueleaf.operations.facts import wording
from flueleaf.operations.page_records import ChartLimits, JudgedRow, ReadingRow
from flueleaf.operations.tables import Tables, tables_of
from flueleaf.storage import register
from flueleaf.storage import visits as stored
from flueleaf.storage.visits.frozen import judged_of_appliance
from flueleaf.storage.visits.results import exact

if TYPE_CHECKING:
    from sqlite3 import Connection

LINE_POINTS = 22
_OF_SOURCE = ("source_text", "edition", "clause")


def fuel_line(fuel: str, tables: Tables) -> tuple[tuple[float, float], ...]:
    """Return O2 % against CO2 % of complete combustion, from no excess air to fresh air."""
    found = tables.fuels[fuel]
    steps = [O2_IN_DRY_AIR_PCT * n / (LINE_POINTS - 1) for n in range(LINE_POINTS - 1)]
    return (*((o2_pct, co2_from_o2_pct(found, o2_pct)) for o2_pct in steps), (O2_IN_DRY_AIR_PCT, 0.0))


def chart_limits(appliance: Appliance, tables: Tables, point: Point = "flue") -> ChartLimits:
    """Return the limits of CO and ratio that hold today at a point."""
    case = _case(appliance, None, tables)
    rules = tables.rules
    found = {
        limit.quantity: (limit.limit, OWNERS if limit.status == OWNERS else limit.source)
        for limit in limits_for(case, tables_for(case, rules), point, "max")
    }
    co_ppm, co_source = found.get("co_ppm", (None, ""))
    ratio, ratio_source = found.get("ratio", (None, ""))
    return ChartLimits(co_ppm, co_source, ratio, ratio_source)


def _case(appliance: Appliance, instrument: Instrument | None, tables: Tables) -> Case:
    return Case(
        date=None,
        fuel=tables.fuels[appliance.fuel],
        kind=tables.kinds[appliance.kind],
        limits=appliance.limits,
        instrument=instrument,
        flue=appliance.flue,
    )


def reading_rows(con: Connection, appliance: Appliance) -> tuple[ReadingRow, ...]:
    """Return every slip of an appliance with its frozen verdicts, oldest first."""
    assert appliance.id is not None
    instruments = {found.name: found for found in register.instruments(con)}
    frozen = judged_of_appliance(con, appliance.id)
    tables = tables_of(con)
    rows = []
    for past in stored.history(con, appliance.id):
        judged = frozen.get((past.visit_id, past.point, past.rate, past.attempt), [])
        width = _half_widths(appliance, instruments.get(past.instrument), tables)
        rows.append(
            ReadingRow(
                date=past.date,
                visit_id=past.visit_id,
                point=past.point,
                rate=past.rate,
                attempt=past.attempt,
                values=past.values,
                ratio=past.ratio,
                verdict=past.verdict,
                decides=past.decides,
                instrument=past.instrument,
                judged=tuple(_judged_row(each) for each in judged),
                adjusted=past.adjusted,
                fuel=past.fuel,
                co_tolerance_ppm=_at(width, "co_ppm", past.values.get("co_ppm")),
                ratio_tolerance=_ratio_width(judged),
            )
        )
    return tuple(rows)


def _half_widths(appliance: Appliance, instrument: Instrument | None, tables: Tables) -> Tolerances:
    case = _case(appliance, instrument, tables)
    return Tolerances.of(instrument, default_tolerances(case, tables.rules))


def _at(widths: Tolerances, key: str, value: Decimal | None) -> float | None:
    return None if value is None else float(widths.half_width(key, value))


def _ratio_width(judged: Sequence[dict[str, Any]]) -> float | None:
    """Return the half-width of the ratio as judged then: a rectangle's, from its standard uncertainty."""
    for each in judged:
        if each["quantity"] == "ratio" and each.get("standard_uncertainty") is not None:
            return float(each["standard_uncertainty"]) * 3**0.5
    return None


def cross(con: Connection, appliance: Appliance, history: Sequence[ReadingRow]) -> tuple[float, float]:
    """Return half-widths of O2 and CO2, of the instrument read with last, for the crosses of a chart."""
    name = history[-1].instrument if history else ""
    known = [found for found in register.instruments(con) if found.name == name]
    widths = _half_widths(appliance, known[0] if known else None, tables_of(con))
    return float(widths.half_width("o2_pct", Decimal(0))), float(widths.half_width("co2_pct", Decimal(0)))


def _judged_row(judged: dict[str, Any]) -> JudgedRow:
    value, limit, margin = (exact(judged.get(key)) for key in ("value", "limit", "margin"))
    text = ""
    if value is not None:
        computed = judged.get("basis") in WORKED_OUT
        text = wording.value_text(judged["quantity"], Fraction(value) if computed else value, limit)
    return JudgedRow(
        quantity=judged["quantity"],
        value=value,
        value_text=text,
        limit=None if limit is None else Decimal(wording.value_text(judged["quantity"], limit)),
        sense=judged["sense"],
        source=judged["source"],
        verdict=judged["verdict"],
        margin=margin,
        basis=judged.get("basis", "measured"),
        standard_uncertainty=judged.get("standard_uncertainty"),
        status=judged.get("status") or "",
        limit_source=", ".join(part for key in _OF_SOURCE if (part := judged.get(key))),
    )
