"""The three columns of the window: finder, leaf and margin, with widths that are remembered."""

from __future__ import annotations

import contextlib

from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QSplitterHandle, QVBoxLayout, QWidget

from flueleaf.desktop.margin.margin_panel import MarginPanel
from flueleaf.desktop.section import QWIDGETSIZE_MAX
from flueleaf.desktop.theme import current

SIDES, SIDES_PX = ("finder", "margin"), (232, 252)  # usual widths at 100 % text
SMALLEST_PX = (150, 240, 200)
# Window widths under which a column folds away; those with something beside the page leave half of what
# remains wide enough for a slip.
FOLD_MARGIN_UNDER_PX, FOLD_FINDER_UNDER_PX = 1100, 680
FOLD_MARGIN_BESIDE_PX, FOLD_FINDER_BESIDE_PX = 1240, 1000
WIDEST_PX = 1500  # of the three together: the page at its measure and both beside it


class Handle(QSplitterHandle):
    """The line between two columns; beside an empty one none is drawn."""

    bare = False

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the line, or nothing."""
        if not self.bare:
            super().paintEvent(event)


class Split(QSplitter):
    """A splitter with such handles."""

    def createHandle(self) -> QSplitterHandle:  # noqa: N802
        """Return a new handle."""
        return Handle(self.orientation(), self)


class Columns(QWidget):
    """Stays together in the middle of a very wide window, as a page does on a desk."""

    def __init__(self, finder: QWidget, leaf: QWidget, margin: MarginPanel) -> None:
        super().__init__()
        self._sides_px = list(SIDES_PX)
        self._narrow = self._margin_over_all = False
        self._wants_margin = True
        self._room = QWidget()  # a splitter sets its own greatest width anew with each of its parts
        self._split = Split(Qt.Orientation.Horizontal)
        self.setProperty("ground", "desk")
        self._room.setProperty("ground", "paper")
        self._split.setHandleWidth(1)
        self._split.setChildrenCollapsible(False)
        self._parts = (finder, leaf, margin)
        for part in self._parts:
            self._split.addWidget(part)
        self._split.setStretchFactor(1, 1)
        self._split.splitterMoved.connect(self._on_moved)
        margin.filled.connect(self._on_filled)
        within = QVBoxLayout(self._room)
        within.setContentsMargins(0, 0, 0, 0)
        within.addWidget(self._split)
        middle = QHBoxLayout(self)
        middle.setContentsMargins(0, 0, 0, 0)
        middle.setSpacing(0)
        middle.addStretch(1)
        middle.addWidget(self._room, 1000)
        middle.addStretch(1)

    def limit(self, *, beside: bool) -> None:
        """Set the least and greatest widths; what stands beside a page takes all the room there is."""
        theme = current()
        self._room.setMaximumWidth(QWIDGETSIZE_MAX if beside else theme.px(WIDEST_PX))
        for part, least_px in zip(self._parts, SMALLEST_PX, strict=True):
            part.setMinimumWidth(theme.px(least_px))

    def fold(self, whole_px: int, *, beside: bool, searching: bool) -> None:
        """Fold columns away where there is no room for them.

        Args:
            whole_px: the width of the window.
            beside: whether something stands beside the page.
            searching: whether the finder has the keyboard; then it is shown whatever the room.
        """
        theme = current()
        finder, _leaf, margin = self._parts
        self._narrow = whole_px < theme.px(FOLD_MARGIN_BESIDE_PX if beside else FOLD_MARGIN_UNDER_PX)
        room = whole_px >= theme.px(FOLD_FINDER_BESIDE_PX if beside else FOLD_FINDER_UNDER_PX)
        over = self._narrow and self._margin_over_all
        margin.setVisible(over or (self._wants_margin and not self._narrow))
        finder.setVisible((room or searching) and not (over and not searching))

    def toggle_margin(self) -> None:
        """Want the margin or not; where it is folded away it is called over the finder's room."""
        if self._narrow:
            self._margin_over_all = not self._margin_over_all
        else:
            self._wants_margin = not self._wants_margin

    def set_sizes(self, whole_px: int) -> None:
        """Give the columns beside the leaf their widths at this text scale, the leaf the rest.

        Args:
            whole_px: the width of the window.
        """
        finder, margin = (current().px(wide_px) for wide_px in self._sides_px)
        whole_px = min(whole_px, self._room.maximumWidth())
        self._split.setSizes([finder, max(whole_px - finder - margin, 1), margin])

    def restore(self, settings: QSettings) -> None:
        """Take up the widths of the last time."""
        for at, name in enumerate(SIDES):
            with contextlib.suppress(TypeError, ValueError):  # whatever stands in the file, there is a width
                kept_px = int(str(settings.value(f"window/{name}_px")))
                self._sides_px[at] = min(max(kept_px, SIDES_PX[at] // 2), 2 * SIDES_PX[at])

    def keep(self, settings: QSettings) -> None:
        """Note the widths for the next time."""
        for name, wide_px in zip(SIDES, self._sides_px, strict=True):
            settings.setValue(f"window/{name}_px", wide_px)

    def _on_filled(self, filled: bool) -> None:
        """Draw the line before the margin, or none while there is nothing in it."""
        handle = self._split.handle(2)
        if isinstance(handle, Handle):
            handle.bare = not filled
            handle.update()

    def _on_moved(self, _at_px: int, _handle: int) -> None:
        scale = current().scale
        for at, wide_px in enumerate(self._split.sizes()[::2]):
            if wide_px:  # one that is folded away keeps its width
                self._sides_px[at] = round(wide_px / scale)
