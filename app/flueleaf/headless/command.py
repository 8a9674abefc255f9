"""What a command of the command line is, and how its result is printed."""

from __future__ import annotations

import argparse
import datetime as dt
import json
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from flueleaf.domain.problems import Fault, Refused
from flueleaf.operations.intake.reader import load_json

BIGGEST_INPUT_BYTES = 50_000_000


@dataclass(frozen=True, slots=True)
class Command:
    """One command.

    Attributes:
        name: as typed after ``flueleaf``.
        help: one line for ``--help``.
        arguments: adds the command's arguments to its parser.
        run: returns what is printed as JSON, an ``Ended`` for another exit code, or None to print nothing.
    """

    name: str
    help: str
    arguments: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], Any]


@dataclass(frozen=True, slots=True)
class Ended:
    """A printed result with an exit code of its own."""

    document: Any
    exit_code: int


def table(*commands: Command) -> dict[str, Command]:
    """Return a module's commands by name."""
    return {command.name: command for command in commands}


def with_file(parser: argparse.ArgumentParser) -> None:
    """Add the argument FILE, ``-`` being standard input."""
    parser.add_argument("file", metavar="FILE", help="a JSON file, or - for standard input")


def with_today(parser: argparse.ArgumentParser) -> None:
    """Add ``--today DATE``, which sets the clock."""
    parser.add_argument(
        "--today", metavar="DATE", type=iso_date, default=None, help="the date to count as today"
    )


def iso_date(text: str) -> dt.date:
    """Return an ISO date given on the command line."""
    try:
        return dt.datetime.strptime(text, "%Y-%m-%d").date()
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"“{text}” is not accepted; accepted: a date as YYYY-MM-DD"
        ) from None


def today(args: argparse.Namespace) -> dt.date:
    """Return the date of ``--today``, else of the machine's clock."""
    given: dt.date | None = args.today
    return given or dt.date.today()


def read_text(name: str) -> str:
    """Return the text of a file, or of standard input for ``-``.

    Raises:
        Refused: it cannot be read, is too big or is not UTF-8.
    """
    try:
        return read_bytes(name).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refused([Fault("FILE", name, "text in UTF-8")]) from None


def read_bytes(name: str) -> bytes:
    """Return what is in a file, or in standard input for ``-``.

    Raises:
        Refused: it cannot be read, or is too big.
    """
    try:
        if name == "-":
            data = sys.stdin.buffer.read(BIGGEST_INPUT_BYTES + 1)
        else:
            with Path(name).open("rb") as file:
                data = file.read(BIGGEST_INPUT_BYTES + 1)
    except OSError as error:
        raise Refused([Fault("FILE", f"{name} ({error.strerror})", "a file that can be read")]) from None
    except ValueError:  # a name no file can have
        raise Refused([Fault("FILE", name, "a file that can be read")]) from None
    if len(data) > BIGGEST_INPUT_BYTES:
        raise Refused([Fault("FILE", name, f"a file of at most {BIGGEST_INPUT_BYTES:,} bytes")])
    return data


def read_json(name: str) -> Any:
    """Return the JSON document of a file (``-``: standard input), numbers as Decimals."""
    return load_json(read_text(name), name="standard input" if name == "-" else Path(name).name)


def as_json(document: Any) -> str:
    """Return a result as JSON text: Decimals as numbers with their digits, dates as ISO 8601."""
    return json.dumps(_plain(document), ensure_ascii=False, indent=1, allow_nan=False)


def _plain(value: Any) -> Any:
    if isinstance(value, Decimal):
        whole = value == value.to_integral_value() and value.as_tuple().exponent == 0
        return int(value) if whole else float(value)
    if isinstance(value, dt.datetime | dt.date | dt.time):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [_plain(item) for item in value]
    return value
