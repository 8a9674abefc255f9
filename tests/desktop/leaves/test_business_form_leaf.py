"""The business on one leaf: pictures, numbering, days to pay, and the sample beside it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.fields.picture_field import PictureField
from flueleaf.desktop.leaves.business_form_leaf import PAPER_OF, BusinessForm
from flueleaf.desktop.place import Place
from flueleaf.desktop.sample.sample_panel import QUOTE
from flueleaf.operations import book as books
from flueleaf.operations import numbering

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot
    from tests.desktop.conftest import FakeAnswers

    from flueleaf.desktop.window import MainWindow


def form(window: MainWindow) -> BusinessForm:
    window.go(Place("business_form", "own"))
    assert isinstance(window.leaf, BusinessForm), window.notice
    return window.leaf


def logo(leaf: BusinessForm) -> PictureField:
    field = leaf.fields["logo_png"]
    assert isinstance(field, PictureField)
    return field


def picture(path: Path, kind: str) -> Path:
    made = QImage(8, 8, QImage.Format.Format_RGB32)
    made.fill(0)
    assert made.save(str(path), kind)
    return path


def test_a_png_is_kept_byte_by_byte(window: MainWindow, answers: FakeAnswers, tmp_path: Path) -> None:
    leaf = form(window)
    answers.file = picture(tmp_path / "logo.png", "PNG")
    logo(leaf).control().click()  # type: ignore[attr-defined]
    leaf.keep_all()
    kept = books.business(window.desk.book)
    assert kept.logo_png == answers.file.read_bytes()
    assert kept.vat_number == "GB999999973"


def test_days_to_pay_are_whole(window: MainWindow) -> None:
    leaf = form(window)
    leaf.fields["payment_days"].set_text("14.5")
    leaf.keep_all()
    assert "whole number" in leaf.fields["payment_days"].fault()
    leaf.fields["payment_days"].set_text("14")
    leaf.keep_all()
    assert books.business(window.desk.book).payment_days == 14


def test_each_kind_of_paper_has_its_line(window: MainWindow) -> None:
    leaf = form(window)
    for name in ("invoice_text", "quote_text", "record_text"):
        leaf.fields[name].set_text(f"words of {name}")
    leaf.keep_all()
    kept = books.business(window.desk.book)
    assert kept.invoice_text == "words of invoice_text"
    assert (kept.quote_text, kept.record_text) == ("words of quote_text", "words of record_text")


def test_keeping_it_unchanged_changes_nothing(window: MainWindow) -> None:
    book = window.desk.book
    before = books.business(book), numbering.series(book, today=window.desk.today())
    form(window).keep_all()
    assert (books.business(book), numbering.series(book, today=window.desk.today())) == before


def test_a_pad_goes_on_in_the_book(window: MainWindow) -> None:
    leaf = form(window)
    assert "numbering.invoices.first" not in leaf.fields  # an invoice was issued this year already
    leaf.fields["numbering.quotes.letters"].set_text("kv")
    leaf.fields["numbering.quotes.first"].set_text("213")
    leaf.keep_all()
    quotes = {one.key: one for one in numbering.series(window.desk.book, today=window.desk.today())}["quotes"]
    assert (quotes.letters, quotes.next_number) == ("KV", "KV-2026-0213")


def test_letters_of_another_series_are_refused_at_their_field(window: MainWindow) -> None:
    leaf = form(window)
    leaf.fields["numbering.quotes.letters"].set_text("I")
    leaf.keep_all()
    assert "no other series" in leaf.fields["numbering.quotes.letters"].fault()
    assert window.leaf is leaf


def test_a_pasted_logo_stands_on_the_sample_and_may_be_undone(qtbot: QtBot, window: MainWindow) -> None:
    leaf = form(window)
    made = QImage(400, 120, QImage.Format.Format_RGB32)
    made.fill(0)
    qtbot.waitUntil(lambda: not leaf.panel.view.image.isNull(), timeout=60_000)
    without = leaf.panel.view.image.copy()
    QGuiApplication.clipboard().setImage(made)
    logo(leaf).paste()
    qtbot.waitUntil(lambda: not leaf.panel.busy, timeout=60_000)
    assert leaf.panel.view.image != without
    window.undo()
    assert logo(leaf).data() is None
    window.redo()
    assert logo(leaf).image().width() == 400


@pytest.mark.parametrize(("name", "paper"), PAPER_OF.items())
def test_the_sample_turns_to_the_paper_whose_line_is_typed(
    qtbot: QtBot, window: MainWindow, name: str, paper: str
) -> None:
    leaf = form(window)
    other = next(one for one in PAPER_OF.values() if one != paper)
    leaf.panel.turn_to(other)
    qtbot.waitUntil(lambda: not leaf.panel.busy and not leaf.panel.view.image.isNull(), timeout=60_000)
    before = leaf.panel.view.image.copy()
    leaf.fields[name].setFocus()
    QTest.keyClicks(leaf.fields[name].control(), "Half of it")
    assert leaf.panel.which.text() == paper
    assert leaf.fields[name].control().hasFocus()
    qtbot.waitUntil(lambda: not leaf.panel.busy, timeout=60_000)
    assert leaf.panel.view.image != before


def test_the_line_under_quotes_is_seen_on_the_sample_quote(qtbot: QtBot, window: MainWindow) -> None:
    leaf = form(window)
    leaf.panel.turn_to(QUOTE)
    qtbot.waitUntil(lambda: not leaf.panel.busy and not leaf.panel.view.image.isNull(), timeout=60_000)
    before = leaf.panel.view.image.copy()
    QTest.keyClicks(leaf.fields["quote_text"].control(), "Half of it")
    qtbot.waitUntil(lambda: not leaf.panel.busy, timeout=60_000)
    assert leaf.panel.view.image != before
    window.undo()
    qtbot.waitUntil(lambda: not leaf.panel.busy, timeout=60_000)
    assert leaf.panel.view.image == before


def test_a_chosen_picture_is_there_again_half_typed(window: MainWindow) -> None:
    leaf = form(window)
    made = QImage(4, 4, QImage.Format.Format_RGB32)
    made.fill(0)
    QGuiApplication.clipboard().setImage(made)
    logo(leaf).paste()
    window.go(Place("tonight"))
    assert books.business(window.desk.book).logo_png is None
    assert logo(form(window)).image().width() == 4


@pytest.mark.parametrize(
    ("name", "typed", "word"),
    [("sort_code", "01", "six figures"), ("account_number", "1234567", "put noughts before")],
)
def test_a_doubtful_bank_detail_is_said_under_its_field(
    window: MainWindow, name: str, typed: str, word: str
) -> None:
    leaf = form(window)
    leaf.fields[name].set_text(typed)
    assert word in leaf.fields[name].fault()
    assert "not printed" in leaf.fields[name].fault()
    leaf.keep_all()
    assert window.leaf is leaf
    assert leaf.fields[name].text() == typed


def test_a_sort_code_is_read_back_as_it_is_printed(window: MainWindow) -> None:
    leaf = form(window)
    leaf.fields["account_number"].set_text("00000042")
    leaf.fields["sort_code"].set_text("000042")
    assert leaf.fields["sort_code"].fault() == ""
    assert "00-00-42" in [text.text() for text in leaf.fields["sort_code"].findChildren(QLabel)]


def test_half_an_account_is_kept_and_said_at_the_field(window: MainWindow) -> None:
    typist, leaf = Typist(window), form(window)
    sort_code, account = leaf.fields["sort_code"], leaf.fields["account_number"]
    sort_code.set_text("")
    account.set_text("00000042")
    assert account.note.text() == "needs a sort code"
    leaf.keep_all()
    assert books.business(window.desk.book).account_number == "00000042"
    window.go(Place("business_form", "own"))
    leaf = form(window)
    assert leaf.fields["account_number"].note.text() == "needs a sort code"
    leaf.fields["sort_code"].control().setFocus()
    typist.write("000042")
    assert leaf.fields["account_number"].note.text() == ""
    assert leaf.fields["sort_code"].note.text() == "00-00-42"


def test_the_vat_number_is_asked_for_where_one_is_registered_and_kept_otherwise(window: MainWindow) -> None:
    typist, leaf = Typist(window), form(window)
    leaf.fields["vat"].control().setFocus()
    typist.answer("r")
    assert leaf.fields["vat_number"].isVisible()
    typist.enter()
    assert typist.here == "vat_number"
    leaf.fields["vat_number"].control().selectAll()  # type: ignore[attr-defined]
    typist.write("GB 000 0000 00")
    leaf.fields["vat"].control().setFocus()
    typist.answer("n")
    assert not leaf.fields["vat_number"].isVisible()
    typist.enter()
    assert typist.here == "payment_days"
    leaf.keep_all()
    assert books.business(window.desk.book).vat_number == "GB 000 0000 00"


def test_series_are_named_as_in_running_text(window: MainWindow) -> None:
    labels = [label.text() for label in form(window).findChildren(QLabel)]
    assert "records: letters" in labels
