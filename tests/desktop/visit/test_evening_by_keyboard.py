"""The worked evening, typed into the real window by keys alone, comes out as ``flueleaf evening`` has it."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import QSettings, Qt
from tests.desktop.visit.conftest import TODAY
from tests.desktop.visit.typist import Typist, type_evening, type_notes

from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.visit.signed_visit import SignedVisitLeaf
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import book as books
from flueleaf.operations import evening as evenings
from flueleaf.operations.intake.reader import as_decimal
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices
from flueleaf.storage import papers

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.domain.records.visits import Visit
    from flueleaf.storage.book import Book

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def typist(bare_desk: Desk, keeper: ThemeKeeper, tmp_path: Path, qtbot: QtBot) -> Typist:
    """The window on the bare book, opened on a new visit by its key."""
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(bare_desk, keeper, settings)
    qtbot.addWidget(window)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    made = Typist(window)
    made.press(Qt.Key.Key_N, CTRL)
    return made


def leaf_of(typist: Typist) -> TypedVisitLeaf:
    leaf = typist.window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    return leaf


def read(document: dict[str, Any]) -> Visit:
    """Return a visit, with the numbers that are kept as given brought to one form."""
    visit = read_visit(document, choices=choices(), today=TODAY, typed=True)
    works = [
        replace(
            work,
            supply=replace(
                work.supply,
                gas_rate=as_numbers(work.supply.gas_rate),
                tightness=as_numbers(work.supply.tightness),
            ),
        )
        for work in visit.works
    ]
    return replace(visit, works=tuple(works))


def as_numbers(value: Any) -> Any:
    """Return decimal strings and JSON numbers alike as decimals."""
    if isinstance(value, dict):
        return {key: as_numbers(one) for key, one in value.items()}
    number = as_decimal(value)
    return value if number is None else number


def facts_of(book: Book) -> dict[str, Any]:
    """Return the facts of every sealed paper by its number."""
    return {
        paper.number: json.loads(papers.body(book.con, paper.number)[0])
        for paper in papers.all_papers(book.con)
    }


def test_the_evening_typed_by_keys_alone(
    typist: Typist, bare: Book, evening: dict[str, Any], tmp_path: Path, qtbot: QtBot
) -> None:
    beside = tmp_path / "beside.book"
    shutil.copyfile(bare.path, beside)
    type_evening(typist, evening)
    type_notes(typist, evening["works"][0])
    leaf = leaf_of(typist)
    leaf.judge()
    assert [one.text for one in leaf.left] == ["how signed"]
    typist.choose("sign_off.customer", "s")

    document = leaf.document()
    given = {key: value for key, value in evening.items() if key != "issued_at"}
    typed = read({**document, "visit_id": evening["visit_id"]})
    assert typed.works == read(given).works
    assert typed == read(given)

    typist.press(Qt.Key.Key_Return, CTRL)
    qtbot.waitUntil(lambda: isinstance(typist.window.leaf, SignedVisitLeaf), timeout=60_000)
    with books.writing_book(beside) as other:
        evenings.run(other, {**evening, "visit_id": document["visit_id"]}, out=tmp_path, today=TODAY)
        assert facts_of(bare) == facts_of(other)
    assert bare.con.execute("SELECT count(*) FROM draft").fetchone()[0] == 0

    # Both papers, one after the other, by keys.
    panel = typist.focus
    assert isinstance(panel, RowsPanel)
    typist.enter()
    assert typist.window.leaf is not None
    assert typist.window.leaf.place == Place("paper", next(iter(facts_of(bare))))
    typist.press(Qt.Key.Key_BracketLeft, CTRL)
    typist.press(Qt.Key.Key_Down)
    typist.enter()
    assert typist.window.leaf.place == Place("paper", list(facts_of(bare))[1])
