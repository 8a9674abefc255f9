"""Each change is made where it stands, and nowhere else."""

from __future__ import annotations

import mutations
import pytest


def changed(text: str) -> list[str]:
    return [one.applied(text) for one in mutations.of_module(text)]


@pytest.mark.parametrize(
    ("text", "others"),
    [
        ("a < b", ["a <= b", "a >= b"]),
        ("a <= b", ["a < b", "a > b"]),
        ("a > b", ["a <= b", "a >= b"]),
        ("a >= b", ["a < b", "a > b"]),
        ("a == b", ["a != b"]),
        ("a != b", ["a == b"]),
        ("a in b", ["a not in b"]),
        ("a not  in b", ["a in b"]),
        ("a is b", ["a is not b"]),
        ("a is not b", ["a is b"]),
        ("a and b and c", ["a or b and c", "a and b or c"]),
        ("a or b", ["a and b"]),
        ("not a", ["a"]),
        ("(a) <\\\n (b)", ["(a) <=\\\n (b)", "(a) >=\\\n (b)"]),
    ],
)
def test_a_comparison_is_turned(text: str, others: list[str]) -> None:
    assert changed(text) == others


def test_each_comparison_of_a_chain_is_turned_by_itself() -> None:
    assert changed("x <= a < y") == ["x < a < y", "x > a < y", "x <= a <= y", "x <= a >= y"]


def test_numbers_move_by_their_last_digit() -> None:
    assert changed("a = 7") == ["a = 6", "a = 8"]
    assert changed("a = 1.645") == ["a = 1.644", "a = 1.646"]
    assert changed("a = 10_000") == ["a = 10001", "a = 9999"]
    assert changed('LIMIT = Decimal("0.0040")') == ['LIMIT = Decimal("0.0039")', 'LIMIT = Decimal("0.0041")']
    assert changed("f('350', True, None, [], f'{a}')") == []
    assert changed("a = 0x1f") == []
    assert changed("Fraction(a, b)") == []
    assert changed("Fraction('1/3')") == []


def test_characters_beyond_ascii_before_it_do_not_move_the_place() -> None:
    assert changed("µ = 'CO₂ ≥'; ä < 3") == [
        "µ = 'CO₂ ≥'; ä <= 3", "µ = 'CO₂ ≥'; ä >= 3", "µ = 'CO₂ ≥'; ä < 2", "µ = 'CO₂ ≥'; ä < 4",
    ]  # fmt: skip


def test_a_change_knows_its_line_and_says_what_it_is() -> None:
    first, second = mutations.of_module("a = b\n\nc = a < b\n")
    assert (first.line, first.told) == (3, "< to <=")
    assert (second.line, second.told) == (3, "< to >=")


def test_of_a_table_only_limits_move() -> None:
    text = (
        'title = "6 of 8"\nvalid_from = 2000-01-01\nlimit      = "20.6"\nhalf_width = "0.1"\nmonths = 12\n'
        'note = "limit = 7"\nco_ppm = { abs = "20", rel = "0.05" }\nclause = "7"\n'
    )
    assert [one.told for one in mutations.of_table(text)] == [
        "20.6 to 20.5", "20.6 to 20.7", "0.1 to 0.0", "0.1 to 0.2", "12 to 11", "12 to 13",
        "20 to 19", "20 to 21", "0.05 to 0.04", "0.05 to 0.06",
    ]  # fmt: skip
    assert 'limit      = "20.5"' in mutations.of_table(text)[0].applied(text)
