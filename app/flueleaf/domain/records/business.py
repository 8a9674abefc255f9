"""The business whose book it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

VatMode = Literal["none", "standard"]


@dataclass(frozen=True, slots=True)
class Business:
    """The owner as the papers print it; logo and signature are PNG bytes.

    Attributes:
        name: the engineer's own name; trading_name: the name of the business, if another.
        registration: number with the registration body, as the owner enters it.
        vat: "none" (not registered: no VAT word may appear) or "standard".
        bank_name: name on the account, where it is not that of the business.
        payment_days: days from the invoice date to its due date.
        invoice_text, quote_text, record_text: the owner's own lines at the foot of each such paper.
    """

    name: str = ""
    trading_name: str = ""
    address: tuple[str, ...] = ()
    postcode: str = ""
    telephone: str = ""
    email: str = ""
    registration: str = ""
    vat: VatMode = "none"
    vat_number: str = ""
    bank_name: str = ""
    sort_code: str = ""
    account_number: str = ""
    payment_days: int = 30
    invoice_text: str = ""
    logo_png: bytes | None = None
    signature_png: bytes | None = None
    quote_text: str = ""
    record_text: str = ""
