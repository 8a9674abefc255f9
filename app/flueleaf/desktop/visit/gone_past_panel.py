"""Why the work went on all the same: a line for each step that held it up, printed on the record."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.words import _
from flueleaf.domain.judging.steps import Result
from flueleaf.domain.judging.walk import Walk

# A figure that is missing or in doubt is cleared up, not gone past.
STOPS: tuple[Result, ...] = ("over", "no", "open point")


class _Line(QWidget):
    """One step: its words above the field for the reason."""

    def __init__(self, name: str, step: str) -> None:
        super().__init__()
        self.step = step
        self.field = TextField(name, _("went on, because"))
        self._words = label("", role="small", tone="soft", wrap=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        set_gap(column, 0.5)
        column.addWidget(self._words)
        column.addWidget(self.field)
        self.show_title(step)

    def show_title(self, title: str) -> None:
        """Name the step."""
        words = _("If you went on past “{step}”: why? The record prints it.", step=title)
        if self._words.text() != words:
            self._words.setText(words)
            self.field.edit.setAccessibleName(words)


class GonePastPanel(QWidget):
    """A line for the step that holds the work up, and for each that was gone past."""

    def __init__(self, typing: Typing, prefix: str) -> None:
        super().__init__()
        self._typing = typing
        self._prefix = f"{prefix}.overrides"
        self._lines: list[_Line] = []
        self._spare: dict[str, _Line] = {}  # by step; a figure being typed is beyond its limit by turns
        self._may_go = True  # lines go when a field was left, so that the page does not move under the hand
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        set_gap(self._column, 1.5)
        self.hide()
        typing.ear.left.connect(self._on_left)

    def fields(self) -> Sequence[Field]:
        """Return the reasons, from top to bottom."""
        return [line.field for line in self._lines]

    def fill(self, entries: Sequence[Mapping[str, Any]]) -> None:
        """Show the reasons of a document."""
        given = {str(entry["step"]): str(entry.get("reason", "")) for entry in entries}
        for step in given:
            self._line(step)
        for line in self._lines:
            line.field.set_text(given.get(line.step, ""))
        self.setVisible(bool(self._lines))

    def read(self) -> list[dict[str, str]]:
        """Return the steps gone past, with the reason."""
        reasons = [(line.step, line.field.text().strip()) for line in self._lines]
        return [{"step": step, "reason": reason} for step, reason in reasons if reason]

    def locate(self, number: int) -> Field | None:
        """Return the field of an entry of ``read``."""
        filled = [line for line in self._lines if line.field.text().strip()]
        return filled[number].field if number < len(filled) else None

    def show_walk(self, walk: Walk | None) -> None:
        """Offer a line where the work is held up; one that is not wanted any more and empty goes."""
        taken = walk.taken if walk is not None else ()
        held = [one.step for one in taken if one.overridden]
        if walk is not None and walk.stopped in STOPS:
            held += [one.step for one in taken if one.result in STOPS][-1:]
        titles = {step.key: step.title for step in held}
        before = len(self._lines)
        idle = [one for one in self._lines if one.step not in titles and not one.field.text().strip()]
        for line in idle if self._may_go else ():
            self._drop(line)
        self._may_go = False
        for step in titles:
            self._line(step)
        for line in self._lines:
            if line.step in titles:
                line.show_title(_(titles[line.step]))
        if before != len(self._lines) or self.isHidden() == bool(self._lines):
            self.setVisible(bool(self._lines))
            self._typing.ear.grown.emit()

    def _on_left(self) -> None:
        self._may_go = True

    def _line(self, step: str) -> _Line:
        for line in self._lines:
            if line.step == step:
                return line
        name = f"{self._prefix}.{step.replace(' ', '_')}.reason"
        made = self._spare.pop(step, None)
        if made is None:
            made = _Line(name, step)
            self._typing.ear.listen([made.field])
        made.field.setObjectName(name)
        self._lines.append(made)
        self._column.addWidget(made)
        made.show()
        return made

    def _drop(self, line: _Line) -> None:
        if line.field.edit.hasFocus():
            return
        self._lines.remove(line)
        self._column.removeWidget(line)
        line.hide()
        line.field.setObjectName("")  # nobody finds it by its name meanwhile
        line.field.set_text("")
        self._spare[line.step] = line
