"""Who paid what when, and what was quoted before it was ordered."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from flueleaf.operations.demo.copies import enlarged
from flueleaf.operations.demo.dice import Dice
from flueleaf.operations.demo.planning import Planned, Span
from flueleaf.operations.demo.scenario import Json, Payer, Place, Scenario
from flueleaf.operations.demo.story import customer_document, premises_document

QUOTED_DAYS_AHEAD = (16, 38)  # a fitting was quoted so many days ahead of it, from and to
FORGOTTEN = 0.08  # of the invoices of the last two years nobody has paid, from sheer forgetting
FORGOTTEN_WITHIN_DAYS = 730
WAYS = ("bank transfer", "bank transfer", "card", "cash")
REST_AFTER_DAYS = 31  # who pays in parts pays the rest so many days after the first


@dataclass(frozen=True, slots=True)
class Paid:
    """A payment to come: a part of what the invoice comes to; ``rest`` clears what is left."""

    date: dt.date
    visit_id: str
    way: str
    part: Decimal = Decimal(1)
    rest: bool = False


@dataclass(frozen=True, slots=True)
class Quoted:
    """A quote to come; ``visit_id`` is that of the visit whose invoice it became, "" if it never did."""

    date: dt.date
    customer: Json
    premises: Json
    lines: tuple[Json, ...]
    visit_id: str = ""


def payments(told: Iterable[tuple[Planned, dict[str, Any]]], *, today: dt.date, seed: int) -> Iterator[Paid]:
    """Yield the payments for the invoices of a told story that came in before ``today``.

    Each payer has a habit: most pay within days, some late, some in parts, some not any more.
    """
    for visit, document in told:
        payer = visit.place.payer
        silent_from = today - dt.timedelta(days=payer.not_since_days)
        if "invoice" not in document["papers"] or (payer.not_since_days and visit.date >= silent_from):
            continue
        dice = Dice(seed, "payment", document["visit_id"])
        if dice.chance(FORGOTTEN) and (today - visit.date).days < FORGOTTEN_WITHIN_DAYS:
            continue
        came = visit.date + dt.timedelta(days=dice.between(*payer.after_days))
        way = dice.pick(WAYS) if payer.kind == "householder" else WAYS[0]
        parts = [Paid(came, document["visit_id"], way, payer.first_part)]
        if payer.first_part < 1:
            parts.append(
                Paid(came + dt.timedelta(days=REST_AFTER_DAYS), document["visit_id"], way, rest=True)
            )
        yield from (paid for paid in parts if paid.date < today)


def quotes(
    told: Iterable[tuple[Planned, dict[str, Any]]], scenario: Scenario, *, span: Span, seed: int, scale: int
) -> Iterator[Quoted]:
    """Yield the quotes: those that became the invoice of a fitting, and those that were never taken up."""
    for visit, document in told:
        days = Dice(seed, "quote", document["visit_id"]).between(*QUOTED_DAYS_AHEAD)
        date = span.before_today((span.today - visit.date).days + days)
        if visit.purpose == "commissioning" and visit.works[0].fitted.quoted and span.holds(date):
            lines = tuple(document["lines"])
            yield Quoted(date, document["customer"], document["premises"], lines, document["visit_id"])
    for place, entry in _never_taken_up(scenario, scale, seed):
        date = span.before_today(entry["days_before"])
        if span.holds(date):
            lines = tuple({**line, "vat_pct": scenario.vat_pct} for line in entry["lines"])
            yield Quoted(date, customer_document(place), premises_document(place), lines)


def _never_taken_up(scenario: Scenario, scale: int, seed: int) -> Iterator[tuple[Place, Json]]:
    """Yield the scenario's open quotes with the first place of their customer, and so for every copy."""
    first: dict[str, Place] = {}
    for place in enlarged(scenario, scale, seed):
        first.setdefault(place.payer.key, place)
    for entry in scenario.quotes:
        for place in first.values():
            if _original(place.payer) == entry["customer"]:
                yield place, entry


def _original(payer: Payer) -> str:
    return payer.key.partition("/")[0]
