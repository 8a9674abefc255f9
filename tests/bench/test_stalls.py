"""The scripted evening, with a watchdog beside it: nothing holds the window after the first use of a leaf."""

from __future__ import annotations

import copy
import datetime as dt
import itertools
import os
import statistics
import timeit
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QDeadlineTimer, QSettings, Qt, QThread
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from tests.desktop.visit.typist import Typist, type_evening
from tests.desktop.watchdog import Stall, Watchdog

from flueleaf.desktop.ask import Answers
from flueleaf.desktop.change_hub import ChangeHub
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import Place
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.visit.signed_visit import SignedVisitLeaf
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.window import MainWindow
from flueleaf.domain.records.business import Business
from flueleaf.operations import book as books
from flueleaf.operations import drafting
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from pytestqt.qtbot import QtBot

    from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 20)
CTRL = Qt.KeyboardModifier.ControlModifier
LONGEST_STALL_MS = 50.0  # our own measure of a calm evening
# On the machine the limit was set for, adding up a million numbers takes about this long; a slower machine
# is allowed as much more as it needs longer for the sum.
USUAL_SUM_MS = 10.0
EVENINGS = 2  # what holds the window does so in each of them; what another program took, in one at most
LONGEST_WAIT_MS, SETTLING_MS = 60_000, 1500


class WatchedTypist(Typist):
    """Types as ever; each key and each pass of the loop is a turn of the watchdog."""

    def __init__(self, window: MainWindow, dog: Watchdog) -> None:
        super().__init__(window)
        self.dog = dog

    def _at(self) -> str:
        focused = QApplication.focusWidget()
        return focused.objectName() if focused is not None else "nothing"

    def passes(self, after: str) -> None:
        with self.dog.turn(f"loop after {after}"):
            QTest.qWait(0)

    def wait_for(self, done: Callable[[], bool], after: str, *, for_ms: int = LONGEST_WAIT_MS) -> None:
        """Let the loop turn until something is done; between two passes other threads have the word."""
        until = QDeadlineTimer(for_ms)
        while not done() and not until.hasExpired():
            self.passes(after)
            QThread.msleep(1)

    def come_to_rest(self, after: str) -> None:
        """Let the loop turn until the leaf is whole and judged."""
        self.wait_for(lambda: isinstance(self.window.leaf, TypedVisitLeaf) and self.window.leaf.whole, after)
        for _ in range(3):
            self.passes(after)

    def press(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.presses += 1
        what = f"{key.name} at {self._at()}"
        target = QApplication.activePopupWidget() or self.focus
        with self.dog.turn(what):
            QTest.keyClick(target, key, modifiers)
        self.passes(what)

    def write(self, text: str) -> None:
        self.typed += len(text)
        for letter in text:
            what = f"{letter!r} at {self._at()}"
            target = QApplication.activePopupWidget() or self.focus
            with self.dog.turn(what):
                QTest.keyClicks(target, letter)
            self.passes(what)

    def answer(self, letter: str) -> None:
        self.presses += 1
        what = f"answer {letter!r} at {self._at()}"
        with self.dog.turn(what):
            QTest.keyClicks(self.focus, letter)
        self.passes(what)


def an_evening(folder: Path, keeper: ThemeKeeper, qtbot: QtBot, dog: Watchdog) -> None:
    """Type the worked evening into a window on an empty book, sign it and look at both papers."""
    folder.mkdir()
    document: dict[str, Any] = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    issued_at = dt.datetime.fromisoformat(document["issued_at"])
    with books.writing_book(bare_book(folder)) as book:
        desk = Desk(book, ChangeHub(), lambda: TODAY, Answers(), now=lambda: issued_at)
        window = MainWindow(desk, keeper, QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat))
        qtbot.addWidget(window)
        with qtbot.waitActive(window):
            window.show()
            window.activateWindow()
        typist = WatchedTypist(window, dog)
        typist.press(Qt.Key.Key_N, CTRL)
        type_evening(typist, document)
        typist.choose("sign_off.customer", "s")
        typist.press(Qt.Key.Key_Return, CTRL)
        typist.wait_for(lambda: isinstance(window.leaf, SignedVisitLeaf), "signing")
        assert isinstance(window.leaf, SignedVisitLeaf), window.notice
        typist.enter()
        typist.press(Qt.Key.Key_BracketLeft, CTRL)
        typist.press(Qt.Key.Key_Down)
        typist.enter()
        typist.wait_for(lambda: False, "the second paper", for_ms=SETTLING_MS)
        window.close()


