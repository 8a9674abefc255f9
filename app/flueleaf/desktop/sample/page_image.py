"""The first page of a PDF as a picture, marked as a sample; works in any thread."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPainter

from flueleaf.desktop.theme import FAMILY
from flueleaf.desktop.words import _

POINTS_WIDE = 595.28  # of an A4 page
MARK = _("SAMPLE")
_MARK_INK = QColor(0, 0, 0, 26)
_MARK_SLOPE_DEGREES = -52.0
_MARK_SHARE = 0.24  # height of its letters against the page's width


def sample_image(pdf: bytes, width_px: int) -> QImage:
    """Return the first page ``width_px`` wide, with the word SAMPLE across it."""
    # Loaded here, beside the window: start-up does not need it.
    import pypdfium2  # noqa: PLC0415

    document = pypdfium2.PdfDocument(pdf)
    try:
        bitmap = document[0].render(scale=width_px / POINTS_WIDE, rev_byteorder=False)
        image = QImage(
            bytes(bitmap.buffer), bitmap.width, bitmap.height, bitmap.stride, _format(bitmap.n_channels)
        )
        page = image.convertToFormat(QImage.Format.Format_RGB32)
    finally:
        document.close()
    _mark(page)
    return page


def _format(channels: int) -> QImage.Format:
    formats = {1: QImage.Format.Format_Grayscale8, 3: QImage.Format.Format_BGR888}
    return formats.get(channels, QImage.Format.Format_RGB32)


def _mark(page: QImage) -> None:
    painter = QPainter(page)
    font = QFont(FAMILY)
    font.setPixelSize(max(round(page.width() * _MARK_SHARE), 1))
    font.setWeight(QFont.Weight.DemiBold)
    painter.setFont(font)
    painter.setPen(_MARK_INK)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
    painter.translate(QPointF(page.width() / 2, page.height() / 2))
    painter.rotate(_MARK_SLOPE_DEGREES)
    reach = float(page.height())
    painter.drawText(QRectF(-reach, -reach, 2 * reach, 2 * reach), Qt.AlignmentFlag.AlignCenter, MARK)
    painter.end()
