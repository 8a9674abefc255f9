"""``flueleaf COMMAND …``: finds the command, runs it, prints one JSON document, sets the exit code."""

from __future__ import annotations

import argparse
import importlib
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from flueleaf import __version__
from flueleaf.domain.problems import BookProblem, UserProblem
from flueleaf.headless.command import Command, Ended, as_json

DONE, REFUSED, NO_BOOK, CHECK_FAILED = 0, 2, 3, 4

# A command's module is loaded when the command is run: drawing papers costs more than most answers.
MODULES = {
    "assess": "judging",
    "trend": "judging",
    "settle": "settling",
    "fuel": "combustion",
    "gas-rate": "combustion",
    "tally": "money",
    "plan": "money",
    "interest": "money",
    "tax-point": "money",
    "mileage": "money",
    "quarters": "money",
    "make-demo": "demo",
    "evening": "evening",
    "find": "book",
    "due": "book",
    "papers": "book",
    "paper": "book",
    "verify": "book",
}


class OneLineParser(argparse.ArgumentParser):
    """A parser of arguments that says a fault in one line, as every other refusal is said."""

    def __init__(self, *, prog: str, description: str) -> None:
        # An option cut short might mean another one in the next release.
        super().__init__(prog=prog, description=description, allow_abbrev=False)

    def error(self, message: str) -> NoReturn:
        """End with exit code 2."""
        self.exit(REFUSED, message.removeprefix("argument ") + "\n")


def find_command(name: str) -> Command:
    """Return a command by its name."""
    module = importlib.import_module(f"flueleaf.headless.{MODULES[name]}")
    found: Command = module.COMMANDS[name]
    return found


def run(argv: Sequence[str]) -> int:
    """Run one command; messages for a person go to standard error.

    Args:
        argv: the arguments, the command's name first.

    Returns:
        The exit code: 0 done, 2 input refused, 3 book not usable, 4 a check of ``verify`` failed.
    """
    _speak_utf8()
    overview = OneLineParser(prog="flueleaf", description="The record book of a heating engineer.")
    overview.add_argument("--version", action="version", version=f"flueleaf {__version__}")
    overview.add_argument(
        "command", choices=sorted(MODULES), metavar="COMMAND", help=", ".join(sorted(MODULES))
    )
    name = overview.parse_args(argv[:1]).command
    command = find_command(name)
    parser = OneLineParser(prog=f"flueleaf {name}", description=command.help)
    command.arguments(parser)
    try:
        result = command.run(parser.parse_args(argv[1:]))
    except BookProblem as problem:
        return _say(problem, NO_BOOK)
    except UserProblem as problem:
        return _say(problem, REFUSED)
    code = DONE
    if isinstance(result, Ended):
        result, code = result.document, result.exit_code
    return code if result is None else _print(as_json(result), code)


def _print(text: str, code: int) -> int:
    try:
        print(text, flush=True)
    except BrokenPipeError:
        # The reader of a pipe went away (``| head``): nobody is left to tell.
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - it stands in until the end
    return code


def _say(problem: UserProblem, code: int) -> int:
    print(problem, file=sys.stderr)
    return code


def _speak_utf8() -> None:
    """Print UTF-8 whatever the console's habit (Windows).

    What is no text (a file's name in other bytes) is written out as an escape, which JSON reads as well.
    """
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="backslashreplace")
