"""Physics and verdicts for one appliance: ``assess``."""

from __future__ import annotations

import argparse
from typing import Any

from flueleaf.headless.command import Command, read_json, table, today, with_file, with_today
from flueleaf.operations import assessing


def _arguments(parser: argparse.ArgumentParser) -> None:
    with_file(parser)
    with_today(parser)


def _assess(args: argparse.Namespace) -> Any:
    return assessing.assess_document(read_json(args.file), today=today(args))


COMMANDS = table(Command("assess", "Physics and verdicts for one appliance.", _arguments, _assess))
