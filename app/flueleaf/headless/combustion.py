"""Combustion alone: ``fuel`` and ``gas-rate``."""

from __future__ import annotations

import argparse
from typing import Any

from flueleaf.headless.command import Command, read_json, table, with_file
from flueleaf.operations import combustion


def _with_name(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", help="a fuel, as “natural gas”")


def _fuel(args: argparse.Namespace) -> Any:
    return combustion.fuel_document(args.name)


def _gas_rate(args: argparse.Namespace) -> Any:
    return combustion.gas_rate_document(read_json(args.file))


COMMANDS = table(
    Command("fuel", "The constants of a fuel.", _with_name, _fuel),
    Command("gas-rate", "Heat input from the meter.", with_file, _gas_rate),
)
