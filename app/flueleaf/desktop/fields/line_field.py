"""A field that is one line of typing; numbers, dates and choices build on it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit, QSizePolicy, QWidget

from flueleaf.desktop.fields.field import Field, shortened, unprintable
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _

LONGEST_CHARACTERS = 500  # a pasted page is cut here, so that it can neither hang the window nor the book
_LINE_ENDS = str.maketrans(dict.fromkeys("\t\n\x0b\x0c\r\x1c\x1d\x1e\x85\u2028\u2029", " "))


class LineField(Field):
    """One line of text, with the message of its own check shown when the field is left."""

    def __init__(
        self,
        name: str,
        label: str,
        *,
        spoken: str = "",
        width_px: int = 0,
        longest: int = LONGEST_CHARACTERS,
        parent: QWidget | None = None,
    ) -> None:
        """Make an empty line.

        Args:
            name: object name, the path of the value.
            label: what it is called.
            spoken: its name for screen readers, where that says more (the unit, the column of a grid).
            width_px: width at 100 % text; 0 takes the room there is.
            longest: most characters kept of what is typed or pasted.
            parent: the widget it stands in.
        """
        super().__init__(name, label, parent)
        self._width_px = width_px
        self.edit = QLineEdit()
        self.edit.setMaxLength(longest)
        self.hold(self.edit, spoken)
        if width_px:
            self.line.addStretch(1)
            self.edit.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._fit()
        self.edit.textEdited.connect(self._on_edited)
        self.edit.returnPressed.connect(self.move_on)
        self.edit.installEventFilter(self)

    def text(self) -> str:
        """Return the text as typed."""
        return self.edit.text()

    def set_text(self, text: str) -> None:
        """Fill in without a signal, and check it, so that a reopened draft says its faults again."""
        self.edit.setText(text)
        self.edit.setCursorPosition(0)
        self.check()

    def problem(self) -> str:
        """Return what is wrong with the text, or ""; an empty field has no fault."""
        if not unprintable(self.text()):
            return ""
        return _(
            "“{value}” holds characters that cannot be printed. Type letters, figures and signs.",
            value=shortened(self.text()),
        )

    def check(self) -> bool:
        """Show or take away the message; returns whether the text is acceptable."""
        self.set_fault(self.problem())
        return not self.fault()

    def read_back(self) -> None:
        """Refresh the note after the control, where a field has one."""

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Check when the control is left; a window that merely loses the screen is not left."""
        if watched is self.edit and isinstance(event, QKeyEvent) and _undoes(event):
            event.ignore()  # the leaf undoes, over all its fields, not the control for itself
            return True
        if watched is self.edit and isinstance(event, QFocusEvent) and event.lostFocus():
            self.check()
            self.left.emit()
        return super().eventFilter(watched, event)

    def _fit(self) -> None:
        if self._width_px:
            self.edit.setFixedWidth(current().px(self._width_px))

    def _on_edited(self, text: str) -> None:
        if (flat := text.translate(_LINE_ENDS)) != text:  # what was pasted from several lines becomes one
            at = self.edit.cursorPosition()
            self.edit.setText(flat)
            self.edit.setCursorPosition(at)
            text = flat
        if self.fault():  # looked at again, not completed: the next letter may still come
            self.set_fault(self.problem())
        self.read_back()
        self.edited.emit(text)


def _undoes(event: QKeyEvent) -> bool:
    keys = QKeySequence.StandardKey
    return event.type() == QEvent.Type.ShortcutOverride and (
        event.matches(keys.Undo) or event.matches(keys.Redo)
    )


class TextField(LineField):
    """Plain words."""
