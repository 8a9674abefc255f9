"""A logged run looked at: its columns, CO over time, whether it settled, and what the slip is filled with."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QScrollArea, QVBoxLayout, QWidget

from flueleaf.desktop.announcing import announce
from flueleaf.desktop.buttons import button
from flueleaf.desktop.flow_layout import FlowLayout
from flueleaf.desktop.photo.beside import run_beside
from flueleaf.desktop.section import label
from flueleaf.desktop.settling.columns_form import ColumnsForm, column_words
from flueleaf.desktop.settling.fill_offer import FillOffer
from flueleaf.desktop.settling.filling import Filling
from flueleaf.desktop.settling.run_chart import RunChart
from flueleaf.desktop.spacing import set_gap, set_margins
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.domain.judging.settling import LEAD
from flueleaf.domain.problems import UserProblem
from flueleaf.operations import settling
from flueleaf.operations.intake.log_columns import NEEDED
from flueleaf.operations.settling import RunPage

WIDE_PX, HIGH_PX = 640, 620
MOST_OF_SCREEN = 0.9


class LoggedRunDialog(QDialog):
    """``filled`` tells what to take over; Escape leaves everything as it is."""

    filled = Signal(object)  # Filling

    def __init__(
        self,
        read: Callable[[], bytes],
        name: str,
        *,
        slip: str = "",
        named: Mapping[str, str],
        typed: Mapping[str, str] | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Look at a file.

        Args:
            read: returns its bytes; called in a thread.
            name: of the file.
            slip: what the slip is called that is to be filled; "" where none is.
            named: by key, the columns as they were chosen last for this analyser.
            typed: by quantity key, what the slip holds already; None where the run is only looked at.
            parent: the window it lies on.
        """
        super().__init__(parent)
        self.setObjectName("run")
        self.setWindowTitle(_("Logged run") if typed is None else _("From a logged run"))
        self.setAccessibleName(_("From a logged run: {name}", name=name))
        self._read, self.name, self._named = read, name, dict(named)
        self._only_looked_at = typed is None
        self.data = b""
        self.page: RunPage | None = None
        self.form: ColumnsForm | None = None
        self._chart: RunChart | None = None
        theme = current()
        body = QWidget()
        body.setProperty("ground", "paper")
        self._column = QVBoxLayout(body)
        set_margins(self._column, 6, 5, 6, 4)
        set_gap(self._column, 3)
        self._column.addWidget(label(name, role="title", wrap=True))
        if slip:
            self._column.addWidget(label(_("for the slip: {slip}", slip=slip), tone="soft", wrap=True))
        self.words = label(_("Reading the run…"), wrap=True)
        self.words.setObjectName("run.words")
        self._column.addWidget(self.words)
        self.offer = FillOffer("run", typed or {}, self)
        self.offer.taken.connect(self._on_taken)
        self._column.addWidget(self.offer.there)
        self._column.addStretch(1)
        self.paper = QScrollArea()
        self._choose = button(_("Other columns"), "run.choose", self.choose_columns)
        self._close = button(_("Close"), "run.close", self.reject)
        self._set(body)
        room = self.screen().availableSize()
        self.resize(
            min(theme.px(WIDE_PX), int(room.width() * MOST_OF_SCREEN)),
            min(theme.px(HIGH_PX), int(room.height() * MOST_OF_SCREEN)),
        )
        self._offer_of(None)
        self._look()

    def _set(self, body: QWidget) -> None:
        """Set the page, which scrolls, over the buttons, which do not."""
        self.paper.setObjectName("run.page")
        self.paper.setAccessibleName(self.accessibleName())
        self.paper.setWidgetResizable(True)
        self.paper.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.paper.setWidget(body)
        bar = QWidget()
        line = FlowLayout(bar, gap_steps=3)
        for one in (self.offer.fill, self.offer.over, self._choose, self._close):
            line.addWidget(one)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.paper, 1)
        foot = QVBoxLayout()
        set_margins(foot, 6, 3, 6, 4)
        foot.addWidget(bar)
        whole.addLayout(foot)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Enter to the field or button that has the keyboard."""
        if event.key() not in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            super().keyPressEvent(event)

    def choose_columns(self) -> None:
        """Show the choice of columns."""
        if self.page is None or self.form is not None:
            return
        self.form = ColumnsForm(self.page)
        self.form.changed.connect(self._on_changed)
        self._column.insertWidget(2, self.form)
        self._choose.hide()
        empty = (made for key, made in self.form.fields.items() if key in NEEDED and not made.text())
        next(empty, self.form.fields["time"]).control().setFocus()

    def _on_changed(self) -> None:
        assert self.form is not None
        assert self.page is not None
        chosen = dict(self.form.chosen())
        if chosen != self._named and all(made.check() for made in self.form.fields.values()):
            self._named = chosen
            self._look()

    def _look(self) -> None:
        """Read the run in a thread, with the columns as they are chosen now."""
        data, read, name, named, wheres = self.data, self._read, self.name, dict(self._named), column_words()

        def work() -> tuple[bytes, RunPage]:
            held = data or read()
            return held, settling.look(held, name=name, named=named, wheres=wheres)

        run_beside(work, self, self._on_read, self._on_failed)

    def _on_read(self, found: tuple[bytes, RunPage]) -> None:
        self.data, self.page = found
        page = self.page
        self._named = dict(page.columns)
        if page.problem:
            self._show(page.problem.splitlines()[0])
            self.choose_columns()
            return
        assert page.settling is not None
        self._offer_of(page)
        chart = RunChart(page.traces[LEAD], page.settling)
        self._put_chart(chart)
        self._show("")
        announce(self, chart.accessibleName())
        if self.form is None or not self.form.isAncestorOf(self.focusWidget() or self):
            (self._close if self._only_looked_at else self.offer.fill).setFocus()

    def _on_failed(self, problem: Exception) -> None:
        if not isinstance(problem, UserProblem):
            raise problem
        self._show(_(problem.text))

    def _show(self, words: str) -> None:
        self.words.setText(words)
        self.words.setVisible(bool(words))
        announce(self.words, words)
        if words:
            self._put_chart(None)
            self._offer_of(None)

    def _put_chart(self, chart: RunChart | None) -> None:
        if self._chart is not None:
            self._column.removeWidget(self._chart)
            self._chart.hide()
            self._chart.deleteLater()
        self._chart = chart
        if chart is not None:
            self._column.insertWidget(self._column.indexOf(self.offer.there), chart)

    def _offer_of(self, page: RunPage | None) -> None:
        """Show the buttons that have something to do."""
        offered = page is not None and not self._only_looked_at
        self.offer.show_found(page.settling if page is not None and offered else None)
        self._choose.setVisible(page is not None and self.form is None)

    def _on_taken(self, filling: Filling) -> None:
        self.filled.emit(filling)
        self.accept()
