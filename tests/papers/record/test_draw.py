from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.papers.reading import drawn, overlaps, text_of

from flueleaf.papers.facts import Business, Party
from flueleaf.papers.record.facts import (
    Appliance,
    Check,
    CloseUp,
    Defect,
    Doubt,
    GonePast,
    Instrument,
    Judged,
    Noted,
    Reading,
    Record,
    SignOff,
    Slip,
    Work,
)
from flueleaf.papers.record.sample import sample_record
from flueleaf.papers.sample_facts import sample_head

ODD = st.text(max_size=80)


def record(work: Work, **more: object) -> Record:
    head = sample_head("service record", "R-1")
    bare = replace(head, business=Business("E"), customer=Party("C"), premises=None)
    return replace(Record(bare, "service", dt.date(2026, 11, 20), (work,)), **more)


def boiler(**more: object) -> Work:
    return replace(Work(Appliance("condensing boiler")), **more)


def judged_text(judged: Judged) -> str:
    slip = Slip("flue", "high rate", readings=(Reading("CO", "61", "ppm"),), judged=(judged,))
    return text_of(drawn(record(boiler(slips=(slip,)))))


@pytest.mark.parametrize(
    ("judged", "said"),
    [
        (
            Judged("CO", "61", "within", "ppm", "350", whose="maker", margin="289 ppm"),
            "within the maker’s limit",
        ),
        (Judged("CO", "349", "near", "ppm", "350", whose="table", margin="1 ppm"), "near the table’s limit"),
        (
            Judged("CO", "412", "over", "ppm", "350", whose="maker", margin="−62 ppm"),
            "over the maker’s limit",
        ),
        (
            Judged("O2", "20.1", "over", "%", "20.6", "at least", whose="table", margin="−0.5"),
            "over the table’s limit: too low",
        ),
        (Judged("CO", "2", "unjudged", "ppm", why="no limit applies"), "unjudged No limit applies"),
        (
            Judged("CO2", "9.9", "unjudged", "%", "9.6", whose="maker", why="a doubt is open"),
            "at most 9.6 % unjudged A doubt is open",
        ),
    ],
)
def test_each_verdict_is_said_in_words(judged: Judged, said: str) -> None:
    assert said in judged_text(judged)


def test_the_limit_that_does_not_count_is_printed_where_it_differs() -> None:
    judged = Judged(
        "CO", "61", "within", "ppm", "200", whose="maker", source="Manual, p. 9",
        also="350", also_whose="table", also_source="common practice",
    )  # fmt: skip
    said = judged_text(judged)
    assert "at most 200 ppm (a)" in said
    assert "the table’s: at most 350 ppm (b)" in said
    assert said.index("Manual, p. 9") < said.index("common practice")
    both = judged_text(replace(judged, whose="table"))
    assert "otherwise: at most 350 ppm (b)" in both
    alone = judged_text(replace(judged, also="", also_whose="none", also_source=""))
    assert "350" not in alone
    assert "(b)" not in alone


def test_an_unjudged_value_is_never_called_within() -> None:
    printed = judged_text(Judged("CO", "2", "unjudged", "ppm", why="no limit applies"))
    assert "within" not in printed


def test_a_slip_that_nothing_judges_is_named_as_that_while_it_counts() -> None:
    outdoors = Slip("outdoors", "high rate", readings=(Reading("CO", "0", "ppm"),))
    superseded = replace(outdoors, attempt=1, decides=False)
    printed = text_of(drawn(record(boiler(slips=(superseded, replace(outdoors, attempt=2))))))
    table = printed.partition("Against the limits")[2]
    assert "Outdoors, attempt 2, which counts" in table, "the air outdoors has no rate"
    assert "unjudged No limit applies: the room is held against it" in table
    assert "attempt 1" not in table
    doubtful = replace(outdoors, doubts=(Doubt("CO outdoors", confirmed=False),))
    for other in (doubtful, replace(outdoors, point="room")):
        table = text_of(drawn(record(boiler(slips=(other,))))).partition("Against the limits")[2]
        assert "unjudged No limit applies" in table
        assert "held against" not in table


