"""A careful reader of JSON documents that gathers every fault before anything is done.

Use: ``root = Reader.of(document)``, ask it for each key, then ``root.finish()``, which raises ``Refused``
naming all faults, unknown keys included. Until then a missing or refused value is stood in for by a
placeholder, so that reading can go on.
"""

from __future__ import annotations

import datetime as dt
import difflib
import json
import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any, TypeGuard, TypeVar

from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.quantities import QUANTITIES, parse
from flueleaf.domain.words import quoted, said
from flueleaf.operations.intake import json_form

T = TypeVar("T", bound=str)

MOST_DIGITS = 40
LONGEST_TEXT = 4000
EARLIEST = dt.date(1950, 1, 1)
LATEST = dt.date(2200, 1, 1)

_ISO_DATE = re.compile(r"\d{4}-\d{2}-\d{2}\Z", re.ASCII)
_ISO_TIME = re.compile(r"\d{2}:\d{2}\Z", re.ASCII)
_DECIMAL = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)\Z", re.ASCII)


def load_json(text: str, *, name: str = "input") -> Any:
    """Return a JSON document with every number as a Decimal of the digits written.

    Raises:
        Refused: no JSON, a key given twice, NaN or Infinity, nesting too deep.
    """

    try:
        document, faults = json_form.parse(text)
    except json.JSONDecodeError as error:
        spot = f"line {error.lineno}, column {error.colno}"
        raise Refused([Fault(f"{name}, {spot}", error.msg, said("a JSON document"))]) from None
    except RecursionError:
        raise Refused([Fault(name, "nested too deeply", said("the document of the contract"))]) from None
    if faults:
        raise Refused(faults)
    return document


def as_typed(value: object) -> str:
    """Return a refused value as a person may recognise it."""
    if isinstance(value, str):
        return value
    if isinstance(value, Decimal):
        return str(value)
    if value is None:
        return "null"
    if isinstance(value, list):
        return f"[{', '.join(_typed_inside(item) for item in value)}]"
    if isinstance(value, Mapping):
        return (
            f"{{{', '.join(f'{_typed_inside(key)}: {_typed_inside(item)}' for key, item in value.items())}}}"
        )
    return json.dumps(value, default=str, ensure_ascii=False)


def _typed_inside(value: object) -> str:
    """Return a value within a list or an object: a text in its quotes, a number with its digits."""
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else as_typed(value)


