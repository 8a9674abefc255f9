"""The list of modules that may be too long can only shrink."""

from __future__ import annotations

from pathlib import Path

import module_length
import pytest

PATH = "app/flueleaf/a.py"


@pytest.mark.parametrize(
    ("lines", "exceptions", "word"),
    [
        (400, {}, None),
        (401, {}, "split it"),
        (450, {PATH: 450}, None),
        (451, {PATH: 450}, "split it"),
        (449, {PATH: 450}, "lower its number"),
        (400, {PATH: 450}, "take it out"),
    ],
)
def test_faults(lines: int, exceptions: dict[str, int], word: str | None) -> None:
    told = module_length.faults({PATH: lines}, exceptions)
    assert [word in line for line in told if word] == ([True] if word else [])
    assert bool(told) is (word is not None)


def test_an_exception_for_a_module_that_is_gone_has_to_go() -> None:
    assert module_length.faults({}, {PATH: 450}) == [
        f"{PATH} is no longer too long: take it out of [tool.flueleaf.too-long]"
    ]


def test_counts_the_lines_of_every_module(tmp_path: Path) -> None:
    folder = tmp_path / "app" / "flueleaf" / "deep"
    folder.mkdir(parents=True)
    (folder / "m.py").write_text("a = 1\n\nb = 2\n", encoding="utf-8")
    assert module_length.lengths(tmp_path) == {"app/flueleaf/deep/m.py": 3}
