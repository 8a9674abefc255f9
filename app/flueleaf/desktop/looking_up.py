"""What the finder lists: for a text, things of the book and actions; for none, tonight and the way back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.finder_table_model import Found
from flueleaf.desktop.key_sheet_dialog import shown_keys
from flueleaf.desktop.leaves.lists import due_place
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.operations.finding import Hit, find, visit_id
from flueleaf.operations.pages import tonight

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow

MOST_FOUND = 40
MOST_ACTIONS = 5
MOST_DUE = 6
# Kind of a thing found: the head it is listed under, and the leaf that shows it.
SHOWN_BY = {
    "premises": ("premises", "premises"),
    "customer": ("customers", "customer_form"),
    "appliance": ("appliances", "appliance"),
    "instrument": ("analysers", "instrument_form"),
    "paper": ("papers", "paper"),
    "visit": ("visits", "visit"),
}


def look_up(window: MainWindow, text: str) -> Sequence[Found]:
    """Return what the finder lists for a text."""
    if not text:
        lately = [Found("lately", title, place=place) for place, title in window.lately]
        return [Found("", "Tonight", place=TONIGHT), *lately, *_coming(window)]
    hits = [_found(window, hit) for hit in find(window.desk.book, text, MOST_FOUND) if hit.kind in SHOWN_BY]
    return [*hits, *_actions(window, text)]


def _coming(window: MainWindow) -> list[Found]:
    """Return what waits, so that the next thing is one key away on every leaf."""
    page = tonight(window.desk.book, window.desk.today())
    drafts = [Found("unfinished", row.title, place=Place(row.kind, row.key)) for row in page.drafts]
    due = [
        Found("due next", row.what, f"{long_date(row.date)} · {row.premises}", due_place(row))
        for row in page.due[:MOST_DUE]
    ]
    return [*drafts[:MOST_DUE], *due]


def _found(window: MainWindow, hit: Hit) -> Found:
    group, leaf = SHOWN_BY[hit.kind]
    key = str(hit.id)
    if hit.kind == "paper":
        key = hit.title  # a paper goes by its number
    elif hit.kind == "visit":
        key = visit_id(window.desk.book, hit.id)
    return Found(group, hit.title, hit.subtitle, Place(leaf, key))


def _actions(window: MainWindow, text: str) -> list[Found]:
    words = text.lower().split()
    fitting = [c for c in window.commands if all(word in c.words.lower() for word in words)]
    return [Found("actions", c.words, shown_keys(c), run=c.run) for c in fitting[:MOST_ACTIONS]]
