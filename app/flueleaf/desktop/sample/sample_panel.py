"""How the owner's papers will look, drawn anew beside the window soon after each key."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QImage, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.sample.page_image import sample_image
from flueleaf.desktop.sample.page_view import A4, PageView
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap, set_margins
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.desktop.worker import Worker
from flueleaf.domain.problems import UserProblem
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Instrument
from flueleaf.operations import sampling

WAIT_MS = 150  # after the last key; drawing takes about as long again
FIRST_WAIT_MS = 400  # the window is painted before the drawing library is loaded
WIDEST_PX = 720  # of the page at 100 % text, where it stands alone
INVOICE, QUOTE, RECORD = "invoice", "quote", "record"
NOTE = _("An invented job. A sample has no number and is not kept.")


@dataclass(frozen=True, slots=True)
class Typed:
    """What a sample is drawn from."""

    business: Business
    instrument: Instrument | None = None


class SamplePanel(QWidget):
    """The first page of a sample invoice, quote or service record. Drawing never keeps the window waiting."""

    def __init__(self, typed: Callable[[], Typed], today: Callable[[], dt.date]) -> None:
        """Make an empty panel; it draws when it is shown.

        Args:
            typed: returns what is typed at the moment.
            today: the clock.
        """
        super().__init__()
        self.setObjectName("sample")
        self.setProperty("ground", "paper")
        self._typed = typed
        self._today = today
        self._again = False
        self._worker = Worker(self)
        self._worker.done.connect(self._on_drawn)
        self._worker.failed.connect(self._on_failed)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self._draw)
        words = (
            Word(INVOICE, _("invoice")),
            Word(QUOTE, _("quote")),
            Word(RECORD, _("service record")),
        )
        self.which = WordsField("sample.paper", _("sample"), words)
        self.which.set_text(INVOICE)
        self.which.moves_on = False
        self.which.edited.connect(self._on_which)
        self.view = PageView()
        self.view.setObjectName("sample.page")
        self.scroll_area = _scrolled(self.view)
        self._alone = False
        self.words = label(NOTE, role="small", tone="soft", wrap=True)
        column = QVBoxLayout(self)
        set_margins(column, 4, 7, 5, 4)
        set_gap(column, 2)
        for widget in (self.which, self.words, self.scroll_area):
            column.addWidget(widget, 1 if widget is self.scroll_area else 0)
        self.stand_alone(False)

    @property
    def busy(self) -> bool:
        """Whether a page is being drawn, or will be in a moment."""
        return self._worker.busy or self._timer.isActive()

    def stand_alone(self, alone: bool) -> None:
        """Tell whether it has the leaf to itself: then the page fills the width, and scrolls."""
        self._alone = alone
        policy = Qt.FocusPolicy.StrongFocus if alone else Qt.FocusPolicy.NoFocus
        self.scroll_area.setFocusPolicy(policy)
        self._fit_page()

    def turn_to(self, which: str) -> None:
        """Show the paper what is typed now is printed on: ``INVOICE``, ``QUOTE`` or ``RECORD``."""
        self.which.answer(which)

    def touch(self) -> None:
        """Draw anew once typing has stopped."""
        if self.isVisible():
            self._timer.start(WAIT_MS)

    def rest(self) -> None:
        """Begin nothing more, and let what is being drawn come to its end: a moment at most."""
        self._timer.stop()
        self._again = False
        self._worker.wait()

    def showEvent(self, event: QShowEvent) -> None:
        """Draw what was typed meanwhile."""
        super().showEvent(event)
        self._timer.start(WAIT_MS if not self.view.image.isNull() else FIRST_WAIT_MS)

    def hideEvent(self, event: QHideEvent) -> None:
        """A hidden panel draws nothing, and leaves no thread behind."""
        self.rest()
        super().hideEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw the page in its new size."""
        super().resizeEvent(event)
        self._fit_page()
        if not self.view.image.isNull():
            self.touch()

    def _fit_page(self) -> None:
        wide = min(self.scroll_area.viewport().width(), current().px(WIDEST_PX))
        self.view.setMinimumHeight(round(wide * A4[1] / A4[0]) if self._alone else 0)

    def _on_which(self, text: str) -> None:
        if not text:  # there is always one of them
            self.which.set_text(INVOICE)
        self.touch()

    def _draw(self) -> None:
        typed, today, which = self._typed(), self._today(), self.which.text()
        wide = max(round(self.view.page_size().width() * self.devicePixelRatioF()), 1)

        def work() -> QImage:
            if which == RECORD:
                pdf = sampling.sample_service_record(typed.business, typed.instrument, today)
            elif which == QUOTE:
                pdf = sampling.sample_quote(typed.business, today)
            else:
                pdf = sampling.sample_invoice(typed.business, today)
            return sample_image(pdf, wide)

        self._again = not self._worker.start(work)

    def _on_drawn(self, image: QImage) -> None:
        self.view.show_image(image)
        name = self._typed().business.name.strip()
        self.view.setAccessibleName(
            _("sample paper of {name}", name=name) if name else _("sample paper without a name")
        )
        self.words.setText(NOTE)
        self._go_on()

    def _on_failed(self, problem: Exception) -> None:
        self._go_on()
        if not isinstance(problem, UserProblem):
            raise problem
        self.words.setText(_(problem.text))

    def _go_on(self) -> None:
        if self._again and self.isVisible():
            self._draw()


def _scrolled(view: PageView) -> QScrollArea:
    area = QScrollArea()
    area.setObjectName("sample.scroll")
    area.setAccessibleName(_("sample"))
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setWidget(view)
    return area
