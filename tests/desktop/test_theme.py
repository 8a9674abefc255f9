from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QLabel, QWidget

from flueleaf.desktop.style_sheet import FAULT_DARK, FAULT_LIGHT
from flueleaf.desktop.theme import (
    DARK,
    LIGHT,
    TEXT_SCALES,
    Palette,
    Theme,
    ThemeKeeper,
    current,
    load_fonts,
    scale_from_environment,
)

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

SCHEMES = pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])


def luminance(colour: str) -> float:
    """Relative luminance after WCAG 2.2, definition "relative luminance"."""
    parts = []
    for value in (QColor(colour).redF(), QColor(colour).greenF(), QColor(colour).blueF()):
        parts.append(value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4)
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio after WCAG 2.2, definition "contrast ratio"."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_contrast_of_black_on_white_is_21() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@SCHEMES
def test_text_is_readable_on_every_ground(palette: Palette) -> None:
    for ground in (palette.paper, palette.desk, palette.field, palette.chosen):
        assert contrast(palette.ink, ground) >= 7
        assert contrast(palette.soft, ground) >= 4.5
    assert contrast(palette.on_accent, palette.accent) >= 7
    assert contrast(palette.accent, palette.paper) >= 4.5
    fault = FAULT_DARK if palette.dark else FAULT_LIGHT
    assert contrast(fault, palette.paper) >= 4.5
    assert contrast(palette.ink, palette.selection) >= 7


@SCHEMES
def test_marks_and_the_ring_of_the_keyboard_stand_out(palette: Palette) -> None:
    for mark in (palette.mark, palette.focus, *(v.outline for v in palette.verdicts.values())):
        assert contrast(mark, palette.paper) >= 3


@SCHEMES
def test_the_verdicts_have_colours_of_their_own(palette: Palette) -> None:
    assert len({v.fill for v in palette.verdicts.values()}) == 4
    assert palette.verdict("nonsense") == palette.verdict("unjudged")


def test_both_schemes_name_the_same_colours() -> None:
    names = {field.name for field in dataclasses.fields(Palette)}
    assert {name for name in names if getattr(LIGHT, name) != getattr(DARK, name)} == names


def test_the_fonts_are_shipped(keeper: ThemeKeeper) -> None:
    assert "Inter" in load_fonts()
    assert current().font().family() == "Inter"
    assert keeper.scale == 1.0


@pytest.mark.parametrize(
    ("asked", "scale"),
    [("1.5", 1.5), ("150", 1.5), ("200%", 2.0), ("3", 2.0), ("0.2", 1.0), ("", None), ("large", None),
     ("nan", None)],
)  # fmt: skip
def test_the_scale_of_the_environment(
    monkeypatch: pytest.MonkeyPatch, asked: str, scale: float | None
) -> None:
    monkeypatch.setenv("FLUELEAF_TEXT_SCALE", asked)
    assert scale_from_environment() == scale


def test_steps_go_up_and_down_and_stop(keeper: ThemeKeeper) -> None:
    seen = []
    for _ in range(8):
        keeper.larger()
        seen.append(keeper.scale)
    assert seen[:5] == list(TEXT_SCALES[1:])
    assert seen[-1] == 2.0
    keeper.smaller()
    assert keeper.scale == 1.75
    keeper.usual()
    assert keeper.scale == 1.0


def test_a_change_reaches_what_is_on_the_screen(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    shown = QLabel("Tonight")
    shown.setProperty("role", "title")
    qtbot.addWidget(shown)
    shown.show()
    before = shown.sizeHint().height()
    with qtbot.waitSignal(keeper.theme_changed):
        keeper.set_scale(2.0)
    assert shown.sizeHint().height() >= 1.8 * before
    keeper.set_dark(True)
    assert current().palette is DARK
    assert shown.palette().windowText().color() == QColor(DARK.ink)
    keeper.other_scheme()
    assert current().palette is LIGHT


def test_lengths_follow_the_scale() -> None:
    assert Theme(LIGHT, 2.0).px(13) == 26
    assert Theme(LIGHT, 1.5).space(2) == 12


def test_updating_twenty_thousand_times_harms_nothing(qtbot: QtBot) -> None:
    """One release of the Qt binding lost a reference at each such call and died after some 6,000."""
    widget = QWidget()
    qtbot.addWidget(widget)
    for _ in range(20_000):
        widget.update()
    assert widget.isEnabled()
