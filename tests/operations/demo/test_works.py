from __future__ import annotations

import datetime as dt

from flueleaf.operations.demo.works import highest_co_ppm


def _works(whole_story, course):
    return [
        (visit, planned, document)
        for visit, told in whole_story
        for planned, document in zip(visit.works, told["works"], strict=True)
        if planned.course == course
    ]


def _at(document, point, rate="max"):
    return [slip for slip in document["slips"] if (slip["point"], slip["rate"]) == (point, rate)]


def test_a_failed_attempt_is_kept_and_the_second_holds(whole_story) -> None:
    found = _works(whole_story, "corrected")
    assert len(found) >= 5
    for _, planned, document in found:
        first, second = _at(document, "flue")
        assert [first["attempt"], second["attempt"]] == ["1", "2"]
        assert float(first["co_ppm"]) > highest_co_ppm(planned.fitted)
        assert float(second["co_ppm"]) < highest_co_ppm(planned.fitted) / 2
        assert document["outcome"] == "left in use"


def test_made_safe_carries_a_classified_defect_and_measures_no_further(whole_story) -> None:
    found = _works(whole_story, "made safe")
    assert {document["defects"][0]["class"] for _, _, document in found} == {
        "immediately dangerous",
        "at risk",
    }
    for _, _, document in found:
        assert document["outcome"] in ("made safe", "isolated")
        assert not _at(document, "flue")
        for slip in _at(document, "air inlet"):
            assert float(slip["o2_pct"]) < 20.6


def test_a_repaired_flue_is_measured_at_the_air_inlet_again(whole_story) -> None:
    found = [one for one in _works(whole_story, "repaired") if one[1].cause in ("flue-joint", "air-inlet")]
    assert len(found) == 2
    for _, _, document in found:
        assert float(_at(document, "air inlet")[0]["o2_pct"]) >= 20.7


def test_an_expired_calibration_is_in_the_story_and_only_where_it_was_let_slip(whole_story) -> None:
    dates = [
        (visit.date, document["instrument"])
        for visit, told in whole_story
        for document in told["works"]
        if "instrument" in document
    ]
    expired = [
        (date, instrument)
        for date, instrument in dates
        if dt.date.fromisoformat(instrument["calibration_due"]) < date
    ]
    assert 5 <= len(expired) <= 30
    assert {instrument["serial"] for _, instrument in expired} == {"B2-07755"}
    assert {instrument["serial"] for _, instrument in dates} == {"B2-07755", "C4-20817"}


def test_every_opened_point_is_closed_up(whole_story) -> None:
    for _, told in whole_story:
        for document in told["works"]:
            points = {slip["point"] for slip in document.get("slips", ())}
            assert document.get("close_up", {}) == dict.fromkeys(points, True)


def test_what_could_not_be_held_at_minimum_is_said(whole_story) -> None:
    found = [
        document
        for visit, told in whole_story
        for planned, document in zip(visit.works, told["works"], strict=True)
        if planned.fitted.no_minimum and visit.purpose == "landlord check"
    ]
    assert found
    assert all("minimum rate" in document["not_measured"][0]["reason"] for document in found)
    assert {document["outcome"] for document in found} == {"left in use with notes"}
