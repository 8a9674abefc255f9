"""A visit being typed: begun from the book, kept, judged, signed off along the command line's road."""

from __future__ import annotations

import copy
import dataclasses
import datetime as dt
import json
from typing import Any

import pytest

from flueleaf.domain.problems import Refused
from flueleaf.operations import book as books
from flueleaf.operations import drafting, pages, register, unfinished
from flueleaf.storage.book import Book

TODAY = dt.date(2026, 11, 25)
ISSUED = dt.datetime(2026, 11, 20, 20, 15, tzinfo=dt.UTC)


def _with_strings(document: dict[str, Any]) -> Any:
    """Return a document as a draft gives it back: numbers as decimal strings with their digits."""
    return json.loads(json.dumps(document, default=lambda number: f"{number:f}"))


def _judge(document: dict[str, Any], past: drafting.Past | None = None) -> drafting.Judgement:
    return drafting.judge(document, past or drafting.Past(), today=TODAY)


def test_a_draft_is_kept_and_found_again(book: Book, document: dict[str, Any]) -> None:
    drafting.keep(book, document)
    document["customer"]["name"] = "Someone Else"
    drafting.keep(book, document)
    assert drafting.load(book, document["visit_id"]) == _with_strings(document)
    (row,) = pages.tonight(book, TODAY).drafts
    assert (row.key, row.title) == (document["visit_id"], "95 Ropewalk Parade, Quarrowby")
    drafting.put_away(book, document["visit_id"])
    assert drafting.load(book, document["visit_id"]) is None
    assert pages.tonight(book, TODAY).drafts == ()


def test_a_finished_draft_is_ready_and_its_sign_off_takes_it_away(
    book: Book, document: dict[str, Any]
) -> None:
    drafting.keep(book, document)
    judgement = _judge(document)
    assert judgement.ready
    assert [assessment.verdict for assessment in judgement.assessments] == ["within"]
    signed = drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY)
    assert [paper.number for paper in signed.papers] == ["R-2026-0001", "I-2026-0001"]
    assert drafting.load(book, document["visit_id"]) is None
    assert drafting.stored_visit(book, document["visit_id"]).visit.customer.name == "Perran Quillstone"


def test_an_empty_draft_names_what_is_needed(book: Book) -> None:
    judgement = _judge(drafting.begin(book, today=TODAY))
    assert not judgement.ready
    assert {"customer.name", "premises.address", "works"} <= {fault.where for fault in judgement.faults}


def test_what_is_typed_wrongly_is_said_and_the_rest_is_judged(document: dict[str, Any]) -> None:
    document["works"][0]["slips"][1]["o2_pct"] = "4,8"
    document["works"][0]["slips"][1]["flue_c"] = "55.2 °C"
    judgement = _judge(document)
    assert [fault.where for fault in judgement.faults] == ["works[0].slips[1].o2_pct"]
    assert judgement.assessments[0].slips[1].verdict == "within"


def test_a_reading_over_its_limit_blocks_being_left_in_use(document: dict[str, Any]) -> None:
    slip = document["works"][0]["slips"][1]
    slip["co_ppm"] = 900
    slip.pop("ratio", None)
    judgement = _judge(document)
    assert judgement.assessments[0].verdict == "over"
    assert [fault.where for fault in judgement.blocks] == ["works[0].outcome"]


def test_sign_off_refuses_what_judging_blocks(book: Book, document: dict[str, Any]) -> None:
    document["works"][0]["close_up"]["flue"] = False
    drafting.keep(book, document)
    with pytest.raises(Refused, match=r"close_up\.flue"):
        drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY)
    assert drafting.load(book, document["visit_id"]) == _with_strings(document)


def test_a_revisit_begins_with_plate_and_people_but_never_with_readings(
    book: Book, document: dict[str, Any]
) -> None:
    drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY)
    (customer,) = register.choices(book).customers
    begun = drafting.begin(book, today=TODAY, premises_id=1)
    assert begun["customer"]["name"] == customer.name
    assert begun["premises"]["address"] == document["premises"]["address"]
    work = begun["works"][0]
    assert work["appliance"]["serial"] == document["works"][0]["appliance"]["serial"]
    assert work["instrument"]["serial"] == document["works"][0]["instrument"]["serial"]
    assert "slips" not in work
    assert "close_up" not in work
    assert json.loads(json.dumps(begun)) == begun


def test_a_first_visit_begins_with_the_analyser_the_book_knows(book: Book, document: dict[str, Any]) -> None:
    drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY)
    (work,) = drafting.begin(book, today=TODAY)["works"]
    assert work["instrument"]["serial"] == document["works"][0]["instrument"]["serial"]
    assert work["instrument"]["calibration_due"] == document["works"][0]["instrument"]["calibration_due"]
    assert set(work) == {"instrument"}


