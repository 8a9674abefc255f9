from __future__ import annotations

import datetime as dt
from collections import Counter
from itertools import pairwise

import pytest

from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.operations.assessing import assess_work
from flueleaf.operations.demo.story import story
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices
from flueleaf.operations.visits import blocks


def _assessed(documents):
    """Yield each visit with its verdicts, the earlier slips of an appliance at hand."""
    past: dict[str, tuple[PreviousVisit, ...]] = {}
    for document in documents:
        visit = read_visit(document, choices=choices(), today=dt.date.fromisoformat(document["date"]))
        found = [assess_work(visit, work, past.get(work.appliance.serial, ())) for work in visit.works]
        for work in visit.works:
            if work.slips:
                past[work.appliance.serial] = (PreviousVisit(visit.date, work.slips, work.instrument),)
        yield visit, found


def test_equal_arguments_give_equal_documents_and_another_seed_others(scenario, today, whole_story) -> None:
    again = list(story(scenario, years=6, scale=1, seed=1, today=today))
    assert again == [document for _, document in whole_story]
    assert list(story(scenario, years=6, scale=1, seed=2, today=today)) != again


def test_the_story_is_told_in_order_and_up_to_yesterday(whole_story, today) -> None:
    dates = [document["date"] for _, document in whole_story]
    assert dates == sorted(dates)
    assert dates[0] >= "2020-11-26"
    assert dates[-1] < today.isoformat()
    instants = [document["issued_at"] for _, document in whole_story]
    assert instants == sorted(instants)
    assert len({document["visit_id"] for _, document in whole_story}) == len(whole_story)


def test_all_premises_and_appliances_come_up(whole_story) -> None:
    premises = {tuple(document["premises"]["address"]) for _, document in whole_story}
    serials = {work["appliance"]["serial"] for _, document in whole_story for work in document["works"]}
    assert (len(premises), len(serials)) == (60, 90)
    assert 350 <= len(whole_story) <= 600


@pytest.mark.parametrize(("seed", "day"), [(1, dt.date(2026, 11, 25)), (5, dt.date(2027, 3, 1))])
def test_every_document_is_accepted_and_nothing_stands_against_its_sign_off(scenario, seed, day) -> None:
    verdicts: Counter[str] = Counter()
    doubts: Counter[str] = Counter()
    for visit, found in _assessed(story(scenario, years=6, scale=1, seed=seed, today=day)):
        assert list(blocks(visit, found)) == []
        verdicts.update(assessment.verdict for assessment in found)
        doubts.update(doubt.code for assessment in found for doubt in assessment.doubts)
    assert verdicts["within"] > 300
    assert verdicts["over"] >= 1
    assert doubts["calibration-expired"] >= 1
    assert doubts["changed-since-last"] >= 1
    # The readings come from the physics, so nothing that contradicts it may be doubted.
    assert set(doubts) <= {"calibration-expired", "changed-since-last"}


def test_an_appliance_that_drifts_is_seen_to(whole_story, scenario) -> None:
    fastest = max((f for place in scenario.places for f in place.fitted), key=lambda f: f.drift_ppm_per_year)
    read = [
        float(slip["co_ppm"])
        for _, document in whole_story
        for work in document["works"]
        if work["appliance"]["serial"] == fastest.serial
        for slip in work.get("slips", ())
        if (slip["point"], slip["rate"]) == ("flue", "max") and slip.get("attempt", "1") == "1"
    ]
    assert len(read) >= 5
    assert read[-1] - read[0] > 3 * fastest.drift_ppm_per_year
    assert all(later > earlier for earlier, later in pairwise(read))


def test_no_years_is_no_story_and_two_towns_are_twice_the_visits(scenario, today, whole_story) -> None:
    assert list(story(scenario, years=0, scale=1, seed=1, today=today)) == []
    twice = list(story(scenario, years=6, scale=2, seed=1, today=today))
    assert len(twice) == pytest.approx(2 * len(whole_story), rel=0.05)
    assert len({document["visit_id"] for document in twice}) == len(twice)


def test_every_visit_has_the_record_of_its_purpose_and_an_invoice(whole_story) -> None:
    for visit, document in whole_story:
        if visit.works[0].course == "no access":
            assert document["papers"] == ["invoice"]
        else:
            record = "commissioning record" if visit.purpose == "commissioning" else "service record"
            assert document["papers"] == [record, "invoice"]
