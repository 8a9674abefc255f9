"""The leaf: the page in the middle of the window, and how to add one.

Adding a leaf touches one file and its test:

1. Write ``leaves/<name>_leaf.py`` with a class ``<Name>Leaf(Leaf)`` and a function
   ``open_leaf(desk, place) -> Leaf``. The window finds the file by the name of the place, so
   ``Place("<name>", key)`` opens it; nothing is registered anywhere.
2. Override ``fill()``: ask one operation for the page, ``set_heading(...)``, then
   ``add_section(Section(...))`` with rows, facts, lists or panels. It is called again, by ``rebuild()``, when
   something shown has changed: ``self.watch(Topic.REGISTER, ...)``. A leaf that is typed into
   builds its fields once, in ``__init__``.
3. Give ``margin_widgets()`` what stands on the right, ``commands()`` the actions with their keys.
4. Ask for another page by ``place_wanted.emit(Place(...))``; say something once by ``said.emit("...")``, and
   take it away by ``settled.emit("...")`` once it does not hold any more;
   leave for good (a form that was filled in) by ``end()``.
5. A leaf that is typed into sets ``self.undoing`` and tells it of each change; Undo and Redo do the rest.
   What is to stand beside the page (a photograph) goes to ``stand_beside(widget)``.
6. Every text goes through ``words._``, so that it reaches the catalogue.
7. Its test in ``tests/desktop/leaves/test_<name>_leaf.py`` opens it and goes through it by keyboard; the
   walker test finds it by itself and checks names, sizes and tab order.

Sizes, colours and fonts come from ``theme.current()`` and the roles of ``section.label``; a leaf sets none.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QEvent, QObject, QPoint, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QApplication,
    QHBoxLayout,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import Place
from flueleaf.desktop.section import Section, label
from flueleaf.desktop.theme import current
from flueleaf.desktop.undoing import Undoing
from flueleaf.desktop.words import _

AROUND_STEPS = 24  # of the grid, above and below what has the focus: one sees what comes next
LEAST_BESIDE_PX, MOST_BESIDE = 380, 0.7  # of the page with something beside it: width, share of the leaf
MEASURE_PX = 780  # widest column of the page at 100 % text


class Leaf(QWidget):
    """A heading and sections on a page that scrolls."""

    place_wanted = Signal(object)  # Place
    said = Signal(str)
    settled = Signal(str)  # what was said by this text does not hold any more
    kept = Signal(bool)  # True when everything typed is on the disk, False while it is not
    finished = Signal()
    margin_changed = Signal()
    beside_changed = Signal()
    title_changed = Signal(str)
    kept_word = _("kept")  # what the status line says while everything typed is on the disk
    lasting = True  # False for what is done once and then leads nowhere: it is not listed among the latest

    def __init__(self, desk: Desk, place: Place, parent: QWidget | None = None) -> None:
        """Make an empty leaf; subclasses end their ``__init__`` with ``self.fill()``.

        Args:
            desk: the book, changes, clock and questions.
            place: what is to be shown.
            parent: the widget it stands in.
        """
        super().__init__(parent)
        self.desk = desk
        self.place = place
        self.undoing: Undoing | None = None
        self.sections: list[Section] = []
        self.setObjectName(f"leaf.{place.leaf}")
        self._measure = 1.0
        self._aside = False
        self._title = label("", role="title", wrap=True)
        self._subtitle = label("", role="lead", tone="soft", wrap=True)
        self._corner = label("", tone="soft", wrap=True)
        self._corner.setMinimumWidth(1)  # a page is never widened by it
        self._page = QWidget()
        self._page.setProperty("ground", "paper")
        self._column = QVBoxLayout()
        self.scroll_area = QScrollArea()
        self._beside = QSplitter(Qt.Orientation.Horizontal)
        self._shared_by_hand = False
        self._beside.splitterMoved.connect(self._on_shared)
        self._build()
        self._fit()
        self._page.installEventFilter(self)

    @property
    def title(self) -> str:
        """The heading."""
        return self._title.text()

    def fill(self) -> None:
        """Put the heading and sections on the page; called again by ``rebuild``."""

    def margin_widgets(self) -> Sequence[QWidget]:
        """Return what stands in the margin, from top to bottom; made anew at each call."""
        return ()

    def commands(self) -> tuple[Command, ...]:
        """Return the leaf's own actions."""
        return ()

    def premises_key(self) -> str:
        """Return the id of the premises a new visit begun here goes to, "" for none."""
        return ""

    def first_focus(self) -> QWidget | None:
        """Return where the cursor goes at opening: to what one comes for, else to the first control."""
        stops = [
            w
            for w in self._page.findChildren(QWidget)
            if w.focusPolicy() & Qt.FocusPolicy.TabFocus and w.isEnabled() and not w.isHidden()
        ]
        return next((w for w in stops if w.property("primary")), stops[0] if stops else None)

    def go_to_missing(self) -> None:
        """Go to the first thing missing; where nothing is, the cursor stays."""

    def leaving(self) -> bool:
        """Called before another leaf is shown or the window closes: keep what is typed.

        Returns:
            whether everything typed is on the disk now.
        """
        return True

    def put_aside(self) -> None:
        """Called when another leaf takes the place of this one: nothing is shown or kept by it any more."""
        self._aside = True
        self.hide()
        self.deleteLater()

    def end(self, next_place: Place | None = None) -> None:
        """Leave for good, for the next place where there is one; who went elsewhere meanwhile stays there."""
        gone = self._aside
        self.finished.emit()
        if next_place is not None and not gone:
            self.place_wanted.emit(next_place)

    def set_heading(self, title: str, subtitle: str = "", corner: str = "") -> None:
        """Set the heading: title, a quieter line under it, and a word at its right end."""
        for shown, text in ((self._title, title), (self._subtitle, subtitle), (self._corner, corner)):
            shown.setText(text)
            shown.setVisible(bool(text))
        self._place_corner()
        self.setAccessibleName(title)
        self.title_changed.emit(title)

    def set_measure(self, times: float) -> None:
        """Set the widest column of the page, as a multiple of the usual one."""
        self._measure = times
        self._fit()

    def add_section(self, section: Section) -> Section:
        """Put a section under the earlier ones; returns it."""
        self.sections.append(section)
        self._column.addWidget(section)
        return section

    def stand_beside(self, widget: QWidget | None) -> None:
        """Let a widget stand at the right of the page, in place of the one there; None takes it away."""
        while (old := self._beside.widget(1)) is not None:
            old.hide()
            old.setParent(None)
            old.deleteLater()
        if widget is not None:
            self._beside.addWidget(widget)
            self._share()
        self.beside_changed.emit()

    @property
    def has_beside(self) -> bool:
        """Whether something stands beside the page."""
        return self._beside.count() > 1

    def watch(self, *topics: Any) -> None:
        """Rebuild the leaf after a change of any of the topics."""
        self.desk.hub.watch(self, topics, self.rebuild)

    def rebuild(self) -> None:
        """Fill the page again, with the keyboard and the page left where they were."""
        focused = QApplication.focusWidget()
        name = focused.objectName() if focused is not None and self.isAncestorOf(focused) else ""
        at = self.scroll_area.verticalScrollBar().value()
        for section in self.sections:
            section.setParent(None)
            section.deleteLater()
        self.sections.clear()
        self.fill()
        if name and (again := self._page.findChild(QWidget, name)) is not None:
            again.setFocus(Qt.FocusReason.OtherFocusReason)
        self.scroll_area.verticalScrollBar().setValue(at)
        self.margin_changed.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the new width with what stands beside the page."""
        super().resizeEvent(event)
        self._share()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Set the corner under the heading where the page has no room for it beside the title."""
        if watched is self._page and event.type() == QEvent.Type.Resize:
            self._place_corner()
        return super().eventFilter(watched, event)

    def changeEvent(self, event: QEvent) -> None:
        """Keep the page in step with the text scale."""
        if event.type() == QEvent.Type.FontChange:
            self._fit()
        super().changeEvent(event)

    def _build(self) -> None:
        heading = QVBoxLayout()
        heading.setSpacing(current().space(1))
        self._top = QHBoxLayout()
        self._top.addWidget(self._title, 1)
        self._top.addWidget(self._corner, 0, Qt.AlignmentFlag.AlignBottom)
        heading.addLayout(self._top)
        heading.addWidget(self._subtitle)
        self._heading = heading
        self._column.addLayout(heading)
        self._text = QWidget()
        self._text.setLayout(self._column)
        outer = QVBoxLayout(self._page)
        line = QHBoxLayout()
        line.addWidget(self._text, 100)
        line.addStretch(1)
        outer.addLayout(line)
        outer.addStretch(1)
        self.scroll_area.setWidget(self._page)
        self.scroll_area.setWidgetResizable(True)
        self.scroll_area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.scroll_area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # What is opened, added or said above what has the keyboard moves it out of sight, a few events later.
        self.scroll_area.verticalScrollBar().rangeChanged.connect(self._show_focused)
        if isinstance(app := QApplication.instance(), QApplication):
            app.focusChanged.connect(self._on_focus_changed)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        self._beside.setHandleWidth(1)
        self._beside.setChildrenCollapsible(False)
        self._beside.addWidget(self.scroll_area)
        whole.addWidget(self._beside)

    def _share(self) -> None:
        """Give the page half, or the room a slip needs; a share taken by hand stays."""
        if self.has_beside and not self._shared_by_hand:
            least = min(current().px(LEAST_BESIDE_PX), round(self.width() * MOST_BESIDE))
            page = max(self.width() // 2, least)
            self._beside.setSizes([page, max(self.width() - page, 1)])

    def _on_shared(self, _at_px: int, _handle: int) -> None:
        self._shared_by_hand = True

    def _place_corner(self) -> None:
        self._title.ensurePolished()
        self._corner.ensurePolished()
        needed = sum(w.fontMetrics().horizontalAdvance(w.text()) for w in (self._title, self._corner))
        theme = current()
        margins = theme.space(9) + theme.space(7)
        room = min(self.scroll_area.viewport().width() - margins, self._text.maximumWidth())
        beside = needed + theme.space(6) <= room
        self._corner.setWordWrap(not beside)
        if beside == (self._top.indexOf(self._corner) >= 0):
            return
        if beside:
            self._heading.removeWidget(self._corner)
            self._top.addWidget(self._corner, 0, Qt.AlignmentFlag.AlignBottom)
        else:
            self._top.removeWidget(self._corner)
            self._heading.addWidget(self._corner)

    def _on_focus_changed(self, _old: QWidget | None, now: QWidget | None) -> None:
        # What is clicked is in sight, and must not move from under the mouse.
        if now is not None and QApplication.mouseButtons() == Qt.MouseButton.NoButton:
            self._show_focused()

    def _show_focused(self, *_range: int) -> None:
        focused = QApplication.focusWidget()
        if focused is None or not self._page.isAncestorOf(focused):
            return
        self.scroll_area.ensureWidgetVisible(focused, 0, current().space(4))
        if not isinstance(focused, QAbstractScrollArea):  # of a field Qt shows no more than the cursor
            top = focused.mapTo(self._page, QPoint()).y()
            around = min(current().space(AROUND_STEPS), self.scroll_area.viewport().height() // 4)
            for edge in (top + focused.height(), top):
                self.scroll_area.ensureVisible(0, edge, 0, around)

    def _fit(self) -> None:
        theme = current()
        self._text.setMaximumWidth(theme.px(MEASURE_PX * self._measure))
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.space(6))
        if (outer := self._page.layout()) is not None:
            outer.setContentsMargins(theme.space(9), theme.space(7), theme.space(7), theme.space(9))
        self._heading.setSpacing(theme.space(1))
        self._place_corner()
