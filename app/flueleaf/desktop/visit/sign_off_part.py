"""Sign-off: which papers, who signs for the customer, and the one action that seals everything."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.form import Form, digits
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.words import _
from flueleaf.domain.records.visits import Purpose
from flueleaf.operations.visits import BILLS, RECORDS

SIGNATURES = (
    Word("signed", _("signed"), "s"),
    Word("signed on paper", _("signed on paper"), "p"),
    Word("not present", _("not present"), "n"),
    Word("refused", _("refused"), "r"),
)
YES_NO = (Word("yes", _("yes"), "y"), Word("no", _("no"), "n"))
HELP = _(
    "Signing off seals the papers: each gets its number and stays as it is for good.\n"
    "They say what was measured and against which limit; you judge."
)


class SignOffPart(Part):
    """The end of the visit."""

    def __init__(self, typing: Typing, sign_off: Callable[[], None]) -> None:
        super().__init__(_("sign-off"), typing, name="sign-off")
        self.set_caution(HELP)
        self._papers = {
            kind: WordsField(f"papers.{kind.replace(' ', '_')}", _(kind), YES_NO)
            for kind in (*RECORDS, *BILLS)
        }
        self._form = Form()
        cells = Cells()
        for field in self._papers.values():
            cells.put(field)
        self._cells_of = {kind: field.parentWidget() for kind, field in self._papers.items()}
        who = TextField("sign_off.customer_name", _("who signed for the customer"))
        cells.put(self._form.add("customer_name", who), units=2)
        how = WordsField("sign_off.customer", _("how signed"), SIGNATURES)
        cells.put(self._form.add("customer", how), units=3)
        self.add_widget(cells)
        self.button = button(_("Sign off and seal"), "sign_off", sign_off, primary=True)
        self.add_buttons(self.button)
        typing.ear.listen(self.typed_fields())

    def typed_fields(self) -> tuple[Field, ...]:
        """Return the fields."""
        return (*self._papers.values(), *self._form.fields)

    def fields(self) -> Sequence[QWidget]:
        """Return the fields, then the button."""
        return (*self.typed_fields(), self.button)

    def set_purpose(self, purpose: Purpose) -> None:
        """Offer the papers of a purpose; the record that was wanted gives way to the one that fits."""
        others = [kind for kind, purposes in RECORDS.items() if purpose not in purposes]
        if any(self._papers[kind].text() == "yes" for kind in others):
            self.want_record(purpose)
        for kind, field in self._papers.items():
            fits = kind in BILLS or purpose in RECORDS[kind]
            if (cell := self._cells_of[kind]) is not None:
                cell.setVisible(fits)
            if not fits:
                field.set_text("")

    def want(self, kind: str, *, anyway: bool = False) -> None:
        """Ask for a paper that nothing was said about; ``anyway`` also where it was said not to be wanted."""
        if anyway or not self._papers[kind].text():
            self._papers[kind].set_text("yes")

    def want_record(self, purpose: Purpose) -> None:
        """Ask for the record of a purpose."""
        for kind in records_for(purpose):
            self.want(kind)

    def fill(self, document: Mapping[str, Any]) -> None:
        """Show papers wanted and signature; before the first price nothing is said of a bill."""
        wanted = document.get("papers")
        priced = any(line.get("unit_price") for line in document.get("lines") or ())
        for kind, field in self._papers.items():
            told = wanted is not None and (priced or kind not in BILLS)
            field.set_text("yes" if kind in (wanted or ()) else "no" if told else "")
        self._form.fill(document.get("sign_off", {}))

    def read(self) -> dict[str, Any]:
        """Return ``papers`` and ``sign_off``."""
        signed = self._form.read()
        papers = [kind for kind, field in self._papers.items() if field.text() == "yes"]
        return {**({"sign_off": signed} if signed else {}), "papers": papers}

    def locate(self, path: str) -> Field | None:
        """Return the field of a path."""
        if path.startswith("sign_off"):
            return self._form.locate(path.removeprefix("sign_off.") if "." in path else "customer")
        if (kind := path.removeprefix("papers.")) in self._papers:
            return self._papers[kind]
        shown = (f for f in self._papers.values() if not f.isHidden())
        return next(shown, None) if path.startswith("papers") else None


def records_for(purpose: Purpose) -> list[str]:
    """Return the records that fit a purpose."""
    return [kind for kind, purposes in RECORDS.items() if purpose in purposes]


def signing_of(document: Mapping[str, Any]) -> dict[str, Any]:
    """Return what the section would read, once it is made and filled with a document."""
    wanted, signed = document.get("papers") or (), document.get("sign_off")
    papers = [kind for kind in (*RECORDS, *BILLS) if kind in wanted]
    return {**({"sign_off": digits(signed)} if signed else {}), "papers": papers}
