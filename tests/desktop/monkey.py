"""Somebody who presses anything, but plausible things: words, figures, keys, actions, leaves, sizes."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.place import TONIGHT, Place

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from flueleaf.desktop.window import MainWindow

T = TypeVar("T")

WORDS = (
    "20.9", "0.0", "4.8", "4,8", "9.1 %", "61", "61 ppm", "0.0007", "1.2.3", "-5", "99999999", "1e3",
    "٣", "½",
    "95 Ropewalk Parade", "Quarrowby", "QX1 4RS", "qx14rs", "Perran Quillstone", "condensing boiler",
    "gas fire", "oil boiler", "natural gas", "kerosene", "Calderwyn", "Rill 24 combi", "air inlet, flue",
    "9:10", "2515", "0910", "27/11/2027", "31.02.2026", "yesterday", "20 Nov 2026", "y", "n", "s",
    "Service", "78.00", "£78", "20", "invoice", "new visit", "שלום", "😀🔥", "a\u0301", "'; --", "<b>x</b>",
    "   ", "é" * 40, "0" * 70,
)  # fmt: skip
PASTED = ("Dear Sir,\n\nO2 4.8\r\nCO2 9.1\t0\n" * 60, "7" * 5000, "\u202eabc\u0000\ufffd", "", "4.8\n")
KEYS = (
    *(Qt.Key.Key_Tab,) * 4, *(Qt.Key.Key_Return,) * 8, Qt.Key.Key_Backtab, Qt.Key.Key_Escape, Qt.Key.Key_Up,
    *(Qt.Key.Key_Down,) * 2, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Home, Qt.Key.Key_End,
    *(Qt.Key.Key_Backspace,) * 2, Qt.Key.Key_Delete, Qt.Key.Key_Space, Qt.Key.Key_PageDown, Qt.Key.Key_PageUp,
    Qt.Key.Key_F6, Qt.Key.Key_F8,
)  # fmt: skip
WITH_CONTROL = (Qt.Key.Key_Z, Qt.Key.Key_Y, Qt.Key.Key_A, Qt.Key.Key_X, Qt.Key.Key_V, *(Qt.Key.Key_1,) * 4)
LEFT_ALONE = ("Close the book", "Look round in the demo book")  # the one ends it, the other is a program
LEAVES = (
    "premises", "appliance", "customer_form", "premises_form", "appliance_form", "instrument_form",
)  # fmt: skip
SIZES = (QSize(1280, 800), QSize(1024, 700), QSize(640, 480), QSize(1900, 1000))


def type_letter(target: QWidget, letter: str) -> None:
    """Send a letter as a keyboard or an input method does; the test library itself knows only ASCII."""
    if letter.isascii():
        QTest.keyClicks(target, letter)
        return
    for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
        QApplication.sendEvent(target, QKeyEvent(kind, 0, Qt.KeyboardModifier.NoModifier, letter))


class Monkey:
    """Acts on a window by chance alone; the same seed does the same."""

    def __init__(self, window: MainWindow, seed: int) -> None:
        self.window = window
        self.chance = random.Random(seed)
        self.told: list[str] = []
        self._ways: dict[Callable[[], str], int] = {
            self._write: 40, self._key: 60, self._command: 10, self._paste: 3, self._control: 8, self._go: 3,
            self._visit: 3, self._readings: 6, self._look: 1,
        }  # fmt: skip

    def act(self, times: int) -> None:
        """Do something so many times."""
        ways, weights = list(self._ways), list(self._ways.values())
        for _ in range(times):
            self.told.append(self.chance.choices(ways, weights)[0]())
            QTest.qWait(0)

    def _target(self) -> QWidget:
        return QApplication.activePopupWidget() or QApplication.focusWidget() or self.window

    def _write(self) -> str:
        word = self._one(WORDS)
        for letter in word[: self.chance.randint(1, 80)]:
            type_letter(self._target(), letter)
        return f"write {word!r}"

    def _key(self) -> str:
        key = self._one(KEYS)
        QTest.keyClick(self._target(), key)
        return key.name

    def _control(self) -> str:
        key = self._one(WITH_CONTROL)
        QTest.keyClick(self._target(), key, Qt.KeyboardModifier.ControlModifier)
        return f"Ctrl+{key.name}"

    def _command(self) -> str:
        command = self._one([c for c in self.window.commands if c.words not in LEFT_ALONE])
        command.run()
        QTest.qWait(0)
        if (sheet := QApplication.activeModalWidget()) is not None:
            QTest.keyClick(sheet, Qt.Key.Key_Escape)
        return command.words

    def _paste(self) -> str:
        QGuiApplication.clipboard().setText(self._one(PASTED))
        QTest.keyClick(self._target(), Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
        return "paste"

    def _go(self) -> str:
        place = Place(self._one(LEAVES), self._one(("", "1", "2", "77")), within="1")
        if place.leaf in {"premises", "appliance"} and not place.key:
            place = TONIGHT
        self.window.go(place)
        return str(place)

    def _visit(self) -> str:
        self.window.go(Place(self._one(("visit", "visit", "quote")), within=self._one(("", "1"))))
        return "new visit or quote"

    def _readings(self) -> str:
        QTest.keyClick(self._target(), Qt.Key.Key_G, Qt.KeyboardModifier.ControlModifier)
        for _ in range(self.chance.randint(1, 12)):
            QTest.keyClicks(
                self._target(), self._one(("20.9", "0.0", "4.8", "9.1", "61", "0.0007", "54", ""))
            )
            QTest.keyClick(self._target(), Qt.Key.Key_Return)
        return "readings"

    def _look(self) -> str:
        self.window.resize(self._one(SIZES))
        self.window.keeper.set_scale(self._one((1.0, 1.25, 2.0)))
        return "another size"

    def _one(self, things: Sequence[T]) -> T:
        return self.chance.choice(things)
