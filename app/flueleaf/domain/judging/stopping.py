"""Answers that stop the work, and answers that want their reason, as the kind says of its checks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from flueleaf.domain.judging.kind import Check, Kind
from flueleaf.domain.judging.noted import applies
from flueleaf.domain.problems import Fault
from flueleaf.domain.records.register import Flue
from flueleaf.domain.records.visits import Answer, CheckAnswer, Outcome, Purpose, Work
from flueleaf.domain.words import said

# Outcomes under which the appliance goes on burning.
IN_USE: tuple[Outcome, ...] = ("left in use", "left in use with notes")


def stopped_by(kind: Kind, answers: Mapping[str, Answer], flue: Flue | None) -> tuple[Check, ...]:
    """Return the checks whose "no" stops the work, in the kind's order.

    Args:
        kind: of the appliance.
        answers: check key to answer.
        flue: of the appliance; where it is not known, every check counts.
    """
    return tuple(
        check
        for check in kind.checks
        if check.stops and answers.get(check.key) == "no" and applies(check.flues, flue)
    )


def not_simply_in_use(why: str, where: str = "") -> Fault:
    """Return the fault that an appliance is said to be simply left in use.

    Args:
        why: why it cannot be, as a clause.
        where: path of the work, with the dot after it.
    """
    accepted = said("“made safe”, “isolated” or “left in use with notes”, because {why}", why=why)
    return Fault(f"{where}outcome", "left in use", accepted)


def answer_faults(work: Work, kind: Kind, purpose: Purpose) -> Iterator[Fault]:
    """Yield what the answers have against the outcome, and the reasons they owe.

    After a "no" that stops the work the appliance is not "left in use"; left in use with notes, it is so
    against that answer, and the note beside it, or the reason for going on past the step, says why. Nothing
    is asked of one that is turned off or was not reached, so that a warning notice is never held up.

    Args:
        work: what was done.
        kind: of its appliance.
        purpose: of the visit.
    """
    if work.outcome not in IN_USE:
        return
    answers = {one.key: one for one in work.checks}
    went_on = any(one.reason.strip() for one in work.overrides)
    given = {one.key: one.answer for one in work.checks}
    for check in stopped_by(kind, given, work.appliance.flue):
        if work.outcome == "left in use":
            yield not_simply_in_use(said("“{question}” is answered no", question=check.question))
        elif not answers[check.key].note and not went_on:
            yield Fault(_note_of(work, check), "", said("why it is left in use although this is answered no"))
    for check in kind.checks_for(purpose, flue=work.appliance.flue):
        if _owes_reason(check, answers):
            yield Fault(
                _note_of(work, check),
                "",
                said("why neither operating pressure nor heat input could reasonably be examined"),
            )


def _owes_reason(check: Check, answers: Mapping[str, CheckAnswer]) -> bool:
    own, first = answers.get(check.key), answers.get(check.instead_of)
    done: Answer = "yes"
    if not check.instead_of or own is None or own.answer != done or own.note:
        return False
    return first is None or (first.answer != done and not first.note)


def _note_of(work: Work, check: Check) -> str:
    return f"checks[{[one.key for one in work.checks].index(check.key)}].note"
