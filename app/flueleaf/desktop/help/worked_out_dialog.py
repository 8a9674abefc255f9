"""The sheet that says how a figure was worked out: formula, what went in, each step, source, caution."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from flueleaf.desktop.help.sheet_dialog import SheetDialog
from flueleaf.desktop.rule import Rule
from flueleaf.desktop.section import label
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.operations.explaining import Explanation, Given

KEY = "Ctrl+H"
NAME_PX = 112


class WorkedOutDialog(SheetDialog):
    """Every figure that can be explained here; the one at hand is shown first."""

    def __init__(
        self, explanations: Sequence[Explanation], at: int = 0, parent: QWidget | None = None
    ) -> None:
        """Make the sheet.

        Args:
            explanations: at least one, in the order of the page.
            at: the one at hand.
            parent: the window it lies on.
        """
        super().__init__("worked_out", _("How this was worked out"), parent)
        self._explanations = list(explanations)
        self.show_list([_(one.title) for one in self._explanations], at)
        self.listed.setFocus()

    def page_of(self, row: int) -> QWidget:
        """Return one explanation as a page."""
        return explanation_page(self._explanations[row]) if row >= 0 else QWidget()


def explanation_page(told: Explanation) -> QWidget:
    """Return one explanation: its result on top, then how it came about."""
    page = QWidget()
    column = QVBoxLayout(page)
    column.setSpacing(current().space(5))
    top = QVBoxLayout()
    top.setSpacing(current().space(1))
    top.addWidget(label(_(told.title), role="lead", tone="soft", wrap=True))
    result = label(_(told.result), role="title", wrap=True)
    result.setObjectName("worked_out.result")
    top.addWidget(result)
    column.addLayout(top)
    column.addWidget(_block(_("formula"), _formula(told.formula)))
    column.addWidget(_block(_("what went in"), [_inputs(told.inputs)]))
    if told.steps:
        column.addWidget(_block(_("step by step, nothing rounded on the way"), _lines(told.steps)))
    if told.source:
        column.addWidget(_block(_("where it comes from"), _lines((told.source,), role="small")))
    if told.caution:
        column.addWidget(_block(_("take care"), _lines((told.caution,))))
    column.addStretch(1)
    page.setAccessibleName(f"{_(told.title)}: {_(told.result)}")
    for shown in page.findChildren(QWidget):
        shown.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return page


def _block(head: str, parts: Iterable[QWidget]) -> QWidget:
    block = QWidget()
    column = QVBoxLayout(block)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(current().space(1.5))
    column.addWidget(label(head, role="head", wrap=True))
    column.addWidget(Rule())
    for part in parts:
        column.addWidget(part)
    return block


def _formula(lines: Sequence[str]) -> list[QWidget]:
    """Return the formula in words, and under it, set in, in symbols."""
    words, symbols = lines[:1], lines[1:]
    shown: list[QWidget] = [label(_(text), wrap=True) for text in words]
    for text in symbols:
        made = label(_(text), role="lead", wrap=True)
        made.setContentsMargins(current().space(4), 0, 0, 0)
        shown.append(made)
    return shown


def _inputs(inputs: Sequence[Given]) -> QWidget:
    """Return name, value and origin, the values under each other."""
    table = QWidget()
    grid = QGridLayout(table)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(current().space(4))
    grid.setVerticalSpacing(current().space(1.5))
    grid.setColumnStretch(0, 1)
    grid.setColumnStretch(1, 3)
    top = Qt.AlignmentFlag.AlignTop
    for row, one in enumerate(inputs):
        name = label(_(one.name), tone="soft", wrap=True)
        name.setMinimumWidth(current().px(NAME_PX))
        grid.addWidget(name, 2 * row, 0, 2, 1, top)
        grid.addWidget(label(_(one.value), wrap=True), 2 * row, 1, top)
        if one.origin:
            grid.addWidget(label(_(one.origin), role="small", tone="soft", wrap=True), 2 * row + 1, 1, top)
    return table


def _lines(texts: Sequence[str], role: str = "") -> list[QWidget]:
    return [label(_(text), role=role, wrap=True) for text in texts]
