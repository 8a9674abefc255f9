"""When `.venv` is left alone, added to or made anew."""

from __future__ import annotations

import dataclasses
import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
import setup_env
from debian import SetupProblem
from setup_env import Stamp, Wanted, Work

HASHES = {"run": "aa", "dev": "bb"}
RUN = Stamp(finished=True, top="/home/j/flueleaf", python="3.11.2", run="aa", dev=None)
DEV = dataclasses.replace(RUN, dev="bb")


def decide(stamp: Stamp | None, wanted: Wanted, python: str | None = "3.11.2") -> Work:
    return setup_env.decide(stamp, python, wanted, top="/home/j/flueleaf", hashes=HASHES)


def test_a_second_start_does_nothing() -> None:
    assert decide(RUN, "run") == "nothing"
    assert decide(DEV, "dev") == "nothing"
    assert decide(DEV, "run") == "nothing"


def test_the_tools_are_added_to_what_runs_the_program() -> None:
    assert decide(RUN, "dev") == "add"


@pytest.mark.parametrize(
    "change",
    [{"finished": False}, {"run": "old"}, {"top": "/elsewhere"}, {"python": "3.11.1"}],
    ids=lambda change: next(iter(change)),
)
def test_anything_else_is_made_anew(change: dict[str, object]) -> None:
    assert decide(dataclasses.replace(DEV, **change), "run") == "rebuild"
    assert decide(dataclasses.replace(DEV, **change), "dev") == "rebuild"


def test_a_changed_tool_list_is_made_anew_only_for_who_wants_the_tools() -> None:
    old = dataclasses.replace(DEV, dev="old")
    assert decide(old, "dev") == "rebuild"
    assert decide(old, "run") == "nothing"


@pytest.mark.parametrize("python", [None, "3.10.13", "3.14.0"])
def test_no_python_or_an_unsuitable_one_is_made_anew(python: str | None) -> None:
    assert decide(DEV, "run", python) == "rebuild"
    assert decide(None, "run", python) == "rebuild"


def test_an_environment_made_by_hand_is_added_to() -> None:
    assert decide(None, "run") == "add"


def test_a_stamp_comes_back_as_written(tmp_path: Path) -> None:
    assert setup_env.read_stamp(tmp_path) is None
    setup_env.write_stamp(tmp_path, DEV)
    assert setup_env.read_stamp(tmp_path) == DEV


@pytest.mark.parametrize("text", ["", "{}", '{"finished": true}', "[1]", "no json"])
def test_a_damaged_stamp_is_unfinished(tmp_path: Path, text: str) -> None:
    (tmp_path / "flueleaf-stamp.json").write_text(text, encoding="utf-8")
    stamp = setup_env.read_stamp(tmp_path)
    assert stamp is not None
    assert not stamp.finished


def test_a_note_without_its_python_is_no_environment(tmp_path: Path) -> None:
    (tmp_path / "pyvenv.cfg").write_text("home = /usr/bin\nversion = 3.11.2\n", encoding="utf-8")
    (tmp_path / "bin").mkdir()
    (tmp_path / "bin" / "python").symlink_to(tmp_path / "gone")
    assert setup_env.venv_python(tmp_path) is None
    assert setup_env.venv_python(tmp_path / "nowhere") is None


def test_a_folder_is_cleared_whole(tmp_path: Path) -> None:
    (tmp_path / "papers" / "old").mkdir(parents=True)
    (tmp_path / "papers" / "old" / "R-1.pdf").write_bytes(b"%PDF")
    setup_env.clear(tmp_path / "papers")
    setup_env.clear(tmp_path / "papers")
    assert list(tmp_path.iterdir()) == []


def test_a_link_is_removed_and_what_it_leads_to_is_left(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "real" / "kept").touch()
    (tmp_path / ".venv").symlink_to(tmp_path / "real")
    setup_env.clear(tmp_path / ".venv")
    assert not (tmp_path / ".venv").exists()
    assert (tmp_path / "real" / "kept").exists()


def test_what_cannot_be_removed_is_told_in_words(tmp_path: Path) -> None:
    held = tmp_path / "not a folder"  # stands for a file that Windows holds: rmtree refuses it as well
    held.touch()
    with pytest.raises(SetupProblem, match=r"not a folder cannot be removed: .+Close what has it open"):
        setup_env.clear(held)


@pytest.mark.parametrize("encoding", ["cp1252", "ascii", "utf-8"])
def test_any_path_can_be_printed(encoding: str) -> None:
    written = io.BytesIO()
    stream = io.TextIOWrapper(written, encoding=encoding)
    setup_env.say_anything(stream)
    print("C:\\Zażółć\\demo.book", file=stream, flush=True)
    assert written.getvalue().decode(encoding).startswith("C:\\Za")


def test_the_command_has_the_line_ends_of_its_system() -> None:
    place, text = setup_env.command_file(windows=True)
    assert (place, text.count(b"\r"), text[-2:]) == ("Scripts/flueleaf.cmd", 1, b"\r\n")
    place, text = setup_env.command_file(windows=False)
    assert (place, text.count(b"\r"), text[:10]) == ("bin/flueleaf", 0, b"#!/bin/sh\n")


@pytest.mark.slow
def test_a_new_environment_imports_the_program_and_has_its_command(tmp_path: Path) -> None:
    venv = tmp_path / "möbel" / ".venv"
    app = tmp_path / "möbel" / "app"
    (app / "flueleaf").mkdir(parents=True)
    (app / "flueleaf" / "__main__.py").write_text("import sys; print(sys.argv[1:])", encoding="utf-8")
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(venv)], check=True)
    assert setup_env.venv_python(venv) == "{}.{}.{}".format(*sys.version_info[:3])
    setup_env.make_importable(venv, app)
    name = "Scripts/flueleaf.cmd" if os.name == "nt" else "bin/flueleaf"
    # check.py itself puts this checkout's app/ first on PYTHONPATH.
    clean = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    command = [str(venv / name), "--book", "a b"]
    run = subprocess.run(command, env=clean, capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "['--book', 'a b']"
