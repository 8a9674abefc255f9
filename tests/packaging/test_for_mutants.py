"""In the mutants' runs no failing property is made smaller, no slow example fails, and memory has an end."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import for_mutants
import pytest
from hypothesis import Phase, settings

ENDLESS = """
def test_endless() -> None:
    everything = []
    while True:
        everything.append([0] * 10**6)
"""


@pytest.fixture
def as_configured() -> Iterator[settings]:
    before = settings()
    settings.register_profile("before", before)
    for_mutants.pytest_configure()
    yield settings()
    settings.load_profile("before")


def test_a_failure_is_looked_for_but_not_made_smaller(as_configured: settings) -> None:
    assert as_configured.phases == (Phase.explicit, Phase.generate)


def test_no_example_is_too_slow(as_configured: settings) -> None:
    assert as_configured.deadline is None


@pytest.mark.skipif(sys.platform == "win32", reason="Windows sets no such limit")
def test_a_list_without_an_end_comes_to_one(tmp_path: Path) -> None:
    (tmp_path / "test_endless.py").write_text(ENDLESS, encoding="utf-8")
    ended = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "for_mutants", "test_endless.py"],
        cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(Path(for_mutants.__file__).parent)},
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert "MemoryError" in ended.stdout
    assert ended.returncode == 1
