"""No section of a visit or a quote lacks its two lines, whatever the kind and the purpose."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop.help.stage_help import LINES
from flueleaf.desktop.place import Place
from flueleaf.desktop.quote.typed_quote import TypedQuoteLeaf
from flueleaf.desktop.section import Section
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.domain.records.visits import PURPOSES, Purpose
from flueleaf.operations import drafting, quoting
from flueleaf.operations.tables import shipped

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.theme import ThemeKeeper

MOST_LINES = 2


def _is_said(section: Section) -> None:
    text = section._caution.text()
    assert text.strip(), f"{section.objectName()} says nothing"
    assert len(text.splitlines()) <= MOST_LINES, section.objectName()
    assert "safe to use" not in text.lower()


@pytest.mark.parametrize("kind", list(shipped().kinds))
@pytest.mark.parametrize("purpose", PURPOSES)
def test_every_stage_of_every_kind_has_its_lines(kind: str, purpose: Purpose) -> None:
    stages = shipped().kinds[kind].stages_for(purpose)
    assert stages
    for stage in stages:
        assert 1 <= len(stage.lines) <= MOST_LINES, f"{kind}: {stage.key}"
        assert all(line.strip() for line in stage.lines)


@pytest.mark.parametrize("kind", ["condensing boiler", "cooker"])
def test_every_section_of_a_visit_says_what_it_is_for(
    kind: str, desk: Desk, keeper: ThemeKeeper, qtbot: QtBot
) -> None:
    assert keeper is not None
    document = drafting.begin(desk.book, today=desk.today())
    found = shipped().kinds[kind]
    plate = {"kind": kind, "fuel": found.fuels[0], "flue": found.flues[0]}
    document["works"] = [{"appliance": plate}]
    leaf = TypedVisitLeaf(desk, Place("visit", document["visit_id"]), document)
    qtbot.addWidget(leaf)
    leaf.complete()
    assert len(leaf.parts) > len(LINES)
    for part in leaf.parts:
        _is_said(part)


def test_every_section_of_a_quote_says_what_it_is_for(desk: Desk, keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    document = quoting.begin(desk.book)
    leaf = TypedQuoteLeaf(desk, Place("quote", document["quote_id"]), document, new=True)
    qtbot.addWidget(leaf)
    for part in leaf.parts:
        _is_said(part)
