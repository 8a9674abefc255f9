"""What stands beside the page: a picture, the line that says what it is, and the field for its name."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QHideEvent, QImage, QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.photo.photo_view import PhotoView
from flueleaf.desktop.photo.pictures import Pictures, Wanted
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap, set_margins
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem
from flueleaf.operations.photos import KINDS, Photo

NARROWEST_PX = 140
NO_BREAK = "\u00a0"  # a date stays on one line
LONGEST_NAME_CHARACTERS = 60  # two lines of the caption at its narrowest
KEYS = _("Plus and minus go nearer and farther, arrows move the picture, Escape goes back to the fields.")


class PhotoPanel(QWidget):
    """Shows one photograph of several."""

    named = Signal(object, str)  # Photo, the name typed for it
    left = Signal()  # back to the fields

    def __init__(self, pictures: Pictures, parent: QWidget | None = None) -> None:
        """Make an empty panel.

        Args:
            pictures: where its pictures come from.
            parent: the widget it stands in.
        """
        super().__init__(parent)
        self.setObjectName("photo")
        self.setProperty("ground", "paper")
        self._pictures = pictures
        self.photo: Photo | None = None
        self.view = PhotoView()
        self.view.setAccessibleDescription(KEYS)
        self.caption = label("", role="small", tone="soft", wrap=True)
        self.caption.setObjectName("photo.caption")
        self.name = TextField("photo.name", _("name of the photograph"), longest=LONGEST_NAME_CHARACTERS)
        self.name.moves_on = False
        self._name_words = label(self.name.label, role="small", tone="soft")
        self._name_words.setBuddy(self.name.control())
        self._naming = False
        column = QVBoxLayout(self)
        set_margins(column, 4, 7, 4, 4)
        set_gap(column, 2)
        for widget in (self.caption, self._name_words, self.name):
            column.addWidget(widget)
        self._show_name(shown=False)
        column.addWidget(self.view, 1)
        self._fit()
        self.view.left.connect(self.left)
        self.view.size_wanted.connect(self._want)
        self.name.entered.connect(self._on_name_entered)
        self.name.left.connect(self._on_name_left)
        pictures.ready.connect(self._on_ready)
        pictures.failed.connect(self._on_failed)

    def show_photo(self, photo: Photo, number: int, count: int) -> None:
        """Show a photograph.

        Args:
            photo: which.
            number: its place among them, from 1.
            count: how many there are.
        """
        if self.photo is not None and self.photo.id != photo.id and self._naming:
            self.left.emit()  # what was typed is the name of the one before
        before, self.photo = self.photo, photo
        self.caption.setText(_caption(photo, number, count))
        self.view.setAccessibleName(_("Photograph: {caption}", caption=self.caption.text()))
        if before is None or (before.id, before.turn) != (photo.id, photo.turn):
            self.view.show_nothing()
        self._want()

    def begin_naming(self) -> None:
        """Let a name be typed: Enter or leaving the field keeps it, Escape leaves it as it was."""
        if self.photo is not None:
            self.name.set_text(self.photo.note)
            self._show_name(shown=True)
            self.name.edit.setFocus(Qt.FocusReason.ShortcutFocusReason)
            self.name.edit.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave the name as it was at Escape."""
        if self._naming and event.key() == Qt.Key.Key_Escape and self.photo is not None:
            self.name.set_text(self.photo.note)
            self.left.emit()
            return
        super().keyPressEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        """Keep the name when the leaf goes."""
        super().hideEvent(event)
        if not event.spontaneous():
            self._end_naming()

    def changeEvent(self, event: QEvent) -> None:
        """Keep the least width in step with the text scale."""
        if event.type() == QEvent.Type.FontChange:
            self._fit()
        super().changeEvent(event)

    def _fit(self) -> None:
        self.setMinimumWidth(current().px(NARROWEST_PX))

    def _on_name_entered(self) -> None:
        if self.name.check():
            self.left.emit()

    def _on_name_left(self) -> None:
        if self.window().focusWidget() is not self.name.edit:  # else a menu opened, or another window came
            self._end_naming()

    def _end_naming(self) -> None:
        if not self._naming:
            return
        self._show_name(shown=False)
        typed = self.name.text().strip()
        if self.photo is not None and typed != self.photo.note and self.name.check():
            self.named.emit(self.photo, typed)

    def _show_name(self, *, shown: bool) -> None:
        self._naming = shown
        for widget in (self._name_words, self.name):
            widget.setVisible(shown)

    def _want(self) -> None:
        if self.photo is not None and self.view.isVisible():
            size = self.view.wanted_px()
            self._pictures.want(Wanted(self.photo.id, self.photo.turn, size.width(), size.height()))

    def _on_ready(self, wanted: Wanted, image: QImage) -> None:
        if self.photo is not None and (wanted.photo_id, wanted.turn) == (self.photo.id, self.photo.turn):
            self.view.show_image(image)

    def _on_failed(self, problem: Exception) -> None:
        if not isinstance(problem, UserProblem):
            raise problem
        self.caption.setText(_(problem.args[0]))


def _caption(photo: Photo, number: int, count: int) -> str:
    what = _(KINDS[photo.kind])
    if photo.note:
        what = _("{kind}: {name}", kind=what, name=photo.note)
    date = long_date(photo.added.date()).replace(" ", NO_BREAK)
    if count == 1:
        return _("{what}, added {date}", what=what, date=date)
    return _("{what}, added {date}, {number} of {count}", what=what, date=date, number=number, count=count)
