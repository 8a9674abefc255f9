"""The form of the business whose book it is: what the papers print of it."""

from __future__ import annotations

import dataclasses
from typing import Any

from PySide6.QtGui import QImage

from flueleaf.desktop.buttons import button
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.form_fields import DAYS, address_fields
from flueleaf.desktop.place import Place
from flueleaf.desktop.section import Section
from flueleaf.domain.problems import Fault, Refused
from flueleaf.operations import book as books
from flueleaf.operations.changes import Changes

VAT = (Word("none", "not registered"), Word("standard", "registered"))


class BusinessForm(FormLeaf):
    """A form with two pictures: logo and signature."""

    def __init__(self, desk: Desk, place: Place) -> None:
        self._known = books.business(desk.book)
        self._logo, self._signature = self._known.logo_png, self._known.signature_png
        heading = ("Your business", "as your papers show it")
        super().__init__(desk, place, heading=heading, groups=_groups(), keep=self._keep_business)
        known = dataclasses.asdict(self._known)
        self.fill_in({key: value for key, value in known.items() if not key.endswith("_png")})

    def add_more(self) -> None:
        """The two pictures."""
        self._pictures_section = self.add_section(Section("pictures", self._pictures_there()))
        self._pictures_section.add_buttons(
            button("Choose a logo", "business.logo", self._choose_logo),
            button("Choose a signature", "business.signature", self._choose_signature),
        )

    def _keep_business(self, document: dict[str, Any]) -> Changes:
        if not document.get("name"):
            raise Refused([Fault("name", "", "the name your papers are signed with")])
        days = self.fields["payment_days"]
        value = days.value() if isinstance(days, NumberField) else None
        if value is None or value != int(value):
            raise Refused([Fault("payment_days", days.text(), "a whole number of days from 0 to 365")])
        profile = dataclasses.replace(
            self._known,
            name=document["name"],
            trading_name=document.get("trading_name", ""),
            address=tuple(document.get("address", ())),
            postcode=document.get("postcode", ""),
            telephone=document.get("telephone", ""),
            email=document.get("email", ""),
            registration=document.get("registration", ""),
            vat="standard" if document.get("vat") == "standard" else "none",
            vat_number=document.get("vat_number", ""),
            bank_name=document.get("bank_name", ""),
            sort_code=document.get("sort_code", ""),
            account_number=document.get("account_number", ""),
            payment_days=int(value),
            invoice_text=document.get("invoice_text", ""),
            logo_png=self._logo,
            signature_png=self._signature,
        )
        return books.save_business(self.desk.book, profile)

    def _choose_logo(self) -> None:
        self._logo = self._picture("logo") or self._logo
        self._pictures_section.set_state(self._pictures_there())

    def _choose_signature(self) -> None:
        self._signature = self._picture("signature") or self._signature
        self._pictures_section.set_state(self._pictures_there())

    def _picture(self, what: str) -> bytes | None:
        place = self.desk.ask.open_file(self, f"Choose a {what}", "Pictures (*.png)")
        if place is None:
            return None
        try:
            data = place.read_bytes()
        except OSError as error:
            self.said.emit(f"{place} cannot be read: {error.strerror}. Choose another picture.")
            return None
        if not QImage().loadFromData(data):
            self.said.emit(f"{place.name} is no PNG picture. Choose one that ends in .png.")
            return None
        self.said.emit(f"The {what} is chosen; it counts once you keep the form.")
        return data

    def _pictures_there(self) -> str:
        there = [word for word, data in (("logo", self._logo), ("signature", self._signature)) if data]
        return " and ".join(there) or "none"


def _groups() -> tuple[Group, ...]:
    return (
        Group("who you are", (
            TextField("name", "your name"),
            TextField("trading_name", "trading as"),
            TextField("registration", "registration number", width_px=240),
            TextField("telephone", "telephone", width_px=240),
            TextField("email", "mail"),
        )),
        Group("address", address_fields()),
        Group("how you charge", (
            WordsField("vat", "VAT", VAT),
            TextField("vat_number", "VAT number", width_px=240),
            NumberField("payment_days", DAYS, label="days to pay"),
            TextField("bank_name", "account name"),
            TextField("sort_code", "sort code", width_px=120),
            TextField("account_number", "account number", width_px=160),
            TextField("invoice_text", "line under invoices"),
        )),
    )  # fmt: skip


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of the business."""
    return BusinessForm(desk, place)
