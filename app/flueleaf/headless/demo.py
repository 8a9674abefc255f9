"""The demo book, written from its scenario."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

from flueleaf.headless.command import Command, table, today, with_today
from flueleaf.operations.demo.make import make_demo


def _whole(low: int, high: int) -> Any:
    def read(text: str) -> int:
        if text.isascii() and text.isdecimal() and low <= int(text) <= high:
            return int(text)
        raise argparse.ArgumentTypeError(
            f"“{text}” is not accepted; accepted: a whole number from {low} to {high}"
        )

    return read


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("book", metavar="BOOK", type=Path, help="the file to write; it must not be there yet")
    parser.add_argument("--years", metavar="N", type=_whole(0, 20), default=6, help="years of visits (6)")
    parser.add_argument(
        "--scale", metavar="K", type=_whole(1, 1000), default=1, help="so many times as large"
    )
    parser.add_argument(
        "--seed", metavar="S", type=_whole(0, 2**31), default=1, help="another story of the kind"
    )
    with_today(parser)


def _make(args: argparse.Namespace) -> Any:
    summary = make_demo(args.book, years=args.years, scale=args.scale, seed=args.seed, today=today(args))
    return summary.as_json()


COMMANDS = table(Command("make-demo", "Write the demo book.", _arguments, _make))
