from __future__ import annotations

import base64
import datetime as dt

import pytest

from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Customer, Premises
from flueleaf.papers import facts


def test_a_paper_needs_a_time_zone() -> None:
    with pytest.raises(ValueError, match="time zone"):
        facts.Head("Q-1", "quote", dt.datetime(2026, 11, 20, 20, 15), facts.Business("E"), facts.Party("C"))


def test_business_becomes_its_block_without_bank_and_vat() -> None:
    business = Business(
        name="Edda Farrowgate", trading_name="Farrowgate Heating", address=("Quay Lane",), postcode="QX3 2DF",
        telephone="01632 960 118", email="e@f.example", registration="900 417", vat_number="GB1",
        logo_png=b"png",
    )  # fmt: skip
    block = facts.business_facts(business)
    assert block == facts.Business(
        "Edda Farrowgate", "Farrowgate Heating", ("Quay Lane",), "QX3 2DF", "01632 960 118", "e@f.example",
        "900 417", base64.b64encode(b"png").decode(), "",
    )  # fmt: skip


def test_customer_and_premises() -> None:
    customer = Customer("I", "landlord", ("a", "b"), "QX1", "07700 900 362", "i@q.example")
    assert facts.party_facts(customer) == facts.Party("I", ("a", "b"), "QX1", "07700 900 362", "i@q.example")
    assert facts.place_facts(Premises(("a",), "QX1", "R")) == facts.Place(("a",), "QX1", "R")
