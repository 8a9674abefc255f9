"""Python's collector of cyclic garbage, kept to the window's thread and to moments when Qt is at rest.

Left to itself it runs wherever memory is asked for: in a worker's thread, or in the middle of a change of
style. A widget it then destroys is one that Qt is still walking over, and the program goes down.
"""

from __future__ import annotations

import functools
import gc

from PySide6.QtCore import QCoreApplication, QObject, QTimer

EVERY_MS = 1000


class Tidier(QObject):
    """Collects between two events, when as much has gathered as would make Python collect by itself."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        gc.disable()
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.tidy)
        self._timer.start(EVERY_MS)

    def tidy(self) -> int:
        """Collect the generations that are full; returns how many objects went."""
        full = [gathered > most for gathered, most in zip(gc.get_count(), gc.get_threshold(), strict=True)]
        return gc.collect(2 if all(full) else 1 if all(full[:2]) else 0) if full[0] else 0


@functools.cache
def tidier() -> Tidier:
    """Return the one tidier of this process; from its first call on Python collects nothing by itself."""
    return Tidier(QCoreApplication.instance())
