"""The form of premises."""

from __future__ import annotations

import dataclasses
from typing import Any

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.choice_field import ChoiceField
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.form_fields import address_fields
from flueleaf.desktop.place import Place
from flueleaf.desktop.words import _
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.records.register import Customer, CustomerId, PremisesId
from flueleaf.domain.words import marked
from flueleaf.operations import pages, register
from flueleaf.operations.changes import Changes
from flueleaf.operations.intake import documents
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_premises


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of new premises (of the customer ``place.within``), or of those with ``place.key``."""
    number = PremisesId(int(place.key)) if place.key else None
    named = {_name(customer): customer.id for customer in register.choices(desk.book).customers}

    def keep(document: dict[str, Any]) -> Changes:
        customer_id = _customer(named, str(document.pop("customer", "")))
        reader = Reader.of(document, typed=True)
        premises = read_premises(reader)
        reader.finish()
        record = dataclasses.replace(premises, id=number, customer_id=customer_id)
        return register.save_premises(desk.book, record)

    groups = (
        Group(_("where"), address_fields(), name="where"),
        Group(_("who"), (
            ChoiceField("customer", _("customer"), tuple(named)),
            TextField("responsible", _("lets you in")),
        ), name="who"),
    )  # fmt: skip
    heading = (_("Premises") if number is not None else _("New premises"), _("where appliances stand"))
    leaf = FormLeaf(desk, place, heading=heading, groups=groups, keep=keep)
    if number is not None:
        page = pages.premises_page(desk.book, number)
        document = {**documents.premises_document(page.premises), "customer": _name(page.customer)}
        leaf.fill_in(document)
        leaf.set_heading(", ".join(page.premises.address), _("premises"))
    elif place.within:
        customer_id = CustomerId(int(place.within))
        leaf.fill_in({"customer": next((n for n, known in named.items() if known == customer_id), "")})
    return leaf


def _name(customer: Customer) -> str:
    return f"{customer.name}, {customer.postcode}" if customer.postcode else customer.name


def _customer(named: dict[str, CustomerId | None], typed: str) -> CustomerId:
    known = named.get(typed)
    if known is None:
        raise Refused([Fault("customer", typed, marked("the beginning of a known customer’s name"))])
    return known
