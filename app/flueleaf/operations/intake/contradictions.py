"""What a visit's document may not say of itself: each value is fine alone, but two of them disagree."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from flueleaf.domain.judging.stopping import not_simply_in_use
from flueleaf.domain.problems import Fault
from flueleaf.domain.records.register import Appliance
from flueleaf.domain.records.visits import Visit, Work
from flueleaf.domain.words import said

UNSAFE = ("immediately dangerous", "at risk")
SIGNED = ("signed", "signed on paper")
# One day of grace on each side: the instant's own offset may put it on the neighbouring day.
GRACE = dt.timedelta(days=1)


def contradictions(visit: Visit, today: dt.date) -> Iterator[Fault]:
    """Yield a fault for each pair of statements that cannot both hold."""
    yield from _times(visit, today)
    if visit.sign_off and visit.sign_off.customer in SIGNED and not visit.sign_off.customer_name:
        yield Fault("sign_off.customer_name", "", said("the name of who signed"))
    seen: dict[tuple[str, ...], int] = {}
    for n, work in enumerate(visit.works):
        first = seen.setdefault(_identity(work.appliance), n)
        if first != n:
            typed = work.appliance.serial or f"{work.appliance.kind}, {work.appliance.location}"
            yield Fault(
                f"works[{n}].appliance",
                typed,
                said("another appliance than that of works[{first}]", first=first),
            )
        yield from _work(visit, work, f"works[{n}]")


def _times(visit: Visit, today: dt.date) -> Iterator[Fault]:
    if visit.arrived and visit.left and visit.left < visit.arrived:
        yield Fault(
            "left",
            f"{visit.left:%H:%M}",
            said("a time not before the arrival at {arrival}", arrival=f"{visit.arrived:%H:%M}"),
        )
    issued = visit.issued_at.date() if visit.issued_at else None
    if issued and visit.issued_at and not (visit.date <= issued + GRACE and issued - GRACE <= today):
        accepted = said("an instant from the visit of {date} to today, {today}", date=visit.date, today=today)
        yield Fault("issued_at", visit.issued_at.isoformat(), accepted)


def _identity(appliance: Appliance) -> tuple[str, ...]:
    """Return what the register knows an appliance by: its serial, else kind and location."""
    if appliance.serial:
        return ("serial", "".join(appliance.serial.casefold().split()))
    return ("place", appliance.kind, " ".join(appliance.location.casefold().split()))


def _work(visit: Visit, work: Work, where: str) -> Iterator[Fault]:
    installed, rated = work.appliance.installed, work.appliance.rated_input
    if installed and installed > visit.date:
        accepted = said("a date not after the visit of {date}", date=visit.date)
        yield Fault(f"{where}.appliance.installed", installed.isoformat(), accepted)
    if rated and rated.min_kw and rated.max_kw and rated.min_kw > rated.max_kw:
        accepted = said("at most max_kw, {max_kw:f}", max_kw=rated.max_kw)
        yield Fault(f"{where}.appliance.rated_input.min_kw", f"{rated.min_kw:f}", accepted)
    if work.outcome == "left in use" and any(defect.defect_class in UNSAFE for defect in work.defects):
        yield not_simply_in_use(said("a defect was classed as unsafe"), f"{where}.")
    keys = [check.key for check in work.checks]
    for n, key in enumerate(keys):
        if key in keys[:n]:
            yield Fault(f"{where}.checks[{n}].key", key, said("each check once"))
    measured = {(slip.point, slip.rate) for slip in work.slips}
    for n, entry in enumerate(work.not_measured):
        if (entry.point, entry.rate) in measured:
            typed = f"{entry.point} at {entry.rate}"
            yield Fault(
                f"{where}.not_measured[{n}]", typed, said("a point and rate of which no slip is given")
            )
