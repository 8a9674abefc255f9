"""What is written down at a stage: folded until it is wanted, kept as typed, plate-like things taken over."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtCore import Qt
from tests.desktop.visit.typist import Typist

from flueleaf.desktop.fields.choice_field import ChoiceField
from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.left import all_left
from flueleaf.desktop.visit.notes_block import NotesBlock
from flueleaf.desktop.visit.typed_visit import TypedVisitLeaf
from flueleaf.domain.records.visits import PURPOSES
from flueleaf.operations import drafting
from flueleaf.operations.tables import shipped
from flueleaf.operations.unfinished import still_missing

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.desk import Desk
    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.desktop.window import MainWindow

CTRL = Qt.KeyboardModifier.ControlModifier
NOTES = [
    {"key": "as_found", "text": "off, fault code 133"},
    {"key": "flue_type", "text": "two pipes"},
    {"key": "flue_length_m", "text": "3.40"},
    {"key": "flow_c", "text": "60"},
    {"key": "inhibitor_date", "text": "2026-11-20"},
    {"key": "advice_declined", "text": "filter, by Mr Ibbet"},
]


@pytest.fixture
def leaf(desk: Desk, keeper: ThemeKeeper, qtbot: QtBot) -> TypedVisitLeaf:
    assert keeper is not None
    return made(desk, qtbot, {"kind": "condensing boiler", "fuel": "natural gas", "flue": "room-sealed"})


def made(desk: Desk, qtbot: QtBot, plate: dict[str, Any], notes: Any = NOTES) -> TypedVisitLeaf:
    document = drafting.begin(desk.book, today=desk.today())
    document["works"] = [{"appliance": plate, "notes": notes}]
    found = TypedVisitLeaf(desk, Place("visit", document["visit_id"]), document)
    qtbot.addWidget(found)
    return found


def block_of(leaf: TypedVisitLeaf, key: str) -> NotesBlock:
    blocks = [part.notes for part in leaf.works[0].stages]
    return next(block for block in blocks if key in [note.key for note in block.notes])


def test_notes_are_read_before_and_after_their_stages_are_made(leaf: TypedVisitLeaf) -> None:
    assert leaf.document()["works"][0]["notes"] == NOTES
    leaf.complete()
    assert leaf.document()["works"][0]["notes"] == NOTES


def test_folded_they_are_told_in_a_line(leaf: TypedVisitLeaf) -> None:
    leaf.complete()
    block = block_of(leaf, "flow_c")
    assert block.fold.folded
    assert block.fields() == ()
    told = block.fold._summary.text()
    assert "flow: 60\N{NO-BREAK SPACE}°C" in told
    assert "inhibitor put in on: 20 Nov 2026" in told
    room = block_of(leaf, "burner_mbar").fold._summary.text()
    assert room == "To write down, if any: burner, gas rates."


def test_every_value_has_its_field_and_keeps_its_text(leaf: TypedVisitLeaf) -> None:
    leaf.complete()
    kinds = {"flue_type": ChoiceField, "flue_length_m": NumberField, "inhibitor_date": DateField}
    for key, kind in kinds.items():
        field = block_of(leaf, key).field_of(key)
        assert isinstance(field, kind)
        assert field.objectName() == f"works.0.notes.{key}"
    assert leaf.document()["works"][0]["notes"] == NOTES
    length = block_of(leaf, "flue_length_m").field_of("flue_length_m")
    assert length is not None
    length.set_text("4.5 m")
    choice = block_of(leaf, "flue_type").field_of("flue_type")
    assert choice is not None
    choice.set_text("shared")
    read = {note["key"]: note["text"] for note in leaf.document()["works"][0]["notes"]}
    assert read["flue_length_m"] == "4.5"
    assert read["flue_type"] == "shared with others"


def test_a_refused_note_is_found_by_its_path(leaf: TypedVisitLeaf) -> None:
    leaf.complete()
    work = leaf.works[0]
    field = block_of(leaf, "flow_c").field_of("flow_c")
    assert field is not None
    field.set_text("300")
    judgement = drafting.judge(leaf.document(), drafting.Past(), today=dt.date(2026, 11, 25))
    (fault,) = (fault for fault in judgement.faults if ".notes[" in fault.where)
    assert work.locate(fault.where.removeprefix("works[0].")) is field
    assert work.locate("notes[99].text") is not field


def test_what_is_built_in_comes_over_and_what_is_found_does_not(leaf: TypedVisitLeaf) -> None:
    leaf.complete()
    block = block_of(leaf, "flow_c")
    last = {"flow_c": "58", "cleaner": "two litres", "inhibitor_date": "2024-01-01", "water_tested": "clear"}
    assert block.take_over(last) == 1
    read = {note["key"]: note["text"] for note in block.read()}
    assert read == {"flow_c": "60", "cleaner": "two litres", "inhibitor_date": "2026-11-20"}
    assert block.take_over(last) == 0


def test_another_purpose_hides_notes_and_loses_none(leaf: TypedVisitLeaf) -> None:
    leaf.complete()
    work = leaf.works[0]
    work.set_purpose("landlord check")
    leaf.complete()
    asked = {note["key"] for note in work.read()["notes"]}
    assert "flow_c" not in asked
    assert "flue_length_m" in asked
    work.set_purpose("service")
    leaf.complete()
    assert {note["key"] for note in work.read()["notes"]} == {note["key"] for note in NOTES}


def test_the_flue_picks_notes_and_stages(desk: Desk, keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    plate = {"kind": "non-condensing boiler", "fuel": "natural gas", "flue": "open"}
    leaf = made(desk, qtbot, plate, [{"key": "chimney", "text": "flue blocks"}])
    leaf.complete()
    work = leaf.works[0]
    assert "air and flue" in [part.stage.key for part in work.stages]
    work.refill({"appliance": {**plate, "flue": "room-sealed"}, "notes": NOTES[1:2]}, "service")
    leaf.complete()
    assert "air and flue" not in [part.stage.key for part in work.stages]
    assert work.read()["notes"] == NOTES[1:2]


@pytest.mark.parametrize("name", list(shipped().kinds))
def test_every_kind_has_a_field_for_every_note(
    name: str, desk: Desk, keeper: ThemeKeeper, qtbot: QtBot
) -> None:
    assert keeper is not None
    kind = shipped().kinds[name]
    for flue in kind.flues:
        leaf = made(desk, qtbot, {"kind": name, "fuel": kind.fuels[0], "flue": flue}, [])
        leaf.complete()
        for purpose in PURPOSES:
            leaf.works[0].set_purpose(purpose)
            leaf.complete()
            for note in kind.notes_for(purpose, flue=flue):
                assert block_of(leaf, note.key).field_of(note.key) is not None


def test_by_keys_a_section_opens_what_there_is_room_for(window: MainWindow) -> None:
    window.go(Place("premises", "1"))
    typist = Typist(window)
    typist.press(Qt.Key.Key_N, CTRL)
    typist.press(Qt.Key.Key_F7)
    assert typist.here == "works.0.notes.as_found"
    typist.write("running")
    typist.press(Qt.Key.Key_Tab)
    assert typist.here == "works.0.notes.user_tells"
    document = window.leaf.document()  # type: ignore[attr-defined]
    assert document["works"][0]["notes"] == [{"key": "as_found", "text": "running"}]


def test_the_air_outdoors_is_a_slip_without_a_rate(desk: Desk, keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper is not None
    leaf = made(desk, qtbot, {"kind": "LPG cabinet heater", "fuel": "butane", "flue": "none"}, [])
    leaf.complete()
    combustion = leaf.works[0].combustion
    assert combustion is not None
    outdoors, room = combustion.slips.columns
    assert (outdoors.spot.words, outdoors.subtitle.text()) == ("outdoors", "")
    assert room.subtitle.text() == "high rate"
    assert list(outdoors.fields) == list(room.fields) == ["co2_pct", "co_ppm"]
    judgement = drafting.judge(leaf.document(), drafting.Past(), today=dt.date(2026, 11, 25))
    left = all_left(judgement, leaf.works, leaf.pieces.lines, lambda _path: None)
    assert "slip of the air outdoors" in [one.text for one in left]
    assert "slip of the air outdoors" in still_missing(leaf.document(), today=dt.date(2026, 11, 25))
