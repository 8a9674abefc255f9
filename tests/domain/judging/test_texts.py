from __future__ import annotations

import pytest

from flueleaf.domain.judging import texts
from flueleaf.domain.judging.assessment import WORST_FIRST

ALL = [value for name, value in vars(texts).items() if name.isupper() and isinstance(value, str)]
ALL += [*texts.OF_ALL.values(), *texts.WHOSE_LIMIT.values()]


@pytest.mark.parametrize(
    ("verdict", "whose", "sense", "text"),
    [
        ("within", "maker", "at most", "within the maker’s limit"),
        ("near", "table", "at most", "near the table’s limit"),
        ("over", "maker", "at most", "over the maker’s limit"),
        ("over", "table", "at least", "over the table’s limit: too low"),
        ("over", "maker", "at least", "over the maker’s limit: too low"),
        ("within", "table", "at least", "within the table’s limit"),
        ("unjudged", "maker", "at most", "unjudged"),
        ("unjudged", "none", "at most", "unjudged"),
        ("within", "none", "at most", "unjudged"),
    ],
)
def test_a_verdict_says_whose_limit(verdict: str, whose: str, sense: str, text: str) -> None:
    assert texts.verdict_text(verdict, whose, sense) == text  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("verdict", "whose", "sense", "text"),
    [
        ("within", "table", "at most", "within the limit the engineer entered"),
        ("near", "table", "at least", "near the limit the engineer entered"),
        ("over", "table", "at most", "over the limit the engineer entered"),
        ("over", "table", "at least", "over the limit the engineer entered: too low"),
        ("unjudged", "table", "at most", "unjudged"),
        ("over", "maker", "at most", "over the maker’s limit"),
    ],
)
def test_a_verdict_on_a_figure_that_was_entered_says_who_entered_it(
    verdict: str, whose: str, sense: str, text: str
) -> None:
    assert texts.verdict_text(verdict, whose, sense, entered=True) == text  # type: ignore[arg-type]


def test_a_limit_of_the_owners_is_told_as_such_and_no_other() -> None:
    assert texts.whose_limit("table", "owner") == "the limit you entered"
    assert texts.whose_limit("table", "common practice") == "the table’s limit"
    assert texts.whose_limit("maker") == "the maker’s limit"


def test_every_verdict_has_words_for_the_whole() -> None:
    assert set(texts.OF_ALL) == set(WORST_FIRST)


@pytest.mark.parametrize("text", ALL)
def test_no_text_comforts(text: str) -> None:
    low = text.lower()
    assert not any(word in low for word in ("safe", "fine", " ok", "good", "no problem"))
    assert "'" not in text
