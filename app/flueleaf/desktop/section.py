"""A section of a leaf: a small head with a hairline and a state word, and rows under it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)  # fmt: skip

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.flow_layout import FlowLayout
from flueleaf.desktop.help.worded_label import set_in, worded
from flueleaf.desktop.rule import Rule
from flueleaf.desktop.theme import current
from flueleaf.desktop.unbroken import Prose

LABEL_WIDTH_PX = 176
NARROW_PX = 460
QWIDGETSIZE_MAX = (1 << 24) - 1  # Qt's own "no limit", which the binding does not name


@dataclass(frozen=True, slots=True)
class _Line:
    """A widget with the words before it; ``drop`` sets them down to the first line of a field."""

    widget: QWidget
    words: QLabel | None = None
    drop: bool = False


class Section(QWidget):
    """A stage or a part of a leaf.

    Rows are added from top to bottom: ``add_row`` puts a field behind its label, ``add_fact`` a text,
    ``add_widget`` anything over the whole width.
    """

    def __init__(self, title: str, state: str = "", parent: QWidget | None = None, *, name: str = "") -> None:
        """Make an empty section.

        Args:
            title: its head, in lower case as in running text; "" for a rule alone.
            state: the word at the right end of the rule, such as "complete" or "1 left".
            parent: the widget it stands in.
            name: what the object name is made of, where not of the title; a name stays as it is in every
                language.
        """
        super().__init__(parent)
        self.title = title
        self._lines: list[_Line] = []
        self._stacked = False
        self.setObjectName(f"section.{(name or title).replace(' ', '_')}")
        self.head: QLabel = worded(title, role="head", wrap=False)
        self._state = label("", role="small", tone="soft")
        self._top_line = line = QHBoxLayout()
        line.addWidget(self.head)
        line.addWidget(Rule(), 1)
        line.addWidget(self._state)
        self._caution = worded("", role="small", tone="soft")
        self._caution.hide()
        self.rows = QGridLayout()
        self.rows.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(line)
        column.addWidget(self._caution)
        column.addLayout(self.rows)
        self.head.setHidden(not title)  # a rule alone sets the buttons at the end apart
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
        words = worded(text or field.label, tone="soft")
        words.setBuddy(field.control())
        self._add(_Line(field, words, drop=True))
        return field

    def show_row(self, field: Field, *, on: bool) -> None:
        """Show a field with its label, or hide both."""
        for line in self._lines:
            if line.widget is field:
                field.setVisible(on)
                if line.words is not None:
                    line.words.setVisible(on)

    def add_fact(self, name: str, text: str) -> QLabel:
        """Put a text behind its name; returns the text's label."""
        shown = label(text, wrap=True)
        shown.setAccessibleName(f"{name}: {text}")
        self._add(_Line(shown, worded(name, tone="soft")))
        return shown

    def add_widget(self, widget: QWidget) -> None:
        """Put a widget over the whole width."""
        self._add(_Line(widget))

    def add_buttons(self, *buttons: QPushButton) -> None:
        """Put buttons side by side, in as many rows as they need."""
        bar = QWidget()
        flow = FlowLayout(bar, gap_steps=2)
        for button in buttons:
            flow.addWidget(button)
        self._add(_Line(bar))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set labels above their fields where the page is too narrow for both."""
        super().resizeEvent(event)
        if (event.size().width() < self._side_by_side_px()) != self._stacked:
            self._stacked = not self._stacked
            self._place()

    def changeEvent(self, event: QEvent) -> None:
        """Keep the distances in step with the text scale."""
        if event.type() == QEvent.Type.FontChange:
            self._fit()
        super().changeEvent(event)

    def _side_by_side_px(self) -> int:
        """Return the least width for labels beside their fields."""
        theme = current()
        widest = max(
            (line.widget.minimumSizeHint().width() for line in self._lines if line.words is not None),
            default=0,
        )
        return max(theme.px(NARROW_PX), theme.px(LABEL_WIDTH_PX) + theme.space(4) + widest)

    def _add(self, line: _Line) -> None:
        self._lines.append(line)
        self._put(line)
        if line.words is not None:  # the lines before it are fitted already
            self.setMinimumWidth(1)  # the page may become narrower than labels beside fields: then they stack
            self._fit_words(line.words)

    def _place(self) -> None:
        for line in self._lines:
            # Not takeAt: the item it hands over lives on, and the new one would never hear of a new height.
            self.rows.removeWidget(line.widget)
            if line.words is not None:
                self.rows.removeWidget(line.words)
        for line in self._lines:
            self._put(line)
        self._fit()

    def _put(self, line: _Line) -> None:
        row = self.rows.rowCount()
        if line.words is None:
            self.rows.addWidget(line.widget, row, 0, 1, 2)
            return
        self._drop(line)
        top = Qt.AlignmentFlag.AlignTop
        if self._stacked:
            self.rows.addWidget(line.words, row, 0, 1, 2, top)
            self.rows.addWidget(line.widget, row + 1, 0, 1, 2)
        else:
            self.rows.addWidget(line.words, row, 0, top)
            self.rows.addWidget(line.widget, row, 1)

    def _fit(self) -> None:
        theme = current()
        if (column := self.layout()) is not None:
            column.setSpacing(theme.space(2))
        self.rows.setHorizontalSpacing(theme.space(4))
        self.rows.setVerticalSpacing(theme.space(1 if self._stacked else 1.5))
        self.rows.setColumnMinimumWidth(0, 0)
        self._top_line.setSpacing(theme.space(3))
        for line in self._lines:
            if line.words is not None:
                self._drop(line)
                self._fit_words(line.words)

    def _drop(self, line: _Line) -> None:
        """Set words down to the first line of their field; above it they keep away from the field before."""
        if line.words is not None:
            down = 2.0 if self._stacked else 1.5 if line.drop else 0.0
            line.words.setContentsMargins(0, current().space(down), 0, 0)

    def _fit_words(self, words: QLabel) -> None:
        label_width = current().px(LABEL_WIDTH_PX)
        words.setMinimumWidth(0 if self._stacked else label_width)
        words.setMaximumWidth(QWIDGETSIZE_MAX if self._stacked else label_width)
        self.rows.setColumnMinimumWidth(0, 0 if self._stacked else label_width)


def label(text: str, *, role: str = "", tone: str = "", wrap: bool = False) -> QLabel:
    """Return a label set in a role (title, lead, head, small) and tone (soft, strong, fault) of the theme."""
    made = Prose(text) if wrap else QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    return set_in(made, role=role, tone=tone, wrap=wrap)
