from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtGui import QImage

from flueleaf.desktop.bullet import Bullet, BulletFacts, VerdictPanel, scale_ends

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper

numbers = st.floats(-1e6, 1e6, allow_nan=False)
maybe = st.none() | numbers


def facts(
    verdict: str, value: float | None, *, low: float | None = None, high: float | None = 350
) -> BulletFacts:
    text = f"{value:g} ppm of 350" if value is not None else "no value"
    return BulletFacts("CO at high rate", text, verdict, value, low, high, 12.0, "the maker’s limit")


@settings(max_examples=100)
@given(maybe, maybe, maybe, st.floats(0, 100))
def test_the_scale_is_never_empty(
    value: float | None, low: float | None, high: float | None, guard: float
) -> None:
    start, end = scale_ends(BulletFacts("t", "v", "within", value, low, high, guard))
    assert start < end


@settings(max_examples=100)
@given(st.floats(0, 1e5), st.floats(1, 1e5))
def test_value_and_limit_lie_on_the_scale(value: float, high: float) -> None:
    start, end = scale_ends(BulletFacts("t", "v", "within", value, None, high))
    assert start == 0
    assert start <= value <= end
    assert high < end


def grey(image: QImage) -> bytes:
    flat = image.convertToFormat(QImage.Format.Format_Grayscale8)
    return bytes(flat.constBits())


@pytest.mark.usefixtures("keeper")
def test_the_verdicts_differ_without_colour(qtbot: QtBot) -> None:
    seen = set()
    for verdict in ("within", "near", "over", "unjudged"):
        panel = VerdictPanel(facts(verdict, 300.0))
        qtbot.addWidget(panel)
        panel.resize(220, 120)
        seen.add(grey(panel.grab().toImage()))
    assert len(seen) == 4


@pytest.mark.parametrize("low", [None, 8.4])
def test_it_paints_in_both_schemes(qtbot: QtBot, keeper: ThemeKeeper, low: float | None) -> None:
    bullet = Bullet(facts("near", 8.9, low=low, high=9.2))
    qtbot.addWidget(bullet)
    bullet.resize(200, 20)
    light = grey(bullet.grab().toImage())
    keeper.set_dark(True)
    assert grey(bullet.grab().toImage()) != light


@pytest.mark.usefixtures("keeper")
def test_it_is_said_in_words(qtbot: QtBot) -> None:
    panel = VerdictPanel(facts("over", 412.0))
    qtbot.addWidget(panel)
    assert panel.accessibleName() == "CO at high rate, 412 ppm of 350, over the maker’s limit"
    panel.set_facts(facts("unjudged", None))
    assert "unjudged" in panel.accessibleName()
