"""The photographs of one leaf: which there are, which one stands beside the page, what is done with it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.announcing import announce
from flueleaf.desktop.command import native
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.photo.photo_line import PhotoNote
from flueleaf.desktop.photo.photo_panel import PhotoPanel
from flueleaf.desktop.photo.pictures import Pictures
from flueleaf.desktop.words import _, _n
from flueleaf.operations import book as books
from flueleaf.operations import photos
from flueleaf.operations.photos import Photo

SHOW_KEY = "Ctrl+Shift+H"
NONE = _("There is no photograph here.")


class PhotoShelf(QObject):
    """Shows the photographs of a leaf; the keyboard stays where it is."""

    def __init__(
        self,
        leaf: Leaf,
        listed: Callable[[], tuple[Photo, ...]],
        *,
        again: bool = False,
        note: PhotoNote | None = None,
    ) -> None:
        """Make the shelf of a leaf.

        Args:
            leaf: beside whose page they stand.
            listed: reads from the book which there are.
            again: whether the photograph that stood there last does so again once the leaf is shown.
            note: what the leaf's lines about them say, where these were made before the shelf.
        """
        super().__init__(leaf)
        self.leaf = leaf
        self._listed = listed
        self.photos = listed()
        self.panel: PhotoPanel | None = None
        self._came_from: QWidget | None = None
        path = leaf.desk.book.path

        def load(photo_id: int) -> bytes:
            with books.reading(path) as book:
                return photos.picture(book, photo_id)

        self._pictures = Pictures(load, self)
        self._shown_last = next((photo for photo in self.photos if photo.shown), None)
        self._again = again
        leaf.installEventFilter(self)
        self.note = note or PhotoNote(self)
        self.note.pressed.connect(self.pressed)
        self.note.say(self.words())

    @property
    def photo(self) -> Photo | None:
        """The photograph beside the page, None while none is."""
        return self.panel.photo if self.panel is not None else None

    def words(self) -> str:
        """Return what a line of the page says about them, "" for nothing."""
        if not self.photos:
            return ""
        key = native(SHOW_KEY)
        return _n("{count} photograph · {key}", "{count} photographs · {key}", len(self.photos), key=key)

    def pressed(self) -> None:
        """Do what a click on such a line asks for."""
        self.toggle()

    def show(self, photo: Photo) -> None:
        """Let a photograph stand beside the page."""
        if self.panel is None:
            self.panel = PhotoPanel(self._pictures)
            self.panel.left.connect(self.back_to_fields)
            self.panel.named.connect(self.name_given)
            self.leaf.stand_beside(self.panel)
            self.panel.show()
        ids = [one.id for one in self.photos]
        self.panel.show_photo(photo, ids.index(photo.id) + 1, len(ids))
        announce(self.panel.view, self.panel.view.accessibleName())

    def toggle(self) -> None:
        """Show the photograph, or take it away from the page."""
        if self.panel is not None:
            self.hide()
            self.note_shown(None)
        elif self.photos:
            photo = self._shown_last or self.photos[0]
            self.show(photo)
            self.note_shown(photo)
        else:
            self.leaf.said.emit(NONE)

    def hide(self) -> None:
        """Take the photograph away from the page."""
        if self.panel is None:
            return
        self._shown_last = self.photo
        if self.panel.isAncestorOf(QApplication.focusWidget() or self.leaf):
            self.back_to_fields()
        self.panel = None
        self.leaf.stand_beside(None)

    def step(self, by: int) -> None:
        """Show the next photograph, or the one before; after the last comes the first."""
        if not self.photos:
            self.leaf.said.emit(NONE)
            return
        ids = [one.id for one in self.photos]
        now = self.photo
        at = ids.index(now.id) + by if now is not None and now.id in ids else 0
        photo = self.photos[at % len(ids)]
        self.show(photo)
        self.note_shown(photo)

    def go_to_view(self) -> None:
        """Take the keyboard to the picture, or back."""
        if self.panel is None:
            self.toggle()
        if self.panel is None:
            return
        if self.panel.view.hasFocus():
            self.back_to_fields()
            return
        self._came_from = QApplication.focusWidget()
        self.panel.view.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def back_to_fields(self) -> None:
        """Take the keyboard back to where it was."""
        target = self._came_from
        if target is None or not self.leaf.isAncestorOf(target) or not target.isVisible():
            target = self.leaf.first_focus()
        if target is not None:
            target.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def refresh(self, showing: Photo | None = None) -> None:
        """Read anew which there are; show one of them, or the one there if it is still among them."""
        self.photos = self._listed()
        self.note.say(self.words())
        ids = {one.id: one for one in self.photos}
        wanted = showing or self.photo
        if wanted is not None and wanted.id in ids:
            self.show(ids[wanted.id])
        elif self.panel is not None and self.photos:
            self.show(self.photos[-1])
            self.note_shown(self.photos[-1])
        else:
            self.hide()
            self._shown_last = None

    def note_shown(self, photo: Photo | None) -> None:
        """Called when another photograph, or none, stands beside the page by choice."""

    def name_given(self, photo: Photo, name: str) -> None:
        """Called when a name was typed for a photograph."""

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt’s name
        """Show what was shown last, once the leaf has its size."""
        if self._again and event.type() == QEvent.Type.Show:
            self._again = False
            QTimer.singleShot(0, self, self._show_again)
        return super().eventFilter(watched, event)

    def _show_again(self) -> None:
        if self._shown_last is not None and self.panel is None:
            self.show(self._shown_last)
