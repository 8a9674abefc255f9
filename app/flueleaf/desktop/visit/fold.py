"""Fields that are known already, folded into a line or two, and opened by a key."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.section import label
from flueleaf.desktop.theme import current


class Fold(QWidget):
    """Shows a summary with a button to open it, or the fields."""

    def __init__(self, name: str, what: str, body: QWidget, parent: QWidget | None = None) -> None:
        """Make it open.

        Args:
            name: object name.
            what: what is folded in, for the button's spoken name.
            body: the fields.
            parent: the widget it stands in.
        """
        super().__init__(parent)
        self.setObjectName(name)
        self.body = body
        self._summary = label("", wrap=True)
        self.opener = button("Change", f"{name}.open", self.open_up)
        self.opener.setAccessibleName(f"Change {what}")
        self.opener.setProperty("quiet", True)
        self._line = QWidget()
        line = QHBoxLayout(self._line)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(current().space(4))
        line.addWidget(self._summary, 1)
        line.addWidget(self.opener, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._line)
        column.addWidget(body)
        self._line.hide()

    @property
    def folded(self) -> bool:
        """Whether only the summary is shown."""
        return self.body.isHidden()

    def set_summary(self, text: str) -> None:
        """Say what is folded in."""
        self._summary.setText(text)

    def fold(self) -> None:
        """Show the summary only."""
        self.body.hide()
        self._line.show()

    def open_up(self) -> None:
        """Show the fields, with the cursor in the first one."""
        was = self.folded
        self.body.show()
        self._line.hide()
        if was and self.opener.hasFocus():
            self.body.focusNextPrevChild(True)


def unfold(widget: QWidget) -> None:
    """Open every fold that a widget lies in."""
    up = widget.parentWidget()
    while up is not None:
        if isinstance(up, Fold):
            up.open_up()
        up = up.parentWidget()
