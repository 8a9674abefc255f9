"""The verdict on one appliance: limits, physics, doubts and last time, slip by slip, and the whole."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from flueleaf.domain.combustion.slip_figures import SlipFigures, slip_figures
from flueleaf.domain.judging.assessment import Assessment, SlipAssessment, worst
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.changes import changed_since_last
from flueleaf.domain.judging.doubts import (
    after_doubts,
    calibration_expired,
    contradicted,
    no_second_witness,
    placed,
    slip_doubts,
)
from flueleaf.domain.judging.limits import default_tolerances, limits_for, tables_for, unsourced
from flueleaf.domain.judging.next_steps import next_steps
from flueleaf.domain.judging.procedure import missing_slips, opened_points
from flueleaf.domain.judging.rate_doubts import rates_swapped
from flueleaf.domain.judging.readings import Readings, read
from flueleaf.domain.judging.repairs import asked
from flueleaf.domain.judging.rule_table import RuleTable
from flueleaf.domain.judging.stopping import stopped_by
from flueleaf.domain.judging.uncertainty import Tolerances
from flueleaf.domain.judging.verdict import judge_slip, ratio_text, slip_verdict
from flueleaf.domain.judging.walk import Evidence, Walk, walk
from flueleaf.domain.records.visits import Slip


@dataclass(frozen=True, slots=True)
class _Basis:
    """What every slip of a case is judged by."""

    tables: tuple[RuleTable, ...]
    defaults: RuleTable
    tolerances: Tolerances


def assess(case: Case, rules: Iterable[RuleTable]) -> Assessment:
    """Return the verdict on one appliance.

    The last attempt of each point and rate decides, all attempts are judged and kept. The air outdoors, where
    no limit applies, is what a room is held against: it leaves the whole to the other slips. Any readings in
    the accepted ranges get an answer.

    Args:
        case: the appliance with its slips.
        rules: every edition of every rule table; the day of the work chooses.

    Raises:
        LookupError: a table that the kind names is not among the rules, or two editions count on one day.
    """
    known = tuple(rules)
    defaults = default_tolerances(case, known)
    basis = _Basis(tables_for(case, known), defaults, Tolerances.of(case.instrument, defaults))
    slips = tuple(_assess_slip(case, slip, basis) for slip in case.slips)
    deciding = tuple(slip for slip in slips if slip.decides)
    doubts = (
        *calibration_expired(case),
        *no_second_witness(case),
        *unsourced(case, basis.tables),
        *(doubt for slip in deciding for doubt in slip.doubts),
    )
    missing = missing_slips(case.kind, case.purpose, case.slips, case.not_measured, flue=case.flue)
    stops = stopped_by(case.kind, case.answers or {}, case.flue)
    way = _walk(case, slips)
    return Assessment(
        verdict=worst(slip.verdict for slip in deciding if not slip.baseline),
        slips=slips,
        doubts=doubts,
        next_steps=next_steps(deciding, doubts, missing, way, stops=stops),
        missing=missing,
        tolerance=basis.tolerances.name,
        walk=way,
    )


def _walk(case: Case, slips: tuple[SlipAssessment, ...]) -> Walk | None:
    """Return the way through the procedure, as far as what is written down goes."""
    if case.procedure is None:
        return None
    opened = opened_points(case.slips, case.close_up)
    evidence = Evidence(
        slips=slips,
        answers=case.answers,
        asked=_asked(case),
        wanted=frozenset((one.point, one.rate) for one in case.kind.slips_for(case.purpose, case.flue)),
        not_measured=case.not_measured,
        open_points=[point for point in opened if case.close_up.get(point, True) is not True],
        untold_points=[point for point in opened if point not in case.close_up],
        opened=bool(opened),
        outcome=case.outcome,
        purpose=case.purpose,
        overrides=case.overrides,
    )
    return walk(case.procedure, evidence)


def _asked(case: Case) -> frozenset[str]:
    if case.purpose is None:
        return frozenset()
    asked = case.kind.checks_for(case.purpose, flue=case.flue)
    return frozenset(check.key for check in asked)


def _assess_slip(case: Case, slip: Slip, basis: _Basis) -> SlipAssessment:
    readings = read(slip, case.fuel, basis.tolerances)
    judged = judge_slip(readings, limits_for(case, basis.tables, slip.point, slip.rate))
    decides = _decides(case, slip)
    doubts = slip_doubts(case, readings)
    if decides:
        doubts += changed_since_last(case, readings, judged, basis.defaults)
        doubts += tuple(placed(doubt, slip) for doubt in rates_swapped(case, readings, basis.defaults))
    if doubts:
        doubts = asked(case, readings, judged, basis.defaults, doubts)
    judged = after_doubts(judged, doubts)
    ratio = readings.ratios[0].value if readings.ratios else None
    return SlipAssessment(
        point=slip.point,
        rate=slip.rate,
        attempt=slip.attempt,
        decides=decides,
        verdict=slip_verdict(judged),
        baseline=slip.point == "outdoors" and not judged and not contradicted(doubts),
        values=slip.values,
        o2_pct=readings.o2_pct.value if readings.o2_pct else None,
        co2_pct=readings.co2_pct.value if readings.co2_pct else None,
        derived=readings.derived,
        ratio=ratio,
        ratio_text="" if ratio is None else ratio_text(ratio, judged),
        figures=_figures(case, slip, readings),
        judged=judged,
        doubts=doubts,
        adjusted=slip.adjusted,
        air_humidity_pct=slip.air_humidity_pct,
    )


def _decides(case: Case, slip: Slip) -> bool:
    """Tell whether no later attempt of the same point and rate was made."""
    return all(
        other.attempt <= slip.attempt
        for other in case.slips
        if (other.point, other.rate) == (slip.point, slip.rate)
    )


def _figures(case: Case, slip: Slip, readings: Readings) -> SlipFigures:
    """Return the figures of a flue slip from what was measured; other points have none."""
    if readings.slip.point != "flue":
        return SlipFigures()
    measured = {key: float(value) for key, value in slip.values.items()}
    return slip_figures(
        case.fuel,
        o2_pct=measured.get("o2_pct"),
        co2_pct=measured.get("co2_pct"),
        co_ppm=measured.get("co_ppm"),
        no_ppm=measured.get("no_ppm"),
        flue_c=measured.get("flue_c"),
        air_c=measured.get("air_c"),
        air_humidity_pct=None if slip.air_humidity_pct is None else float(slip.air_humidity_pct),
        # The meter is read at maximum rate: it tells nothing of another.
        input_net_kw=case.input_net_kw_max if slip.rate == "max" else None,
    )
