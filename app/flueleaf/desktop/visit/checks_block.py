"""The checks of one stage: a question a line, one key an answer, a note where one is wanted."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

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


class CheckLine(QObject):
    """One check: question, caution, answer, note; the note is made when there first is one."""

    grown = Signal(object)  # the note, or the label of the day, made just now

    def __init__(self, prefix: str, check: Check, parent: QObject) -> None:
        super().__init__(parent)
        self.check = check
        self.key = check.key
        self.here = True  # False where it is answered at another appliance
        self._wants_note = False
        question = _(check.question)
        self.question = worded(question)
        self.caution = worded(_(check.caution), role="small") if check.caution else None
        self.field = AnswerField(f"{prefix}.{check.key}", question)
        self.as_on = ""  # the day, ISO 8601, of the visit the answer was taken over from
        self._note: TextField | None = None
        self._mark: QLabel | None = None
        self.field.edited.connect(self._on_answered)
        self.field.given.connect(self._on_given)
        self.shared: Shared | None = None
        if check.scope == "premises":
            ways = (self.read, self.fill)
            self.shared = Shared(check.key, (self.field,), ways, self._show)

    @property
    def fields(self) -> tuple[Field, ...]:
        """The answer, and the note where it was made."""
        return (self.field,) if self._note is None else (self.field, self._note)

    @property
    def note(self) -> TextField:
        """The note."""
        if self._note is None:
            made = TextField(f"{self.field.objectName()}.note", _("note"))
            made.edit.setPlaceholderText(_("note"))
            made.edit.setAccessibleName(_("note: {question}", question=self.field.label))
            made.hide()
            self._note = made
            if self.shared is not None:
                self.shared.add(made)
            self.grown.emit(made)
        return self._note

    @property
    def mark(self) -> QLabel:
        """The day of the answer, where it was taken over."""
        if self._mark is None:
            self._mark = label("", role="small", tone="soft")
            self._mark.hide()
            self.grown.emit(self._mark)
        return self._mark

    @property
    def widgets(self) -> tuple[QWidget | None, ...]:
        """Question, mark, answer, caution and note, as far as they were made."""
        return (self.question, self._mark, self.field, self.caution, self._note)

    def fill(self, answer: Mapping[str, Any]) -> None:
        """Show an answer; {} is none."""
        self.field.set_text(str(answer.get("answer", "")))
        note = str(answer.get("note", ""))
        if note or self._note is not None:
            self.note.set_text(note)
        self._mark_as(str(answer.get("as_on", "")))
        self.show_note(on=bool(note) or self.field.text() == "no")

    def read(self) -> dict[str, Any]:
        """Return answer and note, {} while there is neither."""
        typed = {"answer": self.field.text(), "note": self._typed_note(), "as_on": self.as_on}
        given = {key: text for key, text in typed.items() if text}
        return {"key": self.key, **given} if given else {}

    def take_over(self, last: CheckAnswer, date: dt.date) -> bool:
        """Take an answer over from an earlier visit, marked so; returns whether it was.

        What is answered already, asked elsewhere, or reports a test or an act of the day stays as it is.
        """
        if self.field.text() or not self.here or self.check.anew:
            return False
        note = self._typed_note() or (last.note if last.answer == "not applicable" else "")
        self.fill({"answer": last.answer, "as_on": date.isoformat(), "note": note})
        return True

    def show_note(self, *, on: bool) -> None:
        """Show or hide the line of the note."""
        self._wants_note = on
        if on or self._note is not None:
            self.note.setVisible(on and self.here)

    def show_line(self) -> None:
        """Show what is asked here; a caution or a note only where there is one."""
        wants = (True, bool(self.as_on), True, True, self._wants_note)
        for widget, wanted in zip(self.widgets, wants, strict=True):
            if widget is not None:
                widget.setVisible(wanted and self.here)

    def _typed_note(self) -> str:
        return self._note.text().strip() if self._note is not None else ""

    def _show(self, here: bool) -> None:
        if here != self.here:
            self.here = here
            self.show_line()

    def _mark_as(self, as_on: str) -> None:
        if not as_on and not self.as_on:
            return
        self.as_on = as_on
        words = _("as on {date}", date=date_text(as_on)) if as_on else ""
        self.mark.setText(words)
        self.mark.setVisible(bool(as_on) and self.here)
        self.field.control().setAccessibleDescription(words)

    def _on_given(self) -> None:
        if self.as_on:
            self._mark_as("")
            if self.shared is not None:
                self.shared.tell()

    def _on_answered(self, answer: str) -> None:
        self._mark_as("")
        if answer == "no":
            self.show_note(on=True)
        elif not self._typed_note():
            self.show_note(on=False)


class ChecksBlock(QWidget):
    """All checks of a stage."""

    def __init__(self, typing: Typing, prefix: str, checks: Sequence[Check]) -> None:
        super().__init__()
        self._stacked = False
        self._typing = typing
        self._grid = QGridLayout(self)
        self.lines = [CheckLine(f"{prefix}.checks", check, self) for check in checks]
        self._place()
        for n, line in enumerate(self.lines):
            line.field.given.connect(typing.ear.typed)
            line.grown.connect(partial(self._on_grown, n))
        typing.ear.listen(self.fields())

    def fields(self) -> list[Field]:
        """Return the fields, each answer with its note."""
        return [field for line in self.lines for field in line.fields]

    def fill(self, answers: Mapping[str, Mapping[str, Any]]) -> None:
        """Show answers by the key of their check."""
        for line in self.lines:
            line.fill(answers.get(line.key, {}))

    def read(self) -> list[dict[str, Any]]:
        """Return the checks with an answer or a note."""
        return [answer for line in self.lines if (answer := line.read())]

    def unanswered(self) -> list[CheckLine]:
        """Return the checks without an answer that are asked here."""
        return [line for line in self.lines if line.here and not line.field.text()]

    def line_of(self, widget: QWidget | None) -> CheckLine | None:
        """Return the check that a field belongs to."""
        return next((line for line in self.lines if widget in line.fields), None)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set the answer under its question where the page is narrow."""
        super().resizeEvent(event)
        stacked = event.size().width() < current().px(NARROW_PX)
        if stacked != self._stacked:
            self._stacked = stacked
            # Not from within the layout that is resizing it: what comes into view resizes its neighbours.
            QTimer.singleShot(0, self, self._place)

    def changeEvent(self, event: QEvent) -> None:
        """Keep the distances in step with the text scale."""
        if event.type() == QEvent.Type.FontChange and hasattr(self, "lines"):
            QTimer.singleShot(0, self, self._place)
        super().changeEvent(event)

    def _place(self) -> None:
        for line in self.lines:
            for widget in line.widgets:
                if widget is not None:
                    self._grid.removeWidget(widget)  # not takeAt: see Section
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(current().space(4))
        self._grid.setVerticalSpacing(current().space(0.5))
        self._grid.setColumnStretch(0, 1)
        for n, line in enumerate(self.lines):
            self._put(4 * n, line)

    def _put(self, row: int, line: CheckLine) -> None:
        top = Qt.AlignmentFlag.AlignTop
        right = top | Qt.AlignmentFlag.AlignRight
        question, field = line.question, line.field
        _question, mark, _field, caution, note = line.widgets
        line.question.setContentsMargins(0, current().space(1), 0, 0)
        self._grid.addWidget(question, row, 0, 1, 3 if self._stacked else 1)
        if mark is not None:
            mark.setContentsMargins(0, current().space(1.5), 0, 0)
            self._grid.addWidget(mark, *((row + 1, 2) if self._stacked else (row, 1)), right)
        if self._stacked:
            self._grid.addWidget(field, row + 1, 0, 1, 2, top)
        else:
            self._grid.addWidget(field, row, 2, right)
        if caution is not None:
            self._grid.addWidget(caution, row + 2, 0, 1, 3)
        if note is not None:
            self._grid.addWidget(note, row + 3, 0, 1, 3)
        line.show_line()  # not before all of it stands in the grid: alone it would be a window

    def _on_grown(self, number: int, made: QWidget) -> None:
        """Give what has come to a check its place; a note is heard from now on."""
        self._put(4 * number, self.lines[number])
        if isinstance(made, Field):
            self._typing.ear.listen([made])
            self._typing.ear.grown.emit()
