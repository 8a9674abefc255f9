"""What is made of a leaf after it is shown: a piece at each turn of the event loop, so that keys are heard.

A whole visit is hundreds of controls. What stands around the cursor is made at once; the rest waits here, in
the order of the page, and whoever needs all of it asks for ``complete``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, QTimer, Signal

Piece = Callable[[], bool]  # makes something; returns whether it wants to be called again


class Later(QObject):
    """The pieces of one leaf that are still to be made."""

    made = Signal()  # one more piece
    done = Signal()  # nothing waits any more

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._waiting: list[tuple[object, Piece]] = []
        self._shown = False
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self.step)

    @property
    def busy(self) -> bool:
        """Whether something still waits."""
        return bool(self._waiting)

    def put(self, owner: object, pieces: Sequence[Piece], *, first: bool = False) -> None:
        """Let pieces wait, in place of what waits for the same owner.

        Args:
            owner: what they belong to.
            pieces: in the order they are made in.
            first: before everything else that waits.
        """
        self._waiting = [(of, piece) for of, piece in self._waiting if of is not owner]
        mine = [(owner, piece) for piece in pieces]
        self._waiting = [*mine, *self._waiting] if first else [*self._waiting, *mine]
        self._go_on()

    def run(self, *, shown: bool) -> None:
        """Go on while the leaf is shown, and rest while it is not."""
        self._shown = shown
        self._go_on()

    def waits(self, owner: object) -> bool:
        """Tell whether something of an owner still waits."""
        return any(of is owner for of, _piece in self._waiting)

    def step(self) -> None:
        """Make one piece."""
        if not self._waiting:
            return
        owner, piece = self._waiting.pop(0)
        if piece():
            self._waiting.insert(0, (owner, piece))
        self.made.emit()
        if not self._waiting:
            self._timer.stop()
            self.done.emit()

    def complete(self) -> None:
        """Make everything now."""
        while self._waiting:
            self.step()

    def stop(self) -> None:
        """Make nothing any more: the leaf goes."""
        self._waiting.clear()
        self._timer.stop()

    def _go_on(self) -> None:
        if self._waiting and self._shown:
            self._timer.start()
        else:
            self._timer.stop()
