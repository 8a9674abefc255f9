"""Keeps a draft in the book: on leaving a field, and soon after the last key."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem

WAIT_MS = 600  # after the last key


class DraftKeeper(QObject):
    """Writes only what has changed since it was written last."""

    kept = Signal(bool)
    failed = Signal(str)

    def __init__(
        self,
        write: Callable[[], object],
        parent: QObject | None = None,
    ) -> None:
        """Make a keeper that has nothing to keep.

        Args:
            write: keeps the draft as typed; returns once it is on the disk.
            parent: its owner.
        """
        super().__init__(parent)
        self._write = write
        self._dirty = False
        self._stopped = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(WAIT_MS)
        self._timer.timeout.connect(self.keep)

    @property
    def stopped(self) -> bool:
        """Whether the draft is signed off, put away, or just being signed off."""
        return self._stopped

    def touch(self) -> None:
        """Take note that something was typed."""
        if self._stopped:
            return
        if not self._dirty:
            self._dirty = True
            self.kept.emit(False)
        self._timer.start()

    def keep(self) -> bool:
        """Write the draft if anything is new; what cannot be written is said, and tried again.

        Returns:
            whether everything typed is on the disk.
        """
        self._timer.stop()
        if not self._dirty or self._stopped:
            return True
        try:
            self._write()
        except UserProblem as problem:
            self.failed.emit(_("Not kept yet: {problem}", problem=_(problem.text)))
            self._timer.start()
            return False
        self._dirty = False
        self.kept.emit(True)
        return True

    def stop(self) -> None:
        """Keep nothing any more: the draft was signed off or put away."""
        self._stopped = True
        self._timer.stop()

    def resume(self) -> None:
        """Go on keeping, after a sign-off that was refused."""
        self._stopped = False
        self._dirty = True
        self.keep()
