"""The heading of a visit leaf: where, for whom, and when."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flueleaf.desktop.visit.form import date_text


def heading_of(document: Mapping[str, Any]) -> tuple[str, str, str]:
    """Return title, quieter line and corner of a visit's document."""
    premises, customer = document.get("premises", {}), document.get("customer", {})
    where = f"{', '.join(premises.get('address', ()))} {premises.get('postcode', '')}".strip()
    date = date_text(document.get("date", ""))
    purpose = str(document.get("purpose", ""))
    return where or "New visit", str(customer.get("name", "")), f"{purpose}, {date}".strip(", ")
