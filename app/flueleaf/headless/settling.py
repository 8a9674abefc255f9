"""The settled part of a logged run: ``settle``."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from flueleaf.headless.command import Command, read_bytes, table
from flueleaf.operations import settling

OPTIONS = {"time": "time", "co": "co_ppm", "o2": "o2_pct", "co2": "co2_pct"}


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a CSV file with a header, or - for standard input")
    for option in OPTIONS:
        parser.add_argument(
            f"--{option}", metavar="COLUMN", help="header of its column, where it is not a usual one"
        )


def _settle(args: argparse.Namespace) -> Any:
    named = {key: given for option, key in OPTIONS.items() if (given := getattr(args, option)) is not None}
    name = "standard input" if args.file == "-" else Path(args.file).name
    return settling.settle_document(read_bytes(args.file), name=name, named=named)


COMMANDS = table(Command("settle", "The settled part of a logged run.", _arguments, _settle))
