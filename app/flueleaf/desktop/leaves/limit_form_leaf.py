"""The form of one slot of a rule table: what the owner read in the own copy of the standard."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtWidgets import QPushButton, QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.dates import field_date, long_date
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.slot_words import (
    CAUTION,
    IN_SHORT,
    document_words,
    entry_words,
    limit_words,
    status_words,
    where_words,
)
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.rows_table_model import Column, Row
from flueleaf.desktop.section import Section
from flueleaf.desktop.words import _
from flueleaf.domain.words import sentence
from flueleaf.operations import owned
from flueleaf.operations.changes import Changes
from flueleaf.operations.owned import Slot

ENTER = _("Enter it")
HISTORY_COLUMNS = (
    Column(_("valid from"), "soft"),
    Column(_("what you entered"), stretch=True),
    Column(_("entered on"), "soft"),
)


class LimitForm(FormLeaf):
    """How the slot stands, the fields of a new entry, and every entry there was."""

    def __init__(self, desk: Desk, place: Place, slot: Slot) -> None:
        self._slot = slot
        heading = (sentence(_(slot.rule.title)), _(slot.group))
        group = Group(_("from your own copy"), _fields(desk, slot), IN_SHORT, "own_copy")
        super().__init__(desk, place, heading=heading, groups=(group,), keep=self._enter, action=ENTER)
        self._column.insertWidget(1, standing(slot))
        self.fill_in(_begun(desk, slot))

    def commands(self) -> tuple[Command, ...]:
        """Those of every form, and taking an entry back."""
        back = (Command(_("Take the entry back"), ("Ctrl+Shift+X",), self._take_back),)
        return (*super().commands(), *(back if self._counts else ()))

    def margin_widgets(self) -> Sequence[QWidget]:
        """What an entry does."""
        return (MarginSection(_("what an entry does"), (CAUTION,), name="what_an_entry_does"),)

    def end_buttons(self) -> tuple[QPushButton, ...]:
        """Those of every form, and taking an entry back where one counts."""
        if not self._counts:
            return super().end_buttons()
        back = button(_("Take the entry back"), "limit.take_back", self._take_back)
        return (*super().end_buttons(), back)

    def add_more(self) -> None:
        """Every entry there was, the newest first."""
        if self._slot.entries:
            self.add_section(history(self._slot))

    @property
    def _counts(self) -> bool:
        return bool(self._slot.entries) and self._slot.entries[0].limit is not None

    def _enter(self, document: dict[str, Any]) -> Changes:
        return owned.enter_limit(self.desk.book, self._slot.key, document, at=self.desk.now())

    def _take_back(self) -> None:
        key, now = self._slot.key, self.desk.now()
        self.carry_out(lambda: owned.withdraw_limit(self.desk.book, key, at=now))


class ReadSlotLeaf(Leaf):
    """A slot that was read in its source: it is shown, and nothing is entered."""

    def __init__(self, desk: Desk, place: Place, slot: Slot) -> None:
        super().__init__(desk, place)
        self.set_heading(sentence(_(slot.rule.title)), _(slot.group))
        self.add_section(standing(slot))


def standing(slot: Slot) -> Section:
    """Return how a slot stands: what counts, where, by whose document, and what is shipped for it."""
    section = Section(_("as it stands"), name="as_it_stands")
    rule, proposal = slot.rule, slot.proposal
    facts = [
        (_("counts"), limit_words(rule, rule.limit) if rule.judges else _("nothing: it does not judge")),
        (_("how it stands"), status_words(slot)),
        (_("where"), where_words(rule)),
        (_("document"), document_words(slot)),
    ]
    if rule.information:
        facts[0] = (_("figure"), limit_words(rule, rule.limit))
    elif rule.status == "recalled":
        facts.insert(1, (_("proposal"), limit_words(proposal, proposal.limit)))
    elif rule.status == "owner" and proposal.limit is not None:
        facts.insert(2, (_("shipped"), limit_words(proposal, proposal.limit)))
    for name, text in (*facts, (_("note"), _(rule.note) if rule.note else "")):
        if text:
            section.add_fact(name, text)
    return section


def history(slot: Slot) -> Section:
    """Return every entry of the owner's as a list that is read, not worked."""
    section = Section(_("what you entered"), str(len(slot.entries)), name="entries")
    rows = [
        Row(
            (
                _("from {date}", date=long_date(entry.valid_from)),
                entry_words(slot, entry),
                _("entered {date}", date=long_date(entry.entered_at.date())),
            )
        )
        for entry in slot.entries
    ]
    section.add_widget(RowsPanel("limit.entries", _("what you entered"), HISTORY_COLUMNS, rows, heads=False))
    return section


def _fields(desk: Desk, slot: Slot) -> Sequence[Field]:
    return (
        NumberField("limit", slot.quantity, label=_("limit, {sense}", sense=_(slot.rule.sense))),
        TextField("source", _("document")),
        TextField("edition", _("edition")),
        TextField("clause", _("clause or page"), width_px=240),
        DateField("valid_from", _("valid from"), today=desk.today),
    )


def _begun(desk: Desk, slot: Slot) -> dict[str, str]:
    """Return what an entry begins with: the document of the latest entry in the same table, never a limit.

    Nor the first day where the slot is filled already: of a new edition it is another one, and left as it was
    it would judge earlier work by the new figure.
    """
    table = slot.key.partition(".")[0]
    known = [
        entry
        for one in owned.slots(desk.book, desk.today())
        if one.key.partition(".")[0] == table
        for entry in one.entries
        if entry.limit is not None
    ]
    if not known:
        return {}
    newest = max(known, key=lambda entry: entry.entered_at)
    document = {"source": newest.source, "edition": newest.edition}
    if slot.entries and slot.entries[0].limit is not None:
        return document
    return {**document, "valid_from": field_date(newest.valid_from)}


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the form of the slot with the key ``place.key``.

    Raises:
        UserProblem: there is no such slot.
    """
    slot = owned.slot(desk.book, place.key, desk.today())
    return LimitForm(desk, place, slot) if slot.open else ReadSlotLeaf(desk, place, slot)
