"""The key sheet: every action with its key."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QDialog, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from flueleaf.desktop.command import Command
from flueleaf.desktop.section import Section, label
from flueleaf.desktop.theme import current

FIELD_KEYS = (
    ("next field", "Enter or Tab"),
    ("field before", "Shift+Tab"),
    ("answer a check: yes, no, n/a", "y, n, a"),
    ("take an answer back", "Backspace"),
    ("walk through choices or a list", "arrows"),
    ("open what a list stands on", "Enter"),
)


class KeySheetDialog(QDialog):
    """Closed by Escape or F1."""

    def __init__(self, commands: Sequence[Command], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("keys")
        self.setWindowTitle("Keys")
        theme = current()
        page = QWidget()
        page.setProperty("ground", "paper")
        column = QVBoxLayout(page)
        column.setContentsMargins(theme.space(7), theme.space(6), theme.space(7), theme.space(6))
        column.setSpacing(theme.space(5))
        column.addWidget(label("Keys", role="title"))
        groups: dict[str, list[tuple[str, str]]] = {}
        for command in commands:
            groups.setdefault(command.menu.lower(), []).append((command.words, shown_keys(command)))
        groups["fields and lists"] = list(FIELD_KEYS)
        for title, lines in groups.items():
            column.addWidget(_group(title, lines))
        column.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setAccessibleName("keys")
        scroll.setWidget(page)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scroll)
        self.resize(theme.px(520), theme.px(620))


def shown_keys(command: Command) -> str:
    """Return the keys of a command as the system writes them."""
    native = QKeySequence.SequenceFormat.NativeText
    return "  or  ".join(QKeySequence(key).toString(native) for key in command.keys)


def _group(title: str, lines: Sequence[tuple[str, str]]) -> Section:
    section = Section(title)
    table = QWidget()
    grid = QGridLayout(table)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setColumnStretch(0, 1)
    for row, (words, keys) in enumerate(lines):
        grid.addWidget(label(words, wrap=True), row, 0)
        grid.addWidget(label(keys, tone="soft"), row, 1, Qt.AlignmentFlag.AlignRight)
    section.add_widget(table)
    return section
