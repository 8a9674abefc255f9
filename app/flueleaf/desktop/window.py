"""The one window: finder, leaf, margin, menus made from commands, and the status line."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtCore import QSettings, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QResizeEvent
from PySide6.QtWidgets import QMainWindow, QMenu, QVBoxLayout, QWidget

from flueleaf.desktop import spacing
from flueleaf.desktop.announcing import announce
from flueleaf.desktop.busy.busy_panel import BusyPanel
from flueleaf.desktop.columns import Columns
from flueleaf.desktop.coming_back import stand_on
from flueleaf.desktop.command import MENUS, Command, action_of, native
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.finder_panel import FinderPanel
from flueleaf.desktop.finder_table_model import Found
from flueleaf.desktop.help.what_it_means import show_word
from flueleaf.desktop.history import History
from flueleaf.desktop.key_sheet_dialog import KeySheetDialog
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.looking_up import look_up
from flueleaf.desktop.margin.margin_panel import MarginPanel
from flueleaf.desktop.notices import Notices
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_margins
from flueleaf.desktop.theme import ThemeKeeper
from flueleaf.desktop.tidier import tidier
from flueleaf.desktop.window_commands import window_commands
from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem
from flueleaf.operations.glossary import Word

FIRST_SIZE_PX = (1280, 800)
SMALLEST_PX = (640, 480)
KEPT_PAUSE_MS = 3000  # so long nobody typed: only then a screen reader hears that it is kept
GONE = _("That is not in the book any more.")


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of a place, from the file named after it.

    Raises:
        UserProblem: what is to be shown is not there.
    """
    module = importlib.import_module(f"flueleaf.desktop.leaves.{place.leaf}_leaf")
    leaf: Leaf = module.open_leaf(desk, place)
    return leaf


