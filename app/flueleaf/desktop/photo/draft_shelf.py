"""The photographs of a visit that is being typed: added from a file, the clipboard or by dropping them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import get_args

from PySide6.QtCore import QBuffer, QEvent, QIODevice, QMimeData, QObject
from PySide6.QtGui import QDropEvent, QGuiApplication, QImage
from PySide6.QtWidgets import QApplication

from flueleaf.desktop.command import native
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.photo.beside import run_beside
from flueleaf.desktop.photo.photo_line import PhotoNote
from flueleaf.desktop.photo.photo_shelf import NONE, PhotoShelf
from flueleaf.desktop.photo.pictures import decode
from flueleaf.desktop.words import _
from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.operations import book as books
from flueleaf.operations import photos
from flueleaf.operations.photos import Photo, PhotoKind

PATTERN = "*.jpg *.jpeg *.png *.webp *.bmp *.tif *.tiff"
ADD_KEY = "Ctrl+Shift+F"
ORDER: tuple[PhotoKind, ...] = get_args(PhotoKind)


class DraftShelf(PhotoShelf):
    """Changes are in the book at once; what is put away can be brought back until sign-off."""

    def __init__(
        self, leaf: Leaf, visit_id: str, keep_draft: Callable[[], bool], note: PhotoNote | None = None
    ) -> None:
        """Make the shelf of a draft.

        Args:
            leaf: on which it is typed.
            visit_id: of the draft.
            keep_draft: puts the draft on the disk, so that a photograph is never all there is of a visit;
                returns whether it is there.
            note: what the leaf's lines about photographs say.
        """
        super().__init__(leaf, lambda: photos.of_visit(leaf.desk.book, visit_id), again=True, note=note)
        self._visit_id = visit_id
        self._keep_draft = keep_draft
        leaf.setAcceptDrops(True)

    def words(self) -> str:
        """How many there are; while there is none, that one can stand here."""
        return super().words() or _("Photograph beside the fields · {key}", key=native(ADD_KEY))

    def pressed(self) -> None:
        """Show or hide them; while there is none, ask for a file."""
        if self.photos:
            self.toggle()
        else:
            self.choose()

    def choose(self) -> None:
        """Ask for a file and show it beside the fields."""
        pattern = _("Photographs ({patterns})", patterns=PATTERN)
        path = self.leaf.desk.ask.open_file(self.leaf, _("Photograph beside the fields"), pattern)
        if path is not None:
            self._add(lambda: photos.read_photo(path))

    def paste(self) -> None:
        """Show the picture of the clipboard, or the picture file copied there."""
        if not self._take(QGuiApplication.clipboard().mimeData()):
            self.leaf.said.emit(_("There is no picture on the clipboard."))

    def turn(self) -> None:
        """Turn the photograph shown by a quarter to the right."""
        self._change(lambda photo: photos.turn(self.leaf.desk.book, photo))

    def next_kind(self) -> None:
        """Say of the photograph shown that it shows the next kind of thing: a slip, a data plate, another."""

        def change(photo: Photo) -> Photo:
            kind = ORDER[(ORDER.index(photo.kind) + 1) % len(ORDER)]
            return photos.set_kind(self.leaf.desk.book, photo, kind)

        self._change(change)

    def begin_naming(self) -> None:
        """Let a name be typed for the photograph shown."""
        if self.panel is None:
            self.toggle()
        if self.panel is None:
            return
        if not self.panel.isAncestorOf(focused := QApplication.focusWidget() or self.leaf):
            self._came_from = focused
        self.panel.begin_naming()

    def name_given(self, photo: Photo, name: str) -> None:
        """Keep the name."""
        try:
            photos.name(self.leaf.desk.book, photo, name)
        except UserProblem as problem:
            self._on_failed(problem)
            return
        self.refresh()

    def put_away(self) -> None:
        """Put the photograph shown away."""
        if self.photo is None:
            self.leaf.said.emit(NONE)
            return
        desk, photo = self.leaf.desk, self.photo
        try:
            changes = photos.put_away(desk.book, photo, now=desk.now())
        except UserProblem as problem:
            self._on_failed(problem)
            return
        self.refresh()
        self.leaf.said.emit(_(changes.summary))

    def bring_back(self) -> None:
        """Bring back the photograph put away last."""
        try:
            photo = photos.bring_back(self.leaf.desk.book, self._visit_id)
        except UserProblem as problem:
            self._on_failed(problem)
            return
        if photo is None:
            self.leaf.said.emit(_("No photograph was put away here."))
            return
        self.refresh(photo)
        self.note_shown(photo)

    def note_shown(self, photo: Photo | None) -> None:
        """Keep with the draft which photograph stands beside it."""
        try:
            photos.note_shown(self.leaf.desk.book, self._visit_id, photo.id if photo is not None else None)
        except UserProblem as problem:
            self._on_failed(problem)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt’s name
        """Take pictures that are dropped onto the leaf."""
        if isinstance(event, QDropEvent):  # entering, moving and dropping alike
            data = event.mimeData()
            if data is not None and (data.hasImage() or _files(data)):
                event.acceptProposedAction()
                if event.type() == QEvent.Type.Drop:
                    self._take(data)
                return True
        return super().eventFilter(watched, event)

    def _take(self, data: QMimeData | None) -> bool:
        if data is None:
            return False
        if files := _files(data):
            for path in files:
                self._add(lambda path=path: photos.read_photo(path))  # type: ignore[misc]
        elif data.hasImage():
            image = QImage(data.imageData())
            self._add(lambda: _png(image))
        else:
            return False
        return True

    def _add(self, read: Callable[[], bytes]) -> None:
        if not self._keep_draft():
            return  # why is said by who keeps it
        path, visit_id, now = self.leaf.desk.book.path, self._visit_id, self.leaf.desk.now()

        def work() -> Photo:
            data = read()
            photos.media_type_of(data)
            decode(data)  # what cannot be shown is not kept
            with books.writing_book(path) as book:
                return photos.add(book, visit_id, data, kind="slip", now=now)

        run_beside(work, self, self._on_added, self._on_failed)

    def _on_added(self, photo: Photo) -> None:
        self.refresh(photo)
        self.leaf.said.emit(_("The photograph is kept with the visit."))

    def _on_failed(self, problem: Exception) -> None:
        if isinstance(problem, Refused):
            fault = problem.faults[0]
            name = fault.value or _("the picture")
            text = _("{name} is not taken. Accepted: {accepted}.", name=name, accepted=_(fault.accepted))
            self.leaf.said.emit(text)
        elif isinstance(problem, UserProblem):
            self.leaf.said.emit(_(problem.args[0]))
        else:
            raise problem

    def _change(self, change: Callable[[Photo], Photo]) -> None:
        if self.photo is None:
            self.leaf.said.emit(NONE)
            return
        try:
            changed = change(self.photo)
        except UserProblem as problem:
            self._on_failed(problem)
            return
        self.refresh(changed)


def _files(data: QMimeData) -> list[Path]:
    return [Path(url.toLocalFile()) for url in data.urls() if url.isLocalFile()]


def _png(image: QImage) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # type: ignore[call-overload]
    return bytes(buffer.data().data())
