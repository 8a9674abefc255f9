"""A killed evening leaves all of it or nothing, a whole book, and no number doubled or skipped."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork to kill many evenings quickly")

NUMBERS = ["R-2026-0001", "I-2026-0001"]
ALL = {"visit": 1, "work": 1, "slip": 3, "invoice": 1, "due_item": 1, "customer": 1, "counter": 2}
NOTHING = dict.fromkeys(ALL, 0)


def _kill(folder: Path, way: str, seed: int = 1) -> list[dict[str, Any]]:
    app = Path(__file__).resolve().parents[2] / "app"
    done = subprocess.run(
        [sys.executable, str(Path(__file__).with_name("killing.py")), str(folder), way, str(seed)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": str(app)},
    )
    assert done.returncode == 0, done.stderr[-2000:]
    results: list[dict[str, Any]] = json.loads(done.stdout)
    return results


def _is_all_or_nothing(result: dict[str, Any]) -> bool:
    assert result["faults"] == []
    if result["papers"]:
        assert result["papers"] == NUMBERS
        assert result["rows"] == ALL
        return True
    assert result["rows"] == NOTHING
    if "again" in result:
        assert result["again"] == {"faults": [], "papers": NUMBERS, "rows": ALL}
    return False


def test_killed_at_every_statement(tmp_path: Path) -> None:
    results = _kill(tmp_path, "statements")
    assert len(results) > 50
    assert all(result["killed"] for result in results)
    outcomes = [_is_all_or_nothing(result) for result in results]
    assert not outcomes[0], "killed at the first statement nothing can have been written"
    assert outcomes == sorted(outcomes), "once it is all there, it stays"
    assert sum("again" in result for result in results) >= 10


def test_killed_at_random_moments(tmp_path: Path) -> None:
    results = _kill(tmp_path, "moments")
    assert len(results) == 50
    outcomes = [_is_all_or_nothing(result) for result in results]
    assert sum(result["killed"] for result in results) > 25
    assert False in outcomes
