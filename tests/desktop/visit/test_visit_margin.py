"""The margin tells what changes: a verdict's word aloud, bands beside the bar, the figures of a flame."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel

from flueleaf.desktop.bullet import Bullet, BulletFacts
from flueleaf.desktop.visit import visit_margin
from flueleaf.desktop.visit.at_hand import graphs
from flueleaf.desktop.visit.figure_rows import Figure, FigureRows
from flueleaf.desktop.visit.flame_at_hand import MOST_DECIMALS, flame_figures
from flueleaf.desktop.visit.visit_margin import MarginFacts, VisitMargin
from flueleaf.operations import drafting
from flueleaf.operations.explaining.flame import BY_KEY, flame_text
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from PySide6.QtGui import QImage
    from PySide6.QtWidgets import QWidget
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.domain.judging.assessment import SlipAssessment


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


def _judged(**readings: str) -> SlipAssessment:
    """Return the flue slip at high rate of the worked evening, with some readings changed or taken out."""
    document = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    slip = document["works"][0]["slips"][1]
    slip.update({key: text for key, text in readings.items() if text})
    for key in [key for key, text in readings.items() if not text]:
        del slip[key]
    judged = drafting.judge(document, drafting.Past(), today=dt.date(2026, 11, 25))
    return next(s for s in judged.assessments[0].slips if (s.point, s.rate) == ("flue", "max"))


def test_values_begin_where_their_titles_begin() -> None:
    shown = [facts.value_text for facts in graphs(_judged(), "co_ppm")]
    assert len(shown) > 1
    assert shown == [text.strip() for text in shown]


def test_the_first_figures_of_a_flame_are_shown_as_they_are_explained() -> None:
    slip = _judged(flue_c="44.0", no_ppm="30")
    shown = {one.key: one for one in flame_figures(slip)}
    assert list(shown)[:4] == ["air_factor", "excess_air_pct", "co_undiluted_ppm", "nox_mg_per_kwh"]
    for key, one in shown.items():
        assert f"{one.value} {one.unit}".strip() == flame_text(BY_KEY[key], slip.figures)
        assert len(one.value.partition(".")[2]) <= MOST_DECIMALS
    heads = [one.head for one in shown.values() if one.head]
    assert "no condensing credit" in heads[0]
    assert "upper bound" in heads[1]
    assert "condensate_l_per_h" in shown  # the meter was timed
    assert "excess_air_short_pct" not in shown


def test_nothing_condenses_no_bound_is_shown() -> None:
    keys = {one.key for one in flame_figures(_judged(flue_c="71.5"))}
    assert "efficiency_net_pct" in keys
    assert not {key for key in keys if "condens" in key}


def test_a_reading_that_is_missing_shows_no_figure_of_it() -> None:
    keys = {one.key for one in flame_figures(_judged(co_ppm="", ratio="", air_c=""))}
    assert keys == {"air_factor", "excess_air_pct", "dew_point_c"}
    assert {one.key for one in flame_figures(_judged(flue_c="12.0"))} == keys | {"co_undiluted_ppm"}


@pytest.mark.parametrize("wrong", [{"co2_pct": "12.6"}, {"co2_pct": "6.0"}, {"o2_pct": "21.4"}])
def test_impossible_readings_show_no_figures(wrong: dict[str, str]) -> None:
    assert flame_figures(_judged(**wrong)) == ()


def test_the_flame_goes_with_the_slip(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    asked: list[str] = []
    margin = VisitMargin(lambda _left: None, asked.append)
    qtbot.addWidget(margin)
    slip = _judged()
    margin.show_facts(MarginFacts(title="flue", graphs=graphs(slip, "co_ppm"), flame=flame_figures(slip)))
    before = margin.flame.findChildren(QLabel)
    assert [one.name for one in margin.flame.figures][:2] == ["air factor", "excess air"]
    assert margin.how_all.isVisibleTo(margin)
    assert not margin.how.isVisibleTo(margin)
    QTest.mouseClick(margin.flame, Qt.MouseButton.LeftButton, pos=_middle(margin, "air factor"))
    assert asked == ["air_factor"]
    warm = _judged(flue_c="71.5")
    margin.show_facts(MarginFacts(title="flue", graphs=graphs(warm, "co_ppm"), flame=flame_figures(warm)))
    assert margin.flame.findChildren(QLabel) == before  # texts change, nothing is made anew
    margin.show_facts(MarginFacts(title="flue", graphs=graphs(slip, "co_ppm")))
    assert margin.flame.figures == ()
    assert not margin.how_all.isVisibleTo(margin)
    assert margin.how.isVisibleTo(margin)


def _middle(margin: VisitMargin, name: str) -> QPoint:
    margin.resize(220, 800)
    margin.show()
    shown = next(one for one in margin.flame.findChildren(QLabel) if one.text() == name)
    return shown.geometry().center()


def test_points_of_figures_stand_under_each_other(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    rows = FigureRows(most_decimals=MOST_DECIMALS)
    qtbot.addWidget(rows)
    rows.set_figures([Figure("one", "1.27"), Figure("two", "103.3"), Figure("three", "79")])
    rows.resize(220, 100)
    rows.show()
    points = []
    for text in ("1.27", "103.3", "79"):
        shown = next(one for one in rows.findChildren(QLabel) if one.text() == text)
        metrics = QFontMetricsF(shown.font())
        __, point, decimals = text.partition(".")
        points.append(shown.contentsRect().right() + shown.x() - metrics.horizontalAdvance(point + decimals))
    assert max(points) - min(points) <= 1.0


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
