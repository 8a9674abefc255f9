"""The one style sheet, filled in from the theme's tokens.

Widgets say what they are by dynamic properties: ``role`` (title, lead, head, small), ``tone`` (soft),
``faulty``, ``primary``, ``ground`` (desk). Nothing else in the window sets a style sheet.
"""

from __future__ import annotations

from string import Template
from typing import TYPE_CHECKING

from flueleaf.paths import RESOURCES

if TYPE_CHECKING:
    from flueleaf.desktop.theme import Theme

_SHEET = Template("""
QMainWindow, QDialog { background: $paper; }
QWidget[ground="desk"] { background: $desk; }
QWidget[ground="paper"] { background: $paper; }
QToolTip { background: $desk; color: $ink; border: 1px solid $hairline; padding: ${s1}px; }

QLabel[role="title"] { font-size: ${title}px; font-weight: 600; }
QLabel[role="lead"] { font-size: ${lead}px; }
QLabel[role="head"] { font-size: ${head}px; font-weight: 600; }
QLabel[role="small"] { font-size: ${small}px; }
QLabel[tone="soft"] { color: $soft; }
QLabel[tone="fault"] { color: $fault; }
QLabel[tone="strong"] { font-weight: 600; }
QFrame[rule="thin"] { background: $hairline; border: 0; max-height: 1px; min-height: 1px; }
QFrame[rule="upright"] { background: $hairline; border: 0; max-width: 1px; min-width: 1px; }

QLineEdit, QPlainTextEdit {
    background: $field; color: $ink; border: 2px solid transparent; border-bottom: 2px solid $mark;
    border-radius: 0; padding: 0 ${s1}px; selection-background-color: $selection; selection-color: $ink;
}
QLineEdit { min-height: ${edit}px; }
QLineEdit:hover { border-bottom-color: $ink; }
QLineEdit:focus, QPlainTextEdit:focus { border: 2px solid $focus; border-radius: 2px; }
QLineEdit[faulty="true"] { border-bottom-color: $over; }
QLineEdit[faulty="true"]:focus { border: 2px solid $over; }
QLineEdit:disabled { color: $soft; border-bottom-color: $hairline; background: transparent; }
QLineEdit[readOnly="true"] { background: transparent; border-bottom-color: $hairline; }

QPushButton {
    background: transparent; color: $ink; border: 1px solid $mark; border-radius: 3px;
    padding: ${s1}px ${s3}px; min-height: ${button}px; margin: 1px; outline: 0;
}
QPushButton:hover { border-color: $ink; }
QPushButton:pressed { background: $chosen; }
QPushButton:focus { border: 2px solid $focus; margin: 0; }
QPushButton:disabled { color: $soft; border-color: $hairline; }
QPushButton[primary="true"] { background: $accent; color: $on_accent; border-color: $accent; }
QPushButton[primary="true"]:focus { border: 2px solid $ink; }
QPushButton[primary="true"]:disabled { background: $hairline; color: $soft; border-color: $hairline; }
QPushButton[quiet="true"] {
    border: 2px solid transparent; color: $accent; text-align: left; padding: 0 ${s1}px; margin: 0;
}
QPushButton[quiet="true"]:hover { text-decoration: underline; }
QPushButton[quiet="true"]:focus { border: 2px solid $focus; }

QRadioButton {
    border: 2px solid transparent; border-radius: 3px; padding: 0 ${s2}px; min-height: ${edit}px;
    color: $soft; outline: 0;
}
QRadioButton::indicator { width: 0; height: 0; margin: 0; border: 0; background: transparent; image: none; }
QRadioButton { spacing: 0; }
QRadioButton:hover { color: $ink; border-color: $hairline; }
QRadioButton:checked { background: $ink; color: $paper; font-weight: 600; }
QRadioButton:focus { border-color: $focus; color: $ink; }
QRadioButton:checked:focus { color: $paper; border-color: $focus_on_ink; }

QAbstractItemView {
    background: $paper; border: 0; outline: 0;
    selection-background-color: $chosen; selection-color: $ink;
}
QWidget#finder QListView { background: transparent; }
QListView { border: 2px solid transparent; }
QListView:focus { border: 2px solid $focus; border-radius: 2px; }
QListView::item, QTableView::item { border: 0; padding: 0; }
QListWidget { background: transparent; }
QListWidget::item { padding: ${s1}px ${s1}px; }
QListWidget::item:selected { background: $selection; color: $ink; }
QListView[popup="true"] { border: 1px solid $mark; }
QListView[popup="true"]::item { min-height: ${edit}px; padding: 0 ${s2}px; }
QListWidget::item { min-height: ${button}px; }
QAbstractItemView::indicator {
    width: ${tick_box}px; height: ${tick_box}px;
    background: $field; border: 1px solid $mark; border-radius: 2px;
}
QAbstractItemView::indicator:checked { image: url("$tick"); border-color: $ink; }
QHeaderView { background: transparent; border: 0; }
QHeaderView::section {
    background: transparent; color: $soft; border: 0; border-bottom: 1px solid $hairline;
    padding: ${s1}px ${s2}px ${s1}px ${s1}px; font-size: ${small}px;
}
QScrollArea { border: 0; background: transparent; }
QScrollArea#margin { border-left: 2px solid transparent; }
QScrollArea#margin:focus { border-left: 2px solid $focus; }

QMenuBar { background: $desk; color: $ink; border-bottom: 1px solid $hairline; }
QMenuBar::item { padding: ${s1}px ${s2}px; background: transparent; }
QMenuBar::item:selected { background: $chosen; }
QMenu { background: $paper; color: $ink; border: 1px solid $mark; padding: ${s1}px 0; }
QMenu::item { padding: ${s1}px ${s6}px ${s1}px ${s4}px; }
QMenu::item:selected { background: $chosen; }
QMenu::item:disabled { color: $soft; }
QMenu::separator { height: 1px; background: $hairline; margin: ${s1}px 0; }
QProgressBar {
    background: $field; color: $ink; border: 1px solid $mark; border-radius: 2px; text-align: center;
    min-height: ${button}px;
}
QProgressBar::chunk { background: $chosen; }
QStatusBar { background: $desk; color: $soft; border-top: 1px solid $hairline; }
QStatusBar::item { border: 0; }
QSplitter::handle { background: $hairline; }
QSplitter::handle:hover { background: $mark; }

QScrollBar:vertical { background: transparent; width: ${bar}px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: ${bar}px; margin: 0; }
QScrollBar::handle { background: $hairline; border-radius: ${bar_round}px; margin: 2px; }
QScrollBar::handle:vertical { min-height: ${s6}px; }
QScrollBar::handle:horizontal { min-width: ${s6}px; }
QScrollBar::handle:hover { background: $mark; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
""")

