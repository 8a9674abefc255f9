"""How every computed figure was worked out, told from the very results that are shown."""

from __future__ import annotations

from flueleaf.operations.explaining.bills import explain_owing, explain_sum
from flueleaf.operations.explaining.dates import explain_due, explain_late
from flueleaf.operations.explaining.draft import explain_plate, explain_supply, explain_work
from flueleaf.operations.explaining.drift import drift_key, explain_drift
from flueleaf.operations.explaining.explanation import Explanation, Given
from flueleaf.operations.explaining.sealed import explain_appliance, explain_bill, explain_unpaid
from flueleaf.operations.explaining.signed import bill_key, explain_signed

__all__ = [
    "Explanation",
    "Given",
    "bill_key",
    "drift_key",
    "explain_appliance",
    "explain_bill",
    "explain_drift",
    "explain_due",
    "explain_late",
    "explain_owing",
    "explain_plate",
    "explain_signed",
    "explain_sum",
    "explain_supply",
    "explain_unpaid",
    "explain_work",
]
