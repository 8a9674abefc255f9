"""What was wrong with an input: where, what stood there, what would be accepted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from flueleaf.domain.words import lines, said

LONGEST_SHOWN = 80


@dataclass(frozen=True, slots=True)
class Fault:
    """One refused value.

    Attributes:
        where: path of the field, as in ``works[0].slips[1].co_ppm``.
        value: what stood there, as typed ("" when missing).
        accepted: what would be accepted, as a sentence fragment.
    """

    where: str
    value: str
    accepted: str

    @property
    def missing(self) -> bool:
        """Whether nothing stood there: no value, or an empty list or object."""
        return self.value in ("", "[]", "{}")

    @property
    def text(self) -> str:
        """The refusal as a sentence."""
        shown, where, accepted = _short(self.value), _on_one_line(_short(self.where)), self.accepted
        if not shown:
            return said("{where}: missing; accepted: {accepted}", where=where, accepted=accepted)
        return said(
            "{where}: “{value}” is not accepted; accepted: {accepted}",
            where=where,
            value=_on_one_line(shown),
            accepted=accepted,
        )

    def __str__(self) -> str:
        return str(self.text)


def _short(text: str) -> str:
    return f"{text[:40]}…{text[-39:]}" if len(text) > LONGEST_SHOWN else text


def _on_one_line(text: str) -> str:
    """Return a text with line ends, control characters and halves of surrogate pairs written out."""
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


class UserProblem(Exception):
    """Something the person can put right; its text is shown as written."""

    @property
    def text(self) -> str:
        """The text, which the window may say in another language: ``str`` of a problem is plain English."""
        first = self.args[0] if len(self.args) == 1 else None
        return first if isinstance(first, str) else str(self)


class Refused(UserProblem):
    """An input that was not taken; nothing was written."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(lines(fault.text for fault in self.faults))


class BookProblem(UserProblem):
    """A book that cannot be used: missing, locked, newer, unreadable."""
