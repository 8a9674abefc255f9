"""The margin tells what changes: a verdict's word aloud, its values in line, its bands beside the bar."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop.bullet import FIGURE_SPACE, Bullet, BulletFacts
from flueleaf.desktop.visit import visit_margin
from flueleaf.desktop.visit.at_hand import graphs
from flueleaf.desktop.visit.visit_margin import MarginFacts, VisitMargin
from flueleaf.operations import drafting
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from PySide6.QtGui import QImage
    from PySide6.QtWidgets import QWidget
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper


class Heard:
    """What a screen reader was told."""

    def __init__(self) -> None:
        self.told: list[tuple[str, bool]] = []

    def __call__(self, _source: QWidget, text: str, *, urgent: bool = False) -> None:
        self.told.append((text, urgent))


@pytest.fixture
def heard(monkeypatch: pytest.MonkeyPatch) -> Heard:
    ear = Heard()
    monkeypatch.setattr(visit_margin, "announce", ear)
    return ear


def _at(verdict: str, value: float, title: str = "flue, high rate") -> MarginFacts:
    graph = BulletFacts("CO, high rate", f"{value:g} ppm of 350", verdict, value, None, 350.0, 16.0)
    return MarginFacts(title=title, graphs=(graph,))


def test_a_verdict_that_becomes_another_is_said_once(keeper: ThemeKeeper, qtbot: QtBot, heard: Heard) -> None:
    assert keeper is not None
    margin = VisitMargin(lambda _left: None)
    qtbot.addWidget(margin)
    for verdict, value in (("within", 64), ("within", 65), ("near", 345), ("near", 346), ("over", 360)):
        margin.show_facts(_at(verdict, value))
    assert heard.told == [("CO, high rate: near", False), ("CO, high rate: over", True)]


def test_going_to_another_slip_says_nothing(keeper: ThemeKeeper, qtbot: QtBot, heard: Heard) -> None:
    assert keeper is not None
    margin = VisitMargin(lambda _left: None)
    qtbot.addWidget(margin)
    margin.show_facts(_at("within", 64))
    margin.show_facts(_at("over", 400, "flue, low rate"))
    margin.show_facts(_at("within", 64))
    assert heard.told == []


def test_values_stand_under_each_other_at_their_points() -> None:
    document = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    visit_day = dt.date(2026, 11, 25)
    judged = drafting.judge(document, drafting.Past(), today=visit_day)
    slip = next(s for s in judged.assessments[0].slips if (s.point, s.rate) == ("flue", "max"))
    shown = [facts.value_text for facts in graphs(slip, "co_ppm") if facts.value is not None]
    assert len(shown) > 1
    points = {len(text.split(" ")[0].rstrip(",").partition(".")[0]) for text in shown}
    assert len(points) == 1
    spoken = [facts.spoken for facts in graphs(slip, "co_ppm")]
    assert not any(FIGURE_SPACE in text for text in spoken)


def _column(image: QImage, share: float) -> set[int]:
    x = int(image.width() * share)
    return {image.pixel(x, y) for y in range(image.height())}


def test_the_tolerance_band_is_seen_behind_the_bar(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    seen = []
    for guard in (0.0, 60.0):
        bullet = Bullet(BulletFacts("CO", "340 ppm", "near", 340.0, None, 350.0, guard))
        qtbot.addWidget(bullet)
        bullet.resize(200, 20)
        image = bullet.grab().toImage()
        seen.append(_column(image, 330 / (350 * 1.25)))  # inside the band, under the bar
    assert seen[0] != seen[1]


def test_the_limit_is_marked_where_it_is(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    bullet = Bullet(BulletFacts("CO", "64 ppm", "within", 64.0, None, 350.0, 16.0))
    qtbot.addWidget(bullet)
    bullet.resize(200, 20)
    image = bullet.grab().toImage()
    top = [x for x in range(200) if image.pixelColor(x, 2).lightness() < 128]
    assert top, "the limit line reaches above the bar"
    assert all(abs(x - (1 + 350 / (350 * 1.25) * 198)) <= 3 for x in top)
