"""Two statements of a visit that cannot both hold are named, at the field that can be put right."""

from __future__ import annotations

import copy
import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from flueleaf.domain.problems import Refused
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices

TODAY = dt.date(2026, 11, 25)
Document = dict[str, Any]


def _left_early(d: Document) -> None:
    d["left"] = "09:09"


def _issued_before(d: Document) -> None:
    d["issued_at"] = "2026-11-18T20:00:00+00:00"


def _issued_tomorrow(d: Document) -> None:
    d["issued_at"] = "2026-11-27T00:30:00+00:00"


def _nameless(d: Document) -> None:
    d["sign_off"] = {"customer": "signed", "customer_name": " "}


def _twice(d: Document) -> None:
    again = copy.deepcopy(d["works"][0])
    again["appliance"]["serial"] = " " + again["appliance"]["serial"].lower()
    d["works"].append(again)


def _installed_later(d: Document) -> None:
    d["works"][0]["appliance"]["installed"] = "2026-11-21"


def _upside_down(d: Document) -> None:
    d["works"][0]["appliance"]["rated_input"] = {"basis": "net", "min_kw": 25, "max_kw": 24}


def _unsafe_in_use(d: Document) -> None:
    d["works"][0]["defects"] = [{"text": "no flue guard", "class": "at risk", "action": ""}]


def _answered_twice(d: Document) -> None:
    d["works"][0]["checks"].append(d["works"][0]["checks"][0])


def _both(d: Document) -> None:
    d["works"][0]["not_measured"] = [{"point": "flue", "rate": "max", "reason": "forgot"}]


CASES: list[tuple[Callable[[Document], None], str]] = [
    (_left_early, "left"),
    (_issued_before, "issued_at"),
    (_issued_tomorrow, "issued_at"),
    (_nameless, "sign_off.customer_name"),
    (_twice, "works[1].appliance"),
    (_installed_later, "works[0].appliance.installed"),
    (_upside_down, "works[0].appliance.rated_input.min_kw"),
    (_unsafe_in_use, "works[0].outcome"),
    (_answered_twice, "works[0].checks[24].key"),
    (_both, "works[0].not_measured[0]"),
]


@pytest.mark.parametrize(("spoil", "where"), CASES, ids=[spoil.__name__[1:] for spoil, _ in CASES])
def test_a_contradiction_is_named_once(
    document: Document, spoil: Callable[[Document], None], where: str
) -> None:
    spoil(document)
    if where.startswith("works[0].checks"):
        where = f"works[0].checks[{len(document['works'][0]['checks']) - 1}].key"
    with pytest.raises(Refused) as caught:
        read_visit(document, choices=choices(), today=TODAY)
    assert [fault.where for fault in caught.value.faults] == [where]


def test_the_documented_evening_contradicts_nothing(document: Document) -> None:
    assert read_visit(document, choices=choices(), today=TODAY).works[0].outcome == "left in use"


def test_an_unsafe_defect_may_be_left_in_use_with_notes(document: Document) -> None:
    """The user may refuse; the notes and the warning notice say so."""
    _unsafe_in_use(document)
    document["works"][0]["outcome"] = "left in use with notes"
    assert read_visit(document, choices=choices(), today=TODAY).works[0].defects[0].defect_class == "at risk"


def test_what_is_missing_whole_is_said_once(document: Document) -> None:
    del document["customer"]
    with pytest.raises(Refused) as caught:
        read_visit(document, choices=choices(), today=TODAY)
    assert [fault.where for fault in caught.value.faults] == ["customer"]


def test_the_flue_must_be_said_where_the_kind_may_have_several(document: Document) -> None:
    del document["works"][0]["appliance"]["flue"]
    assert read_visit(document, choices=choices(), today=TODAY).works[0].appliance.flue == "room-sealed"
    document["works"][0]["appliance"]["kind"] = "gas fire"
    document["works"][0]["checks"] = document["works"][0]["notes"] = []
    with pytest.raises(Refused) as caught:
        read_visit(document, choices=choices(), today=TODAY)
    assert [fault.where for fault in caught.value.faults] == ["works[0].appliance.flue"]
