"""What Enter and Tab do while a list of offers is open: take the offer walked to, then go on as always."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QCompleter

from flueleaf.desktop.fields.line_field import LineField

_ON = {Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab}


class PopupKeys(QObject):
    """Watches the list of a field's completer.

    Left to itself the completer would swallow the first Enter where a new name was typed in full and nothing
    was chosen; and where something was, it would hand Enter to the edit line, which goes on, and only then
    take the offer: one field would be jumped over.
    """

    def __init__(self, field: LineField, completer: QCompleter) -> None:
        """Watch a completer that is the field's already."""
        super().__init__(completer)
        self._field = field
        self._completer = completer
        if (popup := completer.popup()) is not None:
            popup.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Close the list and go on."""
        if not isinstance(event, QKeyEvent) or event.type() != QEvent.Type.KeyPress or event.key() not in _ON:
            return super().eventFilter(watched, event)
        popup = self._completer.popup()
        if popup is None or not popup.isVisible():
            return False
        walked_to = popup.currentIndex()
        popup.hide()
        if walked_to.isValid():  # taken as with a click; on only then, for a pick may fill other fields
            popup.clicked.emit(walked_to)
            QTimer.singleShot(0, self._field, self._go_on)
            return True
        self._field.move_on()
        return True

    def _go_on(self) -> None:
        """Go on from the field, unless what was picked took the cursor somewhere else."""
        focused = QApplication.focusWidget()
        if focused is None or self._field.isAncestorOf(focused):
            self._field.move_on()
