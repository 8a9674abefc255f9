"""The logged runs kept with a visit that was signed off: each looked at again, with what was found in it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

from PySide6.QtWidgets import QApplication, QPushButton

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.settling.logged_run_dialog import LoggedRunDialog
from flueleaf.desktop.words import _
from flueleaf.domain.problems import UserProblem
from flueleaf.operations import settling
from flueleaf.operations.settling import KeptRun

RUN_KEY = "F3"


class KeptRuns:
    """What leads to them; nothing does where there are none."""

    def __init__(self, leaf: Leaf, visit_id: str, columns: Callable[[], Mapping[str, str]]) -> None:
        """Look which there are.

        Args:
            leaf: of the visit.
            visit_id: of the visit.
            columns: returns, by key, the columns as the analyser’s runs have them.
        """
        self._leaf = leaf
        self._columns = columns
        self.runs = settling.kept_runs(leaf.desk.book, visit_id)

    @property
    def commands(self) -> tuple[Command, ...]:
        """The action: the first of them, the others have their buttons."""
        if not self.runs:
            return ()
        return (Command(_("Look at the logged run"), (RUN_KEY,), partial(self.show, self.runs[0])),)

    def buttons(self, name: str) -> tuple[QPushButton, ...]:
        """Return a button a run.

        Args:
            name: the beginning of their object names.
        """
        return tuple(
            button(_("Logged run: {name}", name=_named(run)), f"{name}.{n}", partial(self.show, run))
            for n, run in enumerate(self.runs)
        )

    def show(self, run: KeptRun) -> None:
        """Open a run; nothing of the visit can be changed by it."""
        try:
            data = settling.run_of(self._leaf.desk.book, run)
        except UserProblem as problem:
            self._leaf.said.emit(_(problem.text))
            return
        dialog = LoggedRunDialog(lambda: data, _named(run), named=self._columns(), parent=self._leaf.window())
        came_from = QApplication.focusWidget()
        dialog.finished.connect(lambda _result: dialog.deleteLater())
        if came_from is not None:
            dialog.finished.connect(lambda _result: came_from.setFocus())
        dialog.open()


def _named(run: KeptRun) -> str:
    return run.name or _("without a name")
