"""Guide figures inform and never judge; the drop table prints whose copy it was filled from."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from flueleaf.operations import owned, tables
from flueleaf.operations.facts.guidance import (
    CO_MG_PER_M3_PER_PPM,
    NO_AVERAGE,
    NO_PASS,
    guidance,
    permissible_drops,
)
from flueleaf.operations.facts.supply import rows
from flueleaf.operations.intake.visit import read_visit
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)
AT = dt.datetime(2026, 11, 25, 20, 0, tzinfo=dt.UTC)
COPY = {"edition": "Edition 4", "source": "own copy", "clause": "table 3", "valid_from": "2026-10-01"}


@pytest.mark.parametrize(("mg_per_m3", "ppm"), [(100, 87), (35, 31), (10, 8.7), (7, 6.1)])
def test_mass_in_air_is_told_in_ppm_too(mg_per_m3: float, ppm: float) -> None:
    # WHO guidelines for indoor air quality, 2010, and the usual conversion at 25 °C (recalled).
    assert mg_per_m3 / CO_MG_PER_M3_PER_PPM == pytest.approx(ppm, abs=0.5 if ppm > 10 else 0.05)


def test_a_room_reading_is_told_the_guidelines_with_their_times_and_status() -> None:
    air, indoor, caution = guidance(tables.shipped(), "room", TODAY)
    assert "100 mg/m³, about 87 ppm, over 15 min" in indoor
    assert "7 mg/m³, about 6.1 ppm, over 24 h" in indoor
    assert "recalled, not checked" in indoor
    assert "4 mg/m³, about 3.5 ppm, over 24 h" in air
    assert caution == NO_AVERAGE


def test_each_figure_is_told_with_its_own_status() -> None:
    shipped = tables.shipped()
    (table,) = (one for one in shipped.rules if one.table == "room_co_guideline")
    first, *others = table.rules
    mixed = replace(table, rules=(replace(first, status="owner"), *others))
    told = guidance(replace(shipped, rules=(mixed,)), "room", TODAY)
    recalled, own, _caution = told
    assert recalled.endswith("(recalled, not checked).")
    assert own.endswith("(entered by the engineer).")
    assert "over 15 min" not in recalled
    assert "over 15 min" in own


def test_the_figure_of_a_workplace_never_stands_beside_a_reading() -> None:
    # Fact: the 20 ppm of EH40 is for a workplace and no comfort in a home.
    for point in ("room", "outdoors", "hob", "grill", "oven", "flue", "air inlet"):
        told = " ".join(guidance(tables.shipped(), point, TODAY))  # type: ignore[arg-type]
        assert "workplace" not in told
        assert "20 ppm" not in told


def test_nothing_is_told_where_there_is_nothing_to_tell() -> None:
    assert guidance(tables.shipped(), "flue", TODAY) == ()
    assert guidance(tables.shipped(), "room", dt.date(2005, 1, 1)) == ()


def fill_row(book: Book, gas: str, number: int, volume: str, drop: str) -> None:
    for what, limit in (("volume", volume), ("drop", drop)):
        owned.enter_limit(book, f"tightness.{gas}_{what}_{number}", {**COPY, "limit": limit}, at=AT)


def test_an_empty_drop_table_says_nothing(book: Book) -> None:
    known = tables.of_book(book)
    assert permissible_drops(known, known.fuels["natural gas"], TODAY) == ("", "")
    owned.enter_limit(book, "tightness.natural_drop_1", {**COPY, "limit": "8"}, at=AT)
    known = tables.of_book(book)
    assert permissible_drops(known, known.fuels["natural gas"], TODAY) == ("", "")  # a row wants both


def test_filled_rows_are_told_smallest_volume_first_for_their_gas_and_edition(book: Book) -> None:
    fill_row(book, "natural", 1, "0.035", "4")
    fill_row(book, "natural", 2, "0.02", "8")
    known = tables.of_book(book)
    natural, propane, oil = (known.fuels[name] for name in ("natural gas", "propane", "kerosene"))
    drops, behind = permissible_drops(known, natural, TODAY)
    assert drops == "8 mbar up to 0.02 m³, 4 mbar up to 0.035 m³"
    assert behind == "entered by the engineer from own copy, valid from 1 October 2026, Edition 4, table 3"
    assert permissible_drops(known, propane, TODAY) == ("", "")
    assert permissible_drops(known, oil, TODAY) == ("", "")
    assert permissible_drops(known, None, TODAY) == ("", "")
    assert permissible_drops(known, natural, dt.date(2026, 9, 30)) == ("", "")
    fill_row(book, "lpg", 1, "0.02", "2")
    assert permissible_drops(tables.of_book(book), propane, TODAY)[0] == "2 mbar up to 0.02 m³"


def test_the_record_prints_the_drops_beside_a_test_and_that_they_are_no_pass(
    book: Book, document: dict[str, Any]
) -> None:
    fill_row(book, "natural", 1, "0.02", "8")
    document["works"][0]["supply"] = {"tightness": {"movement": "none"}}
    known = tables.of_book(book)
    work = read_visit(document, choices=tables.choices_of(known), today=TODAY).works[0]
    movement, permissible = rows(work, known, TODAY)
    assert movement.value == "None"
    assert permissible.value == ""
    behind = "entered by the engineer from own copy, valid from 1 October 2026, Edition 4, table 3"
    assert permissible.note == f"8 mbar up to 0.02 m³; {behind}. {NO_PASS}"
    assert len(rows(work, tables.shipped(), TODAY)) == 1
    document["works"][0]["supply"] = {}
    bare = read_visit(document, choices=tables.choices_of(known), today=TODAY).works[0]
    assert rows(bare, known, TODAY) == ()
