"""Every check is run, and the last line and the exit code tell the truth."""

from __future__ import annotations

import check_steps
import pytest
from check_steps import NotRun, Step


def _cannot_run() -> bool:
    raise NotRun("no Java was found")


GOOD = Step("good", "A good one", lambda: True)
BAD = Step("bad", "A bad one", lambda: False)
ABSENT = Step("absent", "One that cannot run", _cannot_run)


def test_all_run_and_one_failure_fails_the_whole(capsys: pytest.CaptureFixture[str]) -> None:
    assert check_steps.run([BAD, GOOD]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[-1] == "1 passed, 1 failed"
    assert lines[-2] == "failed: bad"
    assert any("A good one passed" in line for line in lines)


def test_all_good(capsys: pytest.CaptureFixture[str]) -> None:
    assert check_steps.run([GOOD, GOOD]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "2 passed, 0 failed"


def test_what_could_not_run_is_said_and_counts_neither_way(capsys: pytest.CaptureFixture[str]) -> None:
    assert check_steps.run([GOOD, ABSENT]) == 0
    out = capsys.readouterr().out
    assert "One that cannot run was not run: no Java was found" in out
    assert out.splitlines()[-2:] == ["not run on this machine: absent", "1 passed, 0 failed"]


def test_quick_leaves_out_only_verapdf() -> None:
    names = [step.name for step in check_steps.steps(quick=False)]
    assert names == ["format", "lint", "types", "contracts", "length", "words", "tests", "pdfa"]
    assert [step.name for step in check_steps.steps(quick=True)] == names[:-1]


def test_the_mutants_only_run_when_asked_for(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(check_steps.setup_env, "prepare", lambda *_wanted: None)
    monkeypatch.setattr(check_steps, "steps", lambda *, quick: [GOOD] if quick else [GOOD, BAD])
    monkeypatch.setattr(check_steps, "own_switch", lambda: [Step("mutants", "Mutants", lambda: True)])
    assert check_steps.main(["--only", "mutants"]) == 0
    assert "Mutants passed" in capsys.readouterr().out
    assert check_steps.main(["--quick"]) == 0
    assert "Mutants" not in capsys.readouterr().out
    assert [step.name for step in check_steps.steps(quick=True)] == ["good"]


def test_an_unknown_step_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        check_steps.main(["--only", "speling"])
    assert ended.value.code == 2
    assert "speling" in capsys.readouterr().err
