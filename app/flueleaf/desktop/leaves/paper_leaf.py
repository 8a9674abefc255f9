"""A sealed paper, shown page by page as it was issued.

Pages are drawn by pypdfium2: QtPdf is not part of PySide6-Essentials and its package adds 200 MB, while the
system's own viewer would leave the window. Printing is left to that viewer: it knows the printer, and prints
the very file that was issued instead of a picture of it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QEvent, QMargins, QObject, Qt, QTimer
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import QFrame, QLabel, QWidget

from flueleaf.desktop import print_copies
from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command, native
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.help.worked_out import worked_out_command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.bill_margin import bill_margin
from flueleaf.desktop.leaves.lists import INVOICE_KEY, PAYMENT_KEY, SENT_KEY
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.section import Section
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _, _n
from flueleaf.domain.problems import UserProblem
from flueleaf.operations import explaining, issued, pages, sending
from flueleaf.operations.changes import Topic
from flueleaf.operations.explaining import Explanation
from flueleaf.operations.pages import InvoicePage, QuoteRow

ZOOMS = (0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 3.0)
WAYS = {
    sending.SAVED: _("saved for sending"),
    sending.BY_HAND: _("marked as sent"),
    sending.TAKEN_BACK: _("mark taken back"),
}
PAGE_WIDTH_PX = 720  # of an A4 page at zoom 1 and 100 % text, where there is room
POINTS_WIDE = 595.0


class PaperLeaf(Leaf):
    """The pages under each other, drawn one at a time so that the window never waits for more than one."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._bytes = issued.issued_bytes(desk.book, place.key)
        self._zoom = 1.0
        self._pages: list[QLabel] = []
        self._next = 0
        self._drawn_px = 0.0
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._draw_next)
        self.watch(Topic.SENDING, Topic.MONEY)
        self.fill()
        self.scroll_area.installEventFilter(self)

    @property
    def zoom(self) -> float:
        """Width of a page against its usual width."""
        return self._zoom

    @property
    def pages(self) -> Sequence[QLabel]:
        """The pages, in order; a page not drawn yet is an empty label."""
        return self._pages

    def fill(self) -> None:
        """One label per page."""
        # Loaded here, when the first paper is opened: start-up does not need it.
        import pypdfium2  # noqa: PLC0415

        self._document = pypdfium2.PdfDocument(self._bytes)
        self._bill = pages.bill_of(self.desk.book, self.place.key, self.desk.today())
        self._sent = sending.is_sent(self.desk.book, self.place.key)
        self.set_heading(self.place.key, _("as issued"), _("sent") if self._sent else _("not sent yet"))
        section = self.add_section(Section(_("pages"), str(len(self._document)), name="pages"))
        section.add_buttons(
            *(button(words, f"paper.{name}", run) for words, name, _key, run in self._next_steps()),
            button(_("Save as PDF"), "paper.save", self._save),
            button(_("Open to print"), "paper.print", self._print),
            button(self._mark_words(), "paper.sent", self._mark),
        )
        self._pages = []
        for number in range(len(self._document)):
            page = QLabel()
            page.setObjectName(f"paper.page.{number + 1}")
            page.setAccessibleName(
                _("page {number} of {count}", number=number + 1, count=len(self._document))
            )
            page.setFrameShape(QFrame.Shape.NoFrame)
            page.setAlignment(Qt.AlignmentFlag.AlignTop)
            self._pages.append(page)
            section.add_widget(page)
        self._draw_all()

    def margin_widgets(self) -> Sequence[QWidget]:
        """What is paid of an invoice, how long a quote holds; what a sealed paper is."""
        return (
            *bill_margin(self._bill, self.desk.today()),
            MarginSection(_("sending"), self._sending_words(), name="sending"),
            MarginSection(
                _("sealed"),
                (
                    _("This paper was issued and stays as it is."),
                    _("A correction is a new paper that names this one."),
                    _n(
                        "{size} kB, {count} page",
                        "{size} kB, {count} pages",
                        len(self._pages),
                        size=f"{len(self._bytes) / 1000:.0f}",
                    ),
                ),
                name="sealed",
            ),
        )

    def commands(self) -> tuple[Command, ...]:
        """Looking closer, and taking the file along."""
        return (
            *(Command(words, (key,), run) for words, _name, key, run in self._next_steps()),
            Command(_("Nearer"), ("Ctrl+Up",), self.nearer),
            Command(_("Farther"), ("Ctrl+Down",), self.farther),
            Command(_("Save as PDF"), ("Ctrl+S",), self._save),
            Command(_("Open to print"), ("Ctrl+P", "Ctrl+O"), self._print),
            Command(_("Mark as sent, or take the mark back"), (SENT_KEY,), self._mark),
            worked_out_command(self, self._explanations),
        )

    def _next_steps(self) -> list[tuple[str, str, str, Callable[[], None]]]:
        """Return what is still to be done about a bill: words, name, key, what does it."""
        bill, number = self._bill, self.place.key
        if isinstance(bill, InvoicePage) and bill.owing.pence > 0:
            pay = partial(self.place_wanted.emit, Place("payment", number))
            return [(_("Note a payment"), "payment", PAYMENT_KEY, pay)]
        if isinstance(bill, QuoteRow):
            invoice = partial(self.place_wanted.emit, Place("quote_invoice", number))
            return [(_("Work done: invoice it"), "invoice", INVOICE_KEY, invoice)]
        return []

    def _explanations(self) -> Sequence[Explanation]:
        return explaining.explain_bill(self.desk.book, self._bill, self.desk.today())

    def nearer(self) -> None:
        """Show the pages larger."""
        self._set_zoom(next((zoom for zoom in ZOOMS if zoom > self._zoom), ZOOMS[-1]))

    def farther(self) -> None:
        """Show the pages smaller."""
        self._set_zoom(next((zoom for zoom in reversed(ZOOMS) if zoom < self._zoom), ZOOMS[0]))

    def _set_zoom(self, zoom: float) -> None:
        self._zoom = zoom
        policy = Qt.ScrollBarPolicy.ScrollBarAsNeeded if zoom > 1 else Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        self.scroll_area.setHorizontalScrollBarPolicy(policy)
        self.set_measure(max(zoom, 1.0))
        self._draw_all()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Draw the pages anew where another width is left for them."""
        resized = watched is self.scroll_area and event.type() == QEvent.Type.Resize
        if resized and self._page_width_px() != self._drawn_px:
            self._draw_all()
        return super().eventFilter(watched, event)

    def _page_width_px(self) -> float:
        """Return how wide a page is: at zoom 1 never wider than what is seen of the leaf."""
        usual = current().px(PAGE_WIDTH_PX)
        page, bar = self._page.layout(), self.scroll_area.verticalScrollBar()
        edges = page.contentsMargins() if page is not None else QMargins()
        # The bar is taken off whether it is there or not: else a page might make it come and go for ever.
        room = self.scroll_area.width() - bar.sizeHint().width() - edges.left() - edges.right()
        return min(usual, max(room, usual * ZOOMS[0])) * self._zoom

    def _draw_all(self) -> None:
        self._next = 0
        self._drawn_px = self._page_width_px()
        self._timer.start()

    def _draw_next(self) -> None:
        if self._next >= len(self._pages):
            self._timer.stop()
            return
        page, label = self._document[self._next], self._pages[self._next]
        ratio = self.devicePixelRatioF()
        scale = self._drawn_px / POINTS_WIDE
        bitmap = page.render(scale=scale * ratio, rev_byteorder=False)
        image = QImage(
            bytes(bitmap.buffer), bitmap.width, bitmap.height, bitmap.stride, _image_format(bitmap.n_channels)
        )
        pixmap = QPixmap.fromImage(image)
        pixmap.setDevicePixelRatio(ratio)
        label.setPixmap(pixmap)
        label.setFixedSize(pixmap.deviceIndependentSize().toSize())
        self._next += 1

    def _save(self) -> None:
        place = self.desk.ask.save_as(self, _("Save as PDF"), Path.home() / f"{self.place.key}.pdf")
        if place is not None:
            self._write(place)

    def _print(self) -> None:
        try:
            place = print_copies.new_folder() / f"{self.place.key}.pdf"
        except OSError:  # a full disk
            self.said.emit(_("There is no room for a copy to print. Save it as PDF on another disk."))
            return
        if not self._written(place):
            return
        if not self.desk.ask.show_outside(place):
            self.said.emit(_("No program shows PDF files here; the paper lies in {place}.", place=place))
        elif self._sent:
            self.said.emit(_("Opened to be printed."))
        else:  # opened is not printed, and printed is not sent: only you know
            key = native(SENT_KEY)
            self.said.emit(_("Opened to be printed. Once it is on its way, {key} marks it as sent.", key=key))

    def _write(self, place: Path) -> None:
        if self._written(place):
            self.said.emit(_("The PDF lies in {place}.", place=place))

    def _written(self, place: Path) -> bool:
        try:
            sending.save(self.desk.book, self.place.key, place)
        except UserProblem as problem:
            self.said.emit(_(problem.text))
            return False
        return True

    def _mark_words(self) -> str:
        return _("Mark as not sent") if self._sent else _("Mark as sent")

    def _mark(self) -> None:
        """Note it as sent; where it is, take that back."""
        desk, number = self.desk, self.place.key
        if sending.is_sent(desk.book, number):
            desk.hub.tell(sending.take_back(desk.book, desk.now(), numbers=[number]))
        else:
            desk.hub.tell(sending.mark_sent(desk.book, [number], at=desk.now()))

    def _sending_words(self) -> Sequence[str]:
        """What was noted, the newest first; that nothing was is said too."""
        noted = sending.sendings(self.desk.book, self.place.key)
        return [
            _("{date}: {way}", date=long_date(one.sent_at.date()), way=WAYS.get(one.way, one.way))
            for one in reversed(noted)
        ] or [_("Nothing is noted of its having been sent.")]


def _image_format(channels: int) -> QImage.Format:
    formats = {1: QImage.Format.Format_Grayscale8, 3: QImage.Format.Format_BGR888}
    return formats.get(channels, QImage.Format.Format_RGB32)


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of the paper with the number ``place.key``.

    Raises:
        UserProblem: there is no such paper, or the one in the book is not the one that was issued.
    """
    return PaperLeaf(desk, place)