_PALETTE = (
    "paper", "desk", "field", "ink", "soft", "mark", "hairline", "accent", "on_accent", "focus", "chosen",
    "selection",
)  # fmt: skip
FAULT_LIGHT, FAULT_DARK = "#9b3d00", "#ffb080"
FOCUS_ON_INK_LIGHT, FOCUS_ON_INK_DARK = "#8fd0b0", "#1f6b52"  # the ring where the ground is ink


def style_sheet(theme: Theme) -> str:
    """Return the style sheet of a theme."""
    palette = theme.palette
    values: dict[str, str] = {name: str(getattr(palette, name)) for name in _PALETTE}
    values["over"] = palette.verdict("over").fill
    values["focus_on_ink"] = FOCUS_ON_INK_DARK if palette.dark else FOCUS_ON_INK_LIGHT
    values["tick"] = (RESOURCES / "icons" / f"tick-{'dark' if palette.dark else 'light'}.svg").as_posix()
    values["fault"] = FAULT_DARK if palette.dark else FAULT_LIGHT
    for steps in (1, 2, 3, 4, 6):
        values[f"s{steps}"] = str(theme.space(steps))
    sizes = {
        "small": 12,
        "head": 13,
        "lead": 16,
        "title": 25,
        "edit": 26,
        "button": 24,
        "bar": 12,
        "tick_box": 14,
    }
    for name, length in sizes.items():
        values[name] = str(theme.px(length))
    values["bar_round"] = str(max(theme.px(12) // 2 - 2, 1))
    return _SHEET.substitute(values)
