"""Opens the demo book in a window; without a display, runs its worked evening and says what came out."""

from __future__ import annotations

import argparse
import datetime as dt
import hashlib
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import debian
import setup_env
from debian import SetupProblem
from setup_env import PYTHON, TOP

OUT = TOP / "build" / "start"
KEPT = TOP / "build" / "demo"


def main(arguments: Sequence[str]) -> int:
    """Set up, then open the demo book; return 0 only if all of it went well."""
    parser = argparse.ArgumentParser(prog="start.py", description="Opens Flueleaf on a fresh demo book.")
    parser.add_argument("--no-window", action="store_true", help="run the demo evening without a window")
    asked = parser.parse_args(arguments)
    setup_env.say_anything(sys.stdout)
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
        return 0 if _evening() else 1
    except SetupProblem as problem:
        print(problem)
        return 1


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


def sources_key(top: Path, today: dt.date) -> str:
    """Return a name that changes with the program, its data and the month up to which the book reaches."""
    digest = hashlib.sha256(f"{today:%Y-%m}".encode())
    for folder in ("app/flueleaf", "resources", "demo_db"):
        for path in sorted((top / folder).rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                digest.update(f"\n{path.relative_to(top).as_posix()}\n".encode())
                digest.update(hashlib.sha256(path.read_bytes()).digest())
    return digest.hexdigest()[:16]


def _demo_book() -> Path:
    """Return a demo book nobody has written in; make it where the kept one has another key."""
    kept = KEPT / f"{sources_key(TOP, dt.date.today())}.book"
    if not kept.exists():
        setup_env.clear(KEPT)
        KEPT.mkdir(parents=True)
        print("Writing the demo book; the first time this takes up to a minute.", flush=True)
        _flueleaf("make-demo", str(kept))
    return kept


def _evening() -> bool:
    """Run the worked evening on a fresh copy of the demo book; return whether the book is whole after it."""
    made = _demo_book()
    setup_env.clear(OUT)
    OUT.mkdir(parents=True)
    book, papers = OUT / "demo.book", OUT / "papers"
    shutil.copyfile(made, book)
    evening = _flueleaf("evening", str(book), str(TOP / "demo_db" / "evening.json"), "--out", str(papers))
    verified = _flueleaf("verify", str(book), accepted=(0, 4))  # 4: the book opens and a check failed
    print(summary(evening, verified, str(book)), flush=True)
    return bool(verified["ok"])


def _flueleaf(*arguments: str, accepted: tuple[int, ...] = (0,)) -> Any:
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
    if run.returncode not in accepted:
        raise SetupProblem(
            f"{run.stdout}\n`flueleaf {arguments[0]}` ended with exit code {run.returncode}.".strip()
        )
    return json.loads(run.stdout)
