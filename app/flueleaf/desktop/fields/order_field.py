"""A field for an order: a list whose entries are moved by keys, and left out by a blank."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from flueleaf.desktop.announcing import announce
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _

WIDTH_PX = 240
ROW_PX = 28
FRAME_PX = 8
BETWEEN = ","
_CTRL = Qt.KeyboardModifier.ControlModifier
_KEY = Qt.ItemDataRole.UserRole
_STEPS = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}


class OrderField(Field):
    """Keys of a list in their order: Ctrl with an arrow moves one, a blank or Delete leaves it out.

    ``text()`` holds the keys with commas between them, "" where they stand in the usual order.
    """

    def __init__(
        self,
        name: str,
        label: str,
        words: Mapping[str, str],
        usual: Sequence[str],
        parent: QWidget | None = None,
    ) -> None:
        """Make the field with the usual order.

        Args:
            name: object name, the path of the value.
            label: what it is called.
            words: what each key is called; all of them are offered.
            usual: the keys of the usual order; the others are left out in it.
            parent: the widget it stands in.
        """
        super().__init__(name, label, parent)
        self._words = dict(words)
        self._usual = tuple(usual)
        self.list = QListWidget()
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.hold(self.list, spoken=label)
        self.line.addStretch(1)
        self.list.setAccessibleDescription(
            _("Ctrl with the arrow up or down moves a line, Space leaves it out or takes it in again.")
        )
        self.list.installEventFilter(self)
        self.list.itemClicked.connect(self._on_clicked)
        self.set_text("")

    def keys(self) -> tuple[str, ...]:
        """Return the keys that are taken in, in their order."""
        return tuple(str(item.data(_KEY)) for item in self._items() if _taken_in(item))

    def text(self) -> str:
        """Return the keys with commas between them, "" for the usual order."""
        keys = self.keys()
        return "" if keys == self._usual else BETWEEN.join(keys)

    def set_text(self, text: str) -> None:
        """Show an order; keys it does not know are passed over, those it lacks stand below, left out."""
        given = [key.strip() for key in text.split(BETWEEN)]
        wanted = tuple(dict.fromkeys(key for key in given if key in self._words)) or self._usual
        self.list.clear()
        for key in (*wanted, *(key for key in self._words if key not in wanted)):
            item = QListWidgetItem()
            item.setData(_KEY, key)
            self.list.addItem(item)
            self._take(item, key in wanted)
        self._fit()
        self.list.setCurrentRow(0)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Take the keys that move before the list does."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and self._on_key(event):
            return True
        if isinstance(event, QFocusEvent) and event.lostFocus():
            self.left.emit()
        return super().eventFilter(watched, event)

    def _fit(self) -> None:
        row = current().px(ROW_PX)
        self.list.setFixedSize(current().px(WIDTH_PX), row * len(self._words) + current().px(FRAME_PX))
        for item in self._items():
            item.setSizeHint(QSize(0, row))

    def _on_key(self, event: QKeyEvent) -> bool:
        key, item = Qt.Key(event.key()), self.list.currentItem()
        if key in _STEPS and event.modifiers() & _CTRL:
            self._move(_STEPS[key])
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter} and not event.modifiers():
            self.move_on()
        elif key in {Qt.Key.Key_Space, Qt.Key.Key_Delete, Qt.Key.Key_Backspace} and item is not None:
            self._turn(item, key == Qt.Key.Key_Space and not _taken_in(item))
        else:
            return False
        return True

    def _on_clicked(self, item: QListWidgetItem) -> None:
        if _taken_in(item) != item.data(Qt.ItemDataRole.UserRole + 1):  # its box was pressed
            self._turn(item, _taken_in(item))

    def _move(self, by: int) -> None:
        at = self.list.currentRow()
        if 0 <= at + by < self.list.count():
            item = self.list.takeItem(at)
            self.list.insertItem(at + by, item)
            self.list.setCurrentItem(item)
            place = _("{quantity}, line {number}", quantity=item.text(), number=at + by + 1)
            announce(self.list, place)
            self.edited.emit(self.text())

    def _turn(self, item: QListWidgetItem, taken_in: bool) -> None:
        if taken_in or self.keys() != (item.data(_KEY),):  # an analyser prints something
            self._take(item, taken_in)
            self.edited.emit(self.text())
        else:
            self._take(item, True)

    def _take(self, item: QListWidgetItem, taken_in: bool) -> None:
        words = self._words[str(item.data(_KEY))]
        item.setCheckState(Qt.CheckState.Checked if taken_in else Qt.CheckState.Unchecked)
        item.setData(Qt.ItemDataRole.UserRole + 1, taken_in)
        item.setText(words if taken_in else _("{quantity} (not printed)", quantity=words))

    def _items(self) -> list[QListWidgetItem]:
        items = (self.list.item(row) for row in range(self.list.count()))
        return [item for item in items if item is not None]


def _taken_in(item: QListWidgetItem) -> bool:
    return item.checkState() == Qt.CheckState.Checked
