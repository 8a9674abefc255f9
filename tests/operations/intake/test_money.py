from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest

from flueleaf.domain.money.amount import Money
from flueleaf.domain.money.document import Adjustment, Document, Payment
from flueleaf.domain.money.lines import Line
from flueleaf.domain.problems import Refused
from flueleaf.operations.intake.money import (
    Debt,
    Journeys,
    QuarterChoice,
    ServiceDates,
    read_debt,
    read_document,
    read_journeys,
    read_line,
    read_quarter_choice,
    read_receipt,
    read_service_dates,
)
from flueleaf.operations.intake.reader import Reader

D = Decimal
TODAY = dt.date(2026, 11, 25)
OWING = Money(9360)
FULL_LINE = {
    "text": "Seal kit",
    "quantity": "1.5",
    "unit": "metre",
    "unit_price": "12.40",
    "base_quantity": "3",
    "discount_pct": "10",
    "discount_amount": "0.5",
    "surcharge_amount": "0.25",
    "vat_pct": "20",
    "vat_category": "S",
    "labour": True,
}
PLAIN = {"quantity": 1, "unit_price": 5}


def _refused_places(read: Any, document: object) -> list[str]:
    with pytest.raises(Refused) as refused:
        read(document)
    return [fault.where for fault in refused.value.faults]


def test_a_full_line() -> None:
    reader = Reader.of(FULL_LINE)
    line = read_line(reader)
    reader.finish()
    assert line == Line(
        "Seal kit", D("1.5"), "metre", D("12.40"), D(3), D(10), D("0.5"), D("0.25"), D(20), "S", True
    )


def test_a_plain_line_has_defaults_and_on_a_paper_needs_its_text() -> None:
    reader = Reader.of(PLAIN)
    assert read_line(reader, described=False) == Line("", D(1), "each", D(5))
    reader.finish()
    reader = Reader.of(PLAIN)
    read_line(reader)
    assert [fault.where for fault in reader.faults] == ["text"]


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("quantity", "-1"),
        ("quantity", "1,5"),
        ("quantity", "NaN"),
        ("quantity", "1e3"),
        ("quantity", None),
        ("quantity", True),
        ("quantity", D("1E+400")),
        ("quantity", "1000001"),
        ("quantity", "0.0000001"),
        ("unit_price", "-0.01"),
        ("unit_price", "10000000.01"),
        ("unit_price", "£5"),
        ("unit_price", ""),
        ("base_quantity", "0"),
        ("discount_pct", "101"),
        ("discount_amount", "-1"),
        ("surcharge_amount", "-1"),
        ("vat_pct", "120"),
        ("vat_pct", None),
        ("vat_category", "X"),
        ("vat_category", None),
        ("labour", "yes"),
        ("text", 5),
        ("colour", "red"),
    ],
)
def test_what_a_line_refuses(key: str, value: object) -> None:
    document = {"vat": "standard", "lines": [PLAIN | {key: value}]}
    assert _refused_places(read_document, document) == [f"lines[0].{key}"]


def test_a_full_document() -> None:
    found = read_document(
        {
            "kind": "credit note",
            "date": "2026-11-26",
            "vat": "standard",
            "currency": "GBP",
            "locale": "en_GB",
            "customer": {"business": True},
            "cis_deduction_pct": 20,
            "reverse_charge": True,
            "prices_include_vat": False,
            "lines": [PLAIN],
            "prepaid": "1.5",
            "on": "2027-01-20",
            "base_rate_pct": "3.75",
            "due": "2026-12-26",
            "adjustments": [{"text": "off", "amount": "-2.00", "vat_pct": 5, "vat_category": "AE"}],
            "payments": [{"date": "2026-12-10", "amount": "50.00"}],
        }
    )
    assert found == Document(
        kind="credit note",
        vat="standard",
        lines=(Line("", D(1), "each", D(5)),),
        date=dt.date(2026, 11, 26),
        business=True,
        cis_deduction_pct=D(20),
        reverse_charge=True,
        adjustments=(Adjustment("off", Money(-200), D(5), "AE"),),
        prepaid=Money(150),
        payments=(Payment(dt.date(2026, 12, 10), Money(5000)),),
        on=dt.date(2027, 1, 20),
        due=dt.date(2026, 12, 26),
        base_rate_pct=D("3.75"),
    )


def test_a_short_document_has_defaults() -> None:
    assert read_document({"vat": "none", "lines": [PLAIN]}) == Document(
        "invoice", "none", (Line("", D(1), "each", D(5)),)
    )


