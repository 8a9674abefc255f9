"""The sheet of paper: A4 pages, margins, footer, and the few strokes everything is drawn with.

All lengths are points (1/72 inch), measured from the top left corner.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from fpdf import FPDF
from fpdf.fonts import TTFFont

from flueleaf.papers.facts import Head, Seals
from flueleaf.papers.metadata import xmp
from flueleaf.papers.picture import picture
from flueleaf.papers.text import wrap
from flueleaf.papers.typeface import FAMILY, REPLACEMENT, TINY, Style, Type, clean, font_path, width

PAGE_WIDTH, PAGE_HEIGHT = 595.28, 841.89
LEFT, RIGHT = 60.0, PAGE_WIDTH - 60.0
TOP, BOTTOM = 48.0, PAGE_HEIGHT - 74.0
MEASURE = RIGHT - LEFT
HAIRLINE, RULE = 0.35, 0.8
_GROUP = 8

Align = Literal["left", "right", "centre"]


class Sheet:
    """A paper being drawn: ``y`` is the place of the next thing on the current page."""

    def __init__(self, title: str, head: Head, seals: Seals) -> None:
        self._title, self._head, self._seals = title, head, seals
        self._pdf = _document(title, head)
        self._font: tuple[str, float] | None = None
        self._grey: int | None = None
        self._styles: set[Style] = set()
        self.replaced = False
        self.y = TOP
        self.new_page()

    def new_page(self) -> None:
        """Begin a page."""
        self._pdf.add_page()
        self._font = self._grey = None
        self.y = TOP

    @property
    def at_top(self) -> bool:
        """Nothing was drawn on this page yet."""
        return self.y <= TOP

    @property
    def left_on_page(self) -> float:
        """Height still free on this page."""
        return BOTTOM - self.y

    def need(self, height: float) -> bool:
        """Begin a page unless ``height`` is still free; say whether one was begun."""
        if height <= self.left_on_page or self.at_top:
            return False
        self.new_page()
        return True

    def write(self, x: float, baseline: float, text: str, type_: Type, *, align: Align = "left") -> None:
        """Write one line of text."""
        shown = clean(text).replace("\n", " ")
        if not shown.strip():
            return
        self.replaced = self.replaced or REPLACEMENT in shown
        if align != "left":
            x -= width(shown, type_) * (1 if align == "right" else 0.5)
        if type_.style not in self._styles:
            self._load(type_.style)
        if self._font != (type_.style, type_.size):
            self._pdf.set_font(FAMILY, type_.style, type_.size)
            self._font = (type_.style, type_.size)
        if self._grey != type_.grey:
            self._pdf.set_text_color(type_.grey)
            self._grey = type_.grey
        self._pdf.text(x, baseline, shown)

    def _load(self, style: Style) -> None:
        self._pdf.add_font(FAMILY, style, font_path(style))
        self._styles.add(style)
        for font in self._pdf.fonts.values():
            if isinstance(font, TTFFont):
                # The outlines are embedded as they are: measuring them anew would be half the work of a page.
                font.ttfont.recalcBBoxes = False

    def rule(
        self, y: float, *, x1: float = LEFT, x2: float = RIGHT, weight: float = HAIRLINE, grey: int = 0
    ) -> None:
        """Draw a horizontal rule."""
        self.stroke((x1, y), (x2, y), weight=weight, grey=grey)

    def stroke(
        self, start: tuple[float, float], end: tuple[float, float], *, weight: float = HAIRLINE, grey: int = 0
    ) -> None:
        """Draw a straight line."""
        self._pdf.set_line_width(weight)
        self._pdf.set_draw_color(grey)
        self._pdf.line(*start, *end)

    def ring(self, x: float, y: float, radius: float, *, filled: bool = False, weight: float = 0.7) -> None:
        """Draw a circle around a point."""
        self._pdf.set_line_width(weight)
        self._pdf.set_draw_color(0)
        self._pdf.set_fill_color(0 if filled else 255)
        self._pdf.ellipse(x - radius, y - radius, 2 * radius, 2 * radius, style="DF")

    def block(self, x: float, y: float, size: tuple[float, float], *, grey: int = 0) -> None:
        """Fill a rectangle whose top left corner is given."""
        self._pdf.set_fill_color(grey)
        self._pdf.rect(x, y, *size, style="F")

    def image(self, png_text: str, name: str, *, x: float, y: float, box: tuple[float, float]) -> float:
        """Place a picture into the top left of a box, its proportions kept; return its height.

        Raises:
            UserProblem: it is no readable PNG.
        """
        image = picture(png_text, name)
        scale = min(box[0] / image.width, box[1] / image.height)
        high = image.height * scale
        self._pdf.image(image, x=x, y=y, w=image.width * scale, h=high)
        return high

    def finish(self) -> bytes:
        """Add the footers, now that the pages are counted, and return the PDF."""
        if self.replaced:
            self.need(TINY.leading + 8)
            said = f"{REPLACEMENT} stands for a character that the typeface of this paper does not have."
            self.write(LEFT, self.y + 8, said, TINY)
        pages = len(self._pdf.pages)
        for number in range(1, pages + 1):
            self._pdf.page = number
            self._forget_state()
            self._footer(number, pages)
        return bytes(self._pdf.output())

    def close(self) -> None:
        """Let go of the font files; the PDF library does so only for a paper that gets finished."""
        for font in self._pdf.fonts.values():
            if isinstance(font, TTFFont):
                font.close()

    def _forget_state(self) -> None:
        """Let the next strokes state font, width and colour anew: a page begun earlier knows none of them."""
        self._font = self._grey = None
        self._pdf.font_family = ""
        self._pdf.line_width = -1
        self._pdf.draw_color = self._pdf.fill_color = None

    def _footer(self, number: int, pages: int) -> None:
        y = BOTTOM + 18
        self.rule(y, grey=120)
        y += 11
        self.write(LEFT, y, f"{self._title} {self._seals.number}", TINY)
        self.write(RIGHT, y, f"page {number} of {pages}", TINY, align="right")
        lines = [f"fingerprint  {_grouped(self._seals.fingerprint)}"]
        if self._seals.previous_fingerprint:
            lines.append(f"before it  {_grouped(self._seals.previous_fingerprint)}")
        else:
            lines.append("the first paper of its book: there is no fingerprint before it")
        for line in lines:
            for part in wrap(line, MEASURE, TINY):
                y += TINY.leading
                self.write(LEFT, y, part, TINY)


def _grouped(fingerprint: str) -> str:
    return " ".join(fingerprint[at : at + _GROUP] for at in range(0, len(fingerprint), _GROUP))


def _document(title: str, head: Head) -> FPDF:
    pdf = FPDF(format="A4", unit="pt", enforce_compliance="PDF/A-3B")
    pdf.set_auto_page_break(False)
    pdf.set_creation_date(head.issued_at)
    pdf.set_lang("en-GB")
    author = head.business.trading_name or head.business.name
    pdf.set_xmp_metadata(xmp(title=f"{title} {head.number}", author=author, issued_at=head.issued_at))
    return pdf


def new_paper(title: str, head: Head, seals: Seals, body: Callable[[Sheet], None]) -> bytes:
    """Return the PDF of a paper whose content ``body`` draws."""
    sheet = Sheet(title, head, seals)
    try:
        body(sheet)
        return sheet.finish()
    finally:
        sheet.close()
