from __future__ import annotations

from decimal import Decimal

import pytest

from flueleaf.operations.intake.json_form import DEEPEST, parse


def test_numbers_are_decimals_of_their_digits() -> None:
    document, faults = parse('{"a": [20.60, 3, 1e2]}')
    assert [str(number) for number in document["a"]] == ["20.60", "3", "1E+2"]
    assert document["a"][0] == Decimal("20.6")
    assert faults == []


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ('{"a": NaN}', ["a"]),
        ('{"a": [1, {"b": -Infinity}], "c": Infinity}', ["a[1].b", "c"]),
        ("NaN", ["document"]),
        ('{"a": 1, "a": 2}', ["a"]),
        ('{"a": {"b": 1, "c": 2, "b": 3, "c": 4}}', ["a.b", "a.c"]),
        ('{"a": [{"b": {"c": 1, "c": NaN}}]}', ["a[0].b.c", "a[0].b.c"]),
        ('{"a": 1e9999999999999999999, "b": [-1e-9999999999999999999]}', ["a", "b[0]"]),
    ],
)
def test_faults_of_form_are_named_by_their_path(text: str, where: list[str]) -> None:
    assert [fault.where for fault in parse(text)[1]] == where


def test_the_last_of_a_doubled_key_is_read_on_with() -> None:
    assert parse('{"a": 1, "a": 2}')[0] == {"a": 2}


def test_a_number_beyond_what_is_computed_with_is_shown_as_written() -> None:
    (fault,) = parse('{"miles": 1e9999999999999999999}')[1]
    assert str(fault) == (
        "miles: “1e9999999999999999999” is not accepted; accepted: a number that can be computed with"
    )


def test_nesting_is_taken_down_to_the_deepest_level_and_no_further() -> None:
    assert parse("[" * DEEPEST + "]" * DEEPEST)[1] == []
    (fault,) = parse('{"a": ' + "[" * DEEPEST + "]" * DEEPEST + "}")[1]
    assert fault.where == "a" + "[0]" * (DEEPEST - 1)
    assert f"at most {DEEPEST} levels" in str(fault)
    (fault,) = parse('{"a":' * (DEEPEST + 1) + "1" + "}" * (DEEPEST + 1))[1]
    assert fault.where == ".".join("a" * DEEPEST)
