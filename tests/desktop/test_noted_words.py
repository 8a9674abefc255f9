from __future__ import annotations

from flueleaf.desktop.noted_words import noted_groups, noted_line, shown
from flueleaf.operations.tables import shipped

BOILER = shipped().kinds["condensing boiler"]
NOTES = {note.key: note for note in BOILER.notes}


def test_a_text_is_shown_with_its_unit_and_a_day_as_a_day() -> None:
    assert shown(NOTES["flow_c"], "60") == "60\N{NO-BREAK SPACE}°C"
    assert shown(NOTES["flue_bends"], "2") == "2"
    assert shown(NOTES["filter"], "cleaned") == "cleaned"
    assert shown(NOTES["alarm_until"], "2031-02-01") == "1 Feb 2031"


def test_notes_stand_on_one_line() -> None:
    notes = {NOTES["flue_bends"]: "2", NOTES["filter"]: "cleaned"}
    assert noted_line(notes) == "bends, counted as 90°: 2 · filter: cleaned"
    assert noted_line({}) == ""


def test_groups_come_in_the_order_of_the_kind() -> None:
    texts = {
        "shown_to": "the tenant",
        "filter": "cleaned",
        "cleaner": "two litres",
        "unknown": "x",
        "flow_c": "",
    }
    found = noted_groups(BOILER, texts)
    assert list(found) == ["heating water", "advice and handing over"]
    assert found["heating water"] == "cleaner used: two litres · filter: cleaned"
    assert noted_groups(BOILER, texts, built_in=True) == {"heating water": "cleaner used: two litres"}
