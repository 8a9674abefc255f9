from __future__ import annotations

import io
from collections.abc import Sequence

import pdfplumber
import pytest
from tests.papers.reading import overlaps, page_texts, text_of

from flueleaf.papers.page import new_paper
from flueleaf.papers.sample_facts import sample_head, sample_seals
from flueleaf.papers.table import Column, Row, draw_table

COLUMNS = (Column("thing", 200), Column("amount", 120, "decimal"))


def paper(rows: Sequence[Row], title: str = "") -> bytes:
    head = sample_head("quote", "Q-1")
    return new_paper(
        "Quote", head, sample_seals("Q-1"), lambda sheet: draw_table(sheet, COLUMNS, rows, title=title)
    )


def points(pdf: bytes) -> set[float]:
    """Return the places of the decimal points in the table."""
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        chars = [char for char in read.pages[0].chars if char["text"] == "." and char["bottom"] < 600]
    return {round(char["x0"], 1) for char in chars}


def test_figures_stand_under_their_points() -> None:
    values = ("1.5", "20.125", "1,234.0", "−0.0007 †")
    pdf = paper([Row((f"n{at}", value)) for at, value in enumerate(values)])
    assert len(points(pdf)) == 1


def test_a_mark_behind_a_number_ends_within_its_column() -> None:
    pdf = paper([Row(("a", "20.125")), Row(("b", "0.0007 †"))])
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        marks = [char for char in read.pages[0].chars if char["text"] == "†"]
        head = next(word for word in read.pages[0].extract_words() if word["text"] == "amount")
    assert marks
    assert [mark for mark in marks if mark["x1"] > head["x1"] + 0.5] == []


def test_whole_numbers_end_where_the_points_are() -> None:
    pdf = paper([Row(("a", "20.25")), Row(("b", "412"))])
    (point,) = points(pdf)
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        two = next(word for word in read.pages[0].extract_words() if word["text"] == "412")
    assert two["x1"] == pytest.approx(point, abs=0.2)


def test_a_number_too_wide_for_its_column_stays_whole_or_wraps_and_covers_nothing() -> None:
    wide = "1234567890123456789012345678901234567890.5"
    pdf = paper([Row(("a", wide)), Row(("b", "1.25"))])
    assert wide in "".join(text_of(pdf).split())
    assert overlaps(pdf) == []


def test_head_and_heading_come_again_on_every_page() -> None:
    rows = [Row(over="first lot"), *(Row((f"thing {at}", f"{at}.00")) for at in range(120))]
    pages = page_texts(paper(rows))
    assert len(pages) > 2
    assert all("amount" in page for page in pages)
    assert all("first lot, continued" in page for page in pages[1:])
    printed = " ".join(pages)
    assert [at for at in range(120) if f"thing {at} " not in printed.replace("\n", " ")] == []


def test_a_row_longer_than_a_page_is_split() -> None:
    long = " ".join(f"w{at}" for at in range(1500))
    pdf = paper([Row((long, "1.00")), Row(("after", "2.00"))])
    printed = text_of(pdf)
    assert [at for at in range(1500) if f"w{at} " not in printed] == []
    assert printed.index("w1499") < printed.index("after")
    assert overlaps(pdf) == []


def test_a_short_table_is_not_broken() -> None:
    rows = [Row((f"thing {at}", "1.00")) for at in range(42)]
    short = [Row((f"late {at}", "1.00")) for at in range(8)]
    head = sample_head("quote", "Q-1")

    def body(sheet: object) -> None:
        draw_table(sheet, COLUMNS, rows)  # type: ignore[arg-type]
        draw_table(sheet, COLUMNS, short, title="Short one")  # type: ignore[arg-type]

    pages = page_texts(new_paper("Quote", head, sample_seals("Q-1"), body))
    assert len(pages) == 2
    assert "Short one" in pages[1]
    assert "late 0" in pages[1]
