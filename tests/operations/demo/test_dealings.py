from __future__ import annotations

import datetime as dt
from decimal import Decimal

from flueleaf.operations.demo.dealings import payments, quotes
from flueleaf.operations.demo.planning import Span


def _paid(whole_story, today):
    return list(payments(whole_story, today=today, seed=1))


def test_most_invoices_are_paid_some_late_and_some_not(whole_story, today) -> None:
    paid = _paid(whole_story, today)
    visits = {document["visit_id"]: visit for visit, document in whole_story}
    days = [(one.date - visits[one.visit_id].date).days for one in paid if not one.rest]
    unpaid = len(visits) - len({one.visit_id for one in paid})
    assert 0.03 < unpaid / len(visits) < 0.3
    assert sum(gap > 30 for gap in days) >= 10
    assert sum(gap <= 30 for gap in days) > 200
    assert all(gap >= 0 for gap in days)
    assert all(one.date < today for one in paid)


def test_who_pays_in_parts_pays_the_rest_a_month_later(whole_story, today) -> None:
    paid = _paid(whole_story, today)
    rests = [one for one in paid if one.rest]
    firsts = {one.visit_id: one for one in paid if one.part < 1 and not one.rest}
    assert rests
    for rest in rests:
        assert firsts[rest.visit_id].part == Decimal("0.5")
        assert rest.date - firsts[rest.visit_id].date == dt.timedelta(days=31)


def test_quotes_come_before_their_visit_and_carry_its_lines(whole_story, scenario, today) -> None:
    span = Span.of(6, today, dt.date.min)
    found = list(quotes(whole_story, scenario, span=span, seed=1, scale=1))
    documents = {document["visit_id"]: document for _, document in whole_story}
    accepted = [quote for quote in found if quote.visit_id]
    assert len(accepted) >= 3
    assert len(found) - len(accepted) == len(scenario.quotes)
    for quote in accepted:
        document = documents[quote.visit_id]
        assert quote.date < dt.date.fromisoformat(document["date"])
        assert list(quote.lines) == document["lines"]
    assert all(span.holds(quote.date) for quote in found)


def test_every_copied_customer_has_the_open_quotes_too(scenario, today) -> None:
    found = list(quotes([], scenario, span=Span.of(6, today, dt.date.min), seed=1, scale=3))
    assert len(found) == 3 * len(scenario.quotes)
    assert len({quote.customer["email"] for quote in found}) == len(found)
