"""Longer work: its end, its rate, leaving it off."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QWidget
from tests.desktop.conftest import show

from flueleaf.desktop.busy.busy import Busy, Cancelled, Progress
from flueleaf.desktop.busy.busy_panel import BusyPanel, left_words

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper


class FakeClock:
    def __init__(self) -> None:
        self.now_s = 0.0

    def __call__(self) -> float:
        return self.now_s


class Stepping:
    """Work that waits at each of its four steps until it may go on."""

    def __init__(self) -> None:
        self.go_on = threading.Semaphore(0)
        self.steps = 0

    def __call__(self, progress: Progress, cancelled: Cancelled) -> int:
        progress(0, 4)
        while self.steps < 4 and not cancelled():
            assert self.go_on.acquire(timeout=60)
            self.steps += 1
            progress(self.steps, 4)
        return self.steps


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()


@pytest.fixture
def busy(qapp: Any, clock: FakeClock) -> Busy:
    assert qapp is not None
    return Busy(clock=clock)


@pytest.fixture
def line(qtbot: QtBot, busy: Busy, keeper: ThemeKeeper) -> Iterator[BusyPanel]:
    assert keeper is not None
    room = QWidget()
    panel = BusyPanel(busy, room)
    show(qtbot, room)
    yield panel
    room.hide()


def test_what_the_work_returned_is_handed_on(qtbot: QtBot, busy: Busy) -> None:
    got: list[int] = []
    work = Stepping()
    assert busy.start("Counting", work, got.append)
    assert not busy.start("Counting again", work, got.append)
    with qtbot.waitSignal(busy.ended, timeout=60_000):
        work.go_on.release(4)
    assert (got, busy.going_on) == ([4], False)


def test_the_line_tells_how_far_and_how_long(
    qtbot: QtBot, busy: Busy, line: BusyPanel, clock: FakeClock
) -> None:
    work = Stepping()
    busy.start("Counting", work, lambda _: None)
    qtbot.waitUntil(lambda: line.text == "Counting: 0 of 4", timeout=60_000)
    assert line.isVisible()
    clock.now_s = 30.0
    work.go_on.release()
    # One step in 30 s: three more take 90 s, said as whole minutes.
    qtbot.waitUntil(lambda: line.text == "Counting: 1 of 4, about 2 minutes left", timeout=60_000)
    with qtbot.waitSignal(busy.ended, timeout=60_000):
        work.go_on.release(3)
    assert not line.isVisible()


@pytest.mark.parametrize("way", ["escape", "button"])
def test_the_work_stops_after_its_step(qtbot: QtBot, busy: Busy, line: BusyPanel, way: str) -> None:
    work, got = Stepping(), list[int]()
    busy.start("Counting", work, got.append)
    work.go_on.release()
    qtbot.waitUntil(lambda: line.text == "Counting: 1 of 4", timeout=60_000)
    if way == "escape":
        qtbot.keyClick(line.window(), Qt.Key.Key_Escape)
    else:
        stop = line.findChild(QPushButton, "busy.stop")
        assert stop is not None
        stop.click()
    assert line.text == "Stopping…"
    with qtbot.waitSignal(busy.ended, timeout=60_000):
        work.go_on.release()
    assert got == [2]


def test_a_failure_ends_the_work(qtbot: QtBot, busy: Busy, line: BusyPanel) -> None:
    def fail(_progress: Progress, _cancelled: Cancelled) -> None:
        raise OSError("no room")

    with qtbot.waitSignal(busy.failed, timeout=60_000) as failed:
        busy.start("Counting", fail, lambda _: None)
    assert failed.args is not None
    assert str(failed.args[0]) == "no room"
    assert (busy.going_on, line.isVisible()) == (False, False)


def test_a_rate_needs_a_while(busy: Busy, clock: FakeClock) -> None:
    assert busy.left_s(1, 4) is None
    clock.now_s = 8.0
    assert [busy.left_s(done, 4) for done in (0, 1, 2, 4)] == [None, 24, 8, 0]


def test_the_time_left_in_round_words() -> None:
    assert [left_words(seconds) for seconds in (3, 41, 60, 61)] == [
        "a few seconds left",
        "about 50 seconds left",
        "about 1 minute left",
        "about 2 minutes left",
    ]
