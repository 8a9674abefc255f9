"""What is written down at a stage beside its checks: groups of fields, folded until they are wanted."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from flueleaf.desktop.fields.choice_field import ChoiceField
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.noted_words import noted_line
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap, set_margins
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.fold import Fold
from flueleaf.desktop.visit.form import Form, date_text, text_of, typed_date, typed_number
from flueleaf.desktop.words import _
from flueleaf.domain.judging.noted import Note

NUMBER_PX = 92
# Widths on the common grid: a text has room for some words, a choice for the longest of its own.
MOST_LETTERS = 24  # of a label over one width
UNITS: Mapping[str, int] = {"text": 2, "number": 1, "choice": 2, "date": 2}


class NotesBlock(QWidget):
    """The notes of one stage.

    Its button is no stop of the keyboard, which types on from check to check; the command does the same.
    """

    def __init__(self, typing: Typing, name: str, notes: Sequence[Note]) -> None:
        """Make it folded.

        Args:
            typing: the desk and the ear.
            name: of its fold, and with the key the beginning of each field's: ``works.0``.
            notes: of the stage, in the order shown; none hides it.
        """
        super().__init__()
        self.notes = tuple(notes)
        self._typing = typing
        self._prefix = name
        self._form = Form()
        stage = self.notes[0].stage.replace(" ", "_") if self.notes else ""
        self.fold = Fold(f"{name}.written.{stage}", _("Write down more of this section"), self._made)
        self.fold.opener.setText(_("Write down"))
        self.fold.opener.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.fold.built.connect(self._on_built)
        column = QVBoxLayout(self)
        set_margins(column, 0, 1, 0, 0)
        column.addWidget(self.fold)
        if not self.notes:
            self.hide()
        self._sum_up()

    def fields(self) -> tuple[Field, ...]:
        """Return the fields, none while they are folded away and not made."""
        return self._form.fields

    def fill(self, notes: Mapping[str, str]) -> None:
        """Show notes by their key; those of other stages are left alone."""
        self._form.fill({note.key: notes[note.key] for note in self.notes if note.key in notes})
        self._sum_up()

    def read(self) -> list[dict[str, str]]:
        """Return the notes as the document holds them, in the order shown."""
        typed = self._form.read()
        return [{"key": note.key, "text": typed[note.key]} for note in self.notes if typed.get(note.key)]

    def field_of(self, key: str) -> Field | None:
        """Return the field of a note, made where it is folded away; None where it stands elsewhere."""
        if key not in [note.key for note in self.notes]:
            return None
        self.fold.build()
        return self._form.locate(key)

    def take_over(self, last: Mapping[str, str]) -> int:
        """Fill in what is built in and still empty as it was last time; returns how many came."""
        typed = {one["key"]: one["text"] for one in self.read()}
        came = {
            note.key: last[note.key]
            for note in self.notes
            if note.keeps and last.get(note.key) and note.key not in typed
        }
        if came:
            self.fill({**typed, **came})
        return len(came)

    def open_up(self) -> Field | None:
        """Show the fields; returns the first that is still empty, else the first."""
        self.fold.open_up()
        empty = (field for field in self.fields() if not field.text().strip())
        return next(empty, next(iter(self.fields()), None))

    def _sum_up(self) -> None:
        """Say in the folded line what is written down, or else what there is room for."""
        typed = {one["key"]: one["text"] for one in self.read()}
        if typed:
            told = {note: typed[note.key] for note in self.notes if note.key in typed}
            self.fold.set_summary(noted_line(told))
        else:
            groups = dict.fromkeys(_(note.group) for note in self.notes)
            self.fold.set_summary(_("To write down, if any: {groups}.", groups=", ".join(groups)))

    def _made(self) -> QWidget:
        body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, 0, 0)
        set_gap(column, 1)
        for group, notes in itertools.groupby(self.notes, key=lambda note: note.group):
            column.addWidget(label(_(group), role="small", tone="strong"))
            cells = Cells()
            for note in notes:
                field = self._field(note)
                cells.put(field, units=2 if len(field.label) > MOST_LETTERS else UNITS[note.value])
            column.addWidget(cells)
        return body

    def _field(self, note: Note) -> Field:
        name, words = f"{self._prefix}.notes.{note.key}", _(note.label)
        if note.value == "number":
            number = NumberField(name, note.quantity, label=words, width_px=NUMBER_PX)
            return self._form.add(note.key, number, typed_number)
        if note.value == "choice":
            names = {_(choice): choice for choice in note.choices}
            choice = ChoiceField(name, words, tuple(names))
            return self._form.add(note.key, choice, partial(_chosen, names), _said)
        if note.value == "date":
            today = self._typing.desk.today
            day = DateField(name, words, today=today)
            return self._form.add(note.key, day, typed_date(today), date_text)
        return self._form.add(note.key, TextField(name, words))

    def _on_built(self) -> None:
        self._form.complete()
        self._typing.ear.listen(self._form.fields)
        self._typing.ear.grown.emit()


def _chosen(names: Mapping[str, str], field: ChoiceField) -> str:
    text = field.value() or field.text().strip()
    return names.get(text, text)


def _said(value: Any) -> str:
    return _(text_of(value))
