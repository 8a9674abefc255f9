"""The margin says it where the reading just typed makes a drift that can be claimed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtWidgets import QApplication
from tests.desktop.visit.typist import come_to_rest
from tests.operations.years import CO, sign, visit_of

from flueleaf.desktop.desk import Desk
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.desktop.visit.what_is_at_hand import margin_facts
from flueleaf.operations import drafting

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow


@pytest.fixture
def desk(bare_desk: Desk, evening: dict[str, Any]) -> Desk:
    """The desk of a book with four services, CO higher each year."""
    for n, co_ppm in enumerate(CO[:4]):
        sign(bare_desk.book, evening, 2022 + n, co_ppm)
    return bare_desk


def drifts_said(window: MainWindow, evening: dict[str, Any], co_ppm: str, rate: str = "max") -> list[str]:
    """Return what the margin says of drifts while a slip of the visit of this year is at hand."""
    document = visit_of(evening, 2026, co_ppm)
    drafting.keep(window.desk.book, document)
    window.go(Place("visit", str(document["visit_id"])))
    come_to_rest(window)
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    combustion = leaf.works[0].combustion
    assert combustion is not None
    column = next(
        one for one in combustion.slips.columns if (one.spot.point, one.spot.rate) == ("flue", rate)
    )
    column.fields["co_ppm"].control().setFocus()
    come_to_rest(window)
    assert QApplication.focusWidget() is not None
    assert leaf.judgement is not None
    return [note for note in margin_facts(leaf, leaf.judgement, leaf.past).notes if "drift" in note]


def test_a_fifth_reading_that_goes_on_rising_is_said(window: MainWindow, evening: dict[str, Any]) -> None:
    said = drifts_said(window, evening, "99")
    assert [note.partition(":")[0] for note in said] == ["CO/CO2 ratio", "CO"]
    assert "drift: +9.9 ppm a year (" in said[1]
    assert "reaches 350 ppm about" in said[1]


def test_nothing_is_said_of_a_drift_that_cannot_be_claimed(
    window: MainWindow, evening: dict[str, Any]
) -> None:
    assert drifts_said(window, evening, "75") == []


def test_each_rate_has_its_own_drift(window: MainWindow, evening: dict[str, Any]) -> None:
    assert drifts_said(window, evening, "99", rate="min") == []


@pytest.mark.parametrize(("point", "told"), [("room", True), ("flue", False)])
def test_guidelines_stand_beside_co_in_the_air_of_a_room(
    window: MainWindow, evening: dict[str, Any], point: str, told: bool
) -> None:
    document = visit_of(evening, 2026, "61")
    document["works"][0]["slips"].append({"point": "room", "rate": "max", "co_ppm": "3"})
    drafting.keep(window.desk.book, document)
    window.go(Place("visit", str(document["visit_id"])))
    come_to_rest(window)
    leaf = window.leaf
    assert isinstance(leaf, TypedVisitLeaf)
    combustion = leaf.works[0].combustion
    assert combustion is not None
    column = next(one for one in combustion.slips.columns if one.spot.point == point)
    column.fields["co_ppm"].control().setFocus()
    come_to_rest(window)
    assert leaf.judgement is not None
    facts = margin_facts(leaf, leaf.judgement, leaf.past)
    assert any("100 mg/m³, about 87 ppm, over 15 min" in note for note in facts.notes) is told
    assert any("Symptoms" in note for note in facts.notes) is told
    slip = next(one for one in leaf.judgement.assessments[0].slips if one.point == "room")
    assert slip.verdict == "unjudged"
