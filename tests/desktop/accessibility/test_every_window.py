"""Every leaf and every dialog as it is seen: contrast, ring of the keyboard, names, sizes; nothing moves."""

from __future__ import annotations

import ast
import datetime as dt
import importlib
import pkgutil
import sys
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QAbstractAnimation, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QDialog,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QWidget,
)
from tests.desktop.accessibility import seeing
from tests.desktop.test_every_leaf import NAMES, opened, uninvoiced

import flueleaf.desktop
from flueleaf.desktop.demo_book import DemoWaitDialog
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.help.glossary_dialog import GlossaryDialog
from flueleaf.desktop.help.sheet_dialog import SheetDialog
from flueleaf.desktop.help.worked_out_dialog import WorkedOutDialog
from flueleaf.desktop.key_sheet_dialog import KeySheetDialog
from flueleaf.desktop.no_book_dialog import NoBookDialog
from flueleaf.desktop.section import label
from flueleaf.desktop.settling.live_dialog import LiveDialog
from flueleaf.desktop.settling.logged_run_dialog import LoggedRunDialog
from flueleaf.desktop.theme import DARK, LIGHT, Palette
from flueleaf.desktop.verdict_mark import VERDICTS, Mark
from flueleaf.desktop.visit.slip_column import Spot
from flueleaf.domain.money.lines import Line
from flueleaf.operations import bills, pages
from flueleaf.operations.explaining import Explanation, Given
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

__all__ = ["uninvoiced"]  # a fixture of the other walk

ISSUED = dt.datetime(2026, 11, 25, 20, 15, tzinfo=dt.UTC)
CONTROLS = (QLineEdit, QPlainTextEdit, QAbstractButton, QAbstractItemView)
WHOLE_PAGE = (1280, 2600)  # so high that nothing of a leaf is scrolled out of sight
SCHEMES = pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
EVERY_LEAF = pytest.mark.parametrize("name", NAMES)
TOLD = Explanation(
    key="flue.max.1.co_ppm",
    title="CO without air",
    formula=("CO × 20.9 ÷ (20.9 − oxygen)",),
    inputs=(Given("CO", "70 ppm"),),
    steps=("70 × 20.9 ÷ 16.0 = 91.4375",),
    result="91 ppm",
    source="worked by hand",
    caution="Says nothing of the room.",
)
WAITS = "input()"  # a program that writes nothing and goes on until it is stopped
DIALOGS: dict[type[QDialog], Callable[[MainWindow], QDialog]] = {
    KeySheetDialog: lambda window: KeySheetDialog(window.commands, window),
    WorkedOutDialog: lambda window: WorkedOutDialog([TOLD], 0, window),
    GlossaryDialog: lambda window: GlossaryDialog((), window),
    DemoWaitDialog: lambda _window: DemoWaitDialog((sys.executable, ["-c", WAITS]), ISSUED.date()),
    NoBookDialog: lambda window: NoBookDialog("It is open elsewhere.", window.desk.ask),
    LoggedRunDialog: lambda window: LoggedRunDialog(
        (DEMO_DB / "logged_run.csv").read_bytes,
        "logged_run.csv",
        slip=Spot("flue", "max").words,
        named={},
        typed={"co_ppm": "64"},
        parent=window,
    ),
    LiveDialog: lambda window: LiveDialog(
        Spot("flue", "max").words, now=lambda: ISSUED, typed={"co_ppm": "64"}, parent=window
    ),
}
BASES = {SheetDialog}  # never shown itself
EVERY_DIALOG = pytest.mark.parametrize("kind", DIALOGS, ids=lambda kind: kind.__name__)


@pytest.fixture
def number(window: MainWindow) -> str:
    """A sealed paper; beside it an open quote for the premises shown."""
    book = window.desk.book
    page = pages.premises_page(book, 1)
    line = Line("Service", Decimal(1), "each", Decimal("78.00"), vat_pct=Decimal(20))
    bills.issue_quote(book, page.customer, page.premises, [line], issued_at=ISSUED)
    return str(book.con.execute("SELECT number FROM sealed_paper ORDER BY number").fetchone()[0])


def stops(window: QWidget) -> list[QWidget]:
    """Return the controls of a window that the Tab key stops at."""
    return [
        w
        for w in window.findChildren(QWidget)
        if isinstance(w, CONTROLS)
        and w.isVisible()
        and w.isEnabled()
        and not isinstance(w, QHeaderView)
        and w.focusPolicy() & Qt.FocusPolicy.TabFocus
    ]


