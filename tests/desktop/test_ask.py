from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

from flueleaf.desktop.ask import Answers

PICTURES, BOOKS = "Photographs (*.jpg *.png)", "Books (*.book)"


def test_a_search_begins_where_such_a_file_was_last_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    began: list[Path] = []
    answers = [str(tmp_path / "phone" / "slip.png"), "", ""]

    def name(_parent: QWidget, _title: str, start: str, _pattern: str) -> tuple[str, str]:
        began.append(Path(start))
        return answers.pop(0), ""

    home = tmp_path / "home"
    monkeypatch.setattr(QFileDialog, "getOpenFileName", name)
    monkeypatch.setattr(QStandardPaths, "writableLocation", lambda _place: str(tmp_path))
    monkeypatch.setattr(Path, "home", lambda: home)
    ask, parent = Answers(), None
    assert ask.open_file(parent, "", PICTURES) == tmp_path / "phone" / "slip.png"  # type: ignore[arg-type]
    assert ask.open_file(parent, "", PICTURES) is None  # type: ignore[arg-type]
    assert ask.open_file(parent, "", BOOKS) is None  # type: ignore[arg-type]
    assert began == [tmp_path, tmp_path / "phone", home]