class MainWindow(QMainWindow):
    """Shows one leaf at a time, between the finder and the margin."""

    def __init__(self, desk: Desk, keeper: ThemeKeeper, settings: QSettings) -> None:
        """Make the window and show tonight's leaf.

        Args:
            desk: what every leaf is given.
            keeper: the theme.
            settings: sizes and text scale of this machine.
        """
        super().__init__()
        self.setAnimated(False)
        tidier()
        self.desk = desk
        self.keeper = keeper
        self._settings = settings
        self._history = History()
        self._lately: list[tuple[Place, str]] = []
        self.leaf: Leaf | None = None
        self._warned_of: Leaf | None = None
        self.finder = FinderPanel(lambda text: look_up(self, text))
        self._holder = QWidget()
        self.margin = MarginPanel()
        self._columns = Columns(self.finder, self._holder, self.margin)
        self._notices = Notices(self)
        self._busy = BusyPanel(desk.busy)
        self._kept = label("", tone="soft")
        self._commands = window_commands(self)
        self._leaf_menu = QMenu(MENUS["Leaf"], self)
        self._build()
        self._build_menus()
        self._restore()
        desk.hub.changed.connect(self._on_changed)
        keeper.theme_changed.connect(self._on_theme_changed)
        self.go(TONIGHT)

    @property
    def lately(self) -> Sequence[tuple[Place, str]]:
        """The places shown last, latest first, with their titles."""
        return self._lately

    @property
    def notice(self) -> str:
        """What the status line says now."""
        return self._notices.text

    @property
    def kept_word(self) -> str:
        """Whether what is typed is on the disk, in a word; "" where nothing is typed."""
        return self._kept.text()

    @property
    def commands(self) -> tuple[Command, ...]:
        """Every action there is now: the window's and the leaf's."""
        return self._commands + (self.leaf.commands() if self.leaf is not None else ())

    def go(self, place: Place) -> None:
        """Show a place, and note it for the way back."""
        if self._show(place) and self.leaf is not None:
            # A leaf of something new knows its key by now, so that the way back leads to the same thing.
            self._history.arrive(self.leaf.place)
            self.finder.refresh()

    def go_back(self) -> None:
        """Show the place before this one."""
        self._turn(self._history.back, self._history.forward)

    def go_forward(self) -> None:
        """Show the place one came back from."""
        self._turn(self._history.forward, self._history.back)

    def say(self, text: str) -> None:
        """Put a notice into the status line for a while."""
        self._notices.say(text)

    def say_again(self) -> None:
        """Put the last notice into the status line once more."""
        if not self._notices.repeat():
            self.say(_("Nothing was said yet."))

    def stop_work(self) -> None:
        """Stop the longer work that is going on."""
        if self.desk.busy.going_on:
            self.desk.busy.cancel()
        else:
            self.say(_("Nothing is going on."))

    def show_word(self, word: Word) -> None:
        """Open the glossary at a word."""
        show_word(word, self)

    def show_keys(self) -> None:
        """Show the key sheet."""
        sheet = KeySheetDialog(self.commands, self)
        sheet.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        sheet.open()

    def start_finding(self) -> None:
        """Go to the finder."""
        self.finder.show()
        self.finder.begin()

    def focus_leaf(self) -> None:
        """Go to the leaf."""
        target = self.leaf.first_focus() if self.leaf is not None else None
        (target or self._holder).setFocus(Qt.FocusReason.ShortcutFocusReason)
        self._fold()

    def undo(self) -> None:
        """Take back the last step of the leaf."""
        undoing = self.leaf.undoing if self.leaf is not None else None
        if not ((undoing is not None and undoing.undo()) or self._notices.undo()):
            self.say(_("There is nothing to take back here."))

    def redo(self) -> None:
        """Bring back the step taken back last."""
        undoing = self.leaf.undoing if self.leaf is not None else None
        if undoing is None or not undoing.redo():
            self.say(_("There is nothing to bring back here."))

    def next_column(self) -> None:
        """Take the keyboard from the finder to the leaf, from there to the margin, and round."""
        focused = self.focusWidget() or self
        if self.finder.isAncestorOf(focused):
            self.focus_leaf()
        elif self._holder.isAncestorOf(focused) and self.margin.isVisible():
            self.margin.setFocus(Qt.FocusReason.ShortcutFocusReason)
        else:
            self.start_finding()

    def toggle_margin(self) -> None:
        """Show or hide the margin; where it is folded away it takes the finder's room."""
        self._columns.toggle_margin()
        self._fold()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold columns away where there is no room for them."""
        super().resizeEvent(event)
        self._columns.set_sizes(self.width())
        self._fold()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep what is typed, and the sizes of the window."""
        if not self._may_leave():
            event.ignore()
            return
        self.desk.busy.cancel()
        self.desk.busy.wait()
        self._settings.setValue("window/geometry", self.saveGeometry())
        self._columns.keep(self._settings)
        self._settings.setValue("window/text_scale", self.keeper.scale)
        super().closeEvent(event)

    def _build(self) -> None:
        self.setObjectName("window")
        self.setWindowTitle("Flueleaf")
        self._holder.setObjectName("holder")
        column = QVBoxLayout(self._holder)
        column.setContentsMargins(0, 0, 0, 0)
        self.finder.chosen.connect(self._on_chosen)
        self.finder.left.connect(self.focus_leaf)
        self.setCentralWidget(self._columns)
        bar = self.statusBar()
        bar.setSizeGripEnabled(False)
        bar.addWidget(self._notices.shown, 1)
        # Within the bar's row only while busy: the bar keeps the height of its parts.
        self._busy.setParent(bar)
        self.desk.busy.began.connect(lambda _title: self._show_busy(on=True))
        self.desk.busy.ended.connect(lambda: self._show_busy(on=False))
        bar.addPermanentWidget(self._kept)
        set_margins(bar, 3, 0, 3, 0)
        self._kept_pause = QTimer(self)
        self._kept_pause.setSingleShot(True)
        self._kept_pause.setInterval(KEPT_PAUSE_MS)
        self._kept_pause.timeout.connect(lambda: announce(self._kept, self._kept.text()))
        self.desk.busy.failed.connect(self._on_failed)

    def _show_busy(self, *, on: bool) -> None:
        if on:
            self.statusBar().insertPermanentWidget(1, self._busy)  # after the notice
            self._busy.show()
        else:
            self.statusBar().removeWidget(self._busy)

    def _build_menus(self) -> None:
        menus: dict[str, QMenu] = {}
        for command in self._commands:
            if command.menu not in menus:
                menus[command.menu] = self.menuBar().addMenu(MENUS[command.menu])
            menus[command.menu].addAction(action_of(command, self))
        self.menuBar().insertMenu(menus["Help"].menuAction(), self._leaf_menu)

    def _restore(self) -> None:
        self.resize(*FIRST_SIZE_PX)
        self.setMinimumSize(*SMALLEST_PX)
        if (geometry := self._settings.value("window/geometry")) is not None:
            self.restoreGeometry(geometry)
        self._columns.restore(self._settings)
        self._limit_columns()
        self._columns.set_sizes(self.width())

    def _may_leave(self) -> bool:
        """Let the leaf keep what is typed; where that fails say so once, then let go."""
        if self.leaf is None or self.leaf.leaving() or self._warned_of is self.leaf:
            return True
        self._warned_of = self.leaf
        self.say(_("{notice} The same once more leaves without it.", notice=self.notice))
        return False

    def _show(self, place: Place, back_from: Place | None = None) -> bool:
        if not self._may_leave():  # first, so that the next leaf shows what this one keeps
            return False
        try:
            leaf = open_leaf(self.desk, replace(place, at_missing=False))
        except UserProblem as problem:
            self.say(_(problem.text))
            return False
        except LookupError as problem:
            if type(problem) is not LookupError:  # a key or an index is a fault of the program
                raise
            self.say(GONE)
            return False
        if self.leaf is not None:
            self._notices.left(self.leaf)
            self.leaf.put_aside()
        self.leaf = leaf
        layout = self._holder.layout()
        assert layout is not None
        layout.addWidget(leaf)
        leaf.show()  # at once: a control that is not shown yet cannot take the keyboard
        leaf.place_wanted.connect(self.go)
        leaf.said.connect(partial(self._on_said, leaf))
        leaf.settled.connect(self._notices.settle)
        leaf.kept.connect(self._on_kept)
        leaf.finished.connect(partial(self._on_finished, leaf))
        leaf.margin_changed.connect(self._on_margin_changed)
        leaf.beside_changed.connect(self._on_beside_changed)
        self._leaf_menu.clear()
        for command in leaf.commands():
            self._leaf_menu.addAction(action_of(command, leaf))
        self._leaf_menu.menuAction().setVisible(bool(leaf.commands()))
        self._kept.clear()
        self._on_beside_changed()
        self._on_margin_changed()
        self.setWindowTitle(f"{leaf.title} – Flueleaf" if leaf.title else "Flueleaf")
        self._note_lately(leaf.place, leaf.title)
        self.focus_leaf()
        if back_from is not None:
            stand_on(leaf, back_from)
        if place.at_missing:
            leaf.go_to_missing()
        return True

    def _turn(self, step: Callable[[], Place | None], undo_step: Callable[[], object]) -> None:
        """Go a step along the way; one that is not there any more is passed over by the next press."""
        if (place := step()) is None:
            return
        if self._may_leave():
            self._show(place, self.leaf.place if self.leaf is not None else None)
        else:
            undo_step()

    def _note_lately(self, place: Place, title: str) -> None:
        if place != TONIGHT and place.key and title and self.leaf is not None and self.leaf.lasting:
            others = [(p, t) for p, t in self._lately if (p.leaf, p.key) != (place.leaf, place.key)]
            self._lately = [(place, title), *others][:8]

    def _beside(self) -> bool:
        return self.leaf is not None and self.leaf.has_beside

    def _fold(self) -> None:
        searching = self.finder.isAncestorOf(self.focusWidget() or self)
        self._columns.fold(self.width(), beside=self._beside(), searching=searching)

    def _limit_columns(self) -> None:
        self._columns.limit(beside=self._beside())

    def _on_beside_changed(self) -> None:
        self._limit_columns()
        self._fold()

    def _on_chosen(self, found: Found) -> None:
        if found.place is not None:
            self.go(found.place)
        elif found.run is not None:
            found.run()

    def _on_theme_changed(self) -> None:
        spacing.follow()
        self._limit_columns()
        self._columns.set_sizes(self.width())
        self._fold()
        self._on_margin_changed()

    def _on_changed(self, changes: object) -> None:
        text = _(getattr(changes, "summary", ""))
        take_back = getattr(changes, "take_back", None)
        if take_back is None:
            self.say(text)
        else:
            said = _("{text} {key} takes it back.", text=text, key=native("Ctrl+Z"))
            self._notices.say_undoable(said, lambda: self._take_back(take_back))
        self.finder.refresh()

    def _take_back(self, take_back: Callable[[Any, Any], Any]) -> None:
        try:
            self.desk.hub.tell(take_back(self.desk.book, self.desk.now()))
        except UserProblem as problem:
            self.say(_(problem.text))

    def _on_said(self, leaf: Leaf, text: str) -> None:
        self._notices.say(text, about=leaf)

    def _on_failed(self, problem: Exception) -> None:
        if not isinstance(problem, UserProblem):
            raise problem
        self.say(_(problem.text))

    def _on_kept(self, kept: bool) -> None:
        self._kept.setText((self.leaf.kept_word if self.leaf is not None else "") if kept else "…")
        if kept:
            self._kept_pause.start()
        else:
            self._kept_pause.stop()

    def _on_finished(self, leaf: Leaf) -> None:
        if leaf is not self.leaf:  # it was left before its work beside the window came to an end
            self._history.forget(leaf.place)
            return
        done, back = self._history.here, self._history.back()
        if done is not None:
            self._history.forget(done)
        if back is None or not self._show(
            back, done
        ):  # a visit of which nothing was typed is not there any more
            self._show(TONIGHT)

    def _on_margin_changed(self) -> None:
        self.margin.show_widgets(self.leaf.margin_widgets() if self.leaf is not None else ())
