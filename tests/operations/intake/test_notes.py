from __future__ import annotations

from typing import Any

import pytest

from flueleaf.domain.problems import Refused
from flueleaf.operations.intake.notes import read_notes
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.tables import shipped

KNOWN = shipped().kinds["condensing boiler"].notes


def read(*notes: Any) -> dict[str, str]:
    root = Reader.of({"notes": list(notes)})
    found = read_notes(root, KNOWN)
    root.finish()
    return dict(found)


def test_without_notes_there_are_none() -> None:
    root = Reader.of({})
    assert read_notes(root, KNOWN) == {}
    root.finish()


def test_notes_keep_their_text_and_their_order() -> None:
    found = read(
        {"key": "parts", "text": " seal kit 40-118 "},
        {"key": "flow_c", "text": "60.0"},
        {"key": "filter", "text": "cleaned"},
        {"key": "inhibitor_date", "text": "2026-11-26"},
    )
    assert list(found.items()) == [
        ("parts", "seal kit 40-118"),
        ("flow_c", "60.0"),
        ("filter", "cleaned"),
        ("inhibitor_date", "2026-11-26"),
    ]


@pytest.mark.parametrize(
    ("notes", "where", "accepted"),
    [
        ([{"key": "flow", "text": "60"}], "notes[0].key", "did you mean"),
        (
            [{"key": "chimney", "text": "flue blocks"}, {"key": "colour", "text": "x"}],
            "notes[1].key",
            "one of",
        ),
        ([{"key": "parts", "text": "a"}, {"key": "parts", "text": "a"}], "notes[1].key", "each note once"),
        ([{"key": "parts", "text": "x" * 501}], "notes[0].text", "at most 500"),
        ([{"key": "parts", "text": " "}], "notes[0].text", "not blank"),
        ([{"key": "parts"}], "notes[0].text", "at most 500"),
        ([{"key": "flow_c", "text": "121"}], "notes[0].text", "from 0 to 120"),
        ([{"key": "filter", "text": "gone"}], "notes[0].text", "fitted today"),
        ([{"key": "parts", "text": "a", "unit": "m"}], "notes[0].unit", ""),
        (["as found"], "notes", "a list"),
    ],
)
def test_what_is_refused_is_named(notes: list[Any], where: str, accepted: str) -> None:
    with pytest.raises(Refused) as refusal:
        read(*notes)
    (fault,) = refusal.value.faults
    assert fault.where == where
    assert accepted in fault.accepted


def test_of_a_kind_not_known_any_key_is_read() -> None:
    root = Reader.of({"notes": [{"key": "anything", "text": "a"}]})
    assert read_notes(root, ()) == {"anything": "a"}
