"""What may be added as a photograph, and what can be done with one."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.operations import photos
from flueleaf.storage.book import Book

NOW = dt.datetime(2026, 11, 20, 20, 15, tzinfo=dt.UTC)
PNG = b"\x89PNG\r\n\x1a\n" + bytes(20)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "Ellery.book") as made:
        yield made


# The signatures: ISO/IEC 10918-1 (SOI and a marker), ISO/IEC 15948 (PNG), 5.2, RFC 9649 (WebP), TIFF 6.0,
# section 2; recalled.
@pytest.mark.parametrize(
    ("beginning", "media_type"),
    [
        (b"\xff\xd8\xff\xe0", "image/jpeg"),
        (b"\x89PNG\r\n\x1a\n", "image/png"),
        (b"RIFF\x10\x00\x00\x00WEBPVP8 ", "image/webp"),
        (b"BM", "image/bmp"),
        (b"II*\x00", "image/tiff"),
        (b"MM\x00*", "image/tiff"),
    ],
)
def test_a_picture_is_known_by_its_beginning(beginning: bytes, media_type: str) -> None:
    assert photos.media_type_of(beginning + bytes(30)) == media_type


@pytest.mark.parametrize("data", [b"", b"%PDF-1.7", b"GIF89a", b"RIFF....WAVE", b"\xff\xd8"])
def test_anything_else_is_refused_with_what_is_accepted(data: bytes) -> None:
    with pytest.raises(Refused, match="JPEG, PNG, WebP, BMP or TIFF"):
        photos.media_type_of(data, "plan.pdf")


def test_a_file_over_25_mb_is_refused_unread(tmp_path: Path) -> None:
    large = tmp_path / "large.png"
    with large.open("wb") as file:
        file.truncate(25_000_001)
    with pytest.raises(Refused, match="at most 25 MB"):
        photos.read_photo(large)
    with pytest.raises(Refused, match="at most 25 MB"):
        photos.media_type_of(PNG + bytes(25_000_000))


def test_a_file_that_cannot_be_read_is_said_so(tmp_path: Path) -> None:
    with pytest.raises(UserProblem, match=r"gone\.png cannot be read"):
        photos.read_photo(tmp_path / "gone.png")


def test_what_is_added_is_the_one_shown(book: Book) -> None:
    one = photos.add(book, "a", PNG, kind="slip", now=NOW)
    two = photos.add(book, "a", PNG + b"2", kind="plate", now=NOW)
    assert [photo.shown for photo in photos.of_visit(book, "a")] == [False, True]
    photos.note_shown(book, "a", one.id)
    assert [photo.shown for photo in photos.of_visit(book, "a")] == [True, False]
    photos.note_shown(book, "a", None)
    assert not any(photo.shown for photo in photos.of_visit(book, "a"))
    assert photos.picture(book, two.id) == PNG + b"2"


def test_four_quarter_turns_are_none(book: Book) -> None:
    photo = photos.add(book, "a", PNG, kind="slip", now=NOW)
    turns = []
    for _ in range(4):
        photo = photos.turn(book, photo)
        turns.append(photo.turn)
    assert turns == [90, 180, 270, 0]
    assert photos.name(book, photo, " the flue ").note == "the flue"
    assert photos.set_kind(book, photo, "plate").kind == "plate"


def test_what_was_put_away_last_is_brought_back_first(book: Book) -> None:
    one = photos.add(book, "a", PNG, kind="slip", now=NOW)
    two = photos.add(book, "a", PNG + b"2", kind="slip", now=NOW)
    assert photos.put_away(book, one, now=NOW).summary
    photos.put_away(book, two, now=NOW + dt.timedelta(seconds=1))
    assert photos.of_visit(book, "a") == ()
    brought = [photos.bring_back(book, "a") for _ in range(3)]
    assert [photo.id if photo else None for photo in brought] == [two.id, one.id, None]


def test_a_photograph_that_is_gone_is_said_so(book: Book) -> None:
    photo = photos.add(book, "a", PNG, kind="slip", now=NOW)
    with book.writing() as tx:
        tx.execute("DELETE FROM attachment")
    with pytest.raises(UserProblem, match="not in the book any more"):
        photos.picture(book, photo.id)
    with pytest.raises(UserProblem, match="not in the book any more"):
        photos.turn(book, photo)
    with pytest.raises(UserProblem, match="not in the book any more"):
        photos.put_away(book, photo, now=NOW)
