"""Commands for money and due dates: tally, plan, interest, tax-point, mileage, quarters."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from typing import Any

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.document import Tally
from flueleaf.domain.money.interest import late_charge
from flueleaf.domain.money.rules import percent
from flueleaf.domain.money.tally import tally
from flueleaf.domain.money.tax import mileage, quarters, tax_point
from flueleaf.domain.schedule.due import plan
from flueleaf.headless.command import Command, read_json, table, with_file
from flueleaf.operations.intake.money import (
    read_debt,
    read_document,
    read_journeys,
    read_quarter_choice,
    read_service_dates,
)
from flueleaf.operations.intake.schedule import read_plan
from flueleaf.storage.tables.money import money_rules
from flueleaf.storage.tables.schedule import due_rules


def tally_as_json(found: Tally) -> dict[str, Any]:
    """Return a tally as the command prints it: money and percentages as texts."""
    return {
        "line_nets": _plain(found.line_nets),
        "adjustment_nets": _plain(found.adjustment_nets),
        "net": found.net.plain(),
        "vat": [
            {
                "category": row.category,
                "pct": percent(row.pct),
                "net": row.net.plain(),
                "vat": row.vat.plain(),
                "reverse_charge_vat": row.reverse_charge_vat.plain(),
            }
            for row in found.vat
        ],
        "vat_total": found.vat_total.plain(),
        "total": found.total.plain(),
        "reverse_charge_vat": found.reverse_charge_vat.plain(),
        "cis_deduction": found.cis_deduction.plain(),
        "payable": found.payable.plain(),
        "paid": found.paid.plain(),
        "owing": found.owing.plain(),
        "late_interest": found.late_interest.plain(),
        "late_compensation": found.late_compensation.plain(),
    }


def _plain(amounts: Iterable[Money]) -> list[str]:
    return [amount.plain() for amount in amounts]


def _tally(args: argparse.Namespace) -> Any:
    return tally_as_json(tally(read_document(read_json(args.file)), money_rules()))


def _plan(args: argparse.Namespace) -> Any:
    rule, facts = read_plan(read_json(args.file), due_rules())
    found = plan(rule, **facts)
    return {
        "next_due": found.next_due,
        "window_opens": found.window_opens,
        "why": found.why,
        "anchor": found.anchor,
    }


def _interest(args: argparse.Namespace) -> Any:
    debt = read_debt(read_json(args.file))
    charge = late_charge(
        debt.amount,
        (),
        due=debt.due,
        on=debt.on,
        rules=money_rules(),
        base_rate_pct=debt.base_rate_pct,
        annual_rate_pct=debt.annual_rate_pct,
        due_key="from",
    )
    rate = charge.annual_rate_pct
    return {
        "interest": charge.interest.plain(),
        "compensation": charge.compensation.plain(),
        "annual_rate_pct": None if rate is None else percent(rate),
    }


def _tax_point(args: argparse.Namespace) -> Any:
    dates = read_service_dates(read_json(args.file))
    found = tax_point(money_rules(), completed=dates.completed, invoiced=dates.invoiced, paid=dates.paid)
    return {"tax_point": found}


def _mileage(args: argparse.Namespace) -> Any:
    year = read_journeys(read_json(args.file))
    amount = mileage(money_rules(), tax_year=year.tax_year, vehicle=year.vehicle, miles=year.miles)
    return {"amount": amount.plain()}


def _quarters(args: argparse.Namespace) -> Any:
    choice = read_quarter_choice(read_json(args.file))
    return [
        {
            "from": period.first,
            "to": period.last,
            "quarter_from": period.quarter_first,
            "deadline": period.deadline,
        }
        for period in quarters(money_rules(), tax_year=choice.tax_year, election=choice.election)
    ]


COMMANDS = table(
    Command("tally", "What an invoice, a credit note or a quote comes to.", with_file, _tally),
    Command("plan", "When a check, a service or a notice falls due, and why.", with_file, _plan),
    Command("interest", "Interest and fixed sum on a late debt between businesses.", with_file, _interest),
    Command("tax-point", "The tax point of a service.", with_file, _tax_point),
    Command("mileage", "A year's business miles by the flat rates.", with_file, _mileage),
    Command("quarters", "The quarterly updates of a tax year and their deadlines.", with_file, _quarters),
)
