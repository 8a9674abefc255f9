"""Short work in a thread of the application's pool; its end is told on the window's thread.

Unlike ``Worker`` it needs no owner that outlives it: a leaf may go while a picture is still being read.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import shiboken6
from PySide6.QtCore import QObject, QThreadPool, Signal


class _Errand(QObject):
    """Lives on the window's thread until its end was told there."""

    ended = Signal(object, object)  # result, problem

    def __init__(
        self, owner: QObject, done: Callable[[Any], object], failed: Callable[[Exception], object]
    ) -> None:
        super().__init__()
        self._owner, self._done, self._failed = owner, done, failed
        self.ended.connect(self._on_ended)

    def _on_ended(self, result: Any, problem: Exception | None) -> None:
        _under_way.discard(self)
        if not shiboken6.isValid(self._owner):
            return
        if problem is None:
            self._done(result)
        else:
            self._failed(problem)


# Held here, so that nothing of Qt is ever destroyed in a thread of the pool.
_under_way: set[_Errand] = set()


def run_beside(
    work: Callable[[], Any],
    owner: QObject,
    done: Callable[[Any], object],
    failed: Callable[[Exception], object],
) -> None:
    """Do some work in a thread; ``done`` or ``failed`` follows on the window's thread.

    Args:
        work: touches no widget, and opens the book by itself.
        owner: nothing follows when it is gone by then.
        done: given what the work returned.
        failed: given what it raised.
    """
    errand = _Errand(owner, done, failed)
    _under_way.add(errand)
    told = errand.ended

    def run() -> None:
        try:
            result, problem = work(), None
        except Exception as error:  # handed over, not lost in the thread
            result, problem = None, error
        told.emit(result, problem)

    QThreadPool.globalInstance().start(run)


def wait_for_all() -> None:
    """Wait until no work is going on in the threads; what it came to is told by the next events."""
    QThreadPool.globalInstance().waitForDone()
