"""Sealed papers: listed, read back, saved byte for byte."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from flueleaf.domain.money.amount import Money
from flueleaf.domain.problems import BookProblem, Fault, Refused
from flueleaf.domain.records.sealing import sha256_of_bytes
from flueleaf.domain.words import said
from flueleaf.operations.evening import put_file
from flueleaf.operations.page_records import PaperRow
from flueleaf.storage import listing
from flueleaf.storage import papers as stored
from flueleaf.storage.book import Book


def papers(book: Book) -> list[listing.ListedPaper]:
    """Return the sealed papers, oldest first."""
    return listing.all_papers(book.con)


def as_json(rows: Iterable[listing.ListedPaper]) -> list[dict[str, Any]]:
    """Return papers in the shape of the headless contract."""
    return [
        {
            "number": row.number,
            "kind": row.kind,
            "date": row.date,
            "premises": row.premises,
            "customer": row.customer,
            "fingerprint": row.fingerprint,
            "replaces": row.replaces,
        }
        for row in rows
    ]


def paper_bytes(book: Book, number: str) -> bytes:
    """Return the PDF of a sealed paper, byte for byte as issued.

    Raises:
        Refused: there is no paper of that number.
    """
    try:
        return stored.body(book.con, number)[1]
    except LookupError:
        raise Refused([Fault("NUMBER", number, said("the number of a sealed paper of this book"))]) from None


def issued_bytes(book: Book, number: str) -> bytes:
    """Return the PDF of a sealed paper, having made sure that it is the one that was issued.

    Raises:
        Refused: there is no paper of that number.
        BookProblem: the PDF in the book is not the one that was issued.
    """
    data = paper_bytes(book, number)
    if sha256_of_bytes(data) != stored.sealed(book.con, number).pdf_sha256:
        raise BookProblem(
            said(
                "The PDF of {number} in the book {path} is not the one that was issued: it was "
                "changed or damaged. Nothing was written. Run “flueleaf verify” and restore a backup.",
                number=number,
                path=book.path,
            )
        )
    return data


def save_paper(book: Book, number: str, file: Path) -> dict[str, Any]:
    """Write a sealed paper's PDF to a file.

    Raises:
        Refused: there is no paper of that number, or the file is the book itself or cannot be written.
        BookProblem: the PDF in the book is not the one that was issued.
    """
    data = issued_bytes(book, number)
    if file.exists() and file.samefile(book.path):
        raise Refused([Fault("--out", str(file), said("a file other than the book"))])
    put_file(file, data)
    return {"number": number, "file": str(file), "bytes": len(data)}


def papers_of_visit(book: Book, visit_ref: int) -> list[PaperRow]:
    """Return the papers of a visit in the order they were sealed."""
    return [paper_row(paper) for paper in listing.papers_of_visit(book.con, visit_ref)]


def paper_row(paper: listing.ListedPaper) -> PaperRow:
    """Return a paper as lists show it, a bill with its total."""
    total = Money(paper.total_pence).with_sign() if paper.total_pence is not None else ""
    return PaperRow(paper.number, paper.kind, paper.date, paper.premises, paper.customer, total)
