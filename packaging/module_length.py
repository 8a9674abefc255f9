"""Refuses modules of the program that have grown too long.

Exceptions stand in pyproject.toml under [tool.flueleaf.too-long], path to number of lines. That list may only
shrink: an exception that is no longer needed, or larger than its module needs, is refused as well.
"""

from __future__ import annotations

from pathlib import Path

MOST_LINES = 400  # house rule, common practice: past this a module holds more than one matter


def lengths(top: Path) -> dict[str, int]:
    """Return the number of lines of each module of the program, by its path from the top of the checkout."""
    modules = sorted((top / "app" / "flueleaf").rglob("*.py"))
    return {
        path.relative_to(top).as_posix(): len(path.read_text(encoding="utf-8").splitlines())
        for path in modules
    }


def faults(found: dict[str, int], exceptions: dict[str, int]) -> list[str]:
    """Return one line for each module that is too long and each exception that has to go or to shrink."""
    told = []
    for path, lines in found.items():
        if lines > exceptions.get(path, MOST_LINES):
            told.append(f"{path} has {lines} lines, the most is {exceptions.get(path, MOST_LINES)}: split it")
    for path, most in exceptions.items():
        lines = found.get(path, 0)
        if lines <= MOST_LINES:
            told.append(f"{path} is no longer too long: take it out of [tool.flueleaf.too-long]")
        elif lines < most:
            told.append(f"{path} has shrunk to {lines} lines: lower its number in [tool.flueleaf.too-long]")
    return told
