"""``flueleaf evening``: a visit's document in, sealed papers out."""

from __future__ import annotations

import datetime as dt
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from flueleaf.domain.problems import Fault, Refused, UserProblem
from flueleaf.domain.words import said
from flueleaf.operations import visits
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices_of, of_book
from flueleaf.storage.book import Book


def run(book: Book, document: object, *, out: Path, today: dt.date) -> dict[str, Any]:
    """Sign off the visit of a document and write its papers to a folder.

    The book comes first: what it has acknowledged can be written out again with ``flueleaf paper``.

    Raises:
        Refused: the document, or the folder, is not accepted; nothing was written.
        BookProblem: the book cannot be written.
    """
    visit = read_visit(document, choices=choices_of(of_book(book)), today=today)
    issued_at = visit.issued_at or _now(today)
    with ready_folder(out):
        signed = visits.sign_off(book, visit, issued_at=issued_at)
    papers = []
    for paper in signed.papers:
        file = out / f"{paper.number}.pdf"
        put_file(file, paper.pdf)
        papers.append(
            {"number": paper.number, "kind": paper.kind, "file": str(file), "fingerprint": paper.fingerprint}
        )
    return {
        "visit_id": signed.visit_id,
        "verdict": signed.verdict,
        "doubts": [
            {"code": doubt.code, "quantity": doubt.quantity, "text": doubt.text} for doubt in signed.doubts
        ],
        "papers": papers,
        "due": [{"date": due.date, "rule": due.rule} for due in signed.due],
    }


def _now(today: dt.date) -> dt.datetime:
    """Return the time of day of the machine's clock on the day that counts as today."""
    now = dt.datetime.now().astimezone()
    return dt.datetime.combine(today, now.timetz().replace(microsecond=0))


@contextmanager
def ready_folder(folder: Path) -> Iterator[None]:
    """Make sure that files can be put into a folder, before anything is sealed.

    What had to be made for it is taken back if nothing comes to be sealed.

    Raises:
        Refused: it is no folder, or takes no file.
    """
    made = [path for path in (folder, *folder.parents) if not os.path.exists(path)]
    try:
        _make_folder(folder)
        yield
    except UserProblem:
        for path in made:
            with suppress(OSError):  # not made after all, or another program has put something there
                path.rmdir()
        raise


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as error:
        unusable = f"{folder} ({error.strerror})"
        raise Refused([Fault("--out", unusable, said("a folder in which files can be made"))]) from None


def put_file(path: Path, data: bytes) -> None:
    """Write a file whole under its name, or not at all.

    Raises:
        Refused: it cannot be written.
    """
    name: str | None = None
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}-")
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.replace(name, path)
    except OSError as error:
        if name is not None:
            Path(name).unlink(missing_ok=True)
        raise Refused(
            [Fault("--out", f"{path} ({error.strerror})", said("a place that takes the file"))]
        ) from None
