"""What can be explained of a visit that was signed off: its verdicts, its bill, the dates it set."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from flueleaf.domain.records.visits import Work
from flueleaf.domain.words import lines, said
from flueleaf.operations import issued
from flueleaf.operations.explaining.dates import explain_due
from flueleaf.operations.explaining.explanation import Explanation, Given
from flueleaf.operations.explaining.sealed import PastSlip, explain_bill, judged_then
from flueleaf.operations.explaining.verdicts import LIMIT_CAUTION, VERDICTS, explain_verdict
from flueleaf.operations.facts import wording
from flueleaf.operations.page_records import DueRow
from flueleaf.operations.pages.money import bill_of
from flueleaf.storage.book import Book
from flueleaf.storage.visits import StoredVisit

VERDICT_SOURCE = said(
    "Of each point and rate the last attempt decides. The verdicts are those frozen at sign-off; nothing "
    "is judged again."
)


def explain_signed(
    book: Book, signed: StoredVisit, due: Sequence[Sequence[DueRow]], today: dt.date
) -> list[Explanation]:
    """Return the verdict of each appliance with those of its readings, the bill, the due dates.

    Args:
        book: the book.
        signed: the visit as kept.
        due: what it made due at each of its appliances, in their order.
        today: what is owing is counted to this day.
    """
    found: list[Explanation] = []
    works = signed.visit.works
    for number, (work, result) in enumerate(zip(works, signed.results, strict=True)):
        told = [_verdict(number, work, result), *_readings(number, result)]
        found += told if len(works) == 1 else [told[0], *(_of(work, one) for one in told[1:])]
    found += explain_bills(book, signed.ref, today)
    return [*found, *(explain_due(row) for rows in due for row in rows)]


def explain_bills(book: Book, visit_ref: int, today: dt.date) -> list[Explanation]:
    """Return how each bill of a visit came to its sum; titles name its number where there are several."""
    papers = issued.papers_of_visit(book, visit_ref)
    bills = [(paper.number, bill_of(book, paper.number, today)) for paper in papers]
    bills = [(number, bill) for number, bill in bills if bill is not None]
    found: list[Explanation] = []
    for number, bill in bills:
        for one in explain_bill(book, bill, today):
            named = said("{number}: {figure}", number=number, figure=one.title)
            title = one.title if len(bills) == 1 else named
            found.append(replace(one, key=bill_key(number, one.key), title=title))
    return found


def bill_key(number: str, figure: str = "bill.total") -> str:
    """Return the key of a figure of a visit's bill, of its total by default."""
    return f"{number}.{figure}"


def verdict_key(number: int) -> str:
    """Return the key of the verdict on an appliance, from 0."""
    return f"works.{number}.verdict"


def _of(work: Work, one: Explanation) -> Explanation:
    return replace(one, title=said("{appliance}: {figure}", appliance=_name(work), figure=one.title))


def _name(work: Work) -> str:
    appliance = work.appliance
    name = f"{appliance.make} {appliance.model}".strip() or said(appliance.kind)
    return lines([part for part in (name, appliance.location) if part], between=", ")


def _slip(told: Mapping[str, Any]) -> PastSlip:
    return PastSlip(told["point"], told["rate"], told["attempt"], told.get("ratio_text") or "")


def _readings(number: int, result: Mapping[str, Any]) -> list[Explanation]:
    found = [
        explain_verdict(_slip(told), judged_then(one)) for told in result["slips"] for one in told["judged"]
    ]
    return [replace(one, key=f"works.{number}.{one.key}") for one in found]


def _verdict(number: int, work: Work, result: Mapping[str, Any]) -> Explanation:
    """Return how the verdict on an appliance follows from those of the slips that decide."""
    deciding = [told for told in result["slips"] if told["decides"]]
    verdict = result["verdict"]
    inputs = tuple(
        Given(
            said("{point}, {rate}", point=said(told["point"]), rate=wording.RATE_NAMES[told["rate"]]),
            VERDICTS[told["verdict"]],
            said("attempt {n}", n=told["attempt"]) if told["attempt"] > 1 else "",
        )
        for told in deciding
    )
    steps = [
        said("{figure} – {result}", figure=one.title, result=one.result)
        for told in deciding
        if told["verdict"] == verdict
        for judged in told["judged"]
        if judged["verdict"] == verdict
        for one in (explain_verdict(_slip(told), judged_then(judged)),)
    ]
    return Explanation(
        key=verdict_key(number),
        title=said("verdict, {appliance}", appliance=_name(work)),
        formula=(
            said("The worst of the slips that decide; without a slip, unjudged."),
            said("The air outdoors, if nothing judges it, leaves the whole to the other slips."),
            said("worst first: over, unjudged, near, within"),
        ),
        inputs=inputs or (Given(said("readings"), said("none taken")),),
        steps=tuple(steps),
        result=VERDICTS[verdict],
        source=VERDICT_SOURCE,
        caution=LIMIT_CAUTION,
    )
