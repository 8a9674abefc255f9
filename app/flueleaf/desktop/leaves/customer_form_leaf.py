"""The form of a customer."""

from __future__ import annotations

import dataclasses
from typing import Any

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.mail_field import MailField
from flueleaf.desktop.fields.words_field import WordsField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.form_fields import address_fields
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _
from flueleaf.domain.records.register import CUSTOMER_KINDS, CustomerId
from flueleaf.operations import register
from flueleaf.operations.changes import Changes
from flueleaf.operations.intake import documents
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_customer


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of a new customer, or of the one with the id ``place.key``."""
    number = CustomerId(int(place.key)) if place.key else None

    def keep(document: dict[str, Any]) -> Changes:
        reader = Reader.of(document, typed=True)
        customer = read_customer(reader)
        reader.finish()
        return register.save_customer(desk.book, dataclasses.replace(customer, id=number))

    groups = (
        Group(_("who"), (
            TextField("name", _("name")),
            WordsField("kind", _("kind"), CUSTOMER_KINDS),
            TextField("telephone", _("telephone"), width_px=240),
            MailField("email", _("mail")),
        ), name="who"),
        Group(_("where bills go"), address_fields(), name="bills"),
    )  # fmt: skip
    title = _("Customer") if number is not None else _("New customer")
    leaf = FormLeaf(desk, place, heading=(title, _("whoever pays, or asks")), groups=groups, keep=keep)
    if number is not None:
        known = register.customer(desk.book, number)
        leaf.fill_in(documents.customer_document(known))
        leaf.set_heading(known.name, _("customer"))
    return leaf