def test_last_time_is_looked_up_and_a_jump_is_doubted(book: Book, document: dict[str, Any]) -> None:
    drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY)
    again = copy.deepcopy(document)
    again.update(visit_id="00000000-0000-4000-8000-000000000002", purpose="service", date="2026-11-24")
    for slip in again["works"][0]["slips"]:
        slip.pop("ratio", None)
    again["works"][0]["slips"][1]["co_ppm"] = 190
    past = drafting.look_back(book, again)
    assert [visit.date for visit in past.visits[0]] == [dt.date(2026, 11, 20)]
    codes = {doubt.code for doubt in _judge(again, past).assessments[0].doubts}
    assert "changed-since-last" in codes


def test_a_visit_of_a_nameless_business_is_refused_whole(book: Book, document: dict[str, Any]) -> None:
    named = books.business(book)
    books.save_business(book, dataclasses.replace(named, name=""))
    drafting.keep(book, document)
    del document["works"][0]["close_up"]["flue"]
    with pytest.raises(Refused) as refused:
        drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY)
    assert [fault.where for fault in refused.value.faults] == ["works[0].close_up.flue", "business.name"]
    document["works"][0]["close_up"]["flue"] = True
    with pytest.raises(Refused, match=r"business\.name"):
        drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY)
    assert drafting.load(book, document["visit_id"]) is not None
    books.save_business(book, named)
    assert drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY).papers


def test_an_outcome_not_chosen_is_said_once(document: dict[str, Any]) -> None:
    del document["works"][0]["outcome"], document["works"][0]["slips"]
    said = unfinished.still_missing(document, today=TODAY)
    assert [words for words in said if "outcome" in words] == ["the outcome"]


def test_looking_back_finds_the_answers_of_the_latest_earlier_visit(
    book: Book, document: dict[str, Any]
) -> None:
    drafting.sign_off(book, document, issued_at=ISSUED, today=TODAY)
    again = {**document, "visit_id": "00000000-0000-4000-8000-000000000002", "date": TODAY.isoformat()}
    past = drafting.look_back(book, again)
    assert past.answers[0] is not None
    assert past.answers[0].date.isoformat() == document["date"]
    assert [one.key for one in past.answers[0].answers] == [c["key"] for c in document["works"][0]["checks"]]
    assert past.known[0] is not None
    assert past.known[0].serial == document["works"][0]["appliance"]["serial"]
    assert drafting.look_back(book, document).answers == (None,)


def _two_works(document: dict[str, Any]) -> dict[str, Any]:
    """Return a draft of two appliances, as a leaf hands it over: copied at each reading."""
    typed = _with_strings(document)
    other = copy.deepcopy(typed["works"][0])
    other["appliance"]["serial"] = "ANOTHER-1"
    return {**typed, "works": [typed["works"][0], other]}


def test_an_appliance_that_nothing_changed_for_keeps_its_verdict(document: dict[str, Any]) -> None:
    draft, past = _two_works(document), drafting.Past()
    before = _judge(draft, past)
    draft = copy.deepcopy(draft)
    draft["works"][1]["slips"][-1]["co_ppm"] = "3500"
    after = drafting.judge(draft, past, today=TODAY, before=before)
    assert after.assessments[0] is before.assessments[0]
    assert after.assessments == _judge(draft, past).assessments
    assert after.assessments[1].verdict == "over"


@pytest.mark.parametrize(
    "change",
    [
        lambda draft: draft.update(date="2031-01-05"),
        lambda draft: draft.update(purpose="service"),
        lambda draft: draft["works"][0]["slips"][-1].update(co_ppm="61.0"),  # another resolution
        lambda draft: draft["works"].reverse(),
        lambda draft: draft["works"].pop(),
    ],
)
def test_a_verdict_kept_is_the_one_that_would_be_made(document: dict[str, Any], change: Any) -> None:
    draft, past = _two_works(document), drafting.Past()
    draft["works"][1]["slips"][-1]["co_ppm"] = "61"
    draft["works"][0]["slips"][-1]["co_ppm"] = "61"
    before = _judge(draft, past)
    draft = copy.deepcopy(draft)
    change(draft)
    late = dt.date(2032, 1, 1)
    kept = drafting.judge(draft, past, today=late, before=before)
    assert kept.assessments == drafting.judge(draft, past, today=late).assessments
    assert all(found is not before.assessments[0] for found in kept.assessments[:1])


def test_a_verdict_is_made_anew_where_the_past_is_another(document: dict[str, Any]) -> None:
    draft = _two_works(document)
    before = _judge(draft, drafting.Past())
    after = drafting.judge(draft, drafting.Past(), today=TODAY, before=before)
    assert after.assessments[0] is not before.assessments[0]
