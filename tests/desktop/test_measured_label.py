"""A wrapped label is measured once for a width, and anew when its text or its looks change."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QLabel

from flueleaf.desktop.measured_label import MOST_WIDTHS, MeasuredLabel

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

TEXT = "The reading is within the maker’s limit; the instrument’s tolerance still reaches beyond it."


@pytest.fixture
def label(qtbot: QtBot) -> MeasuredLabel:
    made = MeasuredLabel(TEXT)
    made.setWordWrap(True)
    qtbot.addWidget(made)
    return made


def asked_of_qt(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Note each width that Qt itself is asked about."""
    asked: list[int] = []
    real = QLabel.heightForWidth

    def noted(self: QLabel, width: int) -> int:
        asked.append(width)
        return real(self, width)

    monkeypatch.setattr(QLabel, "heightForWidth", noted)
    return asked


def test_it_is_as_high_as_qts_own_label(label: MeasuredLabel, qtbot: QtBot) -> None:
    plain = QLabel(TEXT)
    plain.setWordWrap(True)
    qtbot.addWidget(plain)
    for width in (80, 160, 320, 640):
        assert label.heightForWidth(width) == plain.heightForWidth(width)
    assert label.heightForWidth(80) > label.heightForWidth(640)


def test_a_width_is_measured_once(label: MeasuredLabel, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = asked_of_qt(monkeypatch)
    for _each in range(3):
        label.heightForWidth(120)
    assert asked == [120]
    for width in range(200, 200 + MOST_WIDTHS):
        label.heightForWidth(width)
    label.heightForWidth(120)
    assert asked.count(120) == 2, "no more widths are kept than a few"


def test_what_changes_the_height_is_measured(label: MeasuredLabel) -> None:
    before = label.heightForWidth(120)
    label.setText("short")
    short = label.heightForWidth(120)
    assert short < before
    label.setContentsMargins(0, 10, 0, 10)
    assert label.heightForWidth(120) == short + 20
    label.setStyleSheet("font-size: 60px")
    assert label.heightForWidth(120) > short + 20


def test_without_wrapping_the_height_is_no_matter_of_width(label: MeasuredLabel) -> None:
    label.setWordWrap(False)
    assert label.heightForWidth(120) == QLabel.heightForWidth(label, 120)
