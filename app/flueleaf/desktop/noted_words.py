"""What was written down at an appliance, as it is read on screen: each with its unit, group by group."""

from __future__ import annotations

from collections.abc import Mapping

from flueleaf.desktop.visit.form import date_text
from flueleaf.desktop.words import _
from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.judging.noted import Note


def shown(note: Note, text: str) -> str:
    """Return a note's text with its unit, in the window's language."""
    if note.value == "choice":
        return _(text)
    if note.value == "date":
        return date_text(text)
    return f"{text}\N{NO-BREAK SPACE}{note.unit}" if note.unit else text


def noted_line(notes: Mapping[Note, str]) -> str:
    """Return some notes on one line."""
    return " · ".join(f"{_(note.label)}: {shown(note, text)}" for note, text in notes.items())


def noted_groups(kind: Kind, texts: Mapping[str, str], *, built_in: bool = False) -> dict[str, str]:
    """Return a line for each group that has anything written down, in the kind's order.

    Args:
        kind: of the appliance.
        texts: by key.
        built_in: only what stands until it is written anew, as the length of a flue.
    """
    groups: dict[str, dict[Note, str]] = {}
    for note in kind.notes:
        if (text := texts.get(note.key)) and (note.keeps or not built_in):
            groups.setdefault(_(note.group), {})[note] = text
    return {group: noted_line(notes) for group, notes in groups.items()}
