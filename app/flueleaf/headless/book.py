"""Commands that read a book: find, due, papers, paper, verify."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from flueleaf.headless.command import Command, Ended, iso_date, table, today, with_today
from flueleaf.operations import book as books
from flueleaf.operations import finding, issued, schedule

CHECK_FAILED = 4
MOST_HITS = 50


def _with_book(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("book", metavar="BOOK", type=Path, help="the book's file")


def _find_arguments(parser: argparse.ArgumentParser) -> None:
    _with_book(parser)
    parser.add_argument("text", metavar="TEXT", help="name, street, postcode, make, serial, paper number …")
    parser.add_argument("--most", metavar="N", type=_positive, default=MOST_HITS, help="at most so many hits")


def _positive(text: str) -> int:
    if text.isdecimal() and text.isascii() and 1 <= int(text) <= 10_000:
        return int(text)
    raise argparse.ArgumentTypeError(f"“{text}” is not accepted; accepted: a whole number from 1 to 10,000")


def _find(args: argparse.Namespace) -> Any:
    with books.reading(args.book) as book:
        return finding.as_json(finding.find(book, args.text, most=args.most))


def _due_arguments(parser: argparse.ArgumentParser) -> None:
    _with_book(parser)
    parser.add_argument(
        "--until", metavar="DATE", type=iso_date, default=None, help="due on or before this date"
    )
    with_today(parser)


def _due(args: argparse.Namespace) -> Any:
    with books.reading(args.book) as book:
        return schedule.as_json(schedule.due(book, until=args.until, today=today(args)))


def _papers(args: argparse.Namespace) -> Any:
    with books.reading(args.book) as book:
        return issued.as_json(issued.papers(book))


def _paper_arguments(parser: argparse.ArgumentParser) -> None:
    _with_book(parser)
    parser.add_argument("number", metavar="NUMBER", help="the paper's number, as printed on it")
    parser.add_argument("--out", metavar="FILE", type=Path, required=True, help="where to put the PDF")


def _paper(args: argparse.Namespace) -> Any:
    with books.reading(args.book) as book:
        return issued.save_paper(book, args.number, args.out)


def _verify(args: argparse.Namespace) -> Any:
    with books.reading(args.book) as book:
        result = books.verify(book)
    return result if result["ok"] else Ended(result, CHECK_FAILED)


COMMANDS = table(
    Command("find", "What the finder finds, best first.", _find_arguments, _find),
    Command("due", "What falls due.", _due_arguments, _due),
    Command("papers", "The sealed papers of a book.", _with_book, _papers),
    Command("paper", "Write a sealed paper, byte for byte as issued.", _paper_arguments, _paper),
    Command("verify", "Check the file, the chain of papers and the numbers.", _with_book, _verify),
)
