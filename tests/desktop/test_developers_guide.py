"""What DEVELOPERS.md shows works: the whole leaf of its example, and the tests it names for accessibility."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from tests.desktop.accessibility import seeing

from flueleaf.desktop import leaves
from flueleaf.desktop.place import Place

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.window import MainWindow

TOP = Path(__file__).resolve().parents[2]
GUIDE = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
SHORT = {"every_window": "accessibility/test_every_window.py", "every_leaf": "test_every_leaf.py"}
# Level A and AA of WCAG 2.2 without 1.2.x; 4.1.1 was taken out (W3C Recommendation, 2023; recalled).
NUMBERS = {
    "1.1": (1,),
    "1.3": (1, 2, 3, 4, 5),
    "1.4": (1, 2, 3, 4, 5, 10, 11, 12, 13),
    "2.1": (1, 2, 4),
    "2.2": (1, 2),
    "2.3": (1,),
    "2.4": (1, 2, 3, 4, 5, 6, 7, 11),
    "2.5": (1, 2, 3, 4, 7, 8),
    "3.1": (1, 2),
    "3.2": (1, 2, 3, 4, 6),
    "3.3": (1, 2, 3, 4, 7, 8),
    "4.1": (2, 3),
}
CRITERIA = {f"{guideline}.{number}" for guideline, numbers in NUMBERS.items() for number in numbers}


def test_the_leaf_of_the_example_opens_and_is_pressed(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    code = re.search(r"`leaves/card_leaf\.py`.*?```python\n(.*?)```", GUIDE, re.DOTALL)
    assert code is not None
    (tmp_path / "card_leaf.py").write_text(code[1], encoding="utf-8")
    monkeypatch.setattr(leaves, "__path__", [*leaves.__path__, str(tmp_path)])
    window.go(Place("card"))
    assert window.leaf is not None
    assert window.leaf.title == "Your card"
    assert seeing.faint_texts(window) == []
    keys = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    qtbot.keyClick(window, Qt.Key.Key_E, keys)
    assert window.leaf.place == Place("business_form", "own")


def test_the_list_has_every_criterion() -> None:
    listed = set(
        re.findall(r"\b\d\.\d\.\d+\b", "\n".join(re.findall(r"^\| (\d[^|]*)\|", GUIDE, re.MULTILINE)))
    )
    assert CRITERIA - listed == set()


def named_tests() -> list[tuple[str, str]]:
    """Return the files and tests that the list names; "" where it means the whole file."""
    table = GUIDE.partition("## Accessibility")[2].partition("\n## ")[0]
    found, last = [], ""
    for file, test in re.findall(r"`((?:\w+/)*\w+\.py|every_\w+|…_\w+)(?:::(\w+))?`", table):
        if file.startswith("…"):
            found.append((last, "test" + file.removeprefix("…")))
        elif file.endswith(".py") or file in SHORT:
            last = SHORT.get(file, file)
            found.append((last, test))
    return found


def test_the_tests_it_names_are_there() -> None:
    named = named_tests()
    assert len(named) > 30
    for file, test in named:
        text = (TOP / "tests" / "desktop" / file).read_text(encoding="utf-8")
        assert f"def {test}" in text, (file, test)
