"""The fields about the business and what they say of it, for its leaf, the first leaf and the sample."""

from __future__ import annotations

import base64
import dataclasses
from collections.abc import Mapping
from typing import Any

from flueleaf.desktop.fields.checked_field import CheckedField
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.mail_field import MailField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.picture_field import PictureField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.form_leaf import Document, FormLeaf
from flueleaf.desktop.leaves.form_fields import DAYS, address_fields
from flueleaf.desktop.words import _
from flueleaf.domain.money import bank
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.records.business import Business
from flueleaf.domain.words import marked

VAT = (Word("none", _("not registered")), Word("standard", _("registered")))
_TEXTS = (
    "name", "trading_name", "postcode", "telephone", "email", "registration", "vat_number", "bank_name",
    "sort_code", "account_number", "invoice_text", "quote_text", "record_text",
)  # fmt: skip


def who_fields() -> tuple[Field, ...]:
    """Return who one is, and how to be reached."""
    return (
        TextField("name", _("your name")),
        TextField("trading_name", _("trading as")),
        TextField("registration", _("registration number"), width_px=240),
        TextField("telephone", _("telephone"), width_px=240),
        MailField("email", _("mail")),
        *address_fields(),
    )


def charging_fields() -> tuple[Field, ...]:
    """Return VAT, days to pay and the account."""
    return (
        WordsField("vat", _("VAT"), VAT),
        TextField("vat_number", _("VAT number"), width_px=240),
        NumberField("payment_days", DAYS, label=_("days to pay")),
        TextField("bank_name", _("account name")),
        *_account_fields(),
    )


def _account_fields() -> tuple[Field, ...]:
    sort_code = CheckedField(
        "sort_code",
        _("sort code"),
        read=bank.sort_code,
        accepted=bank.SORT_CODE_ACCEPTED,
        width_px=120,
    )
    account = CheckedField(
        "account_number",
        _("account number"),
        read=bank.account_number,
        accepted=bank.ACCOUNT_NUMBER_ACCEPTED,
        width_px=160,
    )
    sort_code.go_with(account, _("needs an account number"))
    account.go_with(sort_code, _("needs a sort code"))
    return sort_code, account


def follow_registration(form: FormLeaf) -> None:
    """Ask for the VAT number only of a business that is registered."""
    form.ask_when("vat_number", lambda: form.fields["vat"].text() == "standard")


def business_document(business: Business) -> dict[str, Any]:
    """Return a business as a document of texts, its pictures as base64."""
    known = dataclasses.asdict(business)
    for key in ("logo_png", "signature_png"):
        known[key] = base64.b64encode(known[key]).decode("ascii") if known[key] else ""
    return known


def business_of(fields: Mapping[str, Field], document: Document, known: Business) -> Business:
    """Return the business as the fields say; what cannot be read, and what no field asks for, stays as known.

    Args:
        fields: by path.
        document: what they hold.
        known: as the book has it.
    """
    days = fields["payment_days"]
    value = days.value() if isinstance(days, NumberField) else None
    pictures: dict[str, Any] = {
        name: field.data() for name, field in fields.items() if isinstance(field, PictureField)
    }
    texts: dict[str, Any] = {name: str(document.get(name, "")) for name in _TEXTS if name in fields}
    return dataclasses.replace(
        known,
        **texts,
        **pictures,
        address=tuple(line.strip() for line in document.get("address", ()) if line.strip()),
        vat="standard" if document.get("vat") == "standard" else "none",
        payment_days=int(value) if value is not None and value == int(value) else known.payment_days,
    )


def check_days(fields: Mapping[str, Field]) -> None:
    """Refuse days to pay that are no whole number.

    Raises:
        Refused: with the path ``payment_days``.
    """
    days = fields["payment_days"]
    value = days.value() if isinstance(days, NumberField) else None
    if value is None or value != int(value):
        raise Refused([Fault("payment_days", days.text(), marked("a whole number of days from 0 to 365"))])
