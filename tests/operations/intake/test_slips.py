"""What a slip and a work say besides readings: adjusted, settled, steps passed over, a CO2 worked out."""

from __future__ import annotations

from typing import Any

import pytest

from flueleaf.domain.problems import Refused
from flueleaf.domain.records.register import Instrument
from flueleaf.domain.records.visits import Override
from flueleaf.operations import register
from flueleaf.operations.intake.documents import instrument_document
from flueleaf.operations.intake.reader import Reader
from flueleaf.operations.intake.register import read_instrument
from flueleaf.operations.intake.slips import read_overrides, read_slip
from flueleaf.storage import register as stored
from flueleaf.storage.book import Book

SLIP = {"point": "flue", "rate": "max", "co_ppm": 61}


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ({}, (False, None)),
        ({"adjusted": True}, (True, None)),
        ({"adjusted": False, "settled": False}, (False, False)),
        ({"settled": True}, (False, True)),
    ],
)
def test_a_slip_may_say_that_it_was_adjusted_or_settled(
    more: dict[str, Any], expected: tuple[bool, bool | None]
) -> None:
    reader = Reader.of({**SLIP, **more})
    slip = read_slip(reader)
    reader.finish()
    assert (slip.adjusted, slip.settled) == expected


@pytest.mark.parametrize("key", ["adjusted", "settled"])
def test_neither_takes_anything_but_true_or_false(key: str) -> None:
    reader = Reader.of({**SLIP, key: "yes"})
    read_slip(reader)
    with pytest.raises(Refused, match="true or false"):
        reader.finish()


def test_a_key_that_is_not_known_names_all_that_are() -> None:
    reader = Reader.of({**SLIP, "setled": False})
    read_slip(reader)
    with pytest.raises(Refused, match=r"setled.*adjusted.*settled.*smoke"):
        reader.finish()


def test_a_step_is_passed_over_with_a_reason() -> None:
    good = Reader.of({"overrides": [{"step": "integrity", "reason": "no test point"}]})
    assert read_overrides(good) == (Override("integrity", "no test point"),)
    good.finish()
    for wrong in (
        {"step": "integrity"},
        {"step": "integrity", "reason": " "},
        {"step": "a", "reason": "x" * 501},
    ):
        reader = Reader.of({"overrides": [wrong]})
        read_overrides(reader)
        with pytest.raises(Refused, match="reason"):
            reader.finish()


def test_an_analyser_that_works_co2_out_says_so_in_its_document() -> None:
    known = Instrument("analyser 1", co2_calculated=True)
    document = instrument_document(known)
    assert document["co2_calculated"] is True
    assert read_instrument(Reader.of(document)) == known
    assert "co2_calculated" not in instrument_document(Instrument("analyser 1"))


def test_a_visit_that_does_not_say_so_leaves_it_as_known(tmp_path: Any) -> None:
    with Book.create(tmp_path / "own.book") as book, book.writing() as tx:
        columns = {"time": "Time"}
        stored.add_instrument(tx, Instrument("analyser 1", log_columns=columns, co2_calculated=True))
        found = register.known_instrument(tx, Instrument("analyser 1"))
        assert found is not None
        assert found.co2_calculated
        assert found.log_columns == columns
