"""The demo book of this month: written once, by a process of its own, and copied for each look round."""

from __future__ import annotations

import contextlib
import datetime as dt
import shutil
import tempfile
from pathlib import Path

from PySide6.QtCore import QProcess
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QDialog, QVBoxLayout

from flueleaf import __version__
from flueleaf.desktop.section import label
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.paths import owner_folder

WIDTH_PX = 460
TITLE = _("The demo book is being written")
WAIT = _(
    "Some years of invented visits and their papers. Once a month this takes half a minute; then it opens."
)


def demo_file(today: dt.date) -> Path:
    """Return where the demo book of a month lies, whether it is written or not."""
    return owner_folder() / f"demo-{__version__}-{today:%Y-%m}.book"


def forget_older(today: dt.date) -> None:
    """Remove the demo books of months gone by; one that another window is just copying stays for now."""
    for older in owner_folder().glob("demo-*.book"):
        if older != demo_file(today):
            with contextlib.suppress(OSError):
                older.unlink()


def fresh_copy(today: dt.date) -> Path:
    """Return a copy of the demo book, alone in a folder of its own."""
    path = Path(tempfile.mkdtemp(prefix="flueleaf-demo-")) / "demo.book"
    shutil.copyfile(demo_file(today), path)
    return path


class DemoWaitDialog(QDialog):
    """Says that the demo book is being written; closing it stops that.

    It is accepted when the book is there, also where another window has written it meanwhile.
    """

    def __init__(self, program: tuple[str, list[str]], today: dt.date) -> None:
        """Begin to write.

        Args:
            program: path of this program and the arguments it begins with.
            today: the day the story reaches.
        """
        super().__init__()
        self.setObjectName("demo_wait")
        self.setWindowTitle("Flueleaf")
        self.setAccessibleName(TITLE)
        self.problem = ""
        self._today = today
        theme = current()
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.space(6), theme.space(5), theme.space(6), theme.space(5))
        column.setSpacing(theme.space(4))
        column.addWidget(label(TITLE, role="title", wrap=True))
        column.addWidget(label(WAIT, wrap=True))
        self.setMinimumWidth(theme.px(WIDTH_PX))
        self._process = QProcess(self)
        self._process.finished.connect(self._on_finished)
        self._process.errorOccurred.connect(self._on_error)
        path, arguments = program
        made = [str(demo_file(today)), "--today", today.isoformat()]
        self._process.start(path, [*arguments, "make-demo", *made])

    def reject(self) -> None:
        """Stop writing; the file appears only when it is whole."""
        self._stop()
        super().reject()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Stop writing."""
        self._stop()
        super().closeEvent(event)

    def _stop(self) -> None:
        self._process.blockSignals(True)
        if self._process.state() != QProcess.ProcessState.NotRunning:
            self._process.kill()
            self._process.waitForFinished()

    def _on_finished(self) -> None:
        if demo_file(self._today).exists():
            self.accept()
            return
        said = bytes(self._process.readAllStandardError().data()).decode("utf-8", "replace").strip()
        self.problem = said.splitlines()[-1] if said else _("The demo book could not be written.")
        super().reject()

    def _on_error(self) -> None:
        if self._process.error() == QProcess.ProcessError.FailedToStart:
            self.problem = _("The demo book could not be written: {why}.", why=self._process.errorString())
            super().reject()
