"""What stands beside the page: a picture and the line that names it."""

from __future__ import annotations

from PySide6.QtCore import QEvent
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.photo.photo_view import PhotoView
from flueleaf.desktop.photo.pictures import Pictures, Wanted
from flueleaf.desktop.section import label
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem
from flueleaf.operations.photos import KINDS, Photo

NARROWEST_PX = 140
KEYS = _("Plus and minus go nearer and farther, arrows move the picture, Escape goes back to the fields.")


class PhotoPanel(QWidget):
    """Shows one photograph of several."""

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
        column = QVBoxLayout(self)
        column.addWidget(self.caption)
        column.addWidget(self.view, 1)
        self._fit()
        self.view.size_wanted.connect(self._want)
        pictures.ready.connect(self._on_ready)
        pictures.failed.connect(self._on_failed)

    def show_photo(self, photo: Photo, number: int, count: int) -> None:
        """Show a photograph.

        Args:
            photo: which.
            number: its place among them, from 1.
            count: how many there are.
        """
        before, self.photo = self.photo, photo
        self.caption.setText(_caption(photo, number, count))
        self.view.setAccessibleName(_("Photograph: {caption}", caption=self.caption.text()))
        if before is None or (before.id, before.turn) != (photo.id, photo.turn):
            self.view.show_nothing()
        self._want()

    def changeEvent(self, event: QEvent) -> None:
        """Keep the distances in step with the text scale."""
        if event.type() == QEvent.Type.FontChange:
            self._fit()
        super().changeEvent(event)

    def _fit(self) -> None:
        theme = current()
        self.setMinimumWidth(theme.px(NARROWEST_PX))
        if (column := self.layout()) is not None:
            column.setContentsMargins(theme.space(4), theme.space(7), theme.space(4), theme.space(4))
            column.setSpacing(theme.space(2))

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
    what = photo.note or _(KINDS[photo.kind])
    date = long_date(photo.added.date())
    if count == 1:
        return _("{what}, added {date}", what=what, date=date)
    return _("{what}, added {date}, {number} of {count}", what=what, date=date, number=number, count=count)
