from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QLabel

from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.operations import drafting, pages

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow


def texts(window: MainWindow) -> list[str]:
    assert window.leaf is not None
    return [label.text() for label in window.leaf.findChildren(QLabel)]


def test_nothing_to_do_is_said(window: MainWindow) -> None:
    assert "Nothing is left unfinished." in texts(window)


def test_who_owes_and_what_was_issued(window: MainWindow) -> None:
    page = pages.tonight(window.desk.book, window.desk.today())
    assert window.leaf is not None
    owing = window.leaf.findChild(RowsPanel, "leaf.tonight.who_owes")
    papers = window.leaf.findChild(RowsPanel, "leaf.tonight.papers_issued_last")
    assert owing is not None
    assert papers is not None
    assert [row.cells[-1] for row in owing.rows_model.rows] == [row.owing for row in page.owing] != []
    assert [row.cells[2] for row in papers.rows_model.rows] == [row.number for row in page.papers] != []


def test_a_draft_appears_as_soon_as_it_is_kept(window: MainWindow) -> None:
    desk = window.desk
    document = drafting.begin(desk.book, today=desk.today(), premises_id=1)
    desk.hub.tell(drafting.keep(desk.book, document))
    assert window.leaf is not None
    table = window.leaf.findChild(RowsPanel, "leaf.tonight.unfinished")
    assert table is not None
    place = table.rows_model.rows[0].place
    assert place is not None
    assert (place.leaf, place.key) == ("visit", document["visit_id"])
    assert "Nothing is left unfinished." not in texts(window)


def test_the_cursor_goes_to_what_is_unfinished(window: MainWindow) -> None:
    desk = window.desk
    desk.hub.tell(drafting.keep(desk.book, drafting.begin(desk.book, today=desk.today(), premises_id=1)))
    window.go(Place("tonight"))
    assert window.leaf is not None
    assert window.leaf.first_focus() is window.leaf.findChild(RowsPanel, "leaf.tonight.unfinished")
