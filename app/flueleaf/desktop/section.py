"""A section of a leaf: a small head with a hairline and a state word, and rows under it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QLayout, QSizePolicy, QVBoxLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.rule import Rule
from flueleaf.desktop.theme import current

LABEL_WIDTH_PX = 152


class Section(QWidget):
    """A stage or a part of a leaf.

    Rows are added from top to bottom: ``add_row`` puts a field behind its label, ``add_fact`` a text,
    ``add_widget`` anything over the whole width.
    """

    def __init__(self, title: str, state: str = "", parent: QWidget | None = None) -> None:
        """Make an empty section.

        Args:
            title: its head, in lower case as in running text.
            state: the word at the right end of the rule, such as "complete" or "1 left".
            parent: the widget it stands in.
        """
        super().__init__(parent)
        self.title = title
        self.setObjectName(f"section.{title.replace(' ', '_')}")
        self.head = label(title, role="head")
        self._state = label("", role="small", tone="soft")
        line = QHBoxLayout()
        line.setSpacing(current().space(3))
        line.addWidget(self.head)
        line.addWidget(Rule(), 1)
        line.addWidget(self._state)
        self._caution = label("", role="small", tone="soft", wrap=True)
        self._caution.hide()
        self.rows = QGridLayout()
        self.rows.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(line)
        column.addWidget(self._caution)
        column.addLayout(self.rows)
        self.set_state(state)
        self._fit()

    @property
    def state(self) -> str:
        """The state word shown."""
        return self._state.text()

    def set_state(self, state: str) -> None:
        """Change the state word; "" shows none."""
        self._state.setText(state)
        self._state.setVisible(bool(state))

    def set_caution(self, text: str) -> None:
        """Say, in two lines at most, what the section is for and what to take care of."""
        self._caution.setText(text)
        self._caution.setVisible(bool(text))

    def add_row(self, field: Field, text: str = "") -> Field:
        """Put a field behind its label; returns the field."""
        words = label(text or field.label, tone="soft", wrap=True)
        words.setBuddy(field.control())
        words.setMinimumHeight(current().px(28))
        words.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        words.setContentsMargins(0, current().space(1.5), 0, 0)
        row = self.rows.rowCount()
        self.rows.addWidget(words, row, 0, Qt.AlignmentFlag.AlignTop)
        self.rows.addWidget(field, row, 1)
        self._fit()
        return field

    def add_fact(self, name: str, text: str) -> QLabel:
        """Put a text behind its name; returns the text's label."""
        row = self.rows.rowCount()
        shown = label(text, wrap=True)
        shown.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        shown.setAccessibleName(f"{name}: {text}")
        self.rows.addWidget(label(name, tone="soft", wrap=True), row, 0, Qt.AlignmentFlag.AlignTop)
        self.rows.addWidget(shown, row, 1, Qt.AlignmentFlag.AlignTop)
        self._fit()
        return shown

    def add_widget(self, widget: QWidget) -> None:
        """Put a widget over the whole width."""
        self.rows.addWidget(widget, self.rows.rowCount(), 0, 1, 2)

    def add_layout(self, layout: QLayout) -> None:
        """Put a layout over the whole width."""
        self.rows.addLayout(layout, self.rows.rowCount(), 0, 1, 2)

    def changeEvent(self, event: QEvent) -> None:
        """Keep the distances in step with the text scale."""
        if event.type() == QEvent.Type.FontChange:
            self._fit()
        super().changeEvent(event)

    def _fit(self) -> None:
        theme = current()
        if (column := self.layout()) is not None:
            column.setSpacing(theme.space(2))
        self.rows.setHorizontalSpacing(theme.space(4))
        self.rows.setVerticalSpacing(theme.space(1.5))
        behind_labels = any(self.rows.itemAtPosition(row, 1) for row in range(self.rows.rowCount()))
        self.rows.setColumnMinimumWidth(0, theme.px(LABEL_WIDTH_PX) if behind_labels else 0)


def label(text: str, *, role: str = "", tone: str = "", wrap: bool = False) -> QLabel:
    """Return a label set in a role (title, lead, head, small) and tone (soft, strong, fault) of the theme."""
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    if role:
        made.setProperty("role", role)
    if tone:
        made.setProperty("tone", tone)
    if wrap:
        made.setWordWrap(True)
        made.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    return made
