"""A visit can be begun for every kind of appliance, and for every purpose of one."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from flueleaf.desktop.ask import Answers
from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.leaves import visit_leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.domain.records.register import Appliance, Customer, Premises
from flueleaf.domain.records.visits import PURPOSES
from flueleaf.operations import book as books
from flueleaf.operations import drafting, register
from flueleaf.operations.tables import shipped
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with books.create(tmp_path / "a.book") as made:
        register.save_customer(made, Customer("Wilf Example"))
        (customer,) = register.choices(made).customers
        register.save_premises(made, Premises(("2 Dock Street",), customer_id=customer.id))
        yield made


@pytest.mark.parametrize("name", list(shipped().kinds))
def test_a_visit_is_begun_for_every_kind_and_purpose(qtbot: QtBot, book: Book, name: str) -> None:
    kind = shipped().kinds[name]
    place = book.con.execute("SELECT id FROM premises").fetchone()["id"]
    register.save_appliance(
        book, Appliance(kind=name, fuel=kind.fuels[0], flue=kind.flues[0], premises_id=place)
    )
    desk = Desk(book, ChangeHub(), lambda: TODAY, Answers())
    for purpose in PURPOSES:
        document = drafting.begin(book, today=TODAY, purpose=purpose, premises_id=place)
        drafting.keep(book, document)
        leaf = visit_leaf.open_leaf(desk, Place("visit", str(document["visit_id"])))
        qtbot.addWidget(leaf)
        assert "2 Dock Street" in leaf.title
        assert isinstance(leaf, TypedVisitLeaf)
        before = leaf.document()
        leaf.complete()
        assert leaf.document() == before
