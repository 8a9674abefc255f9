"""Filling the slip in focus from a logged run, or from values typed while they settle."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication, QDialog

from flueleaf.desktop.command import Command
from flueleaf.desktop.settling.filling import Filling
from flueleaf.desktop.settling.live_dialog import LiveDialog
from flueleaf.desktop.settling.logged_run_dialog import LoggedRunDialog
from flueleaf.desktop.visit import walking
from flueleaf.desktop.visit.slip_column import SlipColumn, Spot
from flueleaf.desktop.visit.work_panel import WorkPanel
from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem
from flueleaf.operations import settling

if TYPE_CHECKING:
    from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf

RUN_KEY, LIVE_KEY = "F3", "F5"
PATTERN = "*.csv *.txt *.tsv *.log"


def settling_commands(leaf: TypedVisitLeaf) -> tuple[Command, ...]:
    """Return the actions; they mean the slip in focus."""
    do = SettlingActions(leaf)
    return (
        Command(_("Fill from a logged run"), (RUN_KEY,), do.from_run),
        Command(_("Type values while they settle"), (LIVE_KEY,), do.live),
    )


class SettlingActions:
    """The actions, on one leaf."""

    def __init__(self, leaf: TypedVisitLeaf) -> None:
        self._leaf = leaf
        self._columns: dict[str, dict[str, str]] = {}  # of analysers the book does not know yet, by name

    def from_run(self) -> None:
        """Ask for the file of a run and show it."""
        at_hand = self._at_hand()
        if at_hand is None:
            return
        work, column = at_hand
        pattern = _("Logged runs ({patterns})", patterns=PATTERN)
        path = self._leaf.desk.ask.open_file(self._leaf, _("Fill from a logged run"), pattern)
        if path is None:
            return
        dialog = LoggedRunDialog(
            partial(settling.read_file, path),
            path.name,
            slip=column.spot.words,
            named=self._known_columns(work),
            typed=column.snapshot().texts,
            parent=self._leaf.window(),
        )
        dialog.filled.connect(partial(self._on_run, dialog, work, column.spot))
        self._open(dialog)

    def live(self) -> None:
        """Let values be typed at intervals."""
        at_hand = self._at_hand()
        if at_hand is None:
            return
        work, column = at_hand
        dialog = LiveDialog(
            column.spot.words,
            now=self._leaf.desk.now,
            typed=column.snapshot().texts,
            parent=self._leaf.window(),
        )
        dialog.filled.connect(partial(self._fill, work, column.spot))
        self._open(dialog)

    def _at_hand(self) -> tuple[WorkPanel, SlipColumn] | None:
        """Return the slip in focus; without one, say so."""
        field = walking.field_of(QApplication.focusWidget())
        for work in self._leaf.works:
            column = work.combustion.slips.column_of(field) if work.combustion is not None else None
            if column is not None:
                return work, column
        self._leaf.said.emit(_("Go to the slip first that is to be filled."))
        return None

    def _open(self, dialog: QDialog) -> None:
        came_from = QApplication.focusWidget()
        dialog.finished.connect(lambda _result: dialog.deleteLater())
        if came_from is not None:
            dialog.finished.connect(partial(_give_back, came_from))
        dialog.open()

    def _on_run(self, dialog: LoggedRunDialog, work: WorkPanel, spot: Spot, filling: Filling) -> None:
        self._fill(work, spot, filling)
        assert dialog.page is not None
        self._remember(work, dict(dialog.page.columns))
        self._keep(dialog.data, _("{file}, {slip}", file=dialog.name, slip=spot.words))

    def _fill(self, work: WorkPanel, spot: Spot, filling: Filling) -> None:
        """Fill the slip, as one step that can be undone."""
        leaf = self._leaf
        columns = work.combustion.slips.columns if work.combustion is not None else ()
        column = next((one for one in columns if one.spot == spot), None)
        if column is None:  # the kind of the appliance was changed meanwhile
            return
        cursor = leaf.cursor_at()
        column.fill(filling.texts, settled=filling.settled, over=filling.over)
        leaf.note_step(cursor)
        leaf.typing.ear.typed.emit()
        words = (
            _("{slip}: filled with settled readings.", slip=spot.words)
            if filling.settled
            else _("{slip}: filled; marked as not settled.", slip=spot.words)
        )
        leaf.said.emit(words)

    def _keep(self, data: bytes, name: str) -> None:
        """Keep the file with the draft, under its name and that of the slip."""
        leaf = self._leaf
        leaf.keeper.touch()
        if not leaf.keeper.keep():
            return  # why is said by who keeps it
        try:
            kept = settling.keep_run(leaf.desk.book, leaf.place.key, data, name=name, now=leaf.desk.now())
        except UserProblem as problem:
            leaf.said.emit(_(problem.text))
            return
        if not kept:
            leaf.said.emit(_("The run is too long to be kept with the visit; keep its file yourself."))

    def _known_columns(self, work: WorkPanel) -> dict[str, str]:
        instrument = work.analyser.known()
        if instrument is not None and instrument.id is not None:
            return dict(settling.columns_known(self._leaf.desk.book, instrument.id))
        return self._columns.get(_name(work), {})

    def _remember(self, work: WorkPanel, columns: dict[str, str]) -> None:
        instrument = work.analyser.known()
        if instrument is None or instrument.id is None:
            self._columns[_name(work)] = columns
            return
        try:
            settling.remember_columns(self._leaf.desk.book, instrument.id, columns)
        except UserProblem as problem:
            self._leaf.said.emit(_(problem.text))


def _name(work: WorkPanel) -> str:
    return str(work.analyser.read().get("name", ""))


def _give_back(widget: object, _result: int) -> None:
    try:
        widget.setFocus()  # type: ignore[attr-defined]
    except RuntimeError:
        return  # the field is gone: the page was filled anew meanwhile