def at_rest(qtbot: QtBot, window: QWidget) -> None:
    """Let the layouts come to rest."""
    sizes: list[list[int]] = []

    def resting() -> bool:
        sizes.append([w.height() for w in window.findChildren(QWidget)])
        return len(sizes) > 3 and sizes[-1] == sizes[-2]

    qtbot.waitUntil(resting, timeout=60_000)


@SCHEMES
@EVERY_LEAF
def test_every_leaf_is_seen(qtbot: QtBot, window: MainWindow, name: str, number: str, dark: bool) -> None:
    window.keeper.set_dark(dark)
    window.resize(*WHOLE_PAGE)
    opened(window, name, number)
    at_rest(qtbot, window)
    assert seeing.faint_texts(window) == []
    assert seeing.unlabelled(window, CONTROLS[:3]) == []
    assert seeing.misnamed(window) == []
    assert seeing.tiny(window, CONTROLS) == []
    assert seeing.hidden_rings(stops(window)) == []


@SCHEMES
@pytest.mark.parametrize("scale", [1.0, 2.0])
@EVERY_DIALOG
def test_every_dialog_is_seen(
    qtbot: QtBot, window: MainWindow, kind: type[QDialog], dark: bool, scale: float
) -> None:
    window.keeper.set_dark(dark)
    window.keeper.set_scale(scale)
    dialog = DIALOGS[kind](window)
    qtbot.addWidget(dialog)
    with qtbot.waitActive(dialog):
        dialog.show()
        dialog.activateWindow()
    at_rest(qtbot, dialog)
    assert dialog.windowTitle()
    assert dialog.objectName()
    assert seeing.faint_texts(dialog) == []
    assert seeing.unlabelled(dialog, CONTROLS) == []
    assert seeing.tiny(dialog, CONTROLS) == []
    assert seeing.hidden_rings(stops(dialog)) == []
    dialog.close()


def test_no_dialog_is_left_out() -> None:
    walked = pkgutil.walk_packages(flueleaf.desktop.__path__, "flueleaf.desktop.")
    modules = [importlib.import_module(found.name) for found in walked]
    dialogs = {
        thing
        for module in modules
        for thing in vars(module).values()
        if isinstance(thing, type) and issubclass(thing, QDialog) and thing.__module__ == module.__name__
    }
    assert dialogs - BASES == set(DIALOGS)


@SCHEMES
def test_a_fault_at_a_field_is_seen_without_its_colour(
    qtbot: QtBot, window: MainWindow, number: str, dark: bool
) -> None:
    window.keeper.set_dark(dark)
    leaf = opened(window, "business_form", number)
    field = next(one for one in leaf.findChildren(Field) if isinstance(one.control(), QLineEdit))
    field.set_text("what was typed")
    field.set_fault("This is not a number; type one like 12.5.")
    at_rest(qtbot, window)
    assert seeing.faint_texts(field) == []
    assert field.message.text() in {text.text() for text in seeing.texts(field) if isinstance(text, QLabel)}
    assert field.control().accessibleDescription() == field.fault()


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
def test_rules_rings_and_verdicts_stand_out_from_every_ground(palette: Palette) -> None:
    for ground in (palette.paper, palette.desk, palette.field):
        for mark in (palette.mark, palette.focus):
            assert seeing.contrast_of(mark, ground) >= seeing.MARK
        for verdict in palette.verdicts.values():
            assert seeing.contrast_of(verdict.outline, ground) >= seeing.MARK


