"""Combustion alone: ``fuel`` and ``gas-rate``."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from flueleaf.headless.command import Command, read_json, read_text, table, with_file
from flueleaf.operations import combustion


def _with_name(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "name",
        metavar="NAME|FILE",
        help="a fuel, as “natural gas”, or a JSON or TOML file that describes one; - for standard input",
    )


def _fuel(args: argparse.Namespace) -> Any:
    name = args.name
    if name == "-" or (not combustion.is_fuel(name) and _is_file(name)):
        called = "standard input" if name == "-" else Path(name).name
        return combustion.entered_fuel_document(read_text(name), name=called)
    return combustion.fuel_document(name)


def _is_file(name: str) -> bool:
    try:
        return Path(name).is_file()
    except OSError:  # a name longer than any file's
        return False


def _gas_rate(args: argparse.Namespace) -> Any:
    return combustion.gas_rate_document(read_json(args.file))


COMMANDS = table(
    Command("fuel", "The constants of a fuel.", _with_name, _fuel),
    Command("gas-rate", "Heat input from the meter.", with_file, _gas_rate),
)
