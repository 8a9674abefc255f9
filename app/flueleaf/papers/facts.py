"""What every paper states, as plain frozen records, and their one canonical form as JSON.

Facts hold text, whole numbers, dates and lists of these. A measured or computed number is the text that
is printed: a float is refused, so that the same facts are the same bytes everywhere.
"""

from __future__ import annotations

import base64
import datetime as dt
from dataclasses import dataclass

from flueleaf.domain.records import business as own
from flueleaf.domain.records import register


@dataclass(frozen=True, slots=True)
class Seals:
    """The seals of one paper, printed in its footer; no part of the hashed facts.

    Attributes:
        number: the paper's number, the same as in its facts.
        fingerprint, previous_fingerprint: hexadecimal text; the first paper of a book has no previous one.
    """

    number: str
    fingerprint: str
    previous_fingerprint: str = ""


@dataclass(frozen=True, slots=True)
class Business:
    """Who issues the paper. Pictures are PNG files as base64 text, "" where there is none."""

    name: str
    trading_name: str = ""
    address: tuple[str, ...] = ()
    postcode: str = ""
    telephone: str = ""
    email: str = ""
    registration: str = ""
    logo_png: str = ""
    signature_png: str = ""


@dataclass(frozen=True, slots=True)
class Party:
    """The customer."""

    name: str
    address: tuple[str, ...] = ()
    postcode: str = ""
    telephone: str = ""
    email: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """The premises, and the responsible person there."""

    address: tuple[str, ...]
    postcode: str = ""
    responsible: str = ""


@dataclass(frozen=True, slots=True)
class Head:
    """The facts every paper has.

    Attributes:
        kind: the kind's name as in ``papers.registry`` ("commissioning record").
        issued_at: aware; also the creation date inside the PDF.
        replaces: number of the paper that this one replaces, "" if none.
    """

    number: str
    kind: str
    issued_at: dt.datetime
    business: Business
    customer: Party
    premises: Place | None = None
    replaces: str = ""

    def __post_init__(self) -> None:
        if self.issued_at.tzinfo is None:
            raise ValueError("issued_at needs a time zone")


def png_text(png: bytes | None) -> str:
    """Return a PNG file as the base64 text that facts hold."""
    return base64.b64encode(png).decode("ascii") if png else ""


def business_facts(business: own.Business) -> Business:
    """Return the block a paper prints from the owner's profile."""
    return Business(
        name=business.name,
        trading_name=business.trading_name,
        address=tuple(business.address),
        postcode=business.postcode,
        telephone=business.telephone,
        email=business.email,
        registration=business.registration,
        logo_png=png_text(business.logo_png),
        signature_png=png_text(business.signature_png),
    )


def party_facts(customer: register.Customer) -> Party:
    """Return the customer as a paper prints them."""
    return Party(
        customer.name, tuple(customer.address), customer.postcode, customer.telephone, customer.email
    )


def place_facts(premises: register.Premises) -> Place:
    """Return the premises as a paper prints them."""
    return Place(tuple(premises.address), premises.postcode, premises.responsible)
