"""Loading matplotlib beside the window: it takes a third of a second, for which nothing may wait."""

from __future__ import annotations

import functools
import logging
from types import SimpleNamespace
from typing import Any

from PySide6.QtCore import QCoreApplication, QObject, Signal

from flueleaf.desktop.theme import FAMILY
from flueleaf.desktop.worker import Worker
from flueleaf.paths import RESOURCES


def _load() -> SimpleNamespace:
    # Imported here, in a worker's thread, because start-up must not carry it.
    from matplotlib import dates, font_manager  # noqa: PLC0415
    from matplotlib.backends.backend_qtagg import FigureCanvasQTAgg  # noqa: PLC0415
    from matplotlib.figure import Figure  # noqa: PLC0415
    from matplotlib.ticker import MaxNLocator  # noqa: PLC0415

    logging.getLogger("matplotlib.font_manager").setLevel(logging.ERROR)
    for path in sorted((RESOURCES / "fonts").glob(f"{FAMILY}-*.ttf")):
        font_manager.fontManager.addfont(str(path))
    return SimpleNamespace(
        Figure=Figure, Canvas=FigureCanvasQTAgg, dates=dates, MaxNLocator=MaxNLocator, family=FAMILY
    )


class Plotting(QObject):
    """The plotting library, on its way or there."""

    ready = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.library: Any = None
        self._worker = Worker(self)
        self._worker.done.connect(self._on_done)
        app = QCoreApplication.instance()
        if app is not None:
            app.aboutToQuit.connect(self._worker.wait)

    def begin(self) -> None:
        """Begin loading; does nothing when it is loaded or on its way."""
        if self.library is None:
            self._worker.start(_load)

    def _on_done(self, library: object) -> None:
        self.library = library
        self.ready.emit()


@functools.cache
def plotting() -> Plotting:
    """Return the one loader of this process."""
    return Plotting()
