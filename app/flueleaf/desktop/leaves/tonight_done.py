"""What Tonight says when nothing is left: what was done today; and what a new book says."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap, set_gaps, set_margins
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _, _n
from flueleaf.operations.pages import DoneToday, TonightPage


def done_words(page: TonightPage) -> tuple[str, str]:
    """Return a heading and one sentence for an evening on which nothing is left to write or to send."""
    if page.is_new:
        return _("A new book"), _("It begins with the first visit. Everything else follows from it.")
    if page.done != DoneToday():
        waits = page.due or page.owing
        still = _("What is left can wait until it is due.") if waits else _("Nothing is left. Good evening.")
        return _("Today is written up"), still
    return _("Nothing to write up"), _("No visit is unfinished and no paper waits to be sent.")


class DonePanel(QWidget):
    """A calm line, and under it the figures of the day."""

    def __init__(self, page: TonightPage, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        theme = current()
        heading, sentence = done_words(page)
        self.setObjectName("tonight.done")
        self.setAccessibleName(heading)
        column = QVBoxLayout(self)
        set_margins(column, 0, 4, 0, 4)
        set_gap(column, 2)
        column.addWidget(label(heading, role="lead", tone="strong", wrap=True))
        column.addWidget(label(sentence, tone="soft", wrap=True))
        figures = _figures(page.done)
        if figures:
            column.addSpacing(theme.space(3))
            grid = QGridLayout()
            set_gaps(grid, 9, 0.5)
            for at, (figure, name) in enumerate(figures):
                grid.addWidget(label(figure, role="title"), 0, at, Qt.AlignmentFlag.AlignLeft)
                grid.addWidget(label(name, role="small", tone="soft"), 1, at, Qt.AlignmentFlag.AlignLeft)
            grid.setColumnStretch(len(figures), 1)
            column.addLayout(grid)


def _figures(done: DoneToday) -> list[tuple[str, str]]:
    """Return the figures of the day that are not nought, each with its name."""
    found = [
        (str(done.visits), _n("visit signed off", "visits signed off", done.visits)) if done.visits else None,
        (str(done.papers), _n("paper sealed", "papers sealed", done.papers)) if done.papers else None,
        (done.invoiced, _("invoiced")) if done.invoiced else None,
    ]
    return [one for one in found if one is not None]
