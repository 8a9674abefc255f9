from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop.looking_up import look_up
from flueleaf.desktop.place import TONIGHT, Place
from flueleaf.operations import drafting, issued, pages

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow


def test_without_a_text_there_is_tonight_the_way_back_and_what_waits(window: MainWindow) -> None:
    window.go(Place("premises", "1"))
    drafting.keep(
        window.desk.book, drafting.begin(window.desk.book, today=window.desk.today(), premises_id=1)
    )
    found = look_up(window, "")
    assert found[0].place == TONIGHT
    groups = [one.group for one in found]
    assert {"lately", "unfinished", "due next"} >= set(groups) - {""}
    assert {"lately", "unfinished"} <= set(groups)
    assert Place("premises", "1") in [one.place for one in found if one.group == "lately"]


def test_every_thing_found_opens(window: MainWindow) -> None:
    page = pages.appliance_page(window.desk.book, 1)
    paper = issued.papers(window.desk.book)[0].number
    texts = [page.customer.name, page.premises.postcode, page.appliance.serial, page.appliance.make, paper]
    opened = set()
    for text in texts:
        for found in look_up(window, text):
            if found.place is None:
                continue
            window.go(found.place)
            assert window.leaf is not None
            assert window.leaf.place == found.place, window.notice
            opened.add(found.group)
    assert {"customers", "premises", "appliances", "papers"} <= opened


@pytest.mark.parametrize(
    ("text", "words"), [("keys", "Keys"), ("larger", "Larger text"), ("light dark", "Light or dark")]
)
def test_actions_are_found_with_their_key(window: MainWindow, text: str, words: str) -> None:
    found = next(one for one in look_up(window, text) if one.group == "actions")
    assert found.title == words
    assert found.subtitle
    assert found.run is not None


def test_places_shown_lately_say_what_they_are(window: MainWindow) -> None:
    window.go(Place("premises", "1"))
    window.go(Place("appliance", "1"))
    alone = [one for one in look_up(window, "") if one.group == "lately"]
    assert [one.subtitle for one in alone] == ["appliance", "premises"]
    window.go(Place("appliance_form", "1"))
    lately = [one for one in look_up(window, "") if one.group == "lately"]
    twins = [one.subtitle for one in lately if one.title == lately[0].title]
    assert twins == ["appliance, form", "appliance"]


def test_a_visit_stands_once_among_what_was_shown_lately(window: MainWindow) -> None:
    document = drafting.begin(window.desk.book, today=window.desk.today(), premises_id=1)
    key = str(document["visit_id"])
    drafting.keep(window.desk.book, document)
    window.go(Place("visit", key, within="1"))  # as one that was begun at its premises
    window.go(TONIGHT)
    window.go(Place("visit", key))
    assert [place.key for place, _title in window.lately if place.leaf == "visit"] == [key]
