"""What each leaf shows, gathered in one reading of the book."""

from __future__ import annotations

from flueleaf.operations.page_records import (
    AppliancePage,
    ApplianceRow,
    ChartLimits,
    DoneToday,
    DraftRow,
    DriftRow,
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
from flueleaf.operations.pages.drafts import all_drafts
from flueleaf.operations.pages.looking import (
    LONG_OVERDUE_DAYS,
    appliance_page,
    due_rows,
    premises_page,
    tonight,
)
from flueleaf.operations.pages.money import bill_of, invoice_page, quote_page

__all__ = [
    "LONG_OVERDUE_DAYS",
    "AppliancePage",
    "ApplianceRow",
    "ChartLimits",
    "DoneToday",
    "DraftRow",
    "DriftRow",
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
    "all_drafts",
    "appliance_page",
    "bill_of",
    "due_rows",
    "invoice_page",
    "premises_page",
    "quote_page",
    "tonight",
]
