"""The business and its dated settings."""

from __future__ import annotations

import datetime as dt

from flueleaf.domain.records.business import Business
from flueleaf.storage import business
from flueleaf.storage.book import Book

FULL = Business(
    "Ada Quill", "Quill Heating", ("1 Kiln Yard", "Port Ellery"), "QX1 1AA", "07700 900 100",
    "ada@example.org", "000000", "standard",
    "GB 000 0000 00", "Ada Quill", "00-00-00", "00000000", 14, "Thank you",
    b"\x89PNG\x00", b"\xff", "Valid for a month", "Next year again",
)  # fmt: skip


def test_a_new_book_has_a_nameless_business(book: Book) -> None:
    assert business.business(book.con) == Business()


def test_the_business_is_kept_and_changed(book: Book) -> None:
    for record in (FULL, Business(name="Ada Quill"), FULL):
        with book.writing() as tx:
            business.save_business(tx, record)
        assert business.business(book.con) == record
    assert book.con.execute("SELECT count(*) FROM business").fetchone()[0] == 1


def test_a_setting_holds_from_its_day_on(book: Book) -> None:
    first, second = dt.date(2026, 1, 1), dt.date(2026, 7, 1)
    with book.writing() as tx:
        business.set_setting(tx, "hourly price", "50.00", first)
        business.set_setting(tx, "hourly price", "54.00", second)
        business.set_setting(tx, "hourly price", "55.00", second)
    assert business.setting(book.con, "hourly price", dt.date(2025, 12, 31)) is None
    assert business.setting(book.con, "hourly price", dt.date(2026, 6, 30)) == "50.00"
    assert business.setting(book.con, "hourly price", second) == "55.00"
    assert business.setting(book.con, "other", second) is None
