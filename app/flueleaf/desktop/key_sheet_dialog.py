"""The key sheet: every action with its key."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from flueleaf.desktop.command import MENUS, Command, shown_keys
from flueleaf.desktop.fields.words_field import YES_NO_NA, letters_of
from flueleaf.desktop.section import Section, label
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _

FIELD_KEYS = (
    (_("next field"), _("Enter or Tab")),
    (_("field before"), _("Shift+Tab")),
    (_("answer a check: yes, no, n/a"), ", ".join(letters_of(YES_NO_NA))),
    (_("take an answer back"), _("Backspace")),
    (_("walk through choices or a list"), _("arrows")),
    (_("choose one of a few words"), _("Space, or its letter")),
    (_("open what a list stands on"), _("Enter")),
    (_("stop longer work"), _("Escape")),
)


class KeySheetDialog(QDialog):
    """Closed by Escape or F1."""

    def __init__(self, commands: Sequence[Command], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("keys")
        self.setWindowTitle(_("Keys"))
        theme = current()
        page = QWidget()
        page.setProperty("ground", "paper")
        column = QVBoxLayout(page)
        column.setContentsMargins(theme.space(7), theme.space(6), theme.space(7), theme.space(6))
        column.setSpacing(theme.space(5))
        column.addWidget(label(_("Keys"), role="title"))
        for number, (title, lines) in enumerate(key_groups(commands).items()):
            column.addWidget(_group(title, lines, f"keys.{number}"))
        column.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setAccessibleName(_("keys"))
        scroll.setWidget(page)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scroll)
        self.resize(theme.px(520), theme.px(620))


def key_groups(commands: Sequence[Command]) -> dict[str, list[tuple[str, str]]]:
    """Return the lines of the key sheet by head: the leaf's own, those of fields, the window's."""
    groups: dict[str, list[tuple[str, str]]] = {}
    own = [command for command in commands if command.menu == "Leaf"]
    for command in own:
        groups.setdefault(_("on this leaf"), []).append((command.words, shown_keys(command)))
    groups[_("fields and lists")] = list(FIELD_KEYS)
    for command in commands:
        if command not in own:
            groups.setdefault(MENUS[command.menu].lower(), []).append((command.words, shown_keys(command)))
    return groups


def _group(title: str, lines: Sequence[tuple[str, str]], name: str) -> Section:
    section = Section(title, name=name)
    table = QWidget()
    grid = QGridLayout(table)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setColumnStretch(0, 1)
    for row, (words, keys) in enumerate(lines):
        grid.addWidget(label(words, wrap=True), row, 0)
        grid.addWidget(label(keys, tone="soft"), row, 1, Qt.AlignmentFlag.AlignRight)
    section.add_widget(table)
    return section