def again_and_more(folder: Path, keeper: ThemeKeeper, qtbot: QtBot, dog: Watchdog) -> None:
    """Open a draft left at its sign-off again, by the way back, and add appliances to it."""
    folder.mkdir()
    document: dict[str, Any] = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    with books.writing_book(bare_book(folder)) as book:
        window = MainWindow(
            Desk(book, ChangeHub(), lambda: TODAY, Answers()),
            keeper,
            QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat),
        )
        qtbot.addWidget(window)
        with qtbot.waitActive(window):
            window.show()
            window.activateWindow()
        key = _half_known(book, document)
        typist = WatchedTypist(window, dog)
        with dog.turn("opening"):
            window.go(Place("visit", key))
        typist.come_to_rest("opening")
        assert typist.here == "sign_off.customer"
        typist.press(Qt.Key.Key_B, CTRL)
        typist.come_to_rest("adding a known appliance")
        assert typist.here.startswith("works.1."), typist.here
        window.close()


def _half_known(book: Book, document: dict[str, Any]) -> str:
    """Sign off a visit to two appliances; keep a draft to the first of them, all typed; returns its id."""
    second = copy.deepcopy(document["works"][0])
    second["appliance"] |= {"serial": "QZ-2", "location": "loft"}
    issued_at = dt.datetime.fromisoformat(document["issued_at"])
    begun = {key: value for key, value in document.items() if key != "issued_at"}
    both = {**begun, "works": [*begun["works"], second]}
    drafting.sign_off(book, both, issued_at=issued_at, today=TODAY)
    key = str(drafting.begin(book, today=TODAY)["visit_id"])
    drafting.keep(book, {**begun, "visit_id": key}, at="sign_off.customer")
    return key


def bare_book(folder: Path) -> Path:
    path = folder / "bare.book"
    book = books.create(path)
    books.save_business(book, Business(name="Jory Quillfeather", vat="standard", vat_number="GB999999973"))
    book.close()
    return path


def sum_ms(repeat: int = 15) -> float:
    """Return how long this machine needs for adding up a million numbers, the floor of the comparison."""
    return statistics.median(timeit.repeat(lambda: sum(range(1_000_000)), number=1, repeat=repeat)) * 1e3


def slower(repeat: int = 15) -> float:
    """Return how many times as slow as that machine this one is now; 1 for a faster one.

    A machine that is shared is fast and slow by turns: it is asked beside what is measured.
    """
    return max(sum_ms(repeat) / USUAL_SUM_MS, 1.0)


@pytest.mark.bench
def test_a_slot_that_holds_the_window_is_named() -> None:
    dog = Watchdog(0.0)
    with dog.turn("a slow key"):
        timeit.repeat(lambda: sum(range(1_000_000)), number=1, repeat=10)
    assert dog.turns == 1
    assert "a slow key" in str(dog.stalls[0])
    assert "test_stalls.<lambda>" in str(dog.stalls[0])


@pytest.mark.bench
@pytest.mark.qt_log_ignore("This plugin does not support")
@pytest.mark.parametrize("evening", [an_evening, again_and_more])
def test_nothing_holds_the_window_during_the_evening(
    evening: Callable[[Path, ThemeKeeper, QtBot, Watchdog], None],
    qapp: QApplication,
    qtbot: QtBot,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    keeper = ThemeKeeper(qapp, dark=False)
    dogs = [Watchdog(LONGEST_STALL_MS) for _ in range(1 + EVENINGS)]
    speeds = [slower()]
    for n, dog in enumerate(dogs):
        evening(tmp_path / str(n), keeper, qtbot, dog)
        speeds.append(slower())
    # The first evening only warms; each other counts as on the machine the limit was set for.
    watched = [
        {what: replace(stall, ms=stall.ms / ((before + after) / 2)) for what, stall in dog.worst().items()}
        for dog, (before, after) in zip(dogs[1:], itertools.pairwise(speeds[1:]), strict=True)
    ]
    again = {what for what in watched[0] if all(what in other for other in watched)}
    held = sorted((min((w[what] for w in watched), key=_length) for what in again), key=_length, reverse=True)
    with capsys.disabled():
        print(f"\n{dogs[-1].turns} turns; allowed: {LONGEST_STALL_MS:.0f} ms; {speeds[-1]:.1f} times as slow")
        print("\n".join(str(stall) for stall in held))
    assert [str(stall) for stall in held if stall.ms > LONGEST_STALL_MS] == []


def _length(stall: Stall) -> float:
    return stall.ms
