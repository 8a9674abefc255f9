"""What each leaf shows, gathered in one reading of the book."""

from __future__ import annotations

from flueleaf.operations.page_records import (
    AppliancePage,
    ApplianceRow,
    ChartLimits,
    DraftRow,
    DueRow,
    InvoicePage,
    JudgedRow,
    OwingRow,
    PaperRow,
    PremisesPage,
    QuoteRow,
    ReadingRow,
    RegisterPage,
    TonightPage,
    VisitRow,
)
from flueleaf.operations.pages.looking import appliance_page, premises_page, tonight
from flueleaf.operations.pages.money import bill_of, invoice_page, quote_page

__all__ = [
    "AppliancePage",
    "ApplianceRow",
    "ChartLimits",
    "DraftRow",
    "DueRow",
    "InvoicePage",
    "JudgedRow",
    "OwingRow",
    "PaperRow",
    "PremisesPage",
    "QuoteRow",
    "ReadingRow",
    "RegisterPage",
    "TonightPage",
    "VisitRow",
    "appliance_page",
    "bill_of",
    "invoice_page",
    "premises_page",
    "quote_page",
    "tonight",
]
