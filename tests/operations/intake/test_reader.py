"""The careful reader: every fault named with place, value and what is accepted."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.problems import Refused
from flueleaf.operations.intake.reader import Reader, as_decimal, load_json
from flueleaf.operations.intake.register import read_customer


def _refused(document: object, read: object) -> list[str]:
    root = Reader.of(document)
    read(root)  # type: ignore[operator]
    with pytest.raises(Refused) as caught:
        root.finish()
    return [str(fault) for fault in caught.value.faults]


def test_numbers_keep_their_digits() -> None:
    assert load_json('{"a": 20.60, "b": 3}') == {"a": Decimal("20.60"), "b": Decimal(3)}
    assert str(load_json('{"a": 20.60}')["a"]) == "20.60"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('{"a": 1, "a": 2}', "given twice"),
        ('{"a": NaN}', "finite"),
        ('{"a": -Infinity}', "finite"),
        ('{"a": ', "JSON document"),
        ("[" * 100_000, "nested"),
    ],
)
def test_broken_json_is_refused(text: str, said: str) -> None:
    with pytest.raises(Refused, match=said):
        load_json(text)


@pytest.mark.parametrize("document", [[], "x", None, Decimal(3)])
def test_only_an_object_is_read(document: object) -> None:
    with pytest.raises(Refused, match="JSON object"):
        Reader.of(document)


def test_a_misspelt_key_is_named_with_the_likely_one() -> None:
    def read(root: Reader) -> None:
        root.text("postcode")
        root.child("premises").text("address")

    faults = _refused({"postcod": "QX1 1AA", "premises": {"adress": "x"}}, read)
    assert faults[0].startswith("postcod: “unknown key”")
    assert "did you mean “postcode”?" in faults[0]
    assert faults[1].startswith("premises.adress")


def test_all_faults_are_gathered() -> None:
    def read(root: Reader) -> None:
        root.text("name", required=True)
        root.date("date", required=True)
        root.choice("kind", ("a", "b"))

    assert len(_refused({"date": "26/11/2026", "kind": "c"}, read)) == 3


@pytest.mark.parametrize(
    ("value", "hint"),
    [("4,8", "did you mean 4.8?"), ("54 °C", "a number"), (True, "a number"), ("1e3", "a number")],
)
def test_a_number_that_is_none_is_named(value: object, hint: str) -> None:
    faults = _refused({"o2_pct": value}, lambda root: root.quantity("o2_pct"))
    assert len(faults) == 1
    assert faults[0].startswith("o2_pct: ")
    assert hint in faults[0]


def test_a_typed_number_may_be_followed_by_its_own_unit() -> None:
    root = Reader.of({"flue_c": "54 °C"}, typed=True)
    assert root.quantity("flue_c") == Decimal(54)
    root.finish()


def test_a_future_date_is_refused_where_it_cannot_be() -> None:
    faults = _refused({"date": "2026-11-26"}, lambda root: root.date("date", latest=dt.date(2026, 11, 25)))
    assert "not in the future" in faults[0]


@pytest.mark.parametrize("value", ["2026-02-30", "20261126", "26/11/2026", 20261126, None, "２０２６-11-26"])
def test_only_iso_dates_are_read(value: object) -> None:
    assert len(_refused({"date": value}, lambda root: root.date("date"))) == 1


@pytest.mark.parametrize("value", ["24:00", "9:10", 910, "09:10:00"])
def test_only_times_of_day_are_read(value: object) -> None:
    assert len(_refused({"left": value}, lambda root: root.time("left"))) == 1


@pytest.mark.parametrize("value", ["2026-11-20T20:15:00", "yesterday", 3])
def test_an_instant_needs_its_offset(value: object) -> None:
    assert len(_refused({"at": value}, lambda root: root.moment("at"))) == 1


def test_control_characters_and_lone_surrogates_are_refused() -> None:
    assert len(_refused({"a": "x\x00y"}, lambda root: root.text("a"))) == 1
    assert len(_refused({"a": "\ud800"}, lambda root: root.text("a"))) == 1


def test_a_blank_required_text_is_missing() -> None:
    assert "not blank" in _refused({"a": "  "}, lambda root: root.text("a", required=True))[0]


@settings(max_examples=60)
@given(st.decimals(min_value=-(10**6), max_value=10**6, allow_nan=False, allow_infinity=False, places=5))
def test_a_decimal_string_and_a_json_number_read_the_same(value: Decimal) -> None:
    text = f"{value:f}"
    assert as_decimal(text) == as_decimal(load_json(f'{{"a": {text}}}')["a"]) == value


@settings(max_examples=100)
@given(st.text(max_size=30))
def test_no_text_makes_a_number_reading_fail_otherwise_than_by_refusal(text: str) -> None:
    root = Reader.of({"o2_pct": text})
    found = root.quantity("o2_pct")
    if found is None:
        assert [fault.where for fault in root.faults] == ["o2_pct"]
    else:
        assert found == Decimal(text.strip())
        assert 0 <= found <= 25


def test_a_customers_mail_address_has_its_at() -> None:
    faults = _refused({"name": "Ada Brill", "email": "ada.example.org"}, read_customer)
    assert faults == [
        "email: “ada.example.org” is not accepted; "
        "accepted: a mail address, such as name@example.org, or nothing"
    ]
    for mail in ("", " ada@brill.example "):
        assert read_customer(Reader.of({"name": "Ada Brill", "email": mail})).email == mail.strip()