@pytest.mark.parametrize(
    ("changes", "place"),
    [
        ({"lines": []}, "lines"),
        ({"lines": {}}, "lines"),
        ({"vat": "maybe"}, "vat"),
        ({"kind": "bill"}, "kind"),
        ({"currency": "EUR"}, "currency"),
        ({"locale": "de_DE"}, "locale"),
        ({"customer": "Business"}, "customer"),
        ({"customer": {"name": "x"}}, "customer.name"),
        ({"cis_deduction_pct": "-20"}, "cis_deduction_pct"),
        ({"prepaid": "1.005"}, "prepaid"),
        ({"prepaid": "-1"}, "prepaid"),
        ({"base_rate_pct": "101"}, "base_rate_pct"),
        ({"payments": [{"date": "2026-12-10", "amount": "0"}]}, "payments[0].amount"),
        ({"payments": [{"date": "10/12/2026", "amount": "1"}]}, "payments[0].date"),
        ({"payments": [{"amount": "1"}]}, "payments[0].date"),
        ({"adjustments": [{}]}, "adjustments[0].amount"),
        ({"adjustments": [{"amount": "1.001"}]}, "adjustments[0].amount"),
        ({"due": "2026-02-30"}, "due"),
        ({"date": "1949-12-31"}, "date"),
        ({"vat_registered": True}, "vat_registered"),
    ],
)
def test_what_a_document_refuses(changes: dict[str, Any], place: str) -> None:
    assert _refused_places(read_document, {"vat": "standard", "lines": [PLAIN]} | changes) == [place]


def test_the_way_with_vat_is_never_guessed() -> None:
    assert _refused_places(read_document, {"lines": [PLAIN]}) == ["vat"]
    assert _refused_places(read_document, [PLAIN]) == ["document"]


def test_a_debt() -> None:
    given = {"debt": "1000", "annual_rate_pct": 8.5, "from": "2026-01-01", "to": "2026-02-20"}
    given["annual_rate_pct"] = D("8.5")
    assert read_debt(given) == Debt(Money.of(1000), dt.date(2026, 1, 1), dt.date(2026, 2, 20), D("8.5"), None)
    assert _refused_places(read_debt, given | {"base_rate_pct": "4"}) == ["base_rate_pct"]
    assert _refused_places(read_debt, {"debt": "-1"}) == ["debt", "from", "to"]


def test_dates_of_a_service() -> None:
    found = read_service_dates({"completed": "2026-05-01", "paid": "2026-05-02"})
    assert found == ServiceDates(dt.date(2026, 5, 1), None, dt.date(2026, 5, 2))
    assert _refused_places(read_service_dates, {"completed": "soon", "done": "x"}) == ["completed", "done"]


def test_journeys() -> None:
    given = {"tax_year": "2026-27", "vehicle": "motorcycle", "miles": "12.5"}
    assert read_journeys(given) == Journeys("2026-27", "motorcycle", D("12.5"))
    assert _refused_places(read_journeys, given | {"miles": "12,5"}) == ["miles"]
    assert _refused_places(read_journeys, {}) == ["tax_year", "vehicle", "miles"]


def test_a_choice_of_quarters() -> None:
    assert read_quarter_choice({"tax_year": "2026-27"}) == QuarterChoice("2026-27", "standard")
    assert read_quarter_choice({"tax_year": "2026-27", "election": "calendar"}).election == "calendar"
    assert _refused_places(read_quarter_choice, {"election": 4}) == ["tax_year", "election"]


def test_a_receipt_is_read_with_its_way() -> None:
    payment, way = read_receipt(
        {"date": "2026-11-25", "amount": "50", "way": "card"}, today=TODAY, owing=OWING
    )
    assert (payment.date, payment.amount, way) == (TODAY, Money(5000), "card")


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"amount": "0"}, "amount"),
        ({"amount": "-5"}, "amount"),
        ({"amount": "12.345"}, "amount"),
        ({"amount": "93.61"}, "amount"),
        ({"amount": "fifty"}, "amount"),
        ({"date": "2026-11-26"}, "date"),
        ({"way": "shells"}, "way"),
    ],
)
def test_a_receipt_that_cannot_be_is_refused_at_its_field(changes: dict[str, str], where: str) -> None:
    receipt = {"date": "2026-11-25", "amount": "50.00", "way": "cash", **changes}
    with pytest.raises(Refused) as refused:
        read_receipt(receipt, today=TODAY, owing=OWING)
    assert [fault.where for fault in refused.value.faults] == [where]
