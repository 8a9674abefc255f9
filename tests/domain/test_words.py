"""Sentences remember their pattern through copying, pickling and printing."""

from __future__ import annotations

import contextlib
import copy
import dataclasses
import json
import pickle
import sqlite3

import pytest

from flueleaf.domain.words import Sentence, as_kept, either, lines, marked, quoted, reread, said, sentence


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


def test_a_kept_text_is_read_as_the_sentence_it_was() -> None:
    found = reread("3 of 4 papers, 3 sealed", "{count} of {all} papers, {count} sealed", count=int)
    assert found == "3 of 4 papers, 3 sealed"
    assert found is not None
    assert found.values == {"count": 3, "all": "4"}
    inner = reread("late: 3 left", "late: {what}", what=lambda words: reread(words, "{count} left"))
    assert inner is not None
    assert isinstance(inner.values["what"], Sentence)


@pytest.mark.parametrize(
    "text", ["", "3 left", "3 of 4 papers, 5 sealed", "3 of 4 papers, 3 sealed.", " of 4 papers,  sealed"]
)
def test_a_text_of_another_pattern_is_not_read(text: str) -> None:
    assert reread(text, "{count} of {all} papers, {count} sealed") is None


def test_a_text_that_would_not_come_back_letter_by_letter_is_not_read() -> None:
    assert reread("03 left", "{count} left", count=int) is None
    assert reread("some left", "{count} left", count=lambda _words: None) is None


def test_a_kept_word_is_looked_up_and_never_formatted() -> None:
    assert isinstance(as_kept("boiler"), Sentence)
    assert [as_kept(text) for text in ("boiler", "a {b}", "a } b")] == ["boiler", "a {b}", "a } b"]


def test_words_to_choose_from_are_said_one_by_one() -> None:
    assert either(["service"]) == "service"
    chosen = either(["service", "landlord check", "breakdown"])
    assert chosen == "service or landlord check or breakdown"
    assert isinstance(chosen, Sentence)
    assert chosen.pattern == "{one} or {other}"
    assert isinstance(chosen.values["other"], Sentence)


def test_a_sentence_begins_large() -> None:
    assert sentence("flue gas") == "Flue gas"
    assert sentence("") == ""
