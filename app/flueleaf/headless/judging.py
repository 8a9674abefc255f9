"""Physics and verdicts for one appliance, and its drift: ``assess``, ``trend``."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from flueleaf.headless.command import Command, read_json, read_text, table, today, with_file, with_today
from flueleaf.operations import assessing, drift
from flueleaf.operations.intake.trend import limit_of


def _arguments(parser: argparse.ArgumentParser) -> None:
    with_file(parser)
    with_today(parser)


def _assess(args: argparse.Namespace) -> Any:
    return assessing.assess_document(read_json(args.file), today=today(args))


def _trend_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a CSV file date,value, or - for standard input")
    parser.add_argument("--limit", metavar="X", help="the limit, in the unit of the values")


def _trend(args: argparse.Namespace) -> Any:
    limit = None if args.limit is None else limit_of(args.limit)
    name = "standard input" if args.file == "-" else Path(args.file).name
    return drift.trend_document(read_text(args.file), name=name, limit=limit)


COMMANDS = table(
    Command("assess", "Physics and verdicts for one appliance.", _arguments, _assess),
    Command("trend", "Drift of one quantity, and when it reaches its limit.", _trend_arguments, _trend),
)
