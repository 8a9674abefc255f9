"""What each leaf shows, gathered in one reading of the book."""

from __future__ import annotations

from flueleaf.operations.page_records import (
    AppliancePage,
    ApplianceRow,
    ChartLimits,
    DraftRow,
    DueRow,
    JudgedRow,
    OwingRow,
    PaperRow,
    PremisesPage,
    ReadingRow,
    RegisterPage,
    TonightPage,
    VisitRow,
)
from flueleaf.operations.pages.looking import appliance_page, premises_page, tonight

__all__ = [
    "AppliancePage",
    "ApplianceRow",
    "ChartLimits",
    "DraftRow",
    "DueRow",
    "JudgedRow",
    "OwingRow",
    "PaperRow",
    "PremisesPage",
    "ReadingRow",
    "RegisterPage",
    "TonightPage",
    "VisitRow",
    "appliance_page",
    "premises_page",
    "tonight",
]
