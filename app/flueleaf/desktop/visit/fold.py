"""Fields that are known already, folded into a line or two, and opened by a key; made when first shown."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.words import _


class Fold(QWidget):
    """Shows a summary with a button to open it, or the fields."""

    built = Signal()  # the fields are there now

    def __init__(
        self, name: str, opening: str, make: Callable[[], QWidget], parent: QWidget | None = None
    ) -> None:
        """Make it folded, with no fields yet.

        Args:
            name: object name.
            opening: what the button does, spoken: "Change the plate".
            make: makes the fields, once, when they are first wanted.
            parent: the widget it stands in.
        """
        super().__init__(parent)
        self.setObjectName(name)
        self._make = make
        self.body: QWidget | None = None
        self._summary = label("", wrap=True)
        self.opener = button(_("Change"), f"{name}.open", self.open_up)
        self.opener.setAccessibleName(opening)
        self.opener.setProperty("quiet", True)
        self._line = QWidget()
        line = QHBoxLayout(self._line)
        line.setContentsMargins(0, 0, 0, 0)
        set_gap(line, 4)
        line.addWidget(self._summary, 1)
        line.addWidget(self.opener, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._line)

    @property
    def folded(self) -> bool:
        """Whether only the summary is shown."""
        return self.body is None or self.body.isHidden()

    def set_summary(self, text: str) -> None:
        """Say what is folded in."""
        self._summary.setText(text)

    def build(self) -> QWidget:
        """Make the fields, still folded, where they are not there yet; returns what holds them."""
        if self.body is None:
            self.body = self._make()
            self.body.hide()
            column = self.layout()
            assert column is not None
            column.addWidget(self.body)
            self.built.emit()
        return self.body

    def fold(self) -> None:
        """Show the summary only."""
        if self.body is not None:
            self.body.hide()
        self._line.show()

    def expect(self) -> None:
        """Show neither summary nor fields: the fields are about to come."""
        self._line.hide()

    def open_up(self) -> None:
        """Show the fields, with the cursor in the first one."""
        was = self.folded
        body = self.build()
        body.show()
        if was and self.opener.hasFocus():
            body.focusNextPrevChild(True)
        self._line.hide()


def unfold(widget: QWidget) -> None:
    """Open every fold that a widget is folded into; the button of a fold is not."""
    up = widget.parentWidget()
    while up is not None:
        if isinstance(up, Fold) and up.body is not None and up.body.isAncestorOf(widget):
            up.open_up()
        up = up.parentWidget()
