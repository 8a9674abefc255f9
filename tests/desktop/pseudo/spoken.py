"""The texts that a widget shows or tells a screen reader, and which of them nobody translates."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from babel import Locale
from pseudo import ITS_DAYS
from PySide6.QtCore import QAbstractListModel, QModelIndex, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QLabel,
    QLineEdit,
    QMenu,
    QPlainTextEdit,
    QTextEdit,
    QWidget,
)

from flueleaf.domain.records.register import FLUES, POINTS
from flueleaf.domain.records.visits import OUTCOMES, PURPOSES, SIGNATURES
from flueleaf.operations import tables
from flueleaf.storage.tables.schedule import due_rules

if TYPE_CHECKING:
    from flueleaf.storage.book import Book

_SPOKEN = re.compile(r"⟦[^⟦⟧]*⟧")
_ACCENTED = re.compile(r"[⟦⟧åéîøüýÅÉÎØÜçñšž]")
_VOWEL = re.compile(r"[aeiouAEIOU]")
_PARTS = re.compile(r"[\n·:;,()|–—/+“”•=<>≤≥]| - ")
# Numbers with what stands behind them, dates, times, numbers of papers, keys of the keyboard.
_DAYS = Locale.parse(ITS_DAYS)
_MONTHS = _DAYS.months["format"]
_MONTH = "|".join((*_MONTHS["wide"].values(), *_MONTHS["abbreviated"].values()))
_WEEKDAY = "|".join(_DAYS.days["format"]["abbreviated"].values())
_NUMBERS = re.compile(
    r"[-−±£]?£?[\d.,]+ ?(%|ppm|°C|kW|mbar|m³|ft³|h|min|MJ|m|°|×)?"
    rf"|{_WEEKDAY}|\d{{1,2}} ({_MONTH})( \d{{4}})?|({_MONTH})( \d{{4}})?"
    r"|\d{4}-\d\d-\d\d|\d\d:\d\d"
    r"|[A-Z]{1,4}-\d{4}-\d{4}"
    r"|F\d+|[A-Za-z]"
)
_DATES = re.compile(rf"\d{{1,2}} ({_MONTH}) \d{{4}}")
_UNITS = frozenset({"%", "ppm", "°C", "kW", "mbar", "s", "MJ", "m³", "m3", "ft³", "ft3"})
_NAMES = frozenset({"flueleaf", "co", "co2", "o2", "no", "vat"})
# What the program writes into the book in English: the window says it in its own language.
WRITTEN_HERE = {
    *("due_item.reason", "doubt", "paper_body", "slip.computed", "work.result"),
    *("judged.rest", "judged.sense", "judged.source", "judged.verdict"),
}


@dataclass(frozen=True)
class Text:
    """A text with the widget it stands in and where it stands there."""

    widget: str
    where: str
    words: str


@dataclass(frozen=True)
class Data:
    """What is shown as it was typed: names out of the book. The terms it keeps are translated."""

    known: frozenset[str]

    @classmethod
    def of(cls, book: Book) -> Data:
        """Return every text the book holds and the names of the shipped tables."""
        con = book.con
        found: set[str] = set()
        tables_there = [row[0] for row in con.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        for table in tables_there:
            for row in con.execute(f'SELECT * FROM "{table}"'):
                of_owner = set(row.keys()) - {
                    one.partition(".")[2] for one in WRITTEN_HERE if one.startswith(f"{table}.")
                }
                typed = [row[column] for column in of_owner if table not in WRITTEN_HERE]
                found |= {part for value in typed for text in _kept(value) for part in _split(text)}
        shipped = tables.shipped()
        terms = (
            *shipped.kinds,
            *shipped.fuels,
            *due_rules(),
            *FLUES,
            *POINTS,
            *PURPOSES,
            *OUTCOMES,
            *SIGNATURES,
        )
        laws = [rule.source for rule in due_rules().values()]
        sources = [text for rule in shipped.rules for text in (rule.source, rule.edition, rule.title)]
        found |= {part for name in (*laws, *sources) for part in _split(name)}
        return cls((frozenset(found) - {term.casefold() for term in terms}) | _NAMES)

    @classmethod
    def of_texts(cls, *texts: str) -> Data:
        """Return texts that stand as they are given."""
        return cls(frozenset(part for text in texts for part in _split(text)))

    def holds(self, part: str) -> bool:
        """Tell whether a part of a text is data, or several data one after the other, as an address is."""
        if part.casefold() in self.known or part in _UNITS or _NUMBERS.fullmatch(part):
            return True
        blanks = [at for at, letter in enumerate(part) if letter == " "]
        return any(self.holds(part[:at]) and self.holds(part[at + 1 :]) for at in blanks)


def not_translated(texts: Iterable[Text], data: Data) -> list[Text]:
    """Return the texts that hold anything besides translated sentences and data."""
    return [text for text in texts if not all(map(data.holds, _plain(text.words)))]


def texts_of(root: QWidget) -> list[Text]:
    """Return the texts of a widget and of all that is visible in it, menus included."""
    widgets = [root, *(w for w in root.findChildren(QWidget) if w.isVisible() or isinstance(w, QMenu))]
    found = [text for widget in widgets for text in _of(widget)]
    return list(dict.fromkeys(text for text in found if text.words.strip()))


def _kept(value: object) -> Iterable[str]:
    """Give the texts of a cell of the book, those of a document one by one."""
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for item in value:
            yield from _kept(item)
    elif isinstance(value, str):
        try:
            document = json.loads(value)
        except ValueError:
            document = None
        if isinstance(document, dict | list):
            yield from _kept(document)
        else:
            yield value


def _of(widget: QWidget) -> Iterable[Text]:
    said: list[tuple[str, str]] = [
        ("accessible name", widget.accessibleName()),
        ("accessible description", widget.accessibleDescription()),
        ("tool tip", widget.toolTip()),
        ("status tip", widget.statusTip()),
        ("what is this", widget.whatsThis()),
    ]
    if widget.isWindow():
        said.append(("title", widget.windowTitle()))
    if isinstance(widget, QLabel | QAbstractButton):
        said.append(("text", widget.text()))
    if isinstance(widget, QLineEdit | QPlainTextEdit):
        said.append(("placeholder", widget.placeholderText()))
    if isinstance(widget, QMenu):
        said.append(("menu", widget.title()))
    if isinstance(widget, QAbstractItemView):
        said += [("cell", cell) for cell in _cells(widget)]
    if (figure := getattr(widget, "figure", None)) is not None:
        said += [("drawn", text) for text in _drawn(figure)]
    if isinstance(widget, QLineEdit | QPlainTextEdit | QTextEdit):
        said += [("own menu", text) for text in _own_menu(widget)]
    for action in widget.actions():
        said += [("entry", action.text()), ("tip of an entry", action.toolTip())]
    name = f"{type(widget).__name__} {widget.objectName()}"
    return [Text(name, where, words) for where, words in said]


def _own_menu(field: QLineEdit | QPlainTextEdit | QTextEdit) -> Iterable[str]:
    """Give the entries of the menu that Qt makes for a field, each with its key."""
    menu = field.createStandardContextMenu()
    if menu is not None:
        yield from (part for action in menu.actions() for part in action.text().split("\t"))
        menu.deleteLater()


def _drawn(figure: Any) -> Iterable[str]:
    """Give the texts that stand in a picture of matplotlib's."""
    for axes in figure.axes:
        drawn = (*axes.texts, axes.title, axes.xaxis.label, axes.yaxis.label)
        ticks = (*axes.get_xticklabels(), *axes.get_yticklabels())
        yield from (text.get_text() for text in (*drawn, *ticks) if text.get_visible())


