"""Sentences remember their pattern through copying, pickling and printing."""

from __future__ import annotations

import copy
import json
import pickle

import pytest

from flueleaf.domain.words import Sentence, marked, said


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
