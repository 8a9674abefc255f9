"""What the tests of the contract share: its example of ``assess``, and changes to a document by path."""

from __future__ import annotations

import copy
import json
from collections.abc import Mapping
from typing import Any

Document = dict[str, Any]
GONE: Any = object()

# The contract's own example of ``assess``.
EXAMPLE_TEXT = """
{"date": "2026-11-26",
 "fuel": "natural gas",
 "appliance": {"kind": "condensing boiler",
               "limits": {"co_ppm": 350, "ratio": 0.004, "co2_pct": {"max": [8.8, 9.6], "min": [8.4, 9.2]}},
               "rated_input": {"basis": "net", "max_kw": 24.0, "min_kw": 6.0}},
 "instrument": {"name": "analyser 1", "calibration_due": "2027-03-01",
                "tolerance": {"co_ppm": {"abs": 10, "rel": 0.05}, "o2_pct": {"abs": 0.3},
                              "co2_pct": {"abs": 0.3}}},
 "slips": [{"point": "air inlet", "rate": "max", "o2_pct": 20.9, "co2_pct": 0.0},
           {"point": "flue", "rate": "max", "o2_pct": 4.8, "co2_pct": 9.1, "co_ppm": 61,
            "flue_c": 54, "air_c": 18},
           {"point": "flue", "rate": "min", "o2_pct": 5.3, "co_ppm": 18, "ratio": 0.0002}]}
"""
EXAMPLE: Document = json.loads(EXAMPLE_TEXT)

# The contract's own example of ``tally``.
TALLY: Document = {
    "kind": "invoice",
    "date": "2026-11-26",
    "vat": "standard",
    "currency": "GBP",
    "locale": "en_GB",
    "customer": {"business": False},
    "cis_deduction_pct": 0,
    "reverse_charge": False,
    "lines": [
        {
            "text": "Service",
            "quantity": "1",
            "unit": "each",
            "unit_price": "78.00",
            "vat_pct": "20",
            "labour": True,
        },
        {
            "text": "Seal kit",
            "quantity": "1",
            "unit": "each",
            "unit_price": "12.40",
            "vat_pct": "20",
            "discount_pct": "10",
        },
    ],
    "payments": [{"date": "2026-12-10", "amount": "50.00"}],
    "on": "2027-01-20",
    "base_rate_pct": "3.75",
    "due": "2026-12-26",
}


def edited(document: Document, changes: Mapping[str, Any]) -> Document:
    """Return a copy with values put at paths such as ``slips.1.co_ppm``; ``GONE`` takes a key away."""
    found = copy.deepcopy(document)
    for path, value in changes.items():
        *above, last = [int(step) if step.isdigit() else step for step in path.split(".")]
        place: Any = found
        for step in above:
            place = place[step]
        if value is GONE:
            del place[last]
        elif isinstance(place, list) and last == len(place):
            place.append(value)
        else:
            place[last] = value
    return found


def codes(doubts: list[dict[str, Any]]) -> set[str]:
    """Return the codes of doubts."""
    return {doubt["code"] for doubt in doubts}


WORST_FIRST = ("over", "unjudged", "near", "within")


def verdicts(slip: dict[str, Any]) -> dict[str, str]:
    """Return the worst verdict of each judged quantity of a slip, keyed ``co_ppm at most``."""
    found: dict[str, str] = {}
    for judged in slip["judged"]:
        key = f"{judged['quantity']} {judged['sense']}"
        found[key] = min(found.get(key, "within"), judged["verdict"], key=WORST_FIRST.index)
    return found
