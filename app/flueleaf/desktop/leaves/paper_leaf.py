"""A sealed paper, shown page by page as it was issued.

Pages are drawn by pypdfium2: QtPdf is not part of PySide6-Essentials and its package adds 200 MB, while the
system's own viewer would leave the window. Printing is left to that viewer: it knows the printer, and prints
the very file that was issued instead of a picture of it.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import QFrame, QLabel, QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.help.worked_out import worked_out_command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.bill_margin import bill_margin
from flueleaf.desktop.leaves.lists import INVOICE_KEY, PAYMENT_KEY
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.section import Section
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.operations import explaining, issued, pages
from flueleaf.operations.explaining import Explanation
from flueleaf.operations.pages import InvoicePage, QuoteRow

ZOOMS = (0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 3.0)
PAGE_WIDTH_PX = 720  # of an A4 page at zoom 1 and 100 % text
POINTS_WIDE = 595.0


class PaperLeaf(Leaf):
    """The pages under each other, drawn one at a time so that the window never waits for more than one."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._bytes = issued.paper_bytes(desk.book, place.key)
        self._bill = pages.bill_of(desk.book, place.key, desk.today())
        self._zoom = 1.0
        self._pages: list[QLabel] = []
        self._next = 0
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._draw_next)
        self.fill()

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
        self.set_heading(self.place.key, _("as issued"))
        section = self.add_section(Section(_("pages"), str(len(self._document))))
        section.add_buttons(
            *(button(words, f"paper.{name}", run) for words, name, _, run in self._next_steps()),
            button(_("Save a copy"), "paper.save", self._save),
            button(_("Print"), "paper.print", self._print),
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
            MarginSection(
                _("sealed"),
                (
                    "This paper was issued and stays as it is.",
                    "A correction is a new paper that names this one.",
                    f"{len(self._bytes) / 1000:.0f} kB, {_counted(len(self._pages))}",
                ),
            ),
        )

    def commands(self) -> tuple[Command, ...]:
        """Looking closer, and taking the file along."""
        return (
            *(Command(words, (key,), run) for words, _, key, run in self._next_steps()),
            Command(_("Nearer"), ("Ctrl+Up",), self.nearer),
            Command(_("Farther"), ("Ctrl+Down",), self.farther),
            Command(_("Save a copy"), ("Ctrl+S",), self._save),
            Command(_("Print"), ("Ctrl+P",), self._print),
            worked_out_command(self, self._explanations),
        )

    def _next_steps(self) -> list[tuple[str, str, str, Callable[[], None]]]:
        """Return what is still to be done about a bill: words, name, key, what does it."""
        bill, number = self._bill, self.place.key
        if isinstance(bill, InvoicePage) and bill.owing.pence > 0:
            pay = partial(self.place_wanted.emit, Place("payment", number))
            return [("Note a payment", "payment", PAYMENT_KEY, pay)]
        if isinstance(bill, QuoteRow):
            invoice = partial(self.place_wanted.emit, Place("quote_invoice", number))
            return [("Work done: invoice it", "invoice", INVOICE_KEY, invoice)]
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

    def _draw_all(self) -> None:
        self._next = 0
        self._timer.start()

    def _draw_next(self) -> None:
        if self._next >= len(self._pages):
            self._timer.stop()
            return
        page, label = self._document[self._next], self._pages[self._next]
        ratio = self.devicePixelRatioF()
        scale = current().px(PAGE_WIDTH_PX) * self._zoom / POINTS_WIDE
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
        place = self.desk.ask.save_as(self, _("Save a copy"), Path.home() / f"{self.place.key}.pdf")
        if place is not None:
            self._write(place)

    def _print(self) -> None:
        place = Path(tempfile.mkdtemp(prefix="flueleaf-")) / f"{self.place.key}.pdf"
        if self._write(place) and not self.desk.ask.show_outside(place):
            self.said.emit(_("No program shows PDF files here; the paper lies in {place}.", place=place))

    def _write(self, place: Path) -> bool:
        try:
            place.write_bytes(self._bytes)
        except OSError as error:
            self.said.emit(
                _(
                    "{place} could not be written: {reason}. Choose another folder.",
                    place=place,
                    reason=error.strerror,
                )
            )
            return False
        self.said.emit(_("A copy lies in {place}.", place=place))
        return True


def _counted(pages: int) -> str:
    return "1 page" if pages == 1 else f"{pages} pages"


def _image_format(channels: int) -> QImage.Format:
    formats = {1: QImage.Format.Format_Grayscale8, 3: QImage.Format.Format_BGR888}
    return formats.get(channels, QImage.Format.Format_RGB32)


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of the paper with the number ``place.key``."""
    return PaperLeaf(desk, place)
