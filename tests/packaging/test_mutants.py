"""A change is made in a copy, the tests run there, and what they let pass is told."""

from __future__ import annotations

import tomllib
from pathlib import Path

import mutants
import pytest
from mutants import Target

SOURCE = "def over(value: int, limit: int) -> bool:\n    return value > limit\n"
AT_THE_LIMIT = """
def test_over() -> None:
    from small import over

    assert over(351, 350)
    assert not over(350, 350)
"""
BESIDE_IT = """
def test_over() -> None:
    from small import over

    assert over(400, 350)
"""


@pytest.fixture
def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A checkout of one module, for the mutants to work on."""
    (tmp_path / "app").mkdir()
    (tmp_path / "app" / "small.py").write_text(SOURCE, encoding="utf-8")
    monkeypatch.setattr(mutants, "TOP", tmp_path)
    monkeypatch.setattr(mutants, "COPIED", ("app", "tests"))
    return tmp_path


def tried(small: Path, tests: str) -> list[mutants.Mutant]:
    (small / "tests").mkdir()
    (small / "tests" / "test_small.py").write_text(tests, encoding="utf-8")
    return mutants.mutants_of(Target("app/small.py", ("tests/test_small.py",)), small)


def test_a_test_at_the_limit_notices_both_changes(small: Path) -> None:
    assert list(mutants.survivors(tried(small, AT_THE_LIMIT), 2)) == []
    assert (small / "app" / "small.py").read_text(encoding="utf-8") == SOURCE


def test_a_test_beside_the_limit_lets_one_pass(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (passed,) = mutants.survivors(tried(small, BESIDE_IT), 1)
    assert passed.mutation.told == "> to >="
    assert capsys.readouterr().out == "not noticed: app/small.py:2: > to >=: return value > limit\n"


def test_tests_that_fail_anyway_are_said(small: Path) -> None:
    with pytest.raises(AssertionError, match="without any change"):
        list(mutants.survivors(tried(small, AT_THE_LIMIT.replace("351", "349")), 1))


def test_a_file_without_tests_is_said(small: Path) -> None:
    with pytest.raises(FileNotFoundError, match="no tests ran"):
        list(mutants.survivors(tried(small, "LIMIT = 350"), 1))


def test_every_target_and_test_is_there_and_every_change_set_aside_still_exists() -> None:
    settings = tomllib.loads(mutants.SETTINGS.read_text(encoding="utf-8"))
    found = mutants.targets(settings, mutants.TOP)
    assert all((mutants.TOP / target.file).is_file() for target in found)
    assert all((mutants.TOP / test).exists() for target in found for test in target.tests)
    every = {
        (mutant.line, mutant.mutation.told)
        for target in found
        for mutant in mutants.mutants_of(target, mutants.TOP)
    }
    assert mutants.known_alike(settings) <= every
    assert all(entry["why"] for entry in settings.get("alike", []))
