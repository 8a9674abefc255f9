"""Sentences remember their pattern through copying, pickling and printing."""

from __future__ import annotations

import contextlib
import copy
import dataclasses
import json
import pickle
import sqlite3

import pytest

from flueleaf.domain.words import Sentence, lines, marked, quoted, said


def test_a_sentence_is_plain_english() -> None:
    sentence = said("oxygen {o2_pct} % is more than {most} %", o2_pct="21.4", most=21)
    assert sentence == "oxygen 21.4 % is more than 21 %"
    assert json.dumps(sentence) == '"oxygen 21.4 % is more than 21 %"'


@pytest.mark.parametrize("twin", [copy.copy, copy.deepcopy, lambda s: pickle.loads(pickle.dumps(s))])
def test_a_copy_knows_its_pattern(twin: object) -> None:
    assert callable(twin)
    made = twin(said("{count} left", count=3))
    assert isinstance(made, Sentence)
    assert (str(made), made.pattern, made.values) == ("3 left", "{count} left", {"count": 3})


def test_a_value_that_is_missing_is_a_fault() -> None:
    with pytest.raises(KeyError):
        said("{count} left")


def test_marking_changes_nothing() -> None:
    assert marked("no {braces} are filled") == "no {braces} are filled"


def test_a_sentence_is_kept_as_text() -> None:
    sentence = said("{count} left", count=3)
    con = sqlite3.connect(":memory:")
    with contextlib.closing(con):
        assert con.execute("SELECT typeof(?1), ?1 || '.'", (sentence,)).fetchone() == ("text", "3 left.")


@dataclasses.dataclass(frozen=True)
class Holder:
    """Holds a sentence."""

    text: str


def test_a_record_turned_into_a_document_holds_the_text() -> None:
    document = dataclasses.asdict(Holder(said("{count} left", count=3)))
    assert json.dumps(document) == '{"text": "3 left"}'


def test_sentences_one_under_the_other_know_each_other() -> None:
    several = lines([said("{count} left", count=3), "a {word} typed"])
    assert several == "3 left\na {word} typed"
    assert isinstance(several, Sentence)
    first, second = several.values.values()
    assert isinstance(first, Sentence)
    assert not isinstance(second, Sentence)
    assert lines([]) == ""
    assert lines([said("It is {what}.", what="late"), "Go."], between=" ") == "It is late. Go."


def test_names_are_quoted() -> None:
    assert quoted(["left in use", "isolated"]) == "“left in use”, “isolated”"
