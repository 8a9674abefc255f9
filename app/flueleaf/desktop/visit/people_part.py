"""Premises and customer: found while typing, or new ones typed right here."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.mail_field import MailField
from flueleaf.desktop.fields.offer_field import Offer, OfferField
from flueleaf.desktop.fields.postcode_field import PostcodeField
from flueleaf.desktop.fields.words_field import WordsField
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.fold import Fold
from flueleaf.desktop.visit.form import Form, lines_text, typed_lines
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.words import _
from flueleaf.domain.records.register import CUSTOMER_KINDS, Customer
from flueleaf.operations.finding import find
from flueleaf.operations.intake.documents import customer_document

MOST_FOUND = 20


class PeoplePart(Part):
    """Where, and for whom."""

    premises_picked = Signal(object)  # id of known premises

    def __init__(self, typing: Typing, customers: Sequence[Customer]) -> None:
        super().__init__(_("premises and customer"), typing, name="premises_and_customer")
        self._customers = customers
        self._premises, self._customer = Form(), Form()
        self.fold = Fold("people", _("Change premises and customer"), self._made)
        self.fold.built.connect(self._on_built)
        self.add_widget(self.fold)

    @property
    def address(self) -> OfferField:
        """The first field; asked for, the fields are made."""
        self.fold.build()
        return self._address

    @property
    def known(self) -> bool:
        """Whether an address is there."""
        return bool(self._premises.read().get("address"))

    def _made(self) -> QWidget:
        body = Cells()
        self._address = OfferField("premises.address", _("address of the premises"), self._found)
        self._address.picked.connect(self.premises_picked)
        body.put(self._premises.add("address", self._address, typed_lines, lines_text), units=3)
        body.put(self._premises.add("postcode", PostcodeField("premises.postcode", _("postcode"))))
        body.put(
            self._premises.add("responsible", TextField("premises.responsible", _("lets you in"))), units=2
        )
        name = OfferField("customer.name", _("customer"), self._known)
        name.picked.connect(self._on_customer_picked)
        body.put(self._customer.add("name", name), units=2)
        kind = WordsField("customer.kind", _("the customer is a"), CUSTOMER_KINDS)
        body.put(self._customer.add("kind", kind), units=4)
        home = OfferField("customer.address", _("the customer’s address"), self._same)
        body.put(self._customer.add("address", home, typed_lines, lines_text), units=3)
        body.put(self._customer.add("postcode", PostcodeField("customer.postcode", _("postcode"))))
        body.put(self._customer.add("telephone", TextField("customer.telephone", _("telephone"))))
        body.put(self._customer.add("email", MailField("customer.email", _("mail"))), units=2)
        return body

    def _on_built(self) -> None:
        for form in (self._premises, self._customer):
            form.complete()
        self.typing.ear.listen(self._forms(lambda form: form.fields))
        self.typing.ear.grown.emit()

    def fields(self) -> Sequence[QWidget]:
        """Return the button of the fold and the fields."""
        return (self.fold.opener, *self._forms(lambda form: form.fields))

    def fill(self, document: Mapping[str, Any]) -> None:
        """Show who and where; what is complete is folded."""
        if self.refill(document):
            self.fold.fold()

    def refill(self, document: Mapping[str, Any]) -> bool:
        """Show who and where; what is not complete is opened. Returns whether it is."""
        self._premises.fill(document.get("premises", {}))
        self._customer.fill(document.get("customer", {}))
        self.sum_up()
        complete = self.known and bool(document.get("customer", {}).get("name"))
        if not complete:
            self.fold.open_up()
        return complete

    def read(self) -> dict[str, Any]:
        """Return ``premises`` and ``customer``."""
        return {"premises": self._premises.read(), "customer": self._customer.read()}

    def locate(self, path: str) -> Field | None:
        """Return the field of a path."""
        for name, form in (("premises", self._premises), ("customer", self._customer)):
            if path == name or path.startswith(f"{name}."):
                self.fold.build()
                return form.locate(path.removeprefix(name).lstrip("."))
        return None

    def sum_up(self) -> None:
        """Bring the folded lines up to date."""
        piece = self.read()
        place, who = piece["premises"], piece["customer"]
        where = f"{', '.join(place.get('address', ()))} {place.get('postcode', '')}"
        parts = [who.get("name", ""), who.get("kind", ""), who.get("telephone", "")]
        if person := place.get("responsible", ""):
            parts.append(_("{name} lets you in", name=person))
        self.fold.set_summary(f"{where}\n{' · '.join(part for part in parts if part)}".strip())

    def _forms(self, read: Callable[[Form], Sequence[Field]]) -> tuple[Field, ...]:
        return (*read(self._premises), *read(self._customer))

    def _found(self, text: str) -> Sequence[Offer]:
        hits = find(self.typing.desk.book, text, MOST_FOUND)
        return [
            Offer(f"{hit.title}  ·  {hit.subtitle}" if hit.subtitle else hit.title, hit.title, int(hit.id))
            for hit in hits
            if hit.kind == "premises"
        ]

    def _known(self, text: str) -> Sequence[Offer]:
        wanted = text.lower().split()
        return [
            Offer(f"{one.name}  ·  {', '.join([*one.address, one.postcode])}", one.name, one)
            for one in self._customers
            if all(word in f"{one.name} {one.postcode}".lower() for word in wanted)
        ]

    def _same(self, text: str) -> Sequence[Offer]:
        here = self._address.text().strip()
        fits = here.lower().startswith(text.strip().lower())
        return (
            [Offer(_("{address}  ·  as the premises", address=here), here, "same")] if here and fits else []
        )

    def _on_customer_picked(self, customer: Customer) -> None:
        self._customer.fill(customer_document(customer))
        self.sum_up()
