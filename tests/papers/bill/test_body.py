from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.papers.reading import drawn, overlaps, page_texts, squeezed, text_of

from flueleaf.papers.bill.facts import Amount, Line
from flueleaf.papers.facts import Business, Party
from flueleaf.papers.kinds.invoice.sample import sample as invoice_sample
from flueleaf.papers.kinds.quote.sample import sample as quote_sample
from flueleaf.papers.registry import all_kinds
from flueleaf.papers.typeface import REPLACEMENT

SAMPLES = pytest.mark.parametrize("kind", ["quote", "invoice"])
ODD = st.text(max_size=120)


def unregistered(kind: str, lines: int = 3) -> Any:
    facts = all_kinds()[kind].sample()
    made = tuple(Line(f"Line {at}", "2", "h", "52.00", "104.00") for at in range(lines))
    bill = replace(facts.bill, vat=None, lines=made, net="312.00", total="312.00")
    if kind == "invoice":
        # A tax point in the facts is not printed either where there is no VAT.
        return replace(facts, bill=bill, payable="312.00", deductions=())
    return replace(facts, bill=bill)


@SAMPLES
def test_without_registration_nothing_speaks_of_vat(kind: str) -> None:
    printed = text_of(drawn(unregistered(kind)))
    assert "312.00" in printed
    words = r"vat|tax|taxable|net|rate|zero-rated|reverse|charge"
    assert re.findall(rf"\b({words})\b|%|(?<!\d)0\.00", printed, re.IGNORECASE) == []


def test_with_registration_number_rates_and_sums_are_there() -> None:
    printed = text_of(drawn(invoice_sample()))
    for said in ("VAT number GB 999 9999 73", "VAT 20 % of 1,721.20 344.24", "VAT 0 % of 117.00 0.00",
                 "VAT together 344.24", "tax point 20 November 2026", "to pay £1,882.44"):  # fmt: skip
        assert said in printed


def test_reverse_charge_is_said_and_its_vat_is_outside_the_total() -> None:
    facts = invoice_sample()
    assert facts.bill.vat is not None
    vat = replace(facts.bill.vat, rows=facts.bill.vat.rows[:1], total="0.00", reverse_charge="344.24",
                  customer_number="GB 888 8888 81")  # fmt: skip
    printed = text_of(drawn(replace(facts, bill=replace(facts.bill, vat=vat, total="1,838.20"))))
    assert "Reverse charge: the customer accounts for the VAT of £344.24" in printed
    assert "customer’s VAT number GB 888 8888 81" in printed
    assert "VAT charged here 0.00" in printed


def test_allowances_come_before_the_net() -> None:
    facts = quote_sample()
    bill = replace(facts.bill, adjustments=(Amount("Allowance for the old boiler", "−40.00"),))
    printed = text_of(drawn(replace(facts, bill=bill)))
    assert printed.index("Allowance for the old boiler −40.00") < printed.index("net 1,838.20")


@SAMPLES
@pytest.mark.parametrize("lines", [1, 60, 200])
def test_lines_run_over_pages_under_the_same_head(kind: str, lines: int) -> None:
    pdf = drawn(unregistered(kind, lines))
    pages = page_texts(pdf)
    assert (len(pages) > 1) is (lines > 1)
    with_lines = [page for page in pages if "Line " in page]
    assert all("work and materials" in page and "amount, £" in page for page in with_lines)
    printed = " ".join(" ".join(pages).split())
    assert [at for at in range(lines) if f"Line {at} 2 h 52.00 104.00" not in printed] == []
    assert f"page {len(pages)} of {len(pages)}" in printed


def test_quote_says_when_and_how_it_binds() -> None:
    printed = text_of(drawn(quote_sample()))
    assert "valid until 2 December 2026" in printed
    assert "Once you accept it, on or before 2 December 2026, it binds both sides" in printed
    assert "What it does not cover" in printed


@SAMPLES
def test_bare_facts_leave_no_empty_headings(kind: str) -> None:
    facts = unregistered(kind)
    head = replace(facts.head, business=Business("E"), customer=Party("C"), premises=None)
    bare = replace(facts, bill=replace(facts.bill, head=head, about="", texts=()))
    if kind == "invoice":
        bare = replace(bare, bank=None, payment_reference="", quote_number="", performed=None, deductions=())
    else:
        bare = replace(bare, scope=(), not_in_scope=())
    printed = text_of(drawn(bare))
    for word in ("premises", "work at", "registration number", "reference", "covers", "account"):
        assert word not in printed


def test_long_names_and_texts_wrap_and_cover_nothing() -> None:
    facts = unregistered("invoice")
    long = "Llanfair" * 30
    party = Party(
        "The Honourable " * 20, (long, "Second line of the address " * 6), "QX3 7TB", "1" * 90, "x" * 200
    )
    business = replace(
        facts.head.business, name=long, trading_name="Farrowgate and Daughters " * 8, email="e" * 90
    )
    lines = (
        Line(long, "1234567.125", "kilometre of pipe", "1,234,567.1234", "99,999,999.00", details=(long,)),
    )
    bill = replace(facts.bill, head=replace(facts.head, customer=party, business=business), lines=lines)
    pdf = drawn(replace(facts, bill=bill))
    assert overlaps(pdf) == []
    assert squeezed(long) in squeezed(text_of(pdf))


@settings(max_examples=15, deadline=None)
@given(ODD, ODD, ODD)
def test_any_text_can_be_drawn(name: str, line: str, block: str) -> None:
    facts = unregistered("invoice")
    head = replace(facts.head, customer=Party(name, (block,)))
    lines = (Line(line, "1", name, "1.00", "1.00", details=(block,)),)
    pdf = drawn(replace(facts, bill=replace(facts.bill, head=head, lines=lines, texts=(block,))))
    assert pdf.startswith(b"%PDF")
    assert "to pay £" in text_of(pdf)


def test_characters_without_a_glyph_are_seen_and_explained() -> None:
    facts = unregistered("invoice")
    head = replace(facts.head, customer=Party("Zoë \N{FIRE} שלום"))
    printed = text_of(drawn(replace(facts, bill=replace(facts.bill, head=head))))
    assert f"Zoë {REPLACEMENT} {REPLACEMENT * 4}" in printed
    assert "stands for a character" in printed
    assert "stands for a character" not in text_of(drawn(facts))
