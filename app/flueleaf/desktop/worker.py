"""Work that takes longer than a blink, done beside the window, with its end told on the window's thread."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QThread, Signal


class _Job(QThread):
    def __init__(self, work: Callable[[], Any], parent: QObject) -> None:
        super().__init__(parent)
        self._work = work
        self.result: Any = None
        self.problem: Exception | None = None

    def run(self) -> None:
        """Do the work; what it raises is handed over, not lost in the thread."""
        try:
            self.result = self._work()
        except Exception as problem:  # raised again or shown by the one who asked
            self.problem = problem


class Worker(QObject):
    """Runs one piece of work at a time in a thread of its own.

    The work opens its own connection to the book and touches no widget. Exactly one of the two signals
    follows.
    """

    done = Signal(object)
    failed = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._job: _Job | None = None

    @property
    def busy(self) -> bool:
        """Whether work is going on."""
        return self._job is not None

    def start(self, work: Callable[[], Any]) -> bool:
        """Begin; returns False, and does nothing, while earlier work is going on."""
        if self.busy:
            return False
        self._job = _Job(work, self)
        self._job.finished.connect(self._on_finished)
        self._job.start()
        return True

    def wait(self) -> None:
        """Wait for the work to end (closing the window must not cut it off)."""
        if self._job is not None:
            self._job.wait()

    def _on_finished(self) -> None:
        job, self._job = self._job, None
        if job is None:
            return
        job.deleteLater()
        if job.problem is not None:
            self.failed.emit(job.problem)
        else:
            self.done.emit(job.result)