class Reader:
    """One JSON object being read, with its path and the faults found so far."""

    __slots__ = ("_asked", "_children", "_faults", "_typed", "_value", "where")

    def __init__(self, value: Mapping[str, Any], where: str, faults: list[Fault], *, typed: bool) -> None:
        self._value = value
        self.where = where
        self._faults = faults
        self._asked: set[str] = set()
        self._children: list[Reader] = []
        self._typed = typed

    @classmethod
    def of(cls, document: object, *, typed: bool = False) -> Reader:
        """Start reading a document; ``typed`` lets a number be followed by its own unit, as a field does."""
        if not isinstance(document, Mapping):
            raise Refused([Fault("document", as_typed(document)[:60], said("a JSON object"))])
        return cls(document, "", [], typed=typed)

    def path(self, key: str) -> str:
        """Return the full path of a key of this object."""
        return f"{self.where}.{key}" if self.where else key

    def fault(self, key: str, accepted: str) -> None:
        """Note that the value of a key is not accepted."""
        value = self._value.get(key)
        self._faults.append(
            Fault(self.path(key), "" if key not in self._value else as_typed(value), accepted)
        )

    def note(self, fault: Fault) -> None:
        """Note a fault found otherwise."""
        self._faults.append(fault)

    @property
    def faults(self) -> tuple[Fault, ...]:
        """What was found so far, over the whole document."""
        return tuple(self._faults)

    def has(self, key: str) -> bool:
        """Tell whether a key is there and not null (an empty text counts as there)."""
        return self._value.get(key) is not None

    def names(self) -> tuple[str, ...]:
        """Return the keys present; asking for them does not make them known."""
        return tuple(self._value)

    def raw(self, key: str) -> Any:
        """Return a value as it stands; the caller checks it."""
        self._asked.add(key)
        return self._value.get(key)

    def text(
        self, key: str, *, required: bool = False, longest: int = LONGEST_TEXT, default: str = ""
    ) -> str:
        """Return a text, trimmed; a required one must not be blank."""
        value = self.raw(key)
        if value is None and not required:
            if key in self._value:
                self.fault(key, said("a text"))
            return default
        if not isinstance(value, str) or len(value) > longest or _unprintable(value):
            self.fault(key, said("a text of at most {longest} characters", longest=longest))
            return default
        if required and not value.strip():
            self.fault(key, said("a text that is not blank"))
        return value.strip()

    def texts(self, key: str, *, most: int = 8, required: bool = False) -> tuple[str, ...]:
        """Return a list of texts, blank ones left out."""
        value = self.raw(key)
        if value is None and not required:
            return ()
        if (
            not isinstance(value, list)
            or len(value) > most
            or not all(
                isinstance(item, str) and len(item) <= LONGEST_TEXT and not _unprintable(item)
                for item in value
            )
        ):
            self.fault(key, said("a list of at most {most} texts", most=most))
            return ()
        found = tuple(item.strip() for item in value if item.strip())
        if required and not found:
            self.fault(key, said("a list with at least one text"))
        return found

    def choice(self, key: str, options: Sequence[T], *, required: bool = True, default: T | None = None) -> T:
        """Return one of the options; the default (or the first) stands in where it may be absent."""
        value = self.raw(key)
        stand_in = options[0] if default is None else default
        if value is None and key not in self._value and not required:
            return stand_in
        for option in options:
            if value == option:
                return option
        near = difflib.get_close_matches(value, options, 1) if isinstance(value, str) else []
        self.fault(key, _one_of(quoted(options), near))
        return stand_in

    def flag(self, key: str, *, default: bool = False) -> bool:
        """Return true or false."""
        value = self.raw(key)
        if key not in self._value:
            return default
        if not isinstance(value, bool):
            self.fault(key, said("true or false"))
            return default
        return value

    def decimal(
        self,
        key: str,
        *,
        low: Decimal | int | str,
        high: Decimal | int | str,
        required: bool = False,
        decimals: int | None = None,
    ) -> Decimal | None:
        """Return a number given as JSON number or decimal string, within both ends; None where absent."""
        self._asked.add(key)
        if key not in self._value:
            if not required:
                return None
            low, high = Decimal(low), Decimal(high)
            self.fault(key, _number_accepted(low, high, decimals))
            return low
        value = self._value[key]
        number = as_decimal(value)
        if isinstance(low, str) or isinstance(high, str):
            low, high = Decimal(low), Decimal(high)
        if number is None or not low <= number <= high or _too_fine(number, decimals):
            low, high = Decimal(low), Decimal(high)
            accepted = _number_accepted(low, high, decimals)
            if number is None and isinstance(value, str) and _DECIMAL.match(value.replace(",", ".")):
                meant = value.replace(",", ".")
                accepted = said("{accepted} (did you mean {meant}?)", accepted=accepted, meant=meant)
            self.fault(key, accepted)
            return low if required else None
        return number

    def quantity(self, key: str, *, quantity: str | None = None) -> Decimal | None:
        """Return a measured quantity within what an instrument can show; None where absent."""
        value = self.raw(key)
        if key not in self._value:
            return None
        kind = QUANTITIES[quantity or key]
        if isinstance(value, str) and (self._typed or _DECIMAL.match(value.strip()) or "," in value):
            found = parse(kind, value, self.path(key))
            if isinstance(found, Fault):
                self._faults.append(found)
                return None
            return found
        number = as_decimal(value)
        if number is None or not kind.low <= number <= kind.high:
            self.fault(key, kind.accepted)
            return None
        return number

    def date(self, key: str, *, required: bool = False, latest: dt.date | None = None) -> dt.date | None:
        """Return an ISO date; ``latest`` refuses dates after it."""
        value = self.raw(key)
        if key not in self._value and not required:
            return None
        last = latest or LATEST
        found = _iso_date(value)
        if found is None or not EARLIEST <= found <= last:
            accepted = said("a date as YYYY-MM-DD, {earliest} to {latest}", earliest=EARLIEST, latest=last)
            if latest:
                accepted = said("{date}, not in the future", date=accepted)
            self.fault(key, accepted)
            return EARLIEST if required else None
        return found

    def time(self, key: str) -> dt.time | None:
        """Return a time of day as HH:MM."""
        value = self.raw(key)
        if key not in self._value:
            return None
        if isinstance(value, str) and _ISO_TIME.match(value):
            try:
                return dt.time.fromisoformat(value)
            except ValueError:
                pass
        self.fault(key, said("a time as HH:MM, 00:00 to 23:59"))
        return None

    def moment(self, key: str) -> dt.datetime | None:
        """Return an instant with its offset, as 2026-11-20T20:15:00+00:00."""
        value = self.raw(key)
        if key not in self._value:
            return None
        try:
            found = dt.datetime.fromisoformat(value)
        except (TypeError, ValueError):
            found = None
        if found is None or found.tzinfo is None or not EARLIEST <= found.date() <= LATEST:
            self.fault(key, said("an instant with its offset, as 2026-11-20T20:15:00+00:00"))
            return None
        return found

    def child(self, key: str, *, required: bool = True) -> Reader:
        """Return a reader of a nested object (an empty one where it is absent or no object)."""
        value = self.raw(key)
        if not _is_object(value):
            if required or key in self._value:
                self.fault(key, said("a JSON object"))
                # Said once: what would be missing inside it is not said as well.
                return Reader({}, self.path(key), [], typed=self._typed)
            value = {}
        return self._adopt(value, self.path(key))

    def items(self, key: str, *, required: bool = False, most: int = 500) -> list[Reader]:
        """Return readers of the objects of a list."""
        value = self.raw(key)
        if key not in self._value and not required:
            return []
        if not isinstance(value, list) or len(value) > most or not all(map(_is_object, value)):
            self.fault(key, said("a list of at most {most} JSON objects", most=most))
            return []
        if required and not value:
            self.fault(key, said("a list with at least one entry"))
        return [self._adopt(item, f"{self.path(key)}[{n}]") for n, item in enumerate(value)]

    def known(self, keys: Iterable[str]) -> None:
        """Declare keys known that are read by other means."""
        self._asked.update(keys)

    def finish(self) -> None:
        """Refuse the document if anything in it was not accepted.

        Raises:
            Refused: with every fault, keys nobody asked for included.
        """
        self._note_unknown()
        if self._faults:
            raise Refused(self._faults)

    def _note_unknown(self) -> None:
        for key in self._value:
            if key not in self._asked:
                near = difflib.get_close_matches(key, self._asked, 1)
                accepted = _one_of(", ".join(sorted(self._asked)), near)
                self._faults.append(Fault(self.path(key), "unknown key", accepted))
        for child in self._children:
            child._note_unknown()

    def _adopt(self, value: Mapping[str, Any], where: str) -> Reader:
        reader = Reader(value, where, self._faults, typed=self._typed)
        self._children.append(reader)
        return reader


