"""Questions that need a window of their own; tests hand in their answers instead."""

from __future__ import annotations

from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QStandardPaths, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QFileDialog, QWidget


class Ask(Protocol):
    """What a leaf may ask of the person or of the system."""

    def save_as(self, parent: QWidget, title: str, suggested: Path) -> Path | None:
        """Return where to save a file, None to leave it."""

    def open_file(self, parent: QWidget, title: str, pattern: str) -> Path | None:
        """Return a file to read, None to leave it."""

    def folder(self, parent: QWidget, title: str, suggested: Path) -> Path | None:
        """Return a folder to save into, None to leave it."""

    def show_outside(self, path: Path) -> bool:
        """Open a file in the program the system has for it; returns whether there is one."""


class Answers:
    """The real questions, by the system's own file dialogs."""

    def __init__(self) -> None:
        self._last: dict[str, Path] = {}  # where a file of a pattern was last found

    def save_as(self, parent: QWidget, title: str, suggested: Path) -> Path | None:
        """Ask where to save; an existing file is asked about by the dialog itself."""
        name, _ = QFileDialog.getSaveFileName(parent, title, str(suggested))
        return Path(name) if name else None

    def open_file(self, parent: QWidget, title: str, pattern: str) -> Path | None:
        """Ask which file to read, where one was last found; ``pattern`` as in ``Pictures (*.png)``."""
        name, _ = QFileDialog.getOpenFileName(parent, title, str(self._begin(pattern)), pattern)
        if not name:
            return None
        self._last[pattern] = Path(name).parent
        return Path(name)

    def folder(self, parent: QWidget, title: str, suggested: Path) -> Path | None:
        """Ask which folder to save into."""
        name = QFileDialog.getExistingDirectory(parent, title, str(suggested))
        return Path(name) if name else None

    def show_outside(self, path: Path) -> bool:
        """Hand the file to the system."""
        return QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))

    def _begin(self, pattern: str) -> Path:
        """Return the folder a search begins in: the last one, where pictures lie, or the person's own."""
        places = QStandardPaths.StandardLocation
        pictures = Path(QStandardPaths.writableLocation(places.PicturesLocation))
        first = pictures if "*.png" in pattern and pictures.is_dir() else Path.home()
        return self._last.get(pattern, first)
