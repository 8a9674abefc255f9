"""A field for a small picture, a logo or a signature: chosen from a file, pasted, or taken out again."""

from __future__ import annotations

import base64
import binascii
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt, Signal
from PySide6.QtGui import QGuiApplication, QImage, QImageReader, QKeyEvent, QKeySequence, QPixmap
from PySide6.QtWidgets import QLabel, QPushButton, QWidget

from flueleaf.desktop.ask import Ask
from flueleaf.desktop.fields.field import Field, shortened
from flueleaf.desktop.flow_layout import FlowLayout
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _

SHOWN_PX = (132, 44)  # largest picture beside its buttons, at 100 % text
# A logo is printed at most 150 points wide: that many points of a picture print at more than 500 dpi.
MOST_SIDE = 1200
MOST_BYTES = 30_000_000  # of a file; a photograph of a signature is a tenth of it. Common practice.
_PNG = b"\x89PNG\r\n\x1a\n"


class PictureField(Field):
    """One picture; its text is the PNG file as base64, so that drafts and undoing hold it like any text."""

    def __init__(self, name: str, label: str, ask: Ask, parent: QWidget | None = None) -> None:
        """Make an empty field.

        Args:
            name: object name, the path of the value.
            label: what it is.
            ask: which file is chosen.
            parent: the widget it stands in.
        """
        super().__init__(name, label, parent)
        self._ask = ask
        self._text = ""
        row = QWidget()
        flow = FlowLayout(row, gap_steps=2)
        self.picture = QLabel()
        self.picture.setObjectName(f"{name}.picture")
        self._choose = _Button(_("Choose"), f"{name}.choose", _("{picture}: choose a file", picture=label))
        self._paste = _Button(_("Paste"), f"{name}.paste", _("{picture}: paste", picture=label))
        self._take_out = _Button(_("Take out"), f"{name}.take_out", _("{picture}: take out", picture=label))
        for widget in (self.picture, self._choose, self._paste, self._take_out):
            flow.addWidget(widget)
        self.hold(row)
        self.line.setStretchFactor(row, 1)
        row.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFocusProxy(self._choose)
        for pressed in (self._choose, self._paste, self._take_out):
            pressed.entered.connect(self.move_on)
            pressed.pasted.connect(self.paste)
        self._choose.clicked.connect(self._on_choose)
        self._paste.clicked.connect(self.paste)
        self._take_out.clicked.connect(self._on_take_out)
        self.set_hint(_("A PNG or JPEG picture, from a file or pasted."))
        self._show()

    def text(self) -> str:
        """Return the PNG file as base64, "" where there is no picture."""
        return self._text

    def set_text(self, text: str) -> None:
        """Show a picture without a signal; a text that is none leaves the field empty, and says so."""
        self._text = text
        self.set_fault("")
        if text and self.image().isNull():
            self._text = ""
            self.set_fault(_("The picture kept here is damaged. Choose another."))
        self._show()

    def data(self) -> bytes | None:
        """Return the PNG file."""
        return base64.b64decode(self._text) if self._text else None

    def image(self) -> QImage:
        """Return the picture; a null one where there is none."""
        try:
            data = base64.b64decode(self._text, validate=True)
        except (binascii.Error, ValueError):
            return QImage()
        return QImage.fromData(data)

    def paste(self) -> None:
        """Take the picture on the clipboard."""
        clipboard = QGuiApplication.clipboard()
        image = clipboard.image()
        files = [url.toLocalFile() for url in clipboard.mimeData().urls() if url.isLocalFile()]
        if not image.isNull():
            self._take(_png(image))
        elif files:
            self._read(Path(files[0]))
        else:
            self.set_fault(_("There is no picture to paste. Copy one first, or choose a file."))

    def _on_choose(self) -> None:
        title = _("Choose a picture: {what}", what=self.label)
        place = self._ask.open_file(self, title, _("Pictures") + " (*.png *.jpg *.jpeg)")
        if place is not None:
            self._read(place)

    def _on_take_out(self) -> None:
        self._take("")
        self._choose.setFocus(Qt.FocusReason.OtherFocusReason)

    def _read(self, place: Path) -> None:
        try:
            if place.stat().st_size > MOST_BYTES:
                self.set_fault(
                    _(
                        "{file} is too large. Choose a picture of at most {most} MB.",
                        file=shortened(place.name),
                        most=MOST_BYTES // 1_000_000,
                    )
                )
                return
            data = place.read_bytes()
        except (OSError, ValueError) as error:  # a value: a pasted path that holds a NUL
            why = error.strerror if isinstance(error, OSError) else _("its name cannot be one of a file")
            self.set_fault(
                _(
                    "{file} cannot be read: {why}. Choose another picture.",
                    file=shortened(place.name),
                    why=why,
                )
            )
            return
        if not (text := _taken(data)):
            self.set_fault(
                _("{file} is no PNG or JPEG picture. Choose one that is.", file=shortened(place.name))
            )
            return
        self._take(text)

    def _take(self, text: str) -> None:
        self._text = text
        self.set_fault("")
        self._show()
        self.edited.emit(text)

    def _fit(self) -> None:
        self._show()

    def _show(self) -> None:
        there = bool(self._text)
        self._take_out.setVisible(there)
        self.picture.setVisible(there)
        if not there:
            return
        image, ratio = self.image(), self.devicePixelRatioF()
        room = QSize(*(round(current().px(side) * ratio) for side in SHOWN_PX))
        if image.width() > room.width() or image.height() > room.height():
            keep, smooth = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
            image = image.scaled(room, keep, smooth)
        pixmap = QPixmap.fromImage(image)
        pixmap.setDevicePixelRatio(ratio)
        self.picture.setPixmap(pixmap)
        self.picture.setFixedSize(pixmap.deviceIndependentSize().toSize())
        self.picture.setAccessibleName(_("{picture}, as it is now", picture=self.label))


class _Button(QPushButton):
    """Space presses it; Enter goes on, Ctrl+V pastes."""

    entered = Signal()
    pasted = Signal()

    def __init__(self, words: str, name: str, spoken: str) -> None:
        super().__init__(words)
        self.setObjectName(name)
        self.setAccessibleName(spoken)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Space to the button."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.entered.emit()
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.pasted.emit()
        else:
            super().keyPressEvent(event)


def _taken(data: bytes) -> str:
    """Return the base64 text of a picture file, "" where it is none; a PNG of fit size stays as it is."""
    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    reader.setAutoTransform(True)  # a telephone keeps its photographs lying on their side
    if bytes(reader.format().data()) not in {b"png", b"jpeg", b"jpg"}:
        return ""
    image = reader.read()
    if image.isNull():
        return ""
    if data.startswith(_PNG) and max(image.width(), image.height()) <= MOST_SIDE:
        return base64.b64encode(data).decode("ascii")
    return _png(image)


def _png(image: QImage) -> str:
    if max(image.width(), image.height()) > MOST_SIDE:
        keep, smooth = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
        image = image.scaled(QSize(MOST_SIDE, MOST_SIDE), keep, smooth)
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]
    return base64.b64encode(bytes(buffer.data().data())).decode("ascii")
