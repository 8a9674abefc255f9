"""Pictures out of the book at the size they are shown in: read, decoded and scaled beside the window."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QObject, QSize, Qt, Signal
from PySide6.QtGui import QImage, QImageReader, QTransform

from flueleaf.desktop.photo.beside import run_beside
from flueleaf.domain.problems import UserProblem
from flueleaf.domain.words import marked

# Small print of a slip that fills the picture stays legible at this length; four bytes for each pixel.
LONGEST_SIDE_PX = 3600
MOST_DECODED, MOST_SCALED = 3, 8
UNREADABLE = marked("That photograph is damaged: it cannot be shown.")


@dataclass(frozen=True, slots=True)
class Wanted:
    """A picture: which photograph, turned how far, fitted into how many pixels of the screen."""

    photo_id: int
    turn: int
    width_px: int
    height_px: int


def decode(data: bytes) -> QImage:
    """Return a picture upright, as its camera noted, and no larger than is of use.

    Raises:
        UserProblem: it is damaged.
    """
    held = QByteArray(data)
    buffer = QBuffer(held)
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    reader.setDecideFormatFromContent(True)
    reader.setAutoTransform(True)
    size = reader.size()
    if max(size.width(), size.height()) > LONGEST_SIDE_PX:
        limit = QSize(LONGEST_SIDE_PX, LONGEST_SIDE_PX)
        reader.setScaledSize(size.scaled(limit, Qt.AspectRatioMode.KeepAspectRatio))
    image = reader.read()
    if image.isNull():
        raise UserProblem(UNREADABLE)
    return image.convertToFormat(QImage.Format.Format_RGB32)  # what a raster paints without converting


def scaled(image: QImage, turn: int, width_px: int, height_px: int) -> QImage:
    """Return a picture turned and fitted into a size; it is never made larger than it is."""
    turned = image.transformed(QTransform().rotate(turn)) if turn else image
    size = turned.size().scaled(width_px, height_px, Qt.AspectRatioMode.KeepAspectRatio)
    if size.width() >= turned.width():
        return turned
    smooth = Qt.TransformationMode.SmoothTransformation
    return turned.scaled(size, Qt.AspectRatioMode.IgnoreAspectRatio, smooth)


class Pictures(QObject):
    """Makes the picture asked for last; those made lately are kept."""

    ready = Signal(object, QImage)  # Wanted, its picture
    failed = Signal(object)  # the problem

    def __init__(self, load: Callable[[int], bytes], parent: QObject | None = None) -> None:
        """Make an empty store.

        Args:
            load: returns the bytes of a photograph; called in a thread.
            parent: its owner.
        """
        super().__init__(parent)
        self._load = load
        self._decoded: OrderedDict[int, QImage] = OrderedDict()
        self._scaled: OrderedDict[Wanted, QImage] = OrderedDict()
        self._making: Wanted | None = None
        self._next: Wanted | None = None

    def want(self, wanted: Wanted) -> None:
        """Ask for a picture; ``ready`` follows, unless another one is asked for before."""
        if (known := self._scaled.get(wanted)) is not None:
            self._scaled.move_to_end(wanted)
            self._next = None
            self.ready.emit(wanted, known)
        elif self._making is not None:
            self._next = wanted
        else:
            self._make(wanted)

    def _make(self, wanted: Wanted) -> None:
        self._making = wanted
        known, load = self._decoded.get(wanted.photo_id), self._load

        def work() -> tuple[QImage, QImage]:
            whole = known if known is not None else decode(load(wanted.photo_id))
            return whole, scaled(whole, wanted.turn, wanted.width_px, wanted.height_px)

        run_beside(work, self, self._on_made, self._on_failed)

    def _on_made(self, made: tuple[QImage, QImage]) -> None:
        wanted, self._making = self._making, None
        assert wanted is not None
        _remember(self._decoded, wanted.photo_id, made[0], MOST_DECODED)
        _remember(self._scaled, wanted, made[1], MOST_SCALED)
        if self._go_on() is None:
            self.ready.emit(wanted, made[1])

    def _on_failed(self, problem: Exception) -> None:
        self._making = None
        if self._go_on() is None:
            self.failed.emit(problem)

    def _go_on(self) -> Wanted | None:
        wanted, self._next = self._next, None
        if wanted is not None:
            self.want(wanted)
        return wanted


def _remember(kept: OrderedDict[Any, QImage], key: Any, image: QImage, most: int) -> None:
    kept[key] = image
    kept.move_to_end(key)
    while len(kept) > most:
        kept.popitem(last=False)
