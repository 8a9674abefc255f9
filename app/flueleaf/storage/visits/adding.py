"""A visit with everything found, added in one go; verdicts are frozen as they were reached."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from flueleaf.domain.judging.assessment import worst
from flueleaf.domain.records.visits import Slip, Visit, Work
from flueleaf.storage.lines import add_lines
from flueleaf.storage.rows import decimal_text, dump, insert, iso
from flueleaf.storage.visits.results import digits, doubt_row, judged_row, without

if TYPE_CHECKING:
    from sqlite_utils import Database

Result = Mapping[str, Any]


def add_visit(tx: Database, visit: Visit, assessments: Sequence[Result]) -> int:
    """Add a visit and return the number of its row.

    Args:
        tx: the open transaction.
        visit: customer, premises, appliances and instruments carry the ids of their rows.
        assessments: one per work: the result of ``assess``, a result per slip in the order of the slips.

    Raises:
        ValueError: a record without id, or results that do not fit works and slips.
        sqlite3.IntegrityError: a visit of that ``visit_id`` is there already.
    """
    if len(assessments) != len(visit.works):
        raise ValueError(f"{len(visit.works)} works, but {len(assessments)} results")
    row = {
        "visit_id": visit.visit_id,
        "purpose": visit.purpose,
        "date": iso(visit.date),
        "arrived": iso(visit.arrived),
        "left_at": iso(visit.left),
        "customer_id": _id(visit.customer.id, "customer"),
        "premises_id": _id(visit.premises.id, "premises"),
        "signed_by": visit.sign_off.customer_name if visit.sign_off else None,
        "signature": visit.sign_off.customer if visit.sign_off else None,
        "papers": dump(visit.papers),
        "issued_at": iso(visit.issued_at),
    }
    number = insert(tx, "visit", row)
    for position, (work, result) in enumerate(zip(visit.works, assessments, strict=True)):
        _add_work(tx, number, position, work, result)
    add_lines(tx, "visit_ref", number, visit.lines)
    return number


def _add_work(tx: Database, visit_ref: int, position: int, work: Work, result: Result) -> None:
    slip_results: Sequence[Result] = result.get("slips", ())
    if len(slip_results) != len(work.slips):
        raise ValueError(f"work {position + 1}: {len(work.slips)} slips, but {len(slip_results)} results")
    instrument = work.instrument
    row = {
        "visit_ref": visit_ref,
        "position": position,
        "appliance_id": _id(work.appliance.id, "appliance"),
        "instrument_id": _id(instrument.id, "instrument") if instrument else None,
        "calibration_due": iso(instrument.calibration_due) if instrument else None,
        "supply": dump(_supply_json(work)),
        "outcome": work.outcome,
        "overrides": dump([{"step": one.step, "reason": one.reason} for one in work.overrides]),
        "verdict": result.get("verdict", "unjudged"),
        "result": dump(without(result, "slips", "doubts")),
    }
    work_id = insert(tx, "work", row)
    deciding = _deciding(work.slips)
    for n, (slip, slip_result) in enumerate(zip(work.slips, slip_results, strict=True)):
        _add_slip(tx, (work_id, n), slip, slip_result, decides=n in deciding)
    for n, doubt in enumerate(result.get("doubts", ())):
        insert(tx, "doubt", {"work_id": work_id, "slip_id": None, "position": n, **doubt_row(doubt, ())})
    _add_found(tx, work_id, work)


def _add_slip(tx: Database, place: tuple[int, int], slip: Slip, result: Result, *, decides: bool) -> None:
    work_id, position = place
    judged: Sequence[Result] = result.get("judged", ())
    row = {
        "work_id": work_id,
        "position": position,
        "point": slip.point,
        "rate": slip.rate,
        "attempt": slip.attempt,
        "decides": int(decides),
        "confirmed": dump(slip.confirmed),
        "air_humidity_pct": decimal_text(slip.air_humidity_pct),
        "adjusted": int(slip.adjusted),
        "settled": None if slip.settled is None else int(slip.settled),
        "ratio": digits(result.get("ratio")),
        "verdict": result.get("verdict") or worst(one["verdict"] for one in judged),
        "computed": dump(without(result, "judged", "doubts")),
    }
    slip_id = insert(tx, "slip", row)
    for quantity in [*slip.values, *(key for key in slip.typed if key not in slip.values)]:
        value, typed = decimal_text(slip.values.get(quantity)), slip.typed.get(quantity)
        tx.execute("INSERT INTO reading VALUES (?, ?, ?, ?)", (slip_id, quantity, value, typed))
    for n, one in enumerate(judged):
        insert(tx, "judged", {"slip_id": slip_id, "position": n, **judged_row(one)})
    for n, doubt in enumerate(result.get("doubts", ())):
        row = {"work_id": work_id, "slip_id": slip_id, "position": n, **doubt_row(doubt, slip.confirmed)}
        insert(tx, "doubt", row)


def _add_found(tx: Database, work_id: int, work: Work) -> None:
    for n, check in enumerate(work.checks):
        tx.execute(
            "INSERT INTO check_answer VALUES (?, ?, ?, ?, ?)",
            (work_id, n, check.key, check.answer, check.note),
        )
    for n, defect in enumerate(work.defects):
        row = (work_id, n, defect.text, defect.defect_class, defect.action)
        tx.execute("INSERT INTO defect VALUES (?, ?, ?, ?, ?)", row)
    for n, (point, refitted) in enumerate(work.close_up.items()):
        word = refitted if isinstance(refitted, str) else ("no", "yes")[refitted]
        tx.execute("INSERT INTO close_up VALUES (?, ?, ?, ?)", (work_id, n, point, word))
    for n, gap in enumerate(work.not_measured):
        tx.execute(
            "INSERT INTO not_measured VALUES (?, ?, ?, ?, ?)", (work_id, n, gap.point, gap.rate, gap.reason)
        )
    for n, (key, text) in enumerate(work.notes.items()):
        tx.execute("INSERT INTO noted VALUES (?, ?, ?, ?)", (work_id, n, key, text))


def _deciding(slips: Sequence[Slip]) -> set[int]:
    """Return the places of the last attempts of every point and rate."""
    last: dict[tuple[str, str], int] = {}
    for n in sorted(range(len(slips)), key=lambda n: (slips[n].attempt, n)):
        last[slips[n].point, slips[n].rate] = n
    return set(last.values())


def _supply_json(work: Work) -> dict[str, Any]:
    supply = work.supply
    return {
        "standing_mbar": decimal_text(supply.standing_mbar),
        "working_mbar": decimal_text(supply.working_mbar),
        "inlet_mbar": decimal_text(supply.inlet_mbar),
        "gas_rate": supply.gas_rate,
        "tightness": supply.tightness,
    }


def _id(number: int | None, what: str) -> int:
    if number is None:
        raise ValueError(f"the {what} of a visit is added to the register first")
    return number
