"""Tonight: what is unfinished, which papers are not sent, what falls due, who owes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from flueleaf.desktop.busy.busy import Cancelled, Progress
from flueleaf.desktop.buttons import button
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import weekday_date
from flueleaf.desktop.help.worked_out import due_at_hand, row_at_hand, worked_out_command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.lists import (
    DRAFT_COLUMNS,
    PAPER_COLUMNS,
    PAYMENT_KEY,
    READY,
    SENT_KEY,
    add_list,
    draft_rows,
    paper_rows,
)
from flueleaf.desktop.leaves.tonight_done import DonePanel
from flueleaf.desktop.leaves.tonight_lists import (
    COMING_COLUMNS,
    OWING_COLUMNS,
    coming_rows,
    owing_rows,
)
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.section import Section
from flueleaf.desktop.words import _, _n
from flueleaf.domain.problems import UserProblem
from flueleaf.operations import book as books
from flueleaf.operations import explaining, pages, sending
from flueleaf.operations.changes import Topic
from flueleaf.operations.explaining import Explanation
from flueleaf.operations.pages import TonightPage
from flueleaf.operations.sending import Saved

OPEN_KEY, SAVE_KEY, SAVE_ALL_KEY = "Ctrl+O", "Ctrl+S", "Ctrl+Shift+S"
OVERDUE_KEY = "Ctrl+Shift+O"


class TonightLeaf(Leaf):
    """The opening leaf."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._shown = TonightPage(desk.today())
        self._unfolded = False
        self.watch(
            Topic.DRAFTS, Topic.VISITS, Topic.DUE, Topic.MONEY, Topic.PAPERS, Topic.REGISTER, Topic.SENDING
        )
        self.fill()

    def fill(self) -> None:
        """The lists that hold something; when nothing is left to write or send, what was done today."""
        page = self._shown = pages.tonight(self.desk.book, self.desk.today())
        self.set_heading(_("Tonight"), weekday_date(page.today))
        if page.drafts or page.unsent:
            self._add_unfinished()
            self._add_unsent()
        else:
            self._add_done()
        if page.due:
            self._add_due()
        if page.owing:
            self._add_owing()

    def rebuild(self) -> None:
        """Fill the page again; where the list the keyboard was in is done with, go on to the next thing."""
        focused = QApplication.focusWidget()
        was_here = focused is not None and self.isAncestorOf(focused)
        super().rebuild()
        now = QApplication.focusWidget()
        lost = now is None or not self.isAncestorOf(now) or now is self.scroll_area
        if was_here and lost and (target := self.first_focus()) is not None:
            target.setFocus(Qt.FocusReason.OtherFocusReason)

    def margin_widgets(self) -> Sequence[QWidget]:
        """What is missing from each unfinished visit; what was done today."""
        page = self._shown
        blocks = [
            MarginSection(
                draft.title, [_(one) for one in draft.missing] or (READY[draft.kind],), name=draft.title
            )
            for draft in page.drafts
        ]
        done = page.done
        lines = [
            _n("{count} visit signed off", "{count} visits signed off", done.visits) if done.visits else "",
            _n("{count} paper sealed", "{count} papers sealed", done.papers) if done.papers else "",
            _("{sum} invoiced", sum=done.invoiced) if done.invoiced else "",
        ]
        if (page.drafts or page.unsent) and any(lines):
            blocks.append(MarginSection(_("done today"), [line for line in lines if line], name="done_today"))
        return blocks

    def commands(self) -> tuple[Command, ...]:
        """What may be done with the line one stands on."""
        return (
            Command(_("Save for sending, mark as sent"), (SAVE_KEY,), self._save),
            Command(_("Save all unsent papers into a folder"), (SAVE_ALL_KEY,), self._save_all),
            Command(_("Mark as sent"), (SENT_KEY,), self._mark),
            Command(_("Note a payment"), (PAYMENT_KEY,), self._note_payment),
            Command(_("Open the invoice owing"), (OPEN_KEY,), self._open_invoice),
            Command(_("Show or fold what is long overdue"), (OVERDUE_KEY,), self._unfold),
            worked_out_command(self, self._explanations, self._figure_at_hand),
        )

    def _explanations(self) -> Sequence[Explanation]:
        unpaid = [row.number for row in self._shown.owing]
        owing = explaining.explain_unpaid(self.desk.book, unpaid, self._shown.today)
        return [*(explaining.explain_due(row) for row in self._due()), *owing]

    def _figure_at_hand(self) -> str:
        row = row_at_hand(self, "who_owes")
        return self._shown.owing[row].number if row >= 0 else due_at_hand(self, self._due())

    def first_focus(self) -> QWidget | None:
        """The first list of what is to be written or sent; without one, the next thing to begin."""
        waiting = (self._panel(name) for name in ("unfinished", "not_sent"))
        return next((panel for panel in waiting if panel is not None), None) or super().first_focus()

    def premises_key(self) -> str:
        """The premises of the due line one stands on."""
        panel = self._panel("due")
        row = panel.currentIndex().row() if panel is not None and panel.hasFocus() else -1
        due = self._due()
        found = due[row].premises_id if 0 <= row < len(due) else None
        return str(found) if found is not None else ""

    def _add_unfinished(self) -> None:
        section = add_list(
            self,
            "unfinished",
            DRAFT_COLUMNS,
            draft_rows(self._shown.drafts),
            title=_("unfinished"),
            heads=False,
            empty=_("Every visit is signed off."),
        )
        if self._shown.drafts:
            section.set_caution(_("Enter opens it at what is missing"))
        new = button(
            _("New visit"),
            "tonight.new_visit",
            self._new_visit,
            primary=not (self._shown.drafts or self._shown.unsent),
        )
        section.add_buttons(new)

    def _add_unsent(self) -> None:
        page = self._shown
        section = add_list(
            self,
            "not_sent",
            PAPER_COLUMNS,
            paper_rows(page.unsent, where=True),
            title=_("papers not sent"),
            state=str(page.unsent_count or ""),
            heads=False,
            empty=_("No paper waits to be sent."),
        )
        if not page.unsent:
            return
        keys = _("Enter opens it · Ctrl+S saves it for sending and marks it · Ctrl+Shift+T only marks it")
        section.set_caution(keys)
        more = page.unsent_count - len(page.unsent)
        if more:
            section.add_fact("", _n("and {count} earlier one", "and {count} earlier ones", more))
        section.add_buttons(
            button(_("Save all into a folder"), "tonight.save_all", self._save_all),
        )

    def _add_done(self) -> None:
        section = self.add_section(Section(_("today"), name="today"))
        section.add_widget(DonePanel(self._shown))
        section.add_buttons(
            button(_("New visit"), "tonight.new_visit", self._new_visit, primary=True),
            *([button(_("New customer"), "tonight.new_customer", self._new_customer)] * self._shown.is_new),
        )

    def _add_due(self) -> None:
        section = add_list(
            self,
            "due",
            COMING_COLUMNS,
            coming_rows(self._due(), self._shown.today),
            title=self._due_title(),
            state=str(len(self._shown.due)),
            heads=False,
            empty=_("Nothing falls due in the next six weeks."),
        )
        section.set_caution(_("Enter opens it · Ctrl+N begins the visit there"))
        count = self._shown.long_overdue
        if count:
            said = (
                _("Fold what is long overdue")
                if self._unfolded
                else _n(
                    "Show {count} more, overdue for over three months",
                    "Show {count} more, overdue for over three months",
                    count,
                )
            )
            section.add_buttons(button(said, "tonight.long_overdue", self._unfold))

    def _add_owing(self) -> None:
        rows = owing_rows(self._shown.owing)
        section = add_list(self, "who_owes", OWING_COLUMNS, rows, title=_("who owes"), heads=False)
        section.set_caution(_("Enter notes the payment · Ctrl+O opens the invoice"))

    def _due_title(self) -> str:
        if any(row.date < self._shown.today for row in self._shown.due):
            return _("overdue and due in the next weeks")
        return _("due in the next weeks")

    def _due(self) -> Sequence[pages.DueRow]:
        page = self._shown
        return page.due if self._unfolded else page.due[page.long_overdue :]

    def _panel(self, name: str) -> RowsPanel | None:
        return self.findChild(RowsPanel, f"{self.objectName()}.{name}")

    def _chosen(self, name: str) -> str:
        """Return the key of the row one stood on last; of the first one where one has not been there."""
        panel = self._panel(name)
        place = panel.chosen() if panel is not None else None
        return place.key if place is not None else ""

    def _note_payment(self) -> None:
        number = self._chosen("who_owes")
        if number:
            self.place_wanted.emit(Place("payment", number))
        else:
            self.said.emit(_("Nobody owes anything."))

    def _open_invoice(self) -> None:
        number = self._chosen("who_owes")
        if number:
            self.place_wanted.emit(Place("paper", number))
        else:
            self.said.emit(_("Nobody owes anything."))

    def _mark(self) -> None:
        if number := self._unsent_chosen():
            self.desk.hub.tell(sending.mark_sent(self.desk.book, [number], at=self.desk.now()))

    def _save(self) -> None:
        number = self._unsent_chosen()
        if not number:
            return
        file = self.desk.ask.save_as(self, _("Save for sending"), Path.home() / f"{number}.pdf")
        if file is None:
            return
        try:
            sending.save(self.desk.book, number, file)
        except UserProblem as problem:
            self.said.emit(_(problem.text))
            return
        changes = sending.mark_sent(self.desk.book, [number], at=self.desk.now(), way=sending.SAVED)
        self.desk.hub.tell(changes)

    def _save_all(self) -> None:
        if not self._unsent_chosen():
            return
        folder = self.desk.ask.folder(self, _("Save all unsent papers into a folder"), Path.home())
        if folder is None:
            return
        path, now = self.desk.book.path, self.desk.now()

        def work(progress: Progress, cancelled: Cancelled) -> Saved:
            with books.writing_book(path) as book:
                return sending.save_unsent(book, folder, at=now, progress=progress, cancelled=cancelled)

        hub = self.desk.hub
        begun = self.desk.busy.start(_("Saving papers"), work, lambda saved: hub.tell(saved.changes))
        if not begun:
            self.said.emit(_("Something else is still going on. Wait until it is done."))

    def _unsent_chosen(self) -> str:
        number = self._chosen("not_sent")
        if not number:
            self.said.emit(_("Every paper is sent already."))
        return number

    def _unfold(self) -> None:
        if not self._shown.long_overdue:
            self.said.emit(_("Nothing is overdue for over three months."))
            return
        self._unfolded = not self._unfolded
        self.rebuild()

    def _new_visit(self) -> None:
        self.place_wanted.emit(Place("visit"))

    def _new_customer(self) -> None:
        self.place_wanted.emit(Place("customer_form"))


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf."""
    return TonightLeaf(desk, place)
