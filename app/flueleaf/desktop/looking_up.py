"""What the finder lists: for a text, things of the book and actions; for none, tonight and the way back."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from flueleaf.desktop.command import shown_keys
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.finder_table_model import Found
from flueleaf.desktop.leaves.lists import due_place
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.desktop.words import _
from flueleaf.operations import glossary
from flueleaf.operations.finding import Hit, find, visit_id
from flueleaf.operations.pages import LONG_OVERDUE_DAYS, all_drafts, due_rows

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow

MOST_FOUND = 40
MOST_ACTIONS = 5
MOST_DUE = 6
MOST_WORDS = 3
# Kind of a thing found: the head it is listed under, and the leaf that shows it.
SHOWN_BY = {
    "premises": (_("premises"), "premises"),
    "customer": (_("customers"), "customer_form"),
    "appliance": (_("appliances"), "appliance"),
    "instrument": (_("analysers"), "instrument_form"),
    "paper": (_("papers"), "paper"),
    "visit": (_("visits"), "visit"),
}

# What a place is, where its title alone would not tell it from another.
PLACE_WORDS = {
    "premises": _("premises"),
    "premises_form": _("premises, form"),
    "appliance": _("appliance"),
    "appliance_form": _("appliance, form"),
    "customer_form": _("customer, form"),
    "limit_form": _("limit"),
    "fuel_form": _("fuel"),
    "visit": _("visit"),
    "quote": _("quote"),
    "quote_invoice": _("invoice from a quote"),
    "visit_invoice": _("invoice of a visit"),
    "payment": _("payment"),
}


def look_up(window: MainWindow, text: str) -> Sequence[Found]:
    """Return what the finder lists for a text."""
    if not text:
        return [Found("", _("Tonight"), place=TONIGHT), *_lately(window), *_coming(window)]
    hits = [_found(window, hit) for hit in find(window.desk.book, text, MOST_FOUND) if hit.kind in SHOWN_BY]
    return [*hits, *_actions(window, text), *_words(window, text)]


def _lately(window: MainWindow) -> list[Found]:
    """Return the places shown last, each with what it is."""
    return [
        Found(_("lately"), title, PLACE_WORDS.get(place.leaf, ""), place) for place, title in window.lately
    ]


def _coming(window: MainWindow) -> list[Found]:
    """Return what waits, so that the next thing is one key away on every leaf."""
    book, today = window.desk.book, window.desk.today()
    latest = today - dt.timedelta(days=LONG_OVERDUE_DAYS)  # what waited longer is Tonight's to show
    drafts = [
        Found(_("unfinished"), _(row.title), place=Place(row.kind, row.key))
        for row in all_drafts(book, today)[:MOST_DUE]
    ]
    due = [
        Found(_("due next"), row.what, f"{long_date(row.date)} · {row.premises}", due_place(row))
        for row in [row for row in due_rows(book, today) if row.date >= latest][:MOST_DUE]
    ]
    return [*drafts, *due]


def _found(window: MainWindow, hit: Hit) -> Found:
    group, leaf = SHOWN_BY[hit.kind]
    key = str(hit.id)
    if hit.kind == "paper":
        key = hit.title  # a paper goes by its number
    elif hit.kind == "visit":
        key = visit_id(window.desk.book, hit.id)
    return Found(group, hit.title, hit.subtitle, Place(leaf, key))


def _words(window: MainWindow, text: str) -> list[Found]:
    """Return the glossary's lines whose word begins with the text; it opens at them."""
    return [
        Found(_("words"), _(word.word), _(word.meaning), run=partial(window.show_word, word))
        for word in glossary.named(text)[:MOST_WORDS]
    ]


def _actions(window: MainWindow, text: str) -> list[Found]:
    words = text.lower().split()
    fitting = [c for c in window.commands if all(word in c.words.lower() for word in words)]
    return [Found(_("actions"), c.words, shown_keys(c), run=c.run) for c in fitting[:MOST_ACTIONS]]
