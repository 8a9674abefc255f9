"""What is said in a window of its own when a book cannot be opened, with the way to another one."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from PySide6.QtWidgets import QApplication, QDialog, QHBoxLayout, QVBoxLayout

from flueleaf.desktop.ask import Answers, Ask
from flueleaf.desktop.buttons import button
from flueleaf.desktop.section import label
from flueleaf.desktop.theme import ThemeKeeper, current
from flueleaf.desktop.words import _

WIDTH_PX = 460
UNSEEN = ("offscreen", "minimal")  # platforms of Qt that draw where nobody looks


class NoBookDialog(QDialog):
    """Says why; ``chosen`` is the book to open instead, None to leave it."""

    def __init__(self, problem: str, ask: Ask) -> None:
        super().__init__()
        self.setObjectName("no_book")
        self.setWindowTitle("Flueleaf")
        self._ask = ask
        self.chosen: Path | None = None
        theme = current()
        column = QVBoxLayout(self)
        column.setContentsMargins(theme.space(6), theme.space(5), theme.space(6), theme.space(5))
        column.setSpacing(theme.space(4))
        column.addWidget(label(_("The book cannot be opened"), role="title", wrap=True))
        self.words = label(_(problem), wrap=True)
        column.addWidget(self.words)
        line = QHBoxLayout()
        line.addWidget(button(_("Choose another book"), "no_book.choose", self._choose, primary=True))
        line.addWidget(button(_("Close"), "no_book.close", self.reject))
        line.addStretch(1)
        column.addLayout(line)
        self.setMinimumWidth(theme.px(WIDTH_PX))
        self.setAccessibleName(self.words.text())

    def _choose(self) -> None:
        self.chosen = self._ask.open_file(self, _("Choose a book"), _("Books") + " (*.book)")
        if self.chosen is not None:
            self.accept()


def another_book(problem: str, scale: float) -> Path | None:
    """Say what is wrong and return another book, None to leave it; without a screen nothing is asked."""
    if not _somebody_looks():
        return None
    app = QApplication.instance()
    app = app if isinstance(app, QApplication) else QApplication(sys.argv[:1])
    ThemeKeeper(app, scale=scale)
    dialog = NoBookDialog(problem, Answers())
    dialog.exec()
    return dialog.chosen


def _somebody_looks() -> bool:
    if os.environ.get("QT_QPA_PLATFORM", "").partition(":")[0] in UNSEEN:
        return False
    has_screen = any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY"))
    return has_screen or sys.platform in {"win32", "darwin"}
