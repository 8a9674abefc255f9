"""The base of every field: a control, what stands after it, and the message under it.

The contract every field keeps (leaves and tests rely on it):

- ``objectName`` is the path of the value (``slip.0.co_ppm``); the control inside has the name + ``.edit``.
- ``text()`` is what was typed, kept as typed; ``set_text`` fills it in without a signal.
- ``edited(str)`` at every change by the person; ``left()`` when the field is left; ``entered()`` at Enter,
  after which the focus moves on by itself unless ``moves_on`` is off.
- ``set_fault(text)`` shows a message under the field and never moves the focus; "" takes it away.

Note and message are made when they are first needed: a leaf has hundreds of fields, and few of them show one.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from flueleaf.desktop.spacing import set_gap

LONGEST_SHOWN = 24  # characters of a refused value that a message repeats
# They turn the direction of what follows, so that a text reads other than it is (Unicode Standard Annex 9,
# section 2.1 and 2.2: explicit directional embeddings, overrides and isolates; recalled).
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def shortened(text: str) -> str:
    """Return a refused value as a message shows it: its beginning, unprintable characters written out."""
    shown = text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"
    return "".join(_written_out(c) for c in shown)


def unprintable(text: str) -> bool:
    """Tell whether a text holds control characters, half a character, or marks that turn its direction."""
    return any(
        ord(c) < 32 or 127 <= ord(c) < 160 or c in _TURNING or 0xD800 <= ord(c) <= 0xDFFF for c in text
    )


def _written_out(character: str) -> str:
    return character.encode("unicode_escape").decode("ascii") if unprintable(character) else character


class Field(QWidget):
    """One value to type or choose."""

    edited = Signal(str)
    left = Signal()
    entered = Signal()

    def __init__(self, name: str, label: str, parent: QWidget | None = None) -> None:
        """Make an empty field.

        Args:
            name: object name, the path of the value.
            label: what it is called, for its row label and for screen readers.
            parent: the widget it stands in.
        """
        super().__init__(parent)
        self.setObjectName(name)
        self.label = label
        self.spoken = label
        self.moves_on = True
        self._fault = ""
        self._hint = ""
        self._held: QWidget | None = None
        self._note: QLabel | None = None
        self._message: QLabel | None = None
        self.line = QHBoxLayout()
        self.line.setContentsMargins(0, 0, 0, 0)
        set_gap(self.line, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(self.line)
        self._put_message: Callable[[QLabel], object] = column.addWidget
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)

    @property
    def note(self) -> QLabel:
        """What stands after the control."""
        if self._note is None:
            self._note = QLabel(self)
            self._note.setObjectName(f"{self.objectName()}.note")
            self._note.setProperty("tone", "soft")
            self._note.hide()
            at = self.line.indexOf(self._held) if self._held is not None else -1
            self.line.insertWidget(at + 1, self._note)
        return self._note

    @property
    def message(self) -> QLabel:
        """What is wrong, in words."""
        if self._message is None:
            self._message = QLabel(self)
            self._message.setObjectName(f"{self.objectName()}.message")
            self._message.setProperty("role", "small")
            self._message.setProperty("tone", "fault")
            self._message.setWordWrap(True)
            self._message.hide()
            self._put_message(self._message)
        return self._message

    def put_message(self, put: Callable[[QLabel], object]) -> None:
        """Let the message stand elsewhere than under the control; ``put`` sets it into a layout there."""
        self._put_message = put
        if self._message is not None:
            put(self._message)
            self._message.setVisible(bool(self._fault))

    def hold(self, control: QWidget, spoken: str = "") -> None:
        """Take the control in, the one that gets the focus; ``spoken`` is its name for screen readers."""
        self.spoken = spoken or self.label
        control.setObjectName(f"{self.objectName()}.edit")
        control.setAccessibleName(self.spoken)
        self.line.addWidget(control)
        self._held = control
        self.setFocusProxy(control)

    def text(self) -> str:
        """Return what was typed or chosen, as typed."""
        raise NotImplementedError

    def set_text(self, text: str) -> None:
        """Fill the field in without telling anybody."""
        raise NotImplementedError

    def entry(self) -> str:
        """Return what goes into a document: the text, or its plain form where the field understands it."""
        return self.text().strip()

    def show_entry(self, entry: str) -> None:
        """Fill in what ``entry`` returned, without telling anybody."""
        self.set_text(entry)

    def set_note(self, text: str) -> None:
        """Say something quiet after the control: a unit, or how the text was read."""
        if text or self._note is not None:
            self.note.setText(text)
            self.note.setVisible(bool(text))

    def fault(self) -> str:
        """Return the message shown, "" if the field has none."""
        return self._fault

    def set_fault(self, text: str) -> None:
        """Show a message under the field; "" takes it away. The focus stays where it is."""
        if text == self._fault:
            return
        self._fault = text
        self.message.setText(text)
        self.message.setVisible(bool(text))
        control = self.control()
        control.setAccessibleDescription(text or self._hint)
        control.setProperty("faulty", bool(text))
        control.style().unpolish(control)
        control.style().polish(control)

    def set_hint(self, text: str) -> None:
        """Tell screen readers what is accepted, while there is no message."""
        self._hint = text
        if not self._fault:
            self.control().setAccessibleDescription(text)

    def changeEvent(self, event: QEvent) -> None:
        """Keep the measures in step with the text scale."""
        if event.type() == QEvent.Type.FontChange:
            self._fit()
        super().changeEvent(event)

    def control(self) -> QWidget:
        """Return the control inside, the one that has the focus."""
        proxy = self.focusProxy()
        return proxy if proxy is not None else self

    def move_on(self) -> None:
        """Tell that Enter was pressed, and go to the next field."""
        self.entered.emit()
        if self.moves_on:
            self.focusNextPrevChild(True)

    def _fit(self) -> None:
        """Give the control its measures at this text scale, where a field sets them."""