@SCHEMES
@pytest.mark.parametrize("verdict", VERDICTS)
def test_the_fill_of_a_verdict_is_outlined(
    qtbot: QtBot, window: MainWindow, verdict: str, dark: bool
) -> None:
    window.keeper.set_dark(dark)
    mark = Mark(verdict)
    qtbot.addWidget(mark)
    mark.show()
    seen = seeing.luminance(seeing.picture(mark, 8))
    assert float(seeing.contrast(seen, seen[0, 0]).max()) >= seeing.MARK
    # Along the middle line the first colour met is the outline's.
    row = seeing.contrast(seen[seen.shape[0] // 2], seen[0, 0])
    first = int((row >= 1.2).argmax())
    assert row[first : first + 8].max() >= seeing.MARK


@pytest.mark.usefixtures("keeper")
def test_bad_things_are_found(qtbot: QtBot) -> None:
    """Each check sees what it is for."""
    bad = QWidget()
    line = QHBoxLayout(bad)
    faint = label("barely to be seen")
    faint.setStyleSheet("color: #c0b8a8")
    nameless, small, ringless = QLineEdit(), QPushButton("x"), QPushButton("no ring")
    small.setFixedSize(18, 18)
    ringless.setStyleSheet(
        "QPushButton, QPushButton:focus { border: 1px solid #857b6b; margin: 1px; outline: 0 }"
    )
    for widget in (faint, nameless, small, ringless):
        line.addWidget(widget)
    for name, widget in (("nameless", nameless), ("small", small), ("ringless", ringless)):
        widget.setObjectName(name)
    qtbot.addWidget(bad)
    with qtbot.waitActive(bad):
        bad.show()
        bad.activateWindow()
    assert any("barely" in fault for fault in seeing.faint_texts(bad))
    assert seeing.unlabelled(bad, CONTROLS) == ["QLineEdit nameless"]
    ringless.setAccessibleName("something else")
    assert seeing.misnamed(bad) == ["'no ring' is spoken 'something else'"]
    assert any("small" in fault for fault in seeing.tiny(bad, CONTROLS))
    assert any("ringless" in fault for fault in seeing.hidden_rings([nameless, ringless]))
    assert not any("nameless" in fault for fault in seeing.hidden_rings([nameless, ringless]))


def test_contrast_is_that_of_the_definition() -> None:
    assert seeing.contrast_of("#000000", "#ffffff") == pytest.approx(21)
    assert seeing.contrast_of("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # a well-known near miss


def moving_names() -> list[str]:
    """Return the names in the window's source that set something in motion."""
    moving = {"QPropertyAnimation", "QVariantAnimation", "QMovie", "QGraphicsOpacityEffect", "QTimeLine"}
    found = []
    for path in sorted(Path(flueleaf.desktop.__path__[0]).rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        tree = ast.parse(text)
        names = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name)}
        names |= {alias.name for n in ast.walk(tree) if isinstance(n, ast.ImportFrom) for alias in n.names}
        found += [f"{path.name}: {name}" for name in names & moving]
        found += [f"{path.name}: a bar without an end"] * text.count("setRange(0, 0)")
    return found


def test_nothing_moves(window: MainWindow) -> None:
    """Reduced motion is met for everybody: there is no motion to reduce."""
    assert moving_names() == []
    for effect in (
        Qt.UIEffect.UI_AnimateMenu,
        Qt.UIEffect.UI_FadeMenu,
        Qt.UIEffect.UI_AnimateCombo,
        Qt.UIEffect.UI_AnimateTooltip,
        Qt.UIEffect.UI_FadeTooltip,
        Qt.UIEffect.UI_AnimateToolBox,
    ):
        assert not QApplication.isEffectEnabled(effect)
    running = [one for one in window.findChildren(QAbstractAnimation) if one.state() != one.State.Stopped]
    assert running == []
    assert not window.isAnimated()


ROOMS = pytest.mark.parametrize(("size", "scale"), [((1280, 800), 1.0), ((1024, 700), 2.0)])


@ROOMS
@EVERY_LEAF
def test_what_tab_reaches_is_in_sight(
    qtbot: QtBot, window: MainWindow, name: str, number: str, size: tuple[int, int], scale: float
) -> None:
    window.keeper.set_scale(scale)
    window.resize(*size)
    opened(window, name, number)
    at_rest(qtbot, window)
    seen: set[QWidget] = set()
    faults = []
    while (focused := QApplication.focusWidget()) is not None and focused not in seen:
        seen.add(focused)
        faults.append(seeing.obscured(focused))
        qtbot.keyClick(focused, Qt.Key.Key_Tab)
        QApplication.sendPostedEvents()
    assert len(seen) > 1
    assert [fault for fault in faults if fault] == []


@pytest.mark.usefixtures("keeper")
def test_a_control_under_another_one_is_found(qtbot: QtBot) -> None:
    page = QWidget()
    page.resize(200, 100)
    under, over = QLineEdit(page), QLabel("lies over it", page)
    under.setObjectName("under")
    under.setGeometry(0, 0, 100, 30)
    over.setGeometry(0, 10, 200, 90)
    over.setAutoFillBackground(True)
    qtbot.addWidget(page)
    page.show()
    assert "under" in seeing.obscured(under)
    over.hide()
    assert seeing.obscured(under) == ""
