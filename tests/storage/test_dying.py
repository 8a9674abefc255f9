"""A process killed at any statement of a change leaves all of it or nothing."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
BEFORE = "[]|['R-2026-0001', 'R-2026-0002']|"
AFTER = "[]|['R-2026-0001', 'R-2026-0002', 'R-2026-0003', 'I-2026-0001']|"


def test_all_or_nothing_at_every_statement(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.storage.dying_writer", str(tmp_path)],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT / "app"), str(ROOT)])},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    tries = [line.split("|", 1) for line in done.stdout.splitlines()]
    assert len(tries) > 60
    assert [ended for ended, _ in tries] == ["9"] * (len(tries) - 1) + ["0"]
    states = list(dict.fromkeys(found for _, found in tries))
    assert len(states) == 2, states
    assert states[0].startswith(BEFORE)
    assert states[1].startswith(AFTER)
    kept = [found == states[1] for _, found in tries]
    assert kept == sorted(kept)
