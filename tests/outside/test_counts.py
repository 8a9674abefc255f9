"""The tables in the README count the cases that pytest collects."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
# Folder, its head in the README, and how many cases it must have at least.
FOLDERS = [("combustion", "Combustion", 300), ("judging", "Judging", 30)]


def collected(folder: str) -> Counter[str]:
    """Return the number of cases by ``file::function`` of a folder."""
    command = [sys.executable, "-m", "pytest", str(HERE / folder), "--collect-only", "-q", "-n0"]
    alone = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST_")}
    out = subprocess.run(
        [*command, "-p", "no:randomly"],
        cwd=ROOT,
        env=alone,
        capture_output=True,
        encoding="utf-8",
        check=True,
    ).stdout
    cases = re.findall(r"^\S*?(test_\w+)\.py::(test_\w+)", out, re.MULTILINE)
    return Counter(f"{file}::{function}" for file, function in cases)


def table(head: str) -> tuple[dict[str, int], int]:
    """Return what the README says: cases by the functions of a row, and their sum."""
    text = (HERE / "README.md").read_text(encoding="utf-8")
    part = text.split(f"## {head}")[1].split("\n## ")[0]
    rows = re.findall(r"^\|[^|]+\|[^|]+\| (\d+) \| ([^|]+) \|$", part, re.MULTILINE)
    total = re.search(r"^\| \*\*all\*\* \| +\| \*\*(\d+)\*\* \|", part, re.MULTILINE)
    assert total is not None
    return {functions: int(cases) for cases, functions in rows}, int(total[1])


@pytest.mark.parametrize(("folder", "head", "least"), FOLDERS)
def test_the_table_counts_what_is_collected(folder: str, head: str, least: int) -> None:
    said, total = table(head)
    found = collected(folder)
    named = {functions: re.findall(r"`(\w+::\w+)`", functions) for functions in said}
    assert {functions: sum(found[one] for one in named[functions]) for functions in said} == said
    assert sorted(one for ones in named.values() for one in ones) == sorted(found)
    assert total == sum(said.values()) == found.total()
    assert total >= least
