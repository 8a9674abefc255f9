"""Fields bound to the keys of one object of the visit's document.

The document of a visit has the shape of the headless contract; typed numbers stay the text that was typed,
what is blank is left out. A form fills its fields from such an object and reads it back; keys that it has no
field for are kept as they came.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from typing import Any, TypeVar

from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.dates import field_date, read_date
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.number_field import NumberField

F = TypeVar("F", bound=Field)

ToValue = Callable[[Any], Any]
ToText = Callable[[Any], str]


@dataclass(frozen=True, slots=True)
class Entry:
    """One field and the dotted path of its value inside the object."""

    path: str
    field: Field
    to_value: ToValue
    to_text: ToText


class Form:
    """The fields of one object, in the order they are typed."""

    def __init__(self) -> None:
        self._entries: list[Entry] = []
        self._rest: dict[str, Any] = {}

    def complete(self) -> None:
        """Hand over to fields added late what the form has kept for them."""
        self.fill(self._rest)

    @property
    def fields(self) -> tuple[Field, ...]:
        """The fields, in order."""
        return tuple(entry.field for entry in self._entries)

    @property
    def by_path(self) -> Mapping[str, Field]:
        """The fields by the path of their value, in order."""
        return {entry.path: entry.field for entry in self._entries}

    def add(self, path: str, field: F, to_value: ToValue | None = None, to_text: ToText | None = None) -> F:
        """Bind a field.

        Args:
            path: dotted keys, as ``rated_input.max_kw``.
            field: the field.
            to_value: makes the document's value from the field; None: the text as typed.
            to_text: makes the field's text from the document's value.
        """
        self._entries.append(Entry(path, field, to_value or typed_text, to_text or text_of))
        return field

    def fill(self, piece: Mapping[str, Any]) -> None:
        """Show an object; what it does not hold is blank."""
        self._rest = {key: digits(value) for key, value in piece.items()}
        for entry in self._entries:
            value = _taken(self._rest, entry.path.split("."))
            text = "" if value is None else entry.to_text(value)
            if text != _shown(entry):  # what says so already keeps its cursor
                entry.field.set_text(text)

    def read(self) -> dict[str, Any]:
        """Return the object as typed."""
        piece: dict[str, Any] = digits(self._rest)  # a copy: it goes into documents that are changed
        for entry in self._entries:
            if entry.field.text().strip():
                _put(piece, entry.path.split("."), entry.to_value(entry.field))
        return piece

    def locate(self, path: str) -> Field | None:
        """Return the field of a path, or the first one of what the path names or lies in."""
        for fits in (path.__eq__, partial(_inside, path), path.startswith):
            for entry in self._entries:
                if fits(entry.path) is True:
                    return entry.field
        return None


def digits(value: Any) -> Any:
    """Return a copy of a value with its numbers as text, as they would be typed."""
    if isinstance(value, Mapping):
        return {key: digits(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [digits(one) for one in value]
    return f"{value:f}" if isinstance(value, Decimal) else value


def _shown(entry: Entry) -> str:
    """Return how the value of a field would be filled in, which may be shorter than how it was typed."""
    if not entry.field.text().strip():
        return entry.field.text()
    return entry.to_text(entry.to_value(entry.field))


def _inside(path: str, own: str) -> bool:
    return own.startswith(f"{path}.")


def typed_text(field: Field) -> str:
    """Return the text as typed, without blanks around it."""
    return field.text().strip()


def typed_number(field: NumberField) -> str:
    """Return the digits typed where the number is accepted, without its unit; else the text as it stands."""
    value = field.value()
    return typed_text(field) if value is None else f"{value:f}"


def typed_date(today: Callable[[], dt.date]) -> ToValue:
    """Return the way from a date's text to ISO 8601; a text that is no date stays as it was typed."""

    def value(field: DateField) -> str:
        date = read_date(field.text(), today())
        return typed_text(field) if date is None else date.isoformat()

    return value


def text_of(value: Any) -> str:
    """Return a value of the document as text."""
    if isinstance(value, Decimal):
        return f"{value:f}"
    return str(value)


def date_text(value: Any) -> str:
    """Return a date of the document as it is shown; a text that is none stays as it was typed."""
    try:
        return field_date(dt.date.fromisoformat(str(value)))
    except ValueError:
        return text_of(value)


def typed_lines(field: Field) -> list[str]:
    """Return the parts of an address, typed with commas between them."""
    return [part.strip() for part in field.text().split(",") if part.strip()]


def lines_text(value: Any) -> str:
    """Return the lines of an address on one line."""
    return ", ".join(value) if isinstance(value, list) else text_of(value)


def _taken(piece: dict[str, Any], keys: list[str]) -> Any:
    """Take a value out; objects left empty by it go too."""
    if len(keys) == 1:
        return piece.pop(keys[0], None)
    inner = piece.get(keys[0])
    if not isinstance(inner, dict):
        return None
    value = _taken(inner, keys[1:])
    if not inner:
        piece.pop(keys[0])
    return value


def _put(piece: dict[str, Any], keys: list[str], value: Any) -> None:
    for key in keys[:-1]:
        piece = piece.setdefault(key, {})
    piece[keys[-1]] = value
