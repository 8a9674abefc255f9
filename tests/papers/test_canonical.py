from __future__ import annotations

import dataclasses
import datetime as dt
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.papers.canonical import from_json, to_json
from flueleaf.papers.facts import Party
from flueleaf.papers.record.facts import Due, Instrument, Judged, Row, Slip
from flueleaf.papers.registry import Kind, all_kinds


@pytest.mark.parametrize("kind", all_kinds().values(), ids=lambda kind: kind.key)
def test_samples_come_back_whole(kind: Kind) -> None:
    facts = kind.sample()
    text = to_json(facts)
    assert from_json(kind.facts_type, text) == facts
    assert to_json(from_json(kind.facts_type, text)) == text


def test_form_is_sorted_without_spaces_and_without_defaults() -> None:
    assert to_json(Row("gas rate", "2.41", "m³/h", derived=True)) == (
        '{"derived":true,"label":"gas rate","unit":"m³/h","value":"2.41"}'
    )
    assert (
        to_json(Due(dt.date(2027, 1, 2), "yearly service")) == '{"date":"2027-01-02","rule":"yearly service"}'
    )


def test_a_default_of_another_type_is_written() -> None:
    # 1 == True in Python, but an attempt numbered 1 is the default and a truth value is not.
    assert json.loads(to_json(Slip("flue", "max", attempt=1))) == {"point": "flue", "rate": "max"}
    assert json.loads(to_json(Slip("flue", "max", attempt=2)))["attempt"] == 2


def test_a_float_is_refused() -> None:
    with pytest.raises(TypeError, match="cannot hold float"):
        to_json(dataclasses.replace(Row("gas rate", "2.41"), value=2.41))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("facts_type", "text", "said"),
    [
        (Party, '{"name":"A","nick":"B"}', "unknown nick"),
        (Party, "{}", "name"),
        (Party, '{"name":3}', "str wanted"),
        (Party, '{"name":"A","address":"B"}', "list wanted"),
        (Judged, '{"label":"CO","value":"1","verdict":"good"}', "not one of"),
        (Instrument, '{"name":"A","calibration_due":7}', "str wanted"),
        (Slip, '{"point":"flue","rate":"max","attempt":true}', "int wanted"),
    ],
)
def test_what_does_not_fit_is_refused(facts_type: type, text: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        from_json(facts_type, text)


@settings(max_examples=60)
@given(
    st.text(st.characters(exclude_categories=["Cs"])),
    st.lists(st.text(st.characters(exclude_categories=["Cs"]))),
)
def test_any_text_comes_back(name: str, address: list[str]) -> None:
    party = Party(name, tuple(address))
    text = to_json(party)
    assert from_json(Party, text) == party
    assert text.encode("utf-8").decode("utf-8") == text