def _is_object(value: object) -> TypeGuard[Mapping[str, Any]]:
    """Tell whether a value is a JSON object; a plain dict is known at a glance, which saves time."""
    return type(value) is dict or isinstance(value, Mapping)


def as_decimal(value: object) -> Decimal | None:
    """Return a JSON number or decimal string as a Decimal of its digits, or None."""
    if isinstance(value, Decimal):
        number = value
    elif isinstance(value, str) and len(value) <= MOST_DIGITS and _DECIMAL.match(value.strip()):
        number = Decimal(value.strip())
    elif isinstance(value, int) and not isinstance(value, bool):
        number = Decimal(value)
    else:
        return None
    if not number.is_finite():
        return None
    text = str(number)
    if "E" not in text and len(text) <= MOST_DIGITS:
        return number
    if len(number.as_tuple().digits) > MOST_DIGITS or abs(number.adjusted()) > MOST_DIGITS:
        return None
    return number if "E" not in text else Decimal(f"{number:f}")


def _too_fine(number: Decimal, decimals: int | None) -> bool:
    return decimals is not None and number != round(number, decimals)


def _iso_date(value: object) -> dt.date | None:
    if not isinstance(value, str) or not _ISO_DATE.match(value):
        return None
    try:
        return dt.date.fromisoformat(value)
    except ValueError:
        return None


def _unprintable(text: str) -> bool:
    """Tell whether a text holds control characters or half of a surrogate pair, which no paper can carry."""
    if text.isprintable():
        return False
    return any((ord(c) < 32 and c not in "\n\t") or 0xD800 <= ord(c) <= 0xDFFF or ord(c) == 127 for c in text)


def _one_of(names: str, near: Sequence[object]) -> str:
    if near:
        return said("one of {names} (did you mean “{near}”?)", names=names, near=near[0])
    return said("one of {names}", names=names)


def _number_accepted(low: Decimal, high: Decimal, decimals: int | None) -> str:
    if decimals is None:
        return said("a number from {low} to {high:,}, with a point for decimals", low=low, high=high)
    return said(
        "a number from {low} to {high:,} with at most {decimals} decimals, with a point for decimals",
        low=low,
        high=high,
        decimals=decimals,
    )
