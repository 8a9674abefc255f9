"""Photographs of slips and data plates: added to a visit, looked at while it is typed and afterwards."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path

from flueleaf.domain.problems import Fault, Refused, UserProblem
from flueleaf.domain.words import marked, said
from flueleaf.operations.changes import Changes, Topic
from flueleaf.storage import attachments
from flueleaf.storage.book import Book

Photo = attachments.Attachment
PhotoKind = attachments.PhotoKind

MOST_BYTES = 25_000_000  # what a telephone's camera makes is a fifth of it
ACCEPTED = marked("a photograph as JPEG, PNG, WebP, BMP or TIFF")
KINDS: dict[PhotoKind, str] = {
    "slip": marked("slip"),
    "plate": marked("data plate"),
    "other": marked("other"),
}
WHERE = "photo"
_GONE = marked("That photograph is not in the book any more.")

# What a file of each kind begins with.
_BEGINNINGS: tuple[tuple[str, Callable[[bytes], bool]], ...] = (
    ("image/jpeg", lambda head: head.startswith(b"\xff\xd8\xff")),
    ("image/png", lambda head: head.startswith(b"\x89PNG\r\n\x1a\n")),
    ("image/webp", lambda head: head[:4] == b"RIFF" and head[8:12] == b"WEBP"),
    ("image/bmp", lambda head: head.startswith(b"BM")),
    ("image/tiff", lambda head: head.startswith((b"II*\x00", b"MM\x00*"))),
)


def read_photo(path: Path) -> bytes:
    """Return the bytes of a file that may be added.

    Raises:
        Refused: too large, or not a picture.
        UserProblem: it cannot be read.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Refused((_too_large(path.name),))
        data = path.read_bytes()
    except OSError as error:
        raise UserProblem(said("{name} cannot be read.", name=path.name)) from error
    media_type_of(data, path.name)
    return data


def media_type_of(data: bytes, name: str = "") -> str:
    """Return the media type of a picture, by its first bytes.

    Args:
        data: the whole file.
        name: what it is called, for the refusal.

    Raises:
        Refused: too large, or not a picture.
    """
    if len(data) > MOST_BYTES:
        raise Refused((_too_large(name),))
    for media_type, begins in _BEGINNINGS:
        if begins(data[:12]):
            return media_type
    raise Refused((Fault(WHERE, name, ACCEPTED),))


def add(book: Book, visit_id: str, data: bytes, *, kind: PhotoKind, now: dt.datetime) -> Photo:
    """Add a photograph to a draft and show it; the same one twice is kept once.

    Args:
        book: the book.
        visit_id: of the draft.
        data: the file's bytes, kept as they are.
        kind: what it shows.
        now: the moment, with its zone.

    Raises:
        Refused: too large, or not a picture.
    """
    media_type = media_type_of(data)
    with book.writing() as tx:
        added = attachments.add(tx, visit_id, data, kind=kind, media_type=media_type, added=now)
        attachments.show(tx, visit_id, added.id)
        return attachments.attachment(tx.conn, added.id)


def of_visit(book: Book, visit_id: str) -> tuple[Photo, ...]:
    """Return the photographs of a draft or a signed-off visit, in the order they were added."""
    return tuple(one for one in attachments.of_visit(book.con, visit_id) if _is_picture(one))


def of_appliance(book: Book, appliance_id: int) -> tuple[Photo, ...]:
    """Return the photographs of an appliance's signed-off visits, latest first."""
    return tuple(one for one in attachments.of_appliance(book.con, appliance_id) if _is_picture(one))


def picture(book: Book, photo_id: int) -> bytes:
    """Return the bytes of a photograph.

    Raises:
        UserProblem: it is not there any more.
    """
    try:
        return attachments.body(book.con, photo_id)
    except LookupError:
        raise UserProblem(_GONE) from None


def turn(book: Book, photo: Photo) -> Photo:
    """Turn a photograph by a quarter to the right."""
    return _change(book, photo, turn=(photo.turn + 90) % 360)


def set_kind(book: Book, photo: Photo, kind: PhotoKind) -> Photo:
    """Say what a photograph shows."""
    return _change(book, photo, kind=kind)


def name(book: Book, photo: Photo, note: str) -> Photo:
    """Give a photograph a name."""
    return _change(book, photo, note=note.strip())


def note_shown(book: Book, visit_id: str, photo_id: int | None) -> None:
    """Keep which photograph of a visit stands beside the fields, None for none."""
    with book.writing() as tx:
        attachments.show(tx, visit_id, photo_id)


def put_away(book: Book, photo: Photo, *, now: dt.datetime) -> Changes:
    """Put a photograph away; it can be brought back until the visit is signed off.

    Raises:
        UserProblem: it is not there any more.
    """
    try:
        with book.writing() as tx:
            attachments.put_away(tx, photo.id, now)
    except LookupError:
        raise UserProblem(_GONE) from None
    return Changes(frozenset({Topic.DRAFTS}), marked("The photograph is put away."))


def bring_back(book: Book, visit_id: str) -> Photo | None:
    """Bring the photograph back that was put away last; None if none was."""
    with book.writing() as tx:
        found = attachments.latest_put_away(tx.conn, visit_id)
        if found is not None:
            attachments.put_away(tx, found.id, None)
    return found


def _change(
    book: Book,
    photo: Photo,
    *,
    kind: PhotoKind | None = None,
    note: str | None = None,
    turn: int | None = None,
) -> Photo:
    try:
        with book.writing() as tx:
            attachments.change(tx, photo.id, kind=kind, note=note, turn=turn)
            return attachments.attachment(tx.conn, photo.id)
    except LookupError:
        raise UserProblem(_GONE) from None


def _is_picture(one: Photo) -> bool:
    """Tell a photograph from what else is kept with a visit, as a logged run."""
    return one.media_type.startswith("image/")


def _too_large(name: str) -> Fault:
    return Fault(WHERE, name, said("at most {most} MB", most=MOST_BYTES // 1_000_000))