def test_it_does_not_certify_and_defers() -> None:
    printed = text_of(drawn(record(boiler())))
    assert "does not certify that an appliance is safe" in printed
    assert "the maker’s instructions, the current standard and the law of the place come before" in printed
    assert printed.count("safe") == 1


def test_superseded_attempts_are_printed_and_named() -> None:
    printed = text_of(drawn(sample_record("service record", "R-2", "service")))
    assert "Flue, high rate, attempt 1, superseded" in printed
    assert "Flue, high rate, attempt 2, which counts" in printed
    assert "Flue, low rate, attempt" not in printed


def test_doubts_say_whether_the_engineer_stands_by_them() -> None:
    printed = text_of(drawn(record(boiler(doubts=(Doubt("First doubt.", True), Doubt("Second doubt."))))))
    assert "First doubt. checked by the engineer, who stands by the reading" in printed
    assert "Second doubt. not confirmed by the engineer" in printed


def test_an_expired_calibration_is_printed_plainly() -> None:
    due = dt.date(2026, 10, 31)
    expired = text_of(drawn(record(boiler(instrument=Instrument("A", "1", due, True)))))
    assert "Its calibration had expired on the day of the visit." in expired
    assert "expired" not in text_of(drawn(record(boiler(instrument=Instrument("A", "1", due, False)))))


def test_readings_without_an_analyser_say_so() -> None:
    slip = Slip("flue", "high rate", readings=(Reading("CO", "61", "ppm"),))
    assert "analyser not named" in text_of(drawn(record(boiler(slips=(slip,)))))


def test_a_value_not_read_is_a_dash_and_never_a_number() -> None:
    slips = (
        Slip("flue", "high rate", readings=(Reading("CO", "61", "ppm"),)),
        Slip("flue", "low rate", readings=(Reading("O2", "5.3", "%"),)),
    )
    printed = text_of(drawn(record(boiler(slips=slips))))
    assert "CO, ppm 61 — " in printed
    assert "O₂, % — 5.3" in printed
    assert "— not read" in printed


def test_derived_values_are_marked() -> None:
    slip = Slip("flue", "high rate", readings=(Reading("CO2", "9.28", "%", derived=True),))
    printed = text_of(drawn(record(boiler(slips=(slip,)))))
    assert "9.28 †" in printed
    assert "† worked out from other readings" in printed


@pytest.mark.parametrize(
    ("state", "said"),
    [
        ("refitted", "opened, and refitted"),
        ("not refitted", "opened and not refitted"),
        ("not sure", "opened; the engineer is not sure that it was refitted"),
        ("not opened", "not opened"),
    ],
)
def test_close_up_is_told_point_by_point(state: str, said: str) -> None:
    printed = text_of(drawn(record(boiler(close_up=(CloseUp("air inlet", state),)))))  # type: ignore[arg-type]
    assert f"Air inlet {said}" in printed


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ("signed", "has signed."),
        ("signed on paper", "has signed, on paper."),
        ("not present", "nobody signed for the customer"),
        ("refused", "was asked to sign and refused"),
    ],
)
def test_sign_off_says_how_the_customer_signed(how: str, said: str) -> None:
    printed = text_of(drawn(record(boiler(), sign_off=SignOff("Isolde", how, "Edda", "900 417"))))
    assert f"Isolde {said}" in printed or said in printed
    assert "Edda registration number 900 417" in printed


def test_bare_facts_leave_no_empty_headings() -> None:
    printed = text_of(drawn(record(boiler())))
    for word in ("Gas supply", "Readings", "limits", "Checks", "Defects", "Doubts", "Cautions", "Next due",
                 "Sign-off", "Notes", "arrived", "serial"):  # fmt: skip
        assert word not in printed


def test_more_slips_than_fit_go_into_further_tables() -> None:
    slips = tuple(
        Slip("hob", f"rate {at}", readings=(Reading("CO", f"{at}01", "ppm"),)) for at in range(1, 12)
    )
    pdf = drawn(record(boiler(slips=slips)))
    printed = text_of(pdf)
    assert [at for at in range(1, 12) if f"{at}01" not in printed or f"Hob, rate {at}" not in printed] == []
    assert overlaps(pdf) == []


