"""Opens the demo book in a window; without a display, runs its worked evening and says what came out."""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping, Sequence
from typing import Any

import debian
import setup_env
from debian import SetupProblem
from setup_env import PYTHON, TOP

OUT = TOP / "build" / "start"


def main(arguments: Sequence[str]) -> int:
    """Set up, then open the demo book; return 0 only if all of it went well."""
    parser = argparse.ArgumentParser(prog="start.py", description="Opens Flueleaf on a fresh demo book.")
    parser.add_argument("--no-window", action="store_true", help="run the demo evening without a window")
    asked = parser.parse_args(arguments)
    try:
        setup_env.prepare("run", (*debian.OFFSCREEN, *debian.ON_SCREEN))
        if has_display(sys.platform, os.environ) and not asked.no_window:
            print("Opening the demo book.", flush=True)
            code = subprocess.run([str(PYTHON), "-m", "flueleaf", "--demo"], check=False).returncode
            if code != 0:
                print(
                    "The window could not be kept open. With --no-window the demo evening runs without one."
                )
            return 1 if code else 0
        _evening()
    except SetupProblem as problem:
        print(problem)
        return 1
    return 0


def has_display(platform: str, environment: Mapping[str, str]) -> bool:
    """Return whether a window can open: always on Windows and macOS, else where a display is named."""
    if platform in ("win32", "darwin"):
        return True
    return bool(environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"))


def summary(evening: Mapping[str, Any], verified: Mapping[str, Any], book: str) -> str:
    """Return in a few plain lines what the evening made and where it lies.

    Args:
        evening: the result of `flueleaf evening`.
        verified: the result of `flueleaf verify`.
        book: where the demo book lies.
    """
    papers = [f"  {paper['kind']} {paper['number']}: {paper['file']}" for paper in evening["papers"]]
    state = f"whole, with {verified['papers']} sealed papers" if verified["ok"] else "NOT WHOLE"
    return "\n".join(
        ["The demo evening ran without a window. Its papers:", *papers, f"The demo book is {state}: {book}"]
    )


def _evening() -> None:
    shutil.rmtree(OUT, ignore_errors=True)
    OUT.mkdir(parents=True)
    book, papers = OUT / "demo.book", OUT / "papers"
    _flueleaf("make-demo", str(book))
    evening = _flueleaf("evening", str(book), str(TOP / "demo_db" / "evening.json"), "--out", str(papers))
    verified = _flueleaf("verify", str(book))
    print(summary(evening, verified, str(book)), flush=True)


def _flueleaf(*arguments: str) -> Any:
    """Run a command of the program and return the JSON document it gave.

    Raises:
        SetupProblem: the command failed; what it said is on the screen already.
    """
    run = subprocess.run(
        [str(PYTHON), "-m", "flueleaf", *arguments],
        cwd=TOP,
        stdout=subprocess.PIPE,
        encoding="utf-8",
        check=False,
    )
    if run.returncode != 0:
        raise SetupProblem(
            f"{run.stdout}\n`flueleaf {arguments[0]}` ended with exit code {run.returncode}.".strip()
        )
    return json.loads(run.stdout)