def named_by_a_title(root: QWidget) -> list[str]:
    """Return the object names that are made of translated words: a name is the same in every language."""
    widgets = [root, *root.findChildren(QWidget)]
    return sorted({w.objectName() for w in widgets if _ACCENTED.search(w.objectName())})


def _cells(view: QAbstractItemView) -> Iterable[str]:
    model = view.model()
    if model is None:
        return
    rows = model.rowCount(QModelIndex())
    columns = 1 if isinstance(model, QAbstractListModel) else model.columnCount(QModelIndex())
    roles = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole)
    values: list[Any] = [
        model.headerData(at, Qt.Orientation.Horizontal)
        for at in range(columns)
        if hasattr(view, "horizontalHeader") and view.horizontalHeader().isVisible()
    ]
    values += [
        model.index(row, column).data(role)
        for row in range(rows)
        for column in range(columns)
        for role in roles
    ]
    yield from (value for value in values if isinstance(value, str))


def _outside(text: str) -> str:
    """Return what stands outside of translated sentences; one may stand within another."""
    before = ""
    while before != text:
        before, text = text, _SPOKEN.sub("\n", text)
    return text


def _plain(text: str) -> list[str]:
    """Return the parts of a text in plain English: what stands outside of sentences, or in one as it came."""
    text = text.replace("\xa0", " ")
    outside = _split(_outside(text), fold=False)
    if not _SPOKEN.search(text):
        return outside
    words = re.split(r"(\s+|[⟦⟧]+)", _DATES.sub("\n", text))
    inside = "".join("\n" if _ACCENTED.search(word) else word for word in words)
    # What has no vowel may as well be a word of the pseudo language, in which vowels have accents.
    return [*outside, *(part for part in _split(inside, fold=False) if _VOWEL.search(part))]


def _split(text: str, *, fold: bool = True) -> list[str]:
    parts = [part.strip(" .…±’'\"[]{}✓→←×") for part in _PARTS.split(text)]
    return [part.casefold() if fold else part for part in parts if any(map(str.isalnum, part))]
