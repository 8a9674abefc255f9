from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.form_leaf import FormLeaf, Group
from flueleaf.desktop.place import Place
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.operations.changes import Changes, Topic

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk


class Kept:
    """Keeps documents, and refuses as told."""

    def __init__(self) -> None:
        self.documents: list[dict[str, Any]] = []
        self.faults: list[Fault] = []

    def __call__(self, document: dict[str, Any]) -> Changes:
        if self.faults:
            raise Refused(self.faults)
        self.documents.append(document)
        return Changes(frozenset({Topic.REGISTER}), "kept it")


@pytest.fixture
def kept() -> Kept:
    return Kept()


@pytest.fixture
def form(desk: Desk, kept: Kept, qtbot: QtBot) -> FormLeaf:
    fields = (TextField("name", "name"), NumberField("limits.co2_pct.max.0", QUANTITIES["co2_pct"]))
    made = FormLeaf(desk, Place("x_form"), heading=("New", ""), groups=[Group("who", fields)], keep=kept)
    qtbot.addWidget(made)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


@pytest.mark.usefixtures("keeper")
def test_enter_goes_through_it_and_keeps(qtbot: QtBot, form: FormLeaf, kept: Kept, desk: Desk) -> None:
    told: list[Changes] = []
    desk.hub.changed.connect(told.append)
    first = form.first_focus()
    assert first is not None
    first.setFocus()
    with qtbot.waitSignal(form.finished):
        for text in ("Ines Dunnaker", "8.8", ""):
            focused = form.focusWidget()
            assert focused is not None
            qtbot.keyClicks(focused, text)
            qtbot.keyClick(focused, Qt.Key.Key_Return)
    assert kept.documents == [{"name": "Ines Dunnaker", "limits": {"co2_pct": {"max": ["8.8"]}}}]
    assert [changes.summary for changes in told] == ["kept it"]


@pytest.mark.usefixtures("keeper")
def test_a_fault_is_said_at_its_field(qtbot: QtBot, form: FormLeaf, kept: Kept) -> None:
    kept.faults = [
        Fault("limits.co2_pct.max", "9,1", "two numbers, lower then upper"),
        Fault("kind", "", "a kind"),
    ]
    said: list[str] = []
    form.said.connect(said.append)
    with qtbot.assertNotEmitted(form.finished):
        form.keep_all()
    field = form.fields["limits.co2_pct.max.0"]
    assert field.fault() == "“9,1” cannot be used. Type two numbers, lower then upper."
    assert field.control().hasFocus()
    assert said[0].startswith("kind: missing")
    kept.faults = []
    form.keep_all()
    assert not field.fault()


@pytest.mark.usefixtures("keeper")
def test_what_was_said_of_a_refused_field_goes_once_it_is_put_right(form: FormLeaf, kept: Kept) -> None:
    said: list[str] = []
    settled: list[str] = []
    form.said.connect(said.append)
    form.settled.connect(settled.append)
    kept.faults = [Fault("name", "", "a name")]
    form.keep_all()
    assert said == ["One field needs another look: name. The form is not kept yet."]
    assert settled == []
    QTest.keyClicks(form.fields["name"].control(), "Ines")
    assert settled == said
