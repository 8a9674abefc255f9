"""Which Pythons are taken, and that the first files can be read by the ones that are not."""

from __future__ import annotations

import ast
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
import right_python
from packaging.specifiers import SpecifierSet

TOP = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("version", [(3, minor) for minor in range(6, 17)])
def test_suits_exactly_what_pyproject_says(version: tuple[int, int]) -> None:
    settings = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
    wanted = SpecifierSet(settings["project"]["requires-python"])
    assert right_python.suits(version) == ("{}.{}".format(*version) in wanted)


@pytest.mark.parametrize("name", ["start.py", "check.py", "right_python.py"])
def test_old_pythons_can_read_the_first_files(name: str) -> None:
    text = (TOP / "packaging" / name).read_text(encoding="utf-8")
    ast.parse(text, feature_version=(3, 7))
    assert "__future__" not in text  # Python 3.6 and older refuse to read a file that asks for annotations


def test_the_python_at_work_answers() -> None:
    assert right_python.answers([sys.executable])


def test_what_is_no_python_does_not_answer() -> None:
    assert not right_python.answers(["no-such-command-anywhere"])
    assert not right_python.answers([sys.executable, "-c", "print('2.7')"])


def test_windows_goes_through_its_launcher() -> None:
    assert ["py", "-3.12"] in right_python.commands(windows=True)
    assert right_python.commands(windows=False)[0] == ["python3.13"]


def test_says_plainly_what_is_wanted_where_no_python_suits() -> None:
    code = (
        "import sys; sys.path.insert(0, 'packaging'); import right_python;"
        "right_python.SUITABLE = ((3, 99),); right_python.go_on('packaging/start.py', [])"
    )
    run = subprocess.run([sys.executable, "-c", code], cwd=TOP, capture_output=True, text=True, check=False)
    assert run.returncode == 1
    assert "Flueleaf runs on Python 3.11, 3.12 or 3.13" in run.stderr
    assert "Traceback" not in run.stderr
