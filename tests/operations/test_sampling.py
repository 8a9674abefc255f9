"""A sample looks like the real paper, and is none."""

from __future__ import annotations

import dataclasses
import datetime as dt

import pypdfium2
import pytest

from flueleaf.domain.problems import UserProblem
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Instrument
from flueleaf.operations.sampling import NUMBER, UNNAMED, sample_invoice, sample_quote, sample_service_record

TODAY = dt.date(2026, 11, 25)
OWNER = Business(
    name="Jory Quillfeather",
    vat="standard",
    vat_number="GB999999973",
    sort_code="00-00-00",
    account_number="00000000",
    payment_days=14,
    invoice_text="Thank you.",
    quote_text="Half of it before the work begins.",
)


def text(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return "\n".join(page.get_textpage().get_text_range() for page in document).replace("\xa0", " ")
    finally:
        document.close()


def test_a_sample_invoice_prints_what_is_typed() -> None:
    shown = text(sample_invoice(OWNER, TODAY))
    for wanted in (
        "Jory Quillfeather",
        "GB999999973",
        "00000000",
        "due 9 December 2026",
        "Thank you.",
        NUMBER,
    ):
        assert wanted in shown


def test_a_sample_quote_has_its_own_line_and_its_last_day() -> None:
    shown = text(sample_quote(OWNER, TODAY))
    for wanted in ("Quote", "Jory Quillfeather", "GB999999973", "25 December 2026", OWNER.quote_text, NUMBER):
        assert wanted in shown
    for unwanted in ("Thank you.", "00000000", "Invoice"):
        assert unwanted not in shown


def test_who_is_not_registered_prints_no_vat() -> None:
    for sample in (sample_invoice, sample_quote):
        assert "VAT" not in text(sample(Business(name="Jory Quillfeather"), TODAY))


def test_a_sample_record_names_the_analyser_and_its_certificate() -> None:
    analyser = Instrument("Torvane 5", "TV5-1", dt.date(2026, 10, 31))
    shown = text(sample_service_record(OWNER, analyser, TODAY))
    assert "Torvane 5" in shown
    assert "31 October 2026" in shown
    assert "Your analyser" in text(sample_service_record(OWNER, None, TODAY))


def test_a_sample_record_has_the_line_of_its_own() -> None:
    owner = dataclasses.replace(OWNER, record_text="Have it looked at every year.")
    shown = text(sample_service_record(owner, None, TODAY))
    assert "Have it looked at every year." in shown
    assert "Thank you." not in shown


def test_it_has_no_number_and_no_fingerprint() -> None:
    for pdf in (
        sample_invoice(OWNER, TODAY),
        sample_quote(OWNER, TODAY),
        sample_service_record(OWNER, None, TODAY),
    ):
        shown = text(pdf)
        assert "unsealed" in shown
        assert "-2026-" not in shown


def test_nothing_typed_is_a_sample_too() -> None:
    assert UNNAMED in text(sample_invoice(Business(), TODAY))
    assert UNNAMED in text(sample_quote(Business(), TODAY))


def test_a_picture_that_is_none_is_said() -> None:
    with pytest.raises(UserProblem, match="no PNG"):
        sample_invoice(Business(logo_png=b"no picture"), TODAY)


def test_every_year_has_a_rate_for_it() -> None:
    """The sample must not fall over its own VAT, whatever day it is opened on."""
    for year in range(2024, 2040):
        assert sample_invoice(OWNER, dt.date(year, 1, 1)).startswith(b"%PDF")
        assert sample_quote(OWNER, dt.date(year, 1, 1)).startswith(b"%PDF")
