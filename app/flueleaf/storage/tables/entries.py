"""Strict reading of one TOML table: every key asked for by type, a missing or unknown one refused."""

from __future__ import annotations

import datetime as dt
import tomllib
from collections.abc import Mapping, Sequence
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any, TypeVar

from flueleaf.domain.money.rules import Edition

T = TypeVar("T")
S = TypeVar("S", bound=str)


class Entries:
    """The keys of a TOML table, each to be asked for once; ``done`` refuses what was not asked for."""

    def __init__(self, values: Mapping[str, Any], where: str) -> None:
        self._values = dict(values)
        self._where = where

    @classmethod
    def of_file(cls, path: Path, table: str) -> Entries:
        """Read a rule file and check that it is the table wanted.

        Raises:
            ValueError: no TOML, or another table.
        """
        try:
            entries = cls(tomllib.loads(path.read_text(encoding="utf-8")), path.name)
        except ValueError as fault:
            raise ValueError(f"{path.name}: {fault}") from fault
        if (found := entries.text("table")) != table:
            raise ValueError(f"{path.name}: table {found!r} stands where {table!r} belongs")
        return entries

    def edition(self) -> Edition:
        """Take the keys that say where the table comes from and when it holds."""
        return Edition(
            edition=self.text("edition"),
            source=self.text("source"),
            valid_from=self.date("valid_from"),
            valid_to=self.date("valid_to") if "valid_to" in self._values else None,
            checked=self.text("checked"),
        )

    def text(self, key: str) -> str:
        """Take a text that is not blank."""
        value = self._take(key, str)
        if not value.strip():
            raise ValueError(f"{self._where}: {key}: blank")
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Take a list of texts, none of them blank; absent means none."""
        items = self._take(key, list) if key in self._values else []
        for item in items:
            if not isinstance(item, str) or not item.strip():
                raise ValueError(f"{self._where}: {key}: {item!r} is no text")
        return tuple(items)

    def choice(self, key: str, accepted: Sequence[S]) -> S:
        """Take one of the texts accepted."""
        return self._accepted(key, self.text(key), accepted)

    def choices(self, key: str, accepted: Sequence[S], default: Sequence[S] | None = None) -> tuple[S, ...]:
        """Take at least one of the texts accepted; absent means the default, where there is one."""
        if default is not None and key not in self._values:
            return tuple(default)
        found = tuple(self._accepted(key, item, accepted) for item in self.texts(key))
        if not found:
            raise ValueError(f"{self._where}: {key}: missing; accepted: {', '.join(accepted)}")
        return found

    def whole(self, key: str, default: int | None = None) -> int:
        """Take a whole number, or a default where it is absent."""
        if default is not None and key not in self._values:
            return default
        return self._take(key, int)

    def flag(self, key: str) -> bool:
        """Take true or false; absent means false."""
        return self._take(key, bool) if key in self._values else False

    def date(self, key: str) -> dt.date:
        """Take a date."""
        return self._take(key, dt.date)

    def decimal(self, key: str) -> Decimal:
        """Take a number written as a text, so that its digits stay."""
        return self._as_decimal(key, self.text(key))

    def decimals(self, key: str) -> tuple[Decimal, ...]:
        """Take a list of numbers written as texts."""
        return tuple(self._as_decimal(key, item) for item in self._take(key, list))

    def month_day(self, key: str) -> tuple[int, int]:
        """Take a day of the year written ``MM-DD``."""
        return self._as_month_day(key, self.text(key))

    def month_days(self, key: str) -> tuple[tuple[int, int], ...]:
        """Take a list of days of the year written ``MM-DD``."""
        return tuple(self._as_month_day(key, item) for item in self._take(key, list))

    def has(self, key: str) -> bool:
        """Tell whether a key is still to be taken."""
        return key in self._values

    def mapping(self, key: str) -> Mapping[str, Any]:
        """Take a table as it stands."""
        return self._take(key, dict)

    def inner(self, key: str) -> Entries:
        """Take a table within the table, to be read as strictly."""
        return Entries(self._take(key, dict), f"{self._where}: {key}")

    def rows(self, key: str) -> list[Entries]:
        """Take an array of tables."""
        rows = self._take(key, list)
        return [Entries(row, f"{self._where}: {key}[{n}]") for n, row in enumerate(rows)]

    def done(self) -> None:
        """Refuse keys that nobody asked for."""
        if self._values:
            raise ValueError(f"{self._where}: unknown keys {', '.join(sorted(self._values))}")

    def _take(self, key: str, kind: type[T]) -> T:
        if key not in self._values:
            raise ValueError(f"{self._where}: {key}: missing")
        value = self._values.pop(key)
        if type(value) is not kind:
            raise ValueError(f"{self._where}: {key}: {value!r} is no {kind.__name__}")
        return value

    def _accepted(self, key: str, value: str, accepted: Sequence[S]) -> S:
        for known in accepted:
            if known == value:
                return known
        raise ValueError(f"{self._where}: {key}: {value!r}; accepted: {', '.join(accepted)}")

    def _as_decimal(self, key: str, text: object) -> Decimal:
        try:
            number = Decimal(text) if isinstance(text, str) else Decimal("NaN")
        except InvalidOperation:
            number = Decimal("NaN")
        if not number.is_finite():
            raise ValueError(f"{self._where}: {key}: {text!r} is no number written as a text")
        return number

    def _as_month_day(self, key: str, text: object) -> tuple[int, int]:
        try:
            day = dt.datetime.strptime(f"2000-{text}", "%Y-%m-%d")
        except ValueError:
            raise ValueError(f"{self._where}: {key}: {text!r} is no day written MM-DD") from None
        return day.month, day.day
