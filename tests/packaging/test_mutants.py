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
COUNTDOWN = "def down(count: int) -> int:\n    while count > 0:\n        count -= 1\n    return count\n"
COUNTS_DOWN = """
def test_down() -> None:
    from small import down

    assert down(3) == 0
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
    said = [what for _, what in mutants.judged(tried(small, AT_THE_LIMIT), 2)]
    assert said == ["noticed", "noticed"]
    assert (small / "app" / "small.py").read_text(encoding="utf-8") == SOURCE


def test_a_test_beside_the_limit_lets_one_pass(small: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = {mutant.mutation.told: what for mutant, what in mutants.judged(tried(small, BESIDE_IT), 1)}
    assert said == {"> to <=": "noticed", "> to >=": "not noticed"}
    assert capsys.readouterr().out == "not noticed: app/small.py:2: > to >=: return value > limit\n"


def test_a_loop_without_an_end_is_told_apart(
    small: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (small / "app" / "small.py").write_text(COUNTDOWN, encoding="utf-8")
    monkeypatch.setattr(mutants, "ALWAYS_GIVEN_S", 0)
    monkeypatch.setattr(mutants, "TIMES_AS_LONG", 2)
    endless = [one for one in tried(small, COUNTS_DOWN) if one.mutation.told == "1 to 0"]
    assert [what for _, what in mutants.judged(endless, 1)] == ["too long"]
    assert capsys.readouterr().out == "too long: app/small.py:3: 1 to 0: count -= 1\n"
    assert (small / "app" / "small.py").read_text(encoding="utf-8") == COUNTDOWN


def test_the_longer_tests_take_without_a_change_the_longer_they_are_given() -> None:
    assert (mutants.ALWAYS_GIVEN_S, mutants.TIMES_AS_LONG) == (90, 6)
    assert [mutants.longest_s(took) for took in (0.5, 15.0, 15.5)] == [90, 90, 93]


def test_the_sums_tell_the_three_apart_and_only_an_unnoticed_one_fails(
    small: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (small / "mutants.toml").write_text(
        '[[target]]\nmodule = "app/small.py"\ntests = ["tests/test_small.py"]\n', encoding="utf-8"
    )
    monkeypatch.setattr(mutants, "SETTINGS", small / "mutants.toml")
    for second, code, sums in (
        ("not noticed", 1, "1 noticed, 1 not, 0 took too long"),
        ("too long", 0, "1 noticed, 0 not, 1 took too long"),
        ("noticed", 0, "2 noticed, 0 not, 0 took too long"),
    ):
        said = ("noticed", second)
        monkeypatch.setattr(mutants, "judged", lambda tried, _, said=said: zip(tried, said, strict=True))
        assert mutants.main([]) == code
        assert capsys.readouterr().out.splitlines() == [
            "2 changes in 1 files; 0 known to change nothing",
            f"app/small.py: {said.count('noticed')} of 2 noticed",
            sums,
        ]


def test_tests_that_fail_anyway_are_said(small: Path) -> None:
    with pytest.raises(AssertionError, match="without any change"):
        list(mutants.judged(tried(small, AT_THE_LIMIT.replace("351", "349")), 1))


def test_a_file_without_tests_is_said(small: Path) -> None:
    with pytest.raises(FileNotFoundError, match="no tests ran"):
        list(mutants.judged(tried(small, "LIMIT = 350"), 1))


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
