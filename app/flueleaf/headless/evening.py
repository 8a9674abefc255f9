"""The evening: one visit, from arrival to sealed papers."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from flueleaf.headless.command import Command, read_json, table, today, with_today
from flueleaf.operations import book as books
from flueleaf.operations import evening


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("book", metavar="BOOK", type=Path, help="the book's file")
    parser.add_argument("file", metavar="FILE", help="the visit as JSON, or - for standard input")
    parser.add_argument("--out", metavar="DIR", type=Path, required=True, help="folder for the papers")
    with_today(parser)


def _evening(args: argparse.Namespace) -> Any:
    document = read_json(args.file)
    with books.writing_book(args.book) as book:
        return evening.run(book, document, out=args.out, today=today(args))


COMMANDS = table(Command("evening", "Sign off one visit and seal its papers.", _arguments, _evening))