def test_many_appliances_and_long_texts_cover_nothing() -> None:
    long = "Wetherby-Underhill" * 12
    work = boiler(
        appliance=Appliance("condensing boiler", long, long, long, long, long, long),
        checks=(Check(long * 4, "no", long), Check("q", long)),
        defects=(Defect(long, "immediately dangerous", long),),
        outcome=long,
        cautions=(long,),
    )
    assert overlaps(drawn(record(work, works=(work,) * 5, notes=(long,)))) == []


@settings(max_examples=15, deadline=None)
@given(ODD, ODD, ODD)
def test_any_text_can_be_drawn(one: str, two: str, three: str) -> None:
    slip = Slip(
        one,
        two,
        readings=(Reading(three, one, two, three), Reading(one, two)),
        judged=(Judged(one, two, "over", three, one, whose="maker", source=two, margin=three, why=one),),
        doubts=(Doubt(two),),
    )
    work = boiler(
        appliance=Appliance(one, two, three),
        slips=(slip,),
        checks=(Check(one, two, three),),
        cautions=(three,),
    )
    assert "over the maker’s limit" in text_of(drawn(record(work, notes=(one,))))


def test_what_is_missing_is_said_beside_the_verdict() -> None:
    slip = Slip("flue", "high rate", judged=(Judged("CO", "6", "within", "ppm", "350", whose="maker"),))
    whole = text_of(drawn(record(boiler(slips=(slip,), verdict="within"))))
    part = text_of(drawn(record(boiler(slips=(slip,), verdict="within", missing=("flue, low rate",)))))
    assert "Not all that was wanted was measured." in part
    assert "Missing: flue, low rate" in part
    assert "Not all" not in whole


def test_a_caution_of_every_appliance_is_printed_once() -> None:
    both = (boiler(cautions=("First caution.", "Own caution.")), boiler(cautions=("First caution.",)))
    printed = text_of(drawn(record(both[0], works=both, cautions=("Last caution.",))))
    assert printed.count("First caution.") == 1
    assert printed.index("Own caution.") < printed.index("First caution.") < printed.index("Last caution.")


def test_the_owners_words_stand_at_the_very_end() -> None:
    facts = record(boiler(), sign_off=SignOff("C", "signed", "E"))
    plain = text_of(drawn(facts))
    printed = text_of(drawn(replace(facts, texts=("Have it looked at every year.", "Thank you."))))
    assert "every year" not in plain
    assert (
        printed.index("has signed")
        < printed.index("Have it looked at every year.")
        < printed.index("Thank you.")
    )


def test_a_slip_after_an_adjustment_says_so() -> None:
    first = Slip("flue", "low rate", decides=False)
    again = Slip("flue", "low rate", attempt=2, adjusted=True)
    said = text_of(drawn(record(boiler(slips=(first, again)))))
    assert "Flue, low rate, attempt 1, superseded" in said
    assert "Flue, low rate, after adjusting, attempt 2, which counts" in said


def test_why_the_work_went_on_all_the_same_is_printed() -> None:
    past = GonePast("flue integrity at high rate", "High rate could not be held: the cylinder was hot.")
    said = text_of(drawn(record(boiler(gone_past=(past,)))))
    assert "Gone on all the same" in said
    assert "Flue integrity at high rate: High rate could not be held: the cylinder was hot." in said
    assert "Gone on all the same" not in text_of(drawn(record(boiler())))


def test_what_was_written_down_is_printed_under_its_heading_once() -> None:
    noted = (
        Noted("flue run", "flue", "two pipes"),
        Noted("flue run", "bends, counted as 90°", "2"),
        Noted("heating water", "flow", "60\xa0°C"),
    )
    text = text_of(drawn(record(boiler(noted=noted))))
    assert "Written down" in text
    assert text.count("Flue run") == 1
    assert "two pipes" in text
    assert "60\xa0°C" in text or "60 °C" in text
    assert "Written down" not in text_of(drawn(record(boiler())))
