"""The window in a made-up language: nothing stays English, nothing is cut off because it is longer."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import catalogue
import pytest
from pseudo import PSEUDO

TOP = Path(__file__).resolve().parents[2]
WALK = Path(__file__).parent / "pseudo" / "walk.py"


@pytest.mark.slow
def test_every_leaf_and_dialog_in_the_pseudo_language(tmp_path: Path) -> None:
    catalogue.write_pseudo(tmp_path)
    environment = {**os.environ, "FLUELEAF_LANGUAGE": PSEUDO, "FLUELEAF_WORDS": str(tmp_path)}
    command = (sys.executable, "-m", "pytest", "-q", "-n", "0", "-p", "no:randomly", str(WALK))
    done = subprocess.run(
        command, cwd=TOP, env=environment, capture_output=True, text=True, timeout=1800, check=False
    )
    assert done.returncode == 0, done.stdout[-20_000:] + done.stderr[-2_000:]
    assert " passed" in done.stdout
