"""A longer piece of work beside the window: how far it is, how long it may take still, and leaving it off.

The time left is estimated from the rate so far, and only once there is a rate to speak of.
"""

from __future__ import annotations

import math
import threading
import time
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, Signal

from flueleaf.desktop.worker import Worker

Progress = Callable[[int, int], None]  # done, of how many
Cancelled = Callable[[], bool]
Work = Callable[[Progress, Cancelled], Any]

RATE_AFTER_S = 1.0  # before that the rate of so few steps says nothing; common practice


class Busy(QObject):
    """Runs one longer piece of work at a time; a line of the window shows it.

    The work runs in a thread of its own: it opens its own connection to the book and touches no widget. It
    calls ``progress`` after each step and stops, with what it has, when ``cancelled`` says so.
    """

    began = Signal(str)  # title
    advanced = Signal(int, int)  # done, of how many
    ended = Signal()
    failed = Signal(object)  # Exception; an end as well

    def __init__(self, parent: QObject | None = None, *, clock: Callable[[], float] = time.monotonic) -> None:
        """Make it idle.

        Args:
            parent: its owner.
            clock: seconds that only go on.
        """
        super().__init__(parent)
        self._clock = clock
        self._began_s = 0.0
        self._stop = threading.Event()
        self._then: Callable[[Any], None] = _nothing
        self._title = ""
        self._worker = Worker(self)
        self._worker.done.connect(self._on_done)
        self._worker.failed.connect(self._on_failed)

    @property
    def going_on(self) -> bool:
        """Whether work is going on."""
        return self._worker.busy

    @property
    def title(self) -> str:
        """What is going on, or went on last."""
        return self._title

    @property
    def stopping(self) -> bool:
        """Whether the work was asked to stop."""
        return self._stop.is_set()

    def start(self, title: str, work: Work, then: Callable[[Any], None]) -> bool:
        """Begin; returns False, and does nothing, while other work is going on.

        Args:
            title: what is done, in two or three words.
            work: given ``progress`` and ``cancelled``.
            then: given what the work returned, on the window's thread.
        """
        if self.going_on:
            return False
        self._stop.clear()
        self._then, self._title = then, title
        self._began_s = self._clock()
        self.began.emit(title)
        return self._worker.start(lambda: work(self.advanced.emit, self._stop.is_set))

    def cancel(self) -> None:
        """Ask the work to stop after the step it is at."""
        if self.going_on:
            self._stop.set()

    def wait(self) -> None:
        """Wait for the end of the work (closing the window must not cut it off)."""
        self._worker.wait()

    def left_s(self, done: int, of: int) -> int | None:
        """Return the seconds left at the rate so far, None while there is no rate to speak of."""
        passed_s = self._clock() - self._began_s
        if not 0 < done <= of or passed_s < RATE_AFTER_S:
            return None
        return math.ceil(passed_s / done * (of - done))

    def _on_done(self, result: Any) -> None:
        self.ended.emit()
        self._then(result)

    def _on_failed(self, problem: Exception) -> None:
        self.ended.emit()
        self.failed.emit(problem)


def _nothing(_result: Any) -> None:
    """What follows before anything was begun."""
