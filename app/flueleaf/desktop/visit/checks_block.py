"""The checks of one stage: a question a line, one key an answer, a note where one is wanted."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.help.worded_label import worded
from flueleaf.desktop.section import label
from flueleaf.desktop.theme import current
from flueleaf.desktop.visit.answer_field import AnswerField
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.form import date_text
from flueleaf.desktop.visit.premises_shared import Shared
from flueleaf.desktop.words import _
from flueleaf.domain.judging.kind import Check
from flueleaf.domain.records.visits import CheckAnswer

NARROW_PX = 460


class CheckLine:
    """One check: question, caution, answer, note."""

    def __init__(self, prefix: str, check: Check) -> None:
        self.check = check
        self.key = check.key
        self.here = True  # False where it is answered at another appliance
        self._wants_note = False
        question = _(check.question)
        self.question = worded(question)
        self.caution = worded(_(check.caution), role="small")
        self.field = AnswerField(f"{prefix}.{check.key}", question)
        self.note = TextField(f"{prefix}.{check.key}.note", _("note"))
        self.note.edit.setPlaceholderText(_("note"))
        self.note.edit.setAccessibleName(_("note: {question}", question=question))
        self.as_on = ""  # the day, ISO 8601, of the visit the answer was taken over from
        self.mark = label("", role="small", tone="soft")
        self.field.edited.connect(self._on_answered)
        self.field.given.connect(self._on_given)
        self.shared: Shared | None = None
        if check.scope == "premises":
            ways = (self.read, self.fill)
            self.shared = Shared(check.key, (self.field, self.note), ways, self._show)

    def fill(self, answer: Mapping[str, Any]) -> None:
        """Show an answer; {} is none."""
        self.field.set_text(str(answer.get("answer", "")))
        self.note.set_text(str(answer.get("note", "")))
        self._mark(str(answer.get("as_on", "")))
        self.show_note(on=bool(self.note.text()) or self.field.text() == "no")

    def read(self) -> dict[str, Any]:
        """Return the answer, {} while there is none."""
        if not self.field.text():
            return {}
        note = self.note.text().strip()
        beside = {"note": note, "as_on": self.as_on}
        return {
            "key": self.key,
            "answer": self.field.text(),
            **{key: text for key, text in beside.items() if text},
        }

    def take_over(self, last: CheckAnswer, date: dt.date) -> bool:
        """Take an answer over from an earlier visit, marked so; returns whether it was.

        What is answered already, asked elsewhere, or reports a test or an act of the day stays as it is.
        """
        if self.field.text() or not self.here or self.check.anew:
            return False
        note = {"note": last.note} if last.answer == "not applicable" and last.note else {}
        self.fill({"answer": last.answer, "as_on": date.isoformat(), **note})
        return True

    def show_note(self, *, on: bool) -> None:
        """Show or hide the line of the note."""
        self._wants_note = on
        self.note.setVisible(on and self.here)

    def show_line(self) -> None:
        """Show what is asked here; a caution or a note only where there is one."""
        for widget, wanted in (
            (self.question, True),
            (self.mark, bool(self.as_on)),
            (self.field, True),
            (self.caution, bool(self.caution.text())),
            (self.note, self._wants_note),
        ):
            widget.setVisible(wanted and self.here)

    def _show(self, here: bool) -> None:
        if here != self.here:
            self.here = here
            self.show_line()

    def _mark(self, as_on: str) -> None:
        self.as_on = as_on
        words = _("as on {date}", date=date_text(as_on)) if as_on else ""
        self.mark.setText(words)
        self.mark.setVisible(bool(as_on) and self.here)
        self.field.control().setAccessibleDescription(words)

    def _on_given(self) -> None:
        if self.as_on:
            self._mark("")
            if self.shared is not None:
                self.shared.tell()

    def _on_answered(self, answer: str) -> None:
        self._mark("")
        if answer == "no":
            self.show_note(on=True)
        elif not self.note.text().strip():
            self.show_note(on=False)


class ChecksBlock(QWidget):
    """All checks of a stage."""

    def __init__(self, typing: Typing, prefix: str, checks: Sequence[Check]) -> None:
        super().__init__()
        self._stacked = False
        self._grid = QGridLayout(self)
        self.lines = [CheckLine(f"{prefix}.checks", check) for check in checks]
        self._place()
        for line in self.lines:
            line.show_note(on=False)
        for line in self.lines:
            line.field.given.connect(typing.ear.typed)
        typing.ear.listen(self.fields())

    def fields(self) -> list[Field]:
        """Return the fields, each answer with its note."""
        return [field for line in self.lines for field in (line.field, line.note)]

    def fill(self, answers: Mapping[str, Mapping[str, Any]]) -> None:
        """Show answers by the key of their check."""
        for line in self.lines:
            line.fill(answers.get(line.key, {}))

    def read(self) -> list[dict[str, Any]]:
        """Return the checks that were answered."""
        return [answer for line in self.lines if (answer := line.read())]

    def unanswered(self) -> list[CheckLine]:
        """Return the checks without an answer that are asked here."""
        return [line for line in self.lines if line.here and not line.field.text()]

    def line_of(self, widget: QWidget | None) -> CheckLine | None:
        """Return the check that a field belongs to."""
        return next((line for line in self.lines if widget in (line.field, line.note)), None)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set the answer under its question where the page is narrow."""
        super().resizeEvent(event)
        stacked = event.size().width() < current().px(NARROW_PX)
        if stacked != self._stacked:
            self._stacked = stacked
            # Not from within the layout that is resizing it: what comes into view resizes its neighbours.
            QTimer.singleShot(0, self, self._place)

    def _place(self) -> None:
        for line in self.lines:
            for widget in (line.question, line.mark, line.field, line.caution, line.note):
                self._grid.removeWidget(widget)  # not takeAt: see Section
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(current().space(4))
        self._grid.setVerticalSpacing(current().space(0.5))
        self._grid.setColumnStretch(0, 1)
        top = Qt.AlignmentFlag.AlignTop
        for n, line in enumerate(self.lines):
            row = 4 * n
            line.question.setContentsMargins(0, current().space(1), 0, 0)
            line.mark.setContentsMargins(0, current().space(1.5), 0, 0)
            self._grid.addWidget(line.question, row, 0, 1, 3 if self._stacked else 1)
            if self._stacked:
                self._grid.addWidget(line.field, row + 1, 0, 1, 2, top)
                self._grid.addWidget(line.mark, row + 1, 2, top | Qt.AlignmentFlag.AlignRight)
            else:
                self._grid.addWidget(line.mark, row, 1, top | Qt.AlignmentFlag.AlignRight)
                self._grid.addWidget(line.field, row, 2, top | Qt.AlignmentFlag.AlignRight)
            self._grid.addWidget(line.caution, row + 2, 0, 1, 3)
            line.show_line()
            self._grid.addWidget(line.note, row + 3, 0, 1, 3)
