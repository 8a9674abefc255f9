from __future__ import annotations

import pytest

from flueleaf.domain.problems import Fault, Refused, UserProblem
from flueleaf.domain.words import Sentence, said


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ("4,8", "“4,8” is not accepted"),
        ("", "missing"),
        ("a\nb", "“a\\nb” is not accepted"),
        ("\x00", "“\\x00” is not accepted"),
        ("\ud800", "“\\ud800” is not accepted"),
        ("Zoë’s 54 °C", "“Zoë’s 54 °C” is not accepted"),
        ("x" * 200, f"“{'x' * 40}…{'x' * 39}” is not accepted"),
    ],
)
def test_a_fault_is_one_printable_line(value: str, shown: str) -> None:
    line = str(Fault("slips[0].o2_pct", value, "a number"))
    assert line == f"slips[0].o2_pct: {shown}; accepted: a number"
    assert line.isprintable()


def test_a_key_with_a_line_end_does_not_break_the_line() -> None:
    assert str(Fault("a\nb", "unknown key", "one of c")).splitlines() == [
        "a\\nb: “unknown key” is not accepted; accepted: one of c"
    ]


def test_a_key_of_any_length_is_shown_in_short() -> None:
    assert str(Fault("k" * 9000, "unknown key", "one of c")) == (
        f"{'k' * 40}…{'k' * 39}: “unknown key” is not accepted; accepted: one of c"
    )


def test_a_refusal_has_a_line_a_fault() -> None:
    assert str(Refused([Fault("a", "1", "2"), Fault("b", "", "3")])).splitlines() == [
        "a: “1” is not accepted; accepted: 2",
        "b: missing; accepted: 3",
    ]


def test_an_empty_list_counts_as_missing() -> None:
    assert [Fault("lines", value, "a line").missing for value in ("", "[]", "{}", "0")] == [
        True,
        True,
        True,
        False,
    ]


def test_the_text_of_a_problem_knows_its_pattern() -> None:
    problem = UserProblem(said("Nothing is owing on invoice {number}.", number="I-1"))
    assert isinstance(problem.text, Sentence)
    assert problem.text.pattern == "Nothing is owing on invoice {number}."
    assert str(problem) == problem.text == "Nothing is owing on invoice I-1."
    refused = Refused([Fault("a", "{1}", said("at most {most}", most=2))])
    assert isinstance(refused.text, Sentence)
    assert str(refused) == refused.text == "a: “{1}” is not accepted; accepted: at most 2"
    assert UserProblem(1, 2).text == "(1, 2)"
    assert UserProblem().text == ""
