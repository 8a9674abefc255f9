"""The heading of a visit leaf: where, for whom, and when."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flueleaf.desktop.visit.form import date_text
from flueleaf.desktop.words import _


def heading_of(document: Mapping[str, Any]) -> tuple[str, str, str]:
    """Return title ("" while the address is not said), quieter line and corner of a visit's document."""
    premises, customer = document.get("premises", {}), document.get("customer", {})
    where = f"{', '.join(premises.get('address', ()))} {premises.get('postcode', '')}".strip()
    date = date_text(document.get("date", ""))
    purpose = _(str(document.get("purpose", "")))
    when = _("{purpose}, {date}", purpose=purpose, date=date) if purpose and date else purpose or date
    return where, str(customer.get("name", "")), when
