"""The figures of the readings grid line up at their decimal points, whatever was typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop.visit.reading_field import ReadingField, right_inset
from flueleaf.domain.quantities import QUANTITIES

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.mark.usefixtures("keeper")
@pytest.mark.parametrize("key", ["co_ppm", "o2_pct", "ratio"])
@pytest.mark.parametrize(("typed", "decimals"), [("0", 0), ("12", 0), ("4.8", 1), ("0.05", 2)])
def test_a_number_stands_by_the_decimals_it_has(qtbot: QtBot, key: str, typed: str, decimals: int) -> None:
    made = ReadingField(f"slip.0.{key}", QUANTITIES[key], "max rate")
    qtbot.addWidget(made)
    assert made.edit.textMargins().right() == right_inset(QUANTITIES[key].decimals)
    qtbot.keyClicks(made.edit, typed)
    assert made.edit.textMargins().right() == right_inset(decimals)
    made.set_text("")
    assert made.edit.textMargins().right() == right_inset(QUANTITIES[key].decimals)


@pytest.mark.usefixtures("keeper")
def test_the_point_typed_stands_where_that_of_more_decimals_does(qtbot: QtBot) -> None:
    made = ReadingField("slip.0.o2_pct", QUANTITIES["o2_pct"], "max rate")
    qtbot.addWidget(made)
    qtbot.keyClicks(made.edit, "4.")
    assert right_inset(1) < made.edit.textMargins().right() < right_inset(0)
