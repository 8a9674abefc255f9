"""What is left before sign-off: each fault of the judgement as a line that leads to its field."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.lines_part import LinesPart
from flueleaf.desktop.visit.work_panel import WorkPanel
from flueleaf.desktop.words import _, _n
from flueleaf.domain.judging.assessment import Assessment, Missing
from flueleaf.domain.money.amount import ZERO
from flueleaf.domain.money.document import Tally
from flueleaf.domain.problems import Fault
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.visits import Work
from flueleaf.operations.drafting import Judgement
from flueleaf.operations.facts.wording import RATE_NAMES
from flueleaf.operations.issuing import issuer_faults, lacks_vat_number
from flueleaf.operations.visits import BILLS

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
    names = names_of(works)
    found: list[Left] = []
    missing = {n: list(one.missing) for n, one in enumerate(judgement.assessments)}
    for fault in (*judgement.faults, *judgement.blocks):
        number = _work_number(fault.where)
        where = names[number] if number is not None and number < len(names) else ""
        if fault.where.endswith("].slips") and number is not None and missing.get(number):
            slip = missing[number].pop(0)
            combustion = works[number].combustion
            if combustion is None:  # the kind is not said yet, so neither is which slips it wants
                continue
            field = combustion.field_of(slip)
            words, message = _slip(slip)
            found.append(Left(_at(where, words), field, message))
        else:
            found.append(plain(fault, find(fault.where), where))
    return once([*found, *without_rate(lines)])


def _slip(slip: Missing) -> tuple[str, str]:
    """Return what a missing slip is called, and what is said at its field; outdoors there is no rate."""
    if slip.point == "outdoors":
        return _("slip of the air outdoors"), _(
            "Type what the analyser reads outdoors, or why it was not read."
        )
    spot = {"point": _(slip.point), "rate": _(RATE_NAMES[slip.rate])}
    message = _("Type the slip of the {point}, {rate}, or why it could not be measured.", **spot)
    return _("slip of the {point}, {rate}", **spot), message


def names_of(works: Sequence[WorkPanel]) -> list[str]:
    """Return what tells each appliance from the others: its name, its place too where two bear one name."""
    if len(works) < 2:
        return ["" for _work in works]
    names = [work.name for work in works]
    return [
        work.full_name if names.count(name) > 1 else name for work, name in zip(works, names, strict=True)
    ]


def without_rate(lines: LinesPart) -> list[Left]:
    """Return the VAT rates that are still to be typed."""
    return [
        Left(_("VAT rate of a line"), field, _("Type the rate in %, 0 where the line is zero-rated."))
        for field in lines.without_rate()
    ]


def unnamed(business: Business) -> list[Left]:
    """Return the name that papers are issued under, where the book does not know it yet."""
    if not issuer_faults(business):
        return []
    return [Left(_("your own name, for the papers"), None, "", place=Place("business_form", "own"))]


def without_vat_number(business: Business, papers: Sequence[str]) -> list[Left]:
    """Return the VAT number that an invoice has to show, where it is not known; sign-off does not wait.

    SI 1995/2518, regulation 14(1): a VAT invoice states the registration number of the supplier (recalled).
    """
    if "invoice" not in papers or not lacks_vat_number(business):
        return []
    words = _("your VAT number, for the invoice")
    return [Left(words, None, "", holds_up=False, place=Place("business_form", "own"))]


def unexplained(judgement: Judgement, works: Sequence[WorkPanel], find: Find) -> list[Left]:
    """Return the appliances left in use over a limit of which nothing tells why.

    Only a defect or the reason for going past a step tells it.
    """
    words, message = (
        _("left in use over a limit, and no word why"),
        _("Write down what is wrong, as a defect, because a reading is over its limit."),
    )
    return [
        Left(_at(where, words), _first_defect(number, find), message)
        for number, work, assessment, where in _left_with_notes(judgement, works)
        if assessment.verdict == "over" and not _told(work)
    ]


def without_notes(judgement: Judgement, works: Sequence[WorkPanel], find: Find) -> list[Left]:
    """Return the appliances left in use with notes of which no note is typed; sign-off does not wait for it.

    What is over its limit is not among them; it is held up, see ``unexplained``.
    """
    words = _("left in use with notes, and no note is written")
    return [
        Left(_at(where, words), _first_defect(number, find), "", holds_up=False)
        for number, work, assessment, where in _left_with_notes(judgement, works)
        if assessment.verdict != "over" and not _told(work) and not _noted(work)
    ]


def _left_with_notes(
    judgement: Judgement, works: Sequence[WorkPanel]
) -> Iterator[tuple[int, Work, Assessment, str]]:
    cases = zip(judgement.visit.works, judgement.assessments, names_of(works), strict=False)
    for number, (work, assessment, where) in enumerate(cases):
        if work.outcome == "left in use with notes":
            yield number, work, assessment, where


def _told(work: Work) -> bool:
    return bool(work.defects or any(one.reason.strip() for one in work.overrides))


def _noted(work: Work) -> bool:
    return bool(work.notes or work.not_measured or any(one.note for one in work.checks))


def _first_defect(number: int, find: Find) -> Field | None:
    return find(f"works[{number}].defects[0].text") or find(f"works[{number}].outcome")


def unbilled(judgement: Judgement, tally: Tally | None, find: Find) -> list[Left]:
    """Return that the work has a price and no paper asks for it; sign-off does not wait for that."""
    if tally is None or tally.payable <= ZERO or any(kind in judgement.visit.papers for kind in BILLS):
        return []
    words = _("no invoice of the {sum}", sum=tally.payable.with_sign())
    return [Left(words, find("papers.invoice"), "", holds_up=False)]


def unanswered(works: Sequence[WorkPanel]) -> list[Left]:
    """Return the checks without an answer, a line a stage; sign-off does not wait for them."""
    found = []
    for work, where in zip(works, names_of(works), strict=True):
        for part in work.stages:
            if open_lines := part.unanswered():
                words = _n(
                    "{stage}: {count} check not answered",
                    "{stage}: {count} checks not answered",
                    len(open_lines),
                    stage=part.title,
                )
                found.append(Left(_at(where, words), open_lines[0].field, "", holds_up=False))
    return found


def fault_message(fault: Fault) -> str:
    """Return a fault as the message under its field."""
    if fault.missing:
        return _("Still open: {what}.", what=_(fault.accepted))
    shown = fault.value if len(fault.value) <= 24 else f"{fault.value[:23]}…"
    return _("“{value}” cannot be used. Type {accepted}.", value=shown, accepted=_(fault.accepted))


def plain(fault: Fault, field: Field | None, where: str = "") -> Left:
    """Return a fault as a line; ``where`` names the appliance before it, where there are several."""
    if ".close_up." in fault.where:
        return Left(_at(where, _refitted(fault)), field, _refit(fault))
    name = _named(fault.where, field)
    accepted = _(fault.accepted)
    if fault.missing:
        return Left(_at(where, name), field, _("Still open: {what}.", what=accepted))
    if fault.where.endswith(".outcome"):
        words = _("outcome: {accepted}", accepted=accepted)
        return Left(_at(where, words), field, _("Choose {accepted}.", accepted=accepted))
    shown = field.text() if isinstance(field, DateField) else fault.value  # as typed, not as it is kept
    words = _("{name}: “{value}” cannot be used", name=name, value=shown[:24])
    return Left(_at(where, words), field, fault_message(fault))


def _named(path: str, field: Field | None) -> str:
    """Return what a field is called in the list; "what" alone would not say that it is of a work line."""
    name = field.label if field is not None else path
    if not path.startswith("lines["):
        return name
    number = int(path.removeprefix("lines[").partition("]")[0]) + 1
    return _("work line {number}: {name}", number=number, name=name)


def _at(where: str, words: str) -> str:
    return _("{appliance}: {what}", appliance=where, what=words) if where else words


def _refitted(fault: Fault) -> str:
    point = _(fault.where.rpartition(".")[2])
    if fault.value == "not sure":
        return _("{point} test point, not sure", point=point)
    if fault.value == "false":
        return _("{point} test point, not refitted", point=point)
    return _("{point} test point not confirmed refitted", point=point)


def _refit(fault: Fault) -> str:
    point = _(fault.where.rpartition(".")[2])
    return _("Confirm that the {point} test point is refitted once you have seen it.", point=point)


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
