"""The leaf of a visit that was signed off: its papers, its verdicts, what was found."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.help.worked_out import row_at_hand, worked_out_command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.lists import INVOICE_KEY, PAPER_COLUMNS, add_list
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.noted_words import noted_groups
from flueleaf.desktop.photo.looking import Looking
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.rows_table_model import Row
from flueleaf.desktop.section import Section
from flueleaf.desktop.settling.kept_runs import KeptRuns
from flueleaf.desktop.verdict_mark import VerdictWord
from flueleaf.desktop.visit.steps_at_hand import kept_steps
from flueleaf.desktop.words import _, _n
from flueleaf.domain.judging.assessment import worst
from flueleaf.domain.judging.procedure import close_up_faults
from flueleaf.domain.records.visits import Work
from flueleaf.operations import explaining, issued, photos, schedule, settling, tables
from flueleaf.operations.explaining import Explanation
from flueleaf.operations.facts.wording import RATE_NAMES
from flueleaf.operations.page_records import DueRow

NOT_REFITTED = {False: _("not refitted"), "not sure": _("not sure"), None: _("nothing said of it")}
DONE = _("These papers were sealed. Enter opens one; there it can be printed, or a copy saved.")


class SignedVisitLeaf(Leaf):
    """Nothing of it can be changed: a correction is a new paper."""

    def __init__(self, desk: Desk, place: Place, signed: Any) -> None:
        """Make the leaf.

        Args:
            desk: what every leaf is given.
            place: with the id of the visit.
            signed: the visit as the book keeps it.
        """
        super().__init__(desk, place)
        self.setObjectName("leaf.visit")
        self._signed = signed
        self._due = schedule.due_set_by(desk.book, signed.visit, signed.ref)
        self._papers = issued.papers_of_visit(desk.book, signed.ref)
        self._looking = Looking(self, lambda: photos.of_visit(desk.book, place.key))
        self.runs = KeptRuns(self, place.key, self._log_columns)
        self.fill()

    def fill(self) -> None:
        """Papers first; then each appliance."""
        visit = self._signed.visit
        where = f"{', '.join(visit.premises.address)} {visit.premises.postcode}".strip()
        self.set_heading(
            where,
            visit.customer.name,
            _("{purpose}, {date}", purpose=_(visit.purpose), date=long_date(visit.date)),
        )
        rows = [
            Row(
                (long_date(paper.date), _(paper.kind), paper.number, paper.total),
                Place("paper", paper.number),
            )
            for paper in self._papers
        ]
        section = add_list(
            self, "papers", PAPER_COLUMNS, rows, title=_("papers"), empty=_("No paper was wanted.")
        )
        if rows:
            section.set_caution(DONE)
        section.add_buttons(
            *([button(_("Invoice this visit"), "visit.invoice", self._invoice)] if self._to_charge else ()),
            button(_("To the premises"), "visit.premises", self._to_premises),
            *self._looking.buttons("visit.photographs"),
            *self.runs.buttons("visit.runs"),
        )
        for work, result, due in zip(visit.works, self._signed.results, self._due, strict=True):
            self._add_work(work, result, due)

    def first_focus(self) -> QWidget | None:
        """The first paper, so that Enter opens it."""
        return self.findChild(RowsPanel) or super().first_focus()

    def margin_widgets(self) -> Sequence[QWidget]:
        """Who signed, and what it came to."""
        visit = self._signed.visit
        verdict = worst(result["verdict"] for result in self._signed.results)
        block = MarginSection(_("signed off"), name="signed_off")
        block.add_widget(VerdictWord(verdict))
        if visit.sign_off is not None:
            who = visit.sign_off.customer_name
            signed = _(visit.sign_off.customer)
            block.add_line(_("{name}: {signed}", name=who, signed=signed) if who else signed)
        if visit.issued_at is not None:
            block.add_line(f"{long_date(visit.issued_at.date())}, {visit.issued_at:%H:%M}", "soft")
        return (block,)

    def commands(self) -> tuple[Command, ...]:
        """Going on from here."""
        return (
            Command(_("Invoice this visit"), (INVOICE_KEY,), self._invoice),
            Command(_("To its premises"), ("Ctrl+Shift+O",), self._to_premises),
            *self._looking.commands,
            *self.runs.commands,
            worked_out_command(self, self._explanations, self._key_at_hand),
        )

    def _log_columns(self) -> Mapping[str, str]:
        """Return the columns of the runs of the first analyser of the visit that has any."""
        used = [work.instrument.id for work in self._signed.visit.works if work.instrument is not None]
        known = [settling.columns_known(self.desk.book, one) for one in used if one is not None]
        return next((columns for columns in known if columns), {})

    def _explanations(self) -> Sequence[Explanation]:
        return explaining.explain_signed(self.desk.book, self._signed, self._due, self.desk.today())

    def _key_at_hand(self) -> str:
        """Return the key of the total of the bill the keyboard stands on, "" where it stands elsewhere."""
        row = row_at_hand(self, "papers")
        return explaining.bill_key(self._papers[row].number) if row >= 0 else ""

    def _add_work(self, work: Work, result: dict[str, Any], due: Sequence[DueRow]) -> None:
        appliance = work.appliance
        name = f"{appliance.make} {appliance.model}".strip()
        title = name or _(appliance.kind)
        section = self.add_section(Section(title, _(result["verdict"]), name=name or appliance.kind))
        section.add_fact(_("where"), appliance.location or _("not noted"))
        section.add_fact(_("how it was left"), _(work.outcome))
        for defect in work.defects:
            section.add_fact(_(defect.defect_class), f"{defect.text} {defect.action}".strip())
        refitted = [point for point, answer in work.close_up.items() if answer is True]
        section.add_fact(
            _("refitted"), ", ".join(_(point) for point in refitted) or _("no test point confirmed")
        )
        for point in close_up_faults(work):
            answer = NOT_REFITTED[work.close_up.get(point)]
            section.add_fact(_("{point} test point", point=_(point)), answer)
        for one in work.not_measured:
            spot = _("{point}, {rate}", point=_(one.point), rate=_(RATE_NAMES[one.rate]))
            section.add_fact(_("not measured"), _("{slip}: {reason}", slip=spot, reason=one.reason))
        if lines := kept_steps(result.get("procedure")):
            section.add_fact(_("step by step"), "\n".join(lines))
        section.add_fact(_("checks"), _n("{count} answered", "{count} answered", len(work.checks)))
        kind = tables.shipped().kinds[appliance.kind]
        for group, line in noted_groups(kind, work.notes).items():
            section.add_fact(group, line)
        for row in due:
            section.add_fact(_("due"), _("{rule}, {date}", rule=_(row.rule), date=long_date(row.date)))

    @property
    def _to_charge(self) -> bool:
        """Whether there is something to charge that no invoice charges yet."""
        return bool(self._signed.visit.lines) and not any(paper.kind == "invoice" for paper in self._papers)

    def _invoice(self) -> None:
        if self._to_charge:
            self.place_wanted.emit(Place("visit_invoice", self.place.key))
        elif self._signed.visit.lines:
            self.said.emit(_("This visit was invoiced: its invoice is among its papers."))
        else:
            self.said.emit(_("This visit has no lines to charge."))

    def _to_premises(self) -> None:
        self.place_wanted.emit(Place("premises", str(self._signed.visit.premises.id)))
