from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from flueleaf.desktop.fields.choice_field import ChoiceField

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("keeper")
FUELS = ("natural gas", "methane", "propane", "butane", "kerosene", "gas oil", "methanol")


def field(qtbot: QtBot, *, others: bool = False) -> ChoiceField:
    made = ChoiceField("fuel", "fuel", FUELS, others=others)
    qtbot.addWidget(made)
    return made


def test_a_beginning_that_means_one_is_completed(qtbot: QtBot) -> None:
    made = field(qtbot)
    qtbot.keyClicks(made.edit, "pro")
    assert made.value() == "propane"
    with qtbot.waitSignal(made.edited) as said:
        assert made.check()
    assert said.args == ["propane"]
    assert made.text() == "propane"


def test_a_beginning_that_means_two_is_asked_about(qtbot: QtBot) -> None:
    made = field(qtbot)
    qtbot.keyClicks(made.edit, "meth")
    assert not made.check()
    assert "“meth”" in made.fault()
    assert "natural gas" in made.fault()
    assert made.text() == "meth"


def test_a_refused_text_typed_anew_is_not_completed_between_two_letters(qtbot: QtBot) -> None:
    made = field(qtbot)
    made.set_text("meth")
    assert made.fault()
    made.edit.selectAll()
    qtbot.keyClicks(made.edit, "na")
    assert made.text() == "na"
    assert made.fault() == ""
    assert made.check()
    assert made.text() == "natural gas"


def test_the_whole_word_wins_over_a_longer_one(qtbot: QtBot) -> None:
    made = field(qtbot)
    made.set_text("METHANE")
    assert made.text() == "methane"


def test_another_word_of_the_trade_finds_the_choices_it_may_mean(qtbot: QtBot) -> None:
    also = {"condensing boiler": ("combi boiler",), "old boiler": ("Combi boiler", "back-to-back")}
    made = ChoiceField("kind", "kind", ("condensing boiler", "old boiler", "hob"), also=also)
    qtbot.addWidget(made)
    made.set_text("combi")
    assert made.value() == ""
    assert not made.check()
    assert "“combi” may be any of these: condensing boiler, old boiler." in made.problem()
    made.set_text("Back-to")
    assert made.check()
    assert made.text() == "old boiler"
    made.set_text("con")  # the name itself comes first
    assert made.value() == "condensing boiler"


def test_arrows_walk_the_list_round(qtbot: QtBot) -> None:
    made = field(qtbot)
    qtbot.keyClick(made.edit, Qt.Key.Key_Down)
    assert made.text() == FUELS[0]
    qtbot.keyClick(made.edit, Qt.Key.Key_Up)
    assert made.text() == FUELS[-1]


def test_other_texts_only_where_told(qtbot: QtBot) -> None:
    assert field(qtbot, others=True).value() == ""
    made = field(qtbot, others=True)
    made.set_text("hydrogen")
    assert made.value() == "hydrogen"
    strict = field(qtbot)
    strict.set_text("hydrogen")
    assert strict.value() == ""
    assert strict.fault()
