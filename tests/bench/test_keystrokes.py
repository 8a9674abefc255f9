"""What one key costs while a slip is typed: judged, told in the margin, painted, beside a yardstick."""

from __future__ import annotations

import copy
import datetime as dt
import os
import statistics
import time
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEvent, QObject, QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from tests.bench.test_stalls import bare_book, slower
from tests.desktop.visit.typist import Typist, go, leaf_of

from flueleaf.desktop.ask import Answers
from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import Place
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.window import MainWindow
from flueleaf.operations import book as books
from flueleaf.operations import drafting
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from pathlib import Path

    from pytestqt.qtbot import QtBot

TODAY = dt.date(2026, 11, 20)
# Of the window's thread, on the machine the stalls' limit was set for; both are our own measure of calm.
JUDGED_MS = 10.0  # a key heard and judged, until the margin holds what follows from it
SHOWN_MS = 20.0  # the same with laying out and painting: hardly more than one frame of a usual screen
# Good, near, over and unjudged by turns: what the margin says changes with nearly each key.
TYPED = {"co_ppm": ("345", "3512", "61"), "o2_pct": ("9.1", "4.8"), "co2_pct": ("12.9", "9.1")}
ROUNDS = 4


@dataclass
class Costs:
    """What the keys of one figure took, ms each, as on the machine the limits were set for."""

    judged: list[float] = field(default_factory=list)
    shown: list[float] = field(default_factory=list)


class Paints(QObject):
    """Counts what is painted, so that a measure without painting cannot pass for one with it."""

    def __init__(self) -> None:
        super().__init__()
        self.painted: set[str] = set()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Note a widget that is painted."""
        if event.type() == QEvent.Type.Paint and isinstance(watched, QWidget):
            self.painted.add(watched.metaObject().className())
        return False


class Stopwatch:
    """Adds up what hearing and judging take of the window's thread, apart from laying out and painting."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.taken_ms = 0.0
        for name in ("_on_typed", "judge_typed"):
            monkeypatch.setattr(TypedVisitLeaf, name, self._timed(getattr(TypedVisitLeaf, name)))

    def _timed(self, real: Any) -> Any:
        def timed(leaf: TypedVisitLeaf) -> None:
            begun = time.thread_time()
            real(leaf)
            self.taken_ms += (time.thread_time() - begun) * 1e3

        return timed


def a_window(folder: Path, keeper: ThemeKeeper, qtbot: QtBot, desk: Desk) -> MainWindow:
    """Show a window on a book."""
    ini = QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(desk, keeper, ini)
    qtbot.addWidget(window)
    window.resize(1280, 900)
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    return window


def type_over(typist: Typist, watch: Stopwatch, name: str, figure: str) -> Costs:
    """Type a figure in place of what stands in a field; return the costs of each of its keys."""
    go(typist, name)
    typist.rest()
    QTest.keyClick(typist.focus, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    typist.rest()
    costs = Costs()
    before = slower(repeat=5)
    for letter in figure:
        watch.taken_ms = 0.0
        begun = time.thread_time()
        QTest.keyClicks(typist.focus, letter)
        typist.rest()
        costs.shown.append((time.thread_time() - begun) * 1e3)
        costs.judged.append(watch.taken_ms)
    by = (before + slower(repeat=5)) / 2
    return Costs([took / by for took in costs.judged], [took / by for took in costs.shown])


@pytest.mark.bench
@pytest.mark.qt_log_ignore("This plugin does not support")
def test_a_key_is_judged_within_ten_milliseconds_and_painted_soon_after(
    qapp: QApplication,
    qtbot: QtBot,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    document: dict[str, Any] = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    begun = copy.deepcopy({key: value for key, value in document.items() if key != "issued_at"})
    watch = Stopwatch(monkeypatch)  # before the leaf is made, which connects what it times
    with books.writing_book(bare_book(tmp_path)) as book:
        key = str(drafting.begin(book, today=TODAY)["visit_id"])
        drafting.keep(book, {**begun, "visit_id": key}, at="works.0.slips.1.co_ppm")
        desk = Desk(book, ChangeHub(), lambda: TODAY, Answers())
        window = a_window(tmp_path, ThemeKeeper(qapp, dark=False), qtbot, desk)
        window.go(Place("visit", key))
        typist = Typist(window)
        while not leaf_of(typist).whole:
            typist.rest()
        paints = Paints()
        qapp.installEventFilter(paints)
        found: dict[str, Costs] = {}
        for n in range(1 + ROUNDS):
            if n == 1:
                qapp.removeEventFilter(paints)  # hearing every event would cost more than some of them
            for quantity, figures in TYPED.items():
                for figure in figures:
                    costs = type_over(typist, watch, f"works.0.slips.1.{quantity}", figure)
                    if n:  # the first round only warms
                        kept = found.setdefault(f"{quantity} {figure}", Costs())
                        kept.judged += costs.judged
                        kept.shown += costs.shown
        window.close()
    with capsys.disabled():
        print(
            f"\nallowed: judged {JUDGED_MS:.1f} ms, shown {SHOWN_MS:.1f} ms; now {slower():.1f} times as slow"
        )
        for what, one in found.items():
            judged, shown = statistics.median(one.judged), statistics.median(one.shown)
            print(f"{what}: judged {judged:.1f} ms, shown {shown:.1f} ms, most {max(one.shown):.1f} ms")
    assert {"Bullet", "ReadingField"} <= paints.painted, "without painting it is no measure of a key"
    assert all(took > 0 for one in found.values() for took in one.judged), "each key was judged"
    medians = {
        what: (statistics.median(one.judged), statistics.median(one.shown)) for what, one in found.items()
    }
    slow = {what: took for what, took in medians.items() if took[0] > JUDGED_MS or took[1] > SHOWN_MS}
    assert slow == {}
