"""A leaf that is a plain form: fields named by their path in a document, read by the readers of any input.

A field called ``limits.co2_pct.max.0`` holds the first of a list in a table in a table. What the reader
refuses comes back with such a path, and is said under the field it belongs to.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QPushButton, QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.change_hub import Changed
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.field import Field, shortened
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.fields.words_field import WordsField
from flueleaf.desktop.form_documents import assembled, flattened
from flueleaf.desktop.half_form import TAKEN_UP, HalfForm
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.place import Place
from flueleaf.desktop.section import Section
from flueleaf.desktop.undoing import Undoing
from flueleaf.desktop.words import _, _n
from flueleaf.domain.problems import Fault, Refused, UserProblem
from flueleaf.operations.changes import Changes

Document = Mapping[str, Any]
Keep = Callable[[dict[str, Any]], Changed]
KEEP = _("Keep")


@dataclass(frozen=True, slots=True)
class Group:
    """The fields of one section.

    Attributes:
        title: its head, as shown.
        caution: what it is for and what to take care of.
        name: its object name, where the title is translated.
    """

    title: str
    fields: Sequence[Field]
    caution: str = ""
    name: str = ""


class FormLeaf(Leaf):
    """Fill in, then keep; Enter goes through it to the button at its end."""

    kept_word = _("draft kept")  # the form itself is kept at its end; until then nothing of it counts
    changed = Signal()  # something typed or chosen is another now

    def __init__(
        self,
        desk: Desk,
        place: Place,
        *,
        heading: tuple[str, str],
        groups: Sequence[Group],
        keep: Keep,
        action: str = KEEP,
    ) -> None:
        """Make the form with empty fields.

        Args:
            desk: the book, changes, clock and questions.
            place: what is edited; a place without a key is for a new one.
            heading: title and the line under it.
            groups: the fields, by section.
            keep: reads the document and keeps it in the book; raises ``Refused`` with paths.
            action: what the button at the end says it does.
        """
        super().__init__(desk, place)
        self._keep = keep
        self._action = action
        self.next_place: Place | None = None  # where it leads once it is kept, else back
        self._unasked: dict[str, str] = {}
        self._refusal = ""  # what was said of fields refused, while it holds
        self._asked_when: dict[str, Callable[[], bool]] = {}
        self.fields: dict[str, Field] = {}
        self.set_heading(*heading)
        for group in groups:
            section = self.add_section(Section(group.title, name=group.name or group.title))
            section.set_caution(group.caution)
            for field in group.fields:
                self.fields[field.objectName()] = section.add_row(field)
        self.add_more()
        end = self.add_section(Section("", name="keep"))
        end.add_buttons(*self.end_buttons())
        self._half = HalfForm(desk, place, self.fields, self)
        self._half.keeper.kept.connect(self.kept)
        self._half.keeper.failed.connect(self.said)
        self._shown_before = False
        self.undoing = Undoing(self.state, self._go_to, self)

    @property
    def action(self) -> str:
        """What the button at the end says it does."""
        return self._action

    def commands(self) -> tuple[Command, ...]:
        """Keeping, and going without."""
        return (
            Command(self._action, ("Ctrl+Return", "Ctrl+Enter"), self.keep_all),
            Command(_("Leave without keeping"), ("Ctrl+W",), self.leave),
        )

    def end_buttons(self) -> tuple[QPushButton, ...]:
        """Return the buttons that stand at the end of the form."""
        return (
            button(self._action, "form.keep", self.keep_all, primary=True),
            button(_("Leave without keeping"), "form.leave", self.leave),
        )

    def showEvent(self, event: QShowEvent) -> None:
        """Take up what was typed here before, once the form is filled in."""
        super().showEvent(event)
        if not self._shown_before:
            self._shown_before = True
            if self._half.take_up():
                QTimer.singleShot(0, self, lambda: self.said.emit(TAKEN_UP))
                QTimer.singleShot(0, self, self._take_up_cursor)
                self._follow()
            self._begin_undoing()

    def leaving(self) -> bool:
        """Hold on to what is half typed, and where."""
        self._half.note_spot()
        return self._half.keeper.keep()

    def put_aside(self) -> None:
        """Write nothing any more."""
        self._half.keeper.stop()
        super().put_aside()

    def leave(self) -> None:
        """Go without keeping; what was typed is forgotten."""
        self._half.drop()
        self.finished.emit()

    def add_more(self) -> None:
        """Add sections that are no fields, before the end of the form."""

    def first_focus(self) -> QWidget | None:
        """Begin at the first field, or where the form was left half typed."""
        if spot := self._half.spot().field:
            return self.fields[spot].control()
        return next((field.control() for field in self.fields.values()), None)

    def state(self) -> Any:
        """Return everything that can be typed or chosen, for undoing."""
        return self._half.texts()

    def show_state(self, state: Any) -> None:
        """Show again what ``state`` returned."""
        for name, text in state.items():
            if self.fields[name].text() != text:
                self.fields[name].set_text(text)
        self._half.keeper.touch()
        self._follow()
        self.changed.emit()

    def note_change(self, field: str = "") -> None:
        """Take note of a change that was made in a field, or beside the fields."""
        if self.undoing is not None:
            self.undoing.note(field)
        self._follow()
        self._settle_refusal()
        self.changed.emit()

    def fill_in(self, document: Document) -> None:
        """Fill the fields from a document of the same shape; what no field asks for is kept as it is."""
        texts = flattened(document)
        self._unasked = {path: text for path, text in texts.items() if path not in self.fields}
        for name, field in self.fields.items():
            field.show_entry(texts.get(name, ""))
        self._follow()

    def ask_when(self, name: str, wanted: Callable[[], bool]) -> None:
        """Ask for a field only while something holds; what was typed into it is kept all the same."""
        self._asked_when[name] = wanted
        self._follow()

    def _follow(self) -> None:
        """Show the fields that are asked for now."""
        for name, wanted in self._asked_when.items():
            for section in self.sections:
                section.show_row(self.fields[name], on=wanted())

    def document(self) -> dict[str, Any]:
        """Return what is typed, as a document, with what it held besides; empty fields are left out."""
        return assembled(self._unasked | {name: field.entry() for name, field in self.fields.items()})

    def keep_all(self) -> None:
        """Keep what is typed, or say under the fields what stands in the way."""
        for field in self.fields.values():
            field.set_fault("")
        if wrong := [field for field in self.fields.values() if _refuses(field)]:
            self._show_first(wrong)
            return
        try:
            changes = self._keep(self.document())
            self._half.drop()
        except Refused as refused:
            self._show_faults(refused.faults)
        except UserProblem as problem:
            self.said.emit(_(problem.text))
        else:
            self.desk.hub.tell(changes)
            self.end(self.next_place)

    def carry_out(self, change: Callable[[], Changes]) -> None:
        """Do what ends the form in another way than keeping it; what was typed is forgotten.

        Args:
            change: does it; a ``UserProblem`` of it is said and the form stays.
        """
        try:
            changes = change()
        except UserProblem as problem:
            self.said.emit(_(problem.text))
            return
        self._half.drop()
        self.desk.hub.tell(changes)
        self.end()

    def _show_faults(self, faults: Sequence[Fault]) -> None:
        shown: list[Field] = []
        for fault in faults:
            field = self._field_of(fault.where)
            if field is None:
                self.said.emit(_(fault.text))
                continue
            accepted = _(fault.accepted)
            if fault.missing and isinstance(field, WordsField):
                text = _("This is needed. Choose {words}.", words=", ".join(w.face for w in field.words))
            elif fault.missing:
                text = _("This is needed. Type {accepted}.", accepted=accepted)
            else:
                value = shortened(fault.value)
                text = _("“{value}” cannot be used. Type {accepted}.", value=value, accepted=accepted)
            field.set_fault(text)
            shown.append(field)
        if shown:
            self._show_first([field for field in self.fields.values() if field in shown])

    def _show_first(self, refused: Sequence[Field]) -> None:
        """Go to the first of the fields refused, and say how many there are."""
        first = refused[0]
        first.control().setFocus(Qt.FocusReason.OtherFocusReason)
        self._refusal = _n(
            "One field needs another look: {field}. The form is not kept yet.",
            "{count} fields need another look, first {field}. The form is not kept yet.",
            len(refused),
            field=first.label,
        )
        self.said.emit(self._refusal)

    def _settle_refusal(self) -> None:
        """Take away what was said of fields refused, once none of them has a fault any more."""
        if self._refusal and not any(field.fault() for field in self.fields.values()):
            self.settled.emit(self._refusal)
            self._refusal = ""

    def _begin_undoing(self) -> None:
        assert self.undoing is not None
        for name, field in self.fields.items():
            field.edited.connect(lambda _text="", name=name: self.note_change(name))
            field.left.connect(self.undoing.part)
        self.undoing.begin()

    def _go_to(self, state: Any, name: str) -> None:
        """Show a state of undoing, with the cursor where the change was made."""
        self.show_state(state)
        if (field := self.fields.get(name)) is not None:
            field.control().setFocus(Qt.FocusReason.OtherFocusReason)
            if isinstance(field, LineField):
                field.edit.end(False)
                field.read_back()

    def _take_up_cursor(self) -> None:
        """Set the cursor between the letters where it was; the focus is there already."""
        spot = self._half.spot()
        field = self.fields.get(spot.field)
        if isinstance(field, LineField) and field.edit.hasFocus():
            field.edit.deselect()
            field.edit.setCursorPosition(spot.position)

    def _field_of(self, where: str) -> Field | None:
        path = where.replace("[", ".").replace("]", "")
        if path in self.fields:
            return self.fields[path]
        return next((field for name, field in self.fields.items() if name.startswith(f"{path}.")), None)


def _refuses(field: Field) -> bool:
    """Tell whether a field itself finds fault with what it holds."""
    return isinstance(field, LineField) and not field.check()
