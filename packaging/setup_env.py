"""Keeps `.venv` at the top of the checkout equal to the lock files, and Flueleaf importable in it.

A stamp in `.venv` says what was installed. It reads "unfinished" while an installation is at work, so that
one that was interrupted is made again from the start, and a finished one is not touched a second time.
"""

from __future__ import annotations

import hashlib
import importlib.util
import io
import json
import os
import shutil
import subprocess
import sys
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Literal, TextIO

import debian
import right_python
from debian import SetupProblem

TOP = Path(__file__).resolve().parent.parent
VENV = TOP / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")

Wanted = Literal["run", "dev"]
Work = Literal["nothing", "add", "rebuild"]


@dataclass(frozen=True)
class Stamp:
    """What lies in `.venv`: where it stands, its Python, and the hash of each lock file installed."""

    finished: bool
    top: str
    python: str
    run: str | None
    dev: str | None


UNFINISHED = Stamp(finished=False, top="", python="", run=None, dev=None)


def lock(wanted: Wanted) -> Path:
    """Return the lock file for running the program, or for working on it (which holds the first as well)."""
    return TOP / "packaging" / f"requirements-{wanted}.lock"


def prepare(wanted: Wanted, system: tuple[str, ...]) -> None:
    """Bring `.venv` to the state of the lock files and install the system packages that are missing.

    Args:
        wanted: "run" for the program, "dev" for the program and the tools that check it.
        system: the Debian packages wanted beside.

    Raises:
        SetupProblem: something stands in the way; a second start will not take this one for finished.
    """
    hashes = {name: _hash(lock(name)) for name in ("run", "dev")}
    work = decide(read_stamp(VENV), venv_python(VENV), wanted, top=str(TOP), hashes=hashes)
    machine = debian.ThisMachine()
    if work == "rebuild" and importlib.util.find_spec("ensurepip") is None:
        system = (*system, f"python{sys.version_info.major}.{sys.version_info.minor}-venv")
    debian.ensure(system, "that Flueleaf needs", machine)
    if work != "nothing":
        _install(work, wanted, hashes)


def decide(
    stamp: Stamp | None, python: str | None, wanted: Wanted, *, top: str, hashes: dict[str, str]
) -> Work:
    """Return what has to be done to `.venv`.

    Args:
        stamp: what the stamp says, None without one.
        python: the version of the Python in `.venv`, None where none answers.
        wanted: what has to be in it.
        top: the folder of the checkout now.
        hashes: the hash of each lock file now.
    """
    if python is None or not right_python.suits(tuple(int(part) for part in python.split(".")[:2])):
        return "rebuild"
    if stamp is None:
        return "add"  # made by hand: what the lock names is put in, the rest left alone
    if not stamp.finished or (stamp.top, stamp.python, stamp.run) != (top, python, hashes["run"]):
        return "rebuild"
    if wanted == "run" or stamp.dev == hashes["dev"]:
        return "nothing"
    return "add" if stamp.dev is None else "rebuild"


def venv_python(venv: Path) -> str | None:
    """Return the version of an environment's Python as its own note gives it, None where there is none."""
    try:
        note = (venv / "pyvenv.cfg").read_text(encoding="utf-8")
    except OSError:
        return None
    fields = dict(line.split(" = ", 1) for line in note.splitlines() if " = " in line)
    python = venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    return (
        fields.get("version") if python.exists() else None
    )  # exists() follows the link to the system's Python


def read_stamp(venv: Path) -> Stamp | None:
    """Return the stamp of an environment, None without one; a damaged stamp reads as unfinished."""
    try:
        return Stamp(**json.loads((venv / "flueleaf-stamp.json").read_text(encoding="utf-8")))
    except FileNotFoundError:
        return None
    except (OSError, ValueError, TypeError):
        return UNFINISHED


def write_stamp(venv: Path, stamp: Stamp) -> None:
    """Write the stamp in one move, so that a reader finds the old one or the new one, never half of it."""
    draft = venv / "flueleaf-stamp.json.new"
    draft.write_text(json.dumps(asdict(stamp), indent=1), encoding="utf-8")
    draft.replace(venv / "flueleaf-stamp.json")


def clear(folder: Path) -> None:
    """Remove a folder with all in it; do nothing where there is none.

    Raises:
        SetupProblem: something in it is held open, as Windows holds a running program or a PDF being shown.
    """
    try:
        if folder.is_symlink():
            folder.unlink()
        elif folder.exists():
            shutil.rmtree(folder)
    except OSError as error:
        raise SetupProblem(
            f"{error.filename or folder} cannot be removed: {error.strerror}. "
            "Close what has it open (Flueleaf, a PDF) and start again."
        ) from error


def say_anything(stream: TextIO) -> None:
    """Let a stream print any path: what its encoding lacks is written as an escape (Windows, into a file)."""
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors="backslashreplace")


def command_file(*, windows: bool) -> tuple[str, bytes]:
    """Return the place of the `flueleaf` command within an environment, and what stands in it."""
    if windows:
        return "Scripts/flueleaf.cmd", b'@"%~dp0python.exe" -m flueleaf %*\r\n'
    return "bin/flueleaf", b'#!/bin/sh\nexec "$(dirname "$0")/python" -m flueleaf "$@"\n'


def make_importable(venv: Path, app: Path) -> None:
    """Let the environment's Python import from a folder, and put a `flueleaf` command beside it."""
    windows = os.name == "nt"
    name, text = command_file(windows=windows)
    (venv / name).write_bytes(text)  # its line ends as they stand here, on every system
    if windows:
        site = venv / "Lib" / "site-packages"
    else:
        site = next((venv / "lib").glob("python3.*")) / "site-packages"
        (venv / name).chmod(0o755)
    # Relative to where it lies: before 3.13 a path beyond ASCII is read in the locale's encoding.
    (site / "flueleaf.pth").write_text(os.path.relpath(app, site) + "\n", encoding="utf-8")


def _install(work: Work, wanted: Wanted, hashes: dict[str, str]) -> None:
    if work == "rebuild":
        _make_venv()
    python = venv_python(VENV)
    if python is None:
        raise SetupProblem(
            f"{VENV} was made, but no Python answers in it. Delete the folder and start again."
        )
    write_stamp(VENV, UNFINISHED)
    print(
        f"Installing the locked packages of {lock(wanted).name}; the first time takes a minute or two.",
        flush=True,
    )
    pip = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps"]
    command = [*pip, "--only-binary=:all:", "--require-hashes", "-r", str(lock(wanted))]
    if subprocess.run(command, check=False).returncode != 0:
        raise SetupProblem(
            "The packages could not be installed; what pip said stands above. Start again to go on."
        )
    make_importable(VENV, TOP / "app")
    dev = hashes["dev"] if wanted == "dev" else None
    write_stamp(VENV, Stamp(finished=True, top=str(TOP), python=python, run=hashes["run"], dev=dev))


def _make_venv() -> None:
    if Path(sys.prefix).resolve() == VENV.resolve():
        raise SetupProblem(f"{VENV} has to be made anew. Start with a Python outside of it, such as python3.")
    print(f"Making {VENV}", flush=True)
    (VENV / "pyvenv.cfg").unlink(missing_ok=True)  # first, so that a half-deleted folder is no environment
    clear(VENV)
    VENV.mkdir()
    write_stamp(VENV, UNFINISHED)
    if subprocess.run([sys.executable, "-m", "venv", str(VENV)], check=False).returncode != 0:
        raise SetupProblem("python -m venv failed; what it said stands above.")


def _hash(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()
