"""What is left before sign-off: each fault of the judgement as a line that leads to its field."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.lines_part import LinesPart
from flueleaf.desktop.visit.work_panel import WorkPanel
from flueleaf.domain.problems import Fault
from flueleaf.domain.records.business import Business
from flueleaf.operations.drafting import Judgement
from flueleaf.operations.facts.wording import RATE_NAMES
from flueleaf.operations.issuing import issuer_faults

Find = Callable[[str], Field | None]


@dataclass(frozen=True, slots=True)
class Left:
    """One thing still open.

    Attributes:
        text: what it is, for the list.
        field: where it is put right.
        message: what is said at the field when sign-off is tried.
        holds_up: whether sign-off waits for it.
        place: the leaf on which it is put right, where that is another one.
    """

    text: str
    field: Field | None
    message: str
    holds_up: bool = True
    place: Place | None = None


def all_left(judgement: Judgement, works: Sequence[WorkPanel], lines: LinesPart, find: Find) -> list[Left]:
    """Return everything that sign-off waits for, each field once."""
    several = len(works) > 1
    found: list[Left] = []
    missing = {n: list(one.missing) for n, one in enumerate(judgement.assessments)}
    for fault in (*judgement.faults, *judgement.blocks):
        number = _work_number(fault.where)
        where = f"{works[number].name}: " if several and number is not None and number < len(works) else ""
        if fault.where.endswith("].slips") and number is not None and missing.get(number):
            slip = missing[number].pop(0)
            combustion = works[number].combustion
            if combustion is None:  # the kind is not said yet, so neither is which slips it wants
                continue
            field = combustion.field_of(slip)
            words = f"slip of the {slip.point}, {RATE_NAMES[slip.rate]}"
            found.append(
                Left(f"{where}{words}", field, f"Type the {words}, or why it could not be measured.")
            )
        else:
            found.append(plain(fault, find(fault.where), where))
    return once([*found, *without_rate(lines)])


def without_rate(lines: LinesPart) -> list[Left]:
    """Return the VAT rates that are still to be typed."""
    return [
        Left("VAT rate of a line", field, "Type the rate in %, 0 where the line is zero-rated.")
        for field in lines.without_rate()
    ]


def unnamed(business: Business) -> list[Left]:
    """Return the name that papers are issued under, where the book does not know it yet."""
    if not issuer_faults(business):
        return []
    return [Left("your own name, for the papers", None, "", place=Place("business_form", "own"))]


def unanswered(works: Sequence[WorkPanel]) -> list[Left]:
    """Return the checks without an answer, a line a stage; sign-off does not wait for them."""
    found = []
    for work in works:
        for part in work.stages:
            if open_lines := part.unanswered():
                count = len(open_lines)
                words = f"{part.title}: {count} check{'s' if count > 1 else ''} not answered"
                found.append(Left(words, open_lines[0].field, "", holds_up=False))
    return found


def fault_message(fault: Fault) -> str:
    """Return a fault as the message under its field."""
    if fault.missing:
        return f"Still open: {fault.accepted}."
    shown = fault.value if len(fault.value) <= 24 else f"{fault.value[:23]}…"
    return f"“{shown}” cannot be used. Type {fault.accepted}."


def plain(fault: Fault, field: Field | None, where: str = "") -> Left:
    """Return a fault as a line; ``where`` names the appliance before it, where there are several."""
    if ".close_up." in fault.where:
        point = fault.where.rpartition(".")[2]
        said = {"not sure": ", not sure", "false": ", not refitted"}.get(fault.value, "")
        words = f"{point} test point{said or ' not confirmed refitted'}"
        message = f"Confirm that the {point} test point is refitted once you have seen it."
        return Left(f"{where}{words}", field, message)
    name = field.label if field is not None else fault.where
    if fault.missing:
        return Left(f"{where}{name}", field, f"Still open: {fault.accepted}.")
    if fault.where.endswith(".outcome"):
        return Left(f"{where}outcome: {fault.accepted}", field, f"Choose {fault.accepted}.")
    return Left(f"{where}{name}: “{fault.value[:24]}” cannot be used", field, fault_message(fault))


def once(found: list[Left]) -> list[Left]:
    """Return each field once: the first thing said of it is enough."""
    seen: dict[object, Left] = {}
    for left in found:
        seen.setdefault((id(left.field), left.text) if left.field is None else id(left.field), left)
    return list(seen.values())


def _work_number(path: str) -> int | None:
    if not path.startswith("works["):
        return None
    return int(path.removeprefix("works[").partition("]")[0])
