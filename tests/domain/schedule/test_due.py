from __future__ import annotations

import calendar
import copy
import datetime as dt
import pickle
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.problems import Refused
from flueleaf.domain.schedule.due import (
    EARLIEST,
    LATEST,
    Plan,
    Rule,
    add_months,
    in_words,
    month_in_words,
    plan,
    retold,
)
from flueleaf.domain.words import Day, Sentence
from flueleaf.storage.tables.schedule import due_rules

RULES = due_rules()
LANDLORD = RULES["landlord check"]
DAY = dt.timedelta(days=1)
dates = st.dates(dt.date(1992, 1, 1), dt.date(2198, 12, 31))


def _date(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


def _landlord(previous: str | None, checked: str, anchor: str | None = None) -> Plan:
    facts = {"previous_due": previous, "checked": checked, "anchor": anchor}
    return plan(LANDLORD, **{key: None if text is None else _date(text) for key, text in facts.items()})


@pytest.mark.parametrize(
    ("previous", "checked", "expected"),
    [
        ("2026-03-31", "2026-03-31", "2027-03-31"),  # on the deadline
        ("2026-03-31", "2026-04-01", "2027-04-01"),  # a day late
        ("2026-03-31", "2026-02-01", "2027-03-31"),  # first day of the window
        ("2026-03-31", "2026-01-31", "2027-01-31"),  # exactly two months before
        ("2026-03-31", "2026-01-30", "2027-01-30"),
        ("2026-04-30", "2026-02-28", "2027-02-28"),  # two months before, clamped
        ("2026-04-30", "2026-03-01", "2027-04-30"),
        ("2028-04-30", "2028-02-29", "2029-02-28"),  # clamped to the leap day, restarts from it
        ("2028-04-30", "2028-03-01", "2029-04-30"),
        ("2026-04-29", "2026-02-28", "2027-02-28"),
        ("2026-04-28", "2026-02-28", "2027-02-28"),
        ("2026-08-31", "2026-06-30", "2027-06-30"),
        ("2026-08-31", "2026-07-01", "2027-08-31"),
        ("2026-01-31", "2025-11-30", "2026-11-30"),
        ("2026-01-31", "2025-12-01", "2027-01-31"),
        ("2028-02-29", "2027-12-29", "2028-12-29"),
        ("2028-02-29", "2027-12-30", "2029-02-28"),
        ("2027-02-28", "2026-12-28", "2027-12-28"),
        ("2027-02-28", "2026-12-29", "2028-02-28"),
        ("2026-03-31", "2024-10-01", "2025-10-01"),  # a year early counts from then
        (None, "2028-02-29", "2029-02-28"),
    ],
)
def test_landlord_check_at_the_edges(previous: str | None, checked: str, expected: str) -> None:
    assert _landlord(previous, checked).next_due == _date(expected)


@pytest.mark.parametrize(
    ("previous", "checked", "opens"),
    [
        ("2026-03-31", "2026-03-31", "2027-02-01"),
        ("2026-04-30", "2026-04-30", "2027-03-01"),
        ("2027-04-30", "2027-04-30", "2028-03-01"),
        ("2026-02-28", "2026-02-28", "2026-12-29"),
        ("2026-08-15", "2026-08-15", "2027-06-16"),
    ],
)
def test_the_window_opens_the_day_after_two_months_before(previous: str, checked: str, opens: str) -> None:
    assert _landlord(previous, checked).window_opens == _date(opens)


def test_without_anchor_a_leap_day_drifts_and_with_it_comes_back() -> None:
    due, drifting, anchor = _date("2024-02-29"), _date("2024-02-29"), None
    for _ in range(4):
        found = plan(LANDLORD, previous_due=due, checked=due, anchor=anchor)
        due, anchor = found.next_due, found.anchor
        drifting = plan(LANDLORD, previous_due=drifting, checked=drifting).next_due
    assert due == _date("2028-02-29")
    assert drifting == _date("2028-02-28")


def test_the_window_follows_the_deadline_that_stands_not_the_anchor() -> None:
    # The two months that end with 28 February 2027 begin on 29 December whatever day the anchor had.
    assert _landlord("2027-02-28", "2026-12-29", "2024-02-29").next_due == _date("2028-02-29")
    assert _landlord("2027-02-28", "2026-12-28", "2024-02-29").next_due == _date("2027-12-28")


def test_a_deadline_may_be_its_own_anchor() -> None:
    assert _landlord("2026-03-31", "2026-03-30", "2026-03-31") == _landlord("2026-03-31", "2026-03-30")


def test_on_the_deadline_itself_the_reason_is_that_the_anniversary_stays() -> None:
    assert "so the anniversary stays" in _landlord("2026-03-31", "2026-03-31").why
    assert "after the deadline" in _landlord("2026-03-31", "2026-04-01").why


@pytest.mark.parametrize("twin", [copy.copy, copy.deepcopy, lambda day: pickle.loads(pickle.dumps(day))])
def test_a_copy_of_a_day_in_words_keeps_its_date(twin: Callable[[Day], Day]) -> None:
    for words in (in_words(_date("2026-02-09")), month_in_words(_date("2026-02-09"))):
        made = twin(words)
        assert (type(made), str(made), made.date) == (type(words), str(words), _date("2026-02-09"))


def test_a_month_in_words_keeps_its_date() -> None:
    day = _date("2031-03-12")
    told = month_in_words(day)
    assert (told, told.date) == ("March 2031", day)
    assert month_in_words(_date("2026-12-31")) == "December 2026"


def test_a_restart_forgets_the_anchor() -> None:
    found = _landlord("2026-03-31", "2026-04-02", "2020-03-31")
    assert (found.next_due, found.anchor) == (_date("2027-04-02"), _date("2026-04-02"))


@pytest.mark.parametrize(
    ("previous", "anchor"),
    [
        ("2026-03-30", "2020-03-31"),
        ("2026-03-31", "2020-03-30"),
        ("2026-03-31", "2026-05-31"),
        (None, "2020-03-31"),
    ],
)
def test_an_anchor_of_another_deadline_is_refused(previous: str | None, anchor: str) -> None:
    with pytest.raises(Refused, match="anchor"):
        _landlord(previous, "2026-03-30", anchor)


@settings(max_examples=100)
@given(dates, st.integers(-70, 400))
def test_keeping_the_anniversary_is_exactly_being_in_the_window(deadline: dt.date, before: int) -> None:
    checked = deadline - before * DAY
    found = plan(LANDLORD, previous_due=deadline, checked=checked)
    inside = add_months(deadline, -2) < checked <= deadline
    assert found.next_due == add_months(deadline if inside else checked, 12)
    assert found.next_due > checked
    assert found.next_due <= add_months(checked, 14)
    assert (found.next_due - checked).days >= 365 - 1


@settings(max_examples=100)
@given(dates, st.integers(-3, 70))
def test_the_window_named_is_the_one_applied(checked: dt.date, later: int) -> None:
    """From the first day it names to the deadline the anniversary stays; the day before, it does not."""
    first = plan(LANDLORD, checked=checked)
    assert first.window_opens is not None
    day = first.window_opens + later * DAY
    following = plan(LANDLORD, previous_due=first.next_due, checked=day, anchor=first.anchor)
    if later >= 0 and day <= first.next_due:
        assert (following.next_due.year, following.next_due.month) == (first.next_due.year + 1, checked.month)
        assert following.next_due.day == min(
            checked.day, calendar.monthrange(following.next_due.year, checked.month)[1]
        )
    else:
        assert following.next_due == add_months(day, 12)


@settings(max_examples=100)
@given(dates, st.integers(-60, 60))
def test_months_are_calendar_months(start: dt.date, months: int) -> None:
    found = add_months(start, months)
    assert (found.year * 12 + found.month) - (start.year * 12 + start.month) == months
    assert found.day == start.day or (found.day < start.day and (found + DAY).day == 1)


@pytest.mark.parametrize(
    ("rule", "fact", "start", "due", "opens"),
    [
        ("first landlord check", "installed", "2028-02-29", "2029-02-28", "2028-12-29"),
        ("first landlord check", "installed", "2026-06-15", "2027-06-15", "2027-04-16"),
        ("yearly service", "checked", "2026-11-20", "2027-11-20", None),
        ("yearly service", "checked", "2028-02-29", "2029-02-28", None),
        ("instrument calibration", "checked", "2026-03-01", "2027-03-01", None),
        ("dangerous fitting report", "known", "2026-02-20", "2026-03-06", None),
        ("dangerous fitting report", "known", "2028-02-20", "2028-03-05", None),
        ("installation notice", "completed", "2026-01-31", "2026-03-02", None),
    ],
)
def test_the_other_rules(rule: str, fact: str, start: str, due: str, opens: str | None) -> None:
    found = plan(RULES[rule], **{fact: _date(start)})
    assert found.next_due == _date(due)
    assert found.window_opens == (None if opens is None else _date(opens))
    assert RULES[rule].source in found.why
    assert in_words(_date(start)) in found.why


@pytest.mark.parametrize(
    ("previous", "checked", "said"),
    [
        ("2026-03-31", "2026-02-10", "within 2 months before the deadline of 31 March 2026, so the"),
        ("2026-03-31", "2026-04-02", "after the deadline of 31 March 2026"),
        ("2026-03-31", "2026-01-31", "2 months or more before the deadline of 31 March 2026"),
        (None, "2026-01-31", "counted from 31 January 2026"),
    ],
)  # fmt: skip
def test_why_is_told(previous: str | None, checked: str, said: str) -> None:
    why = _landlord(previous, checked).why
    assert said in why
    assert why.startswith("Landlord's gas safety check")
    assert why.endswith(").")


@pytest.mark.parametrize("rule", RULES.values(), ids=list(RULES))
def test_a_reason_begins_a_sentence(rule: Rule) -> None:
    assert rule.why[0].isupper()


@given(st.sampled_from(list(RULES.values())), dates, st.none() | dates)
def test_a_kept_reason_is_read_again_with_its_days(
    rule: Rule, start: dt.date, previous: dt.date | None
) -> None:
    facts = {rule.counts_from: start, **({"previous_due": previous} if rule.renews else {})}
    why = plan(rule, **facts).why
    found = retold(str(why))
    assert found == why
    assert isinstance(found, Sentence)
    assert isinstance(why, Sentence)
    assert found.values["what"].pattern == rule.why
    for read, written in ((found, why), (found.values["told"], why.values["told"])):
        assert read.pattern == written.pattern
        assert read.values == {
            key: str(value) if isinstance(value, int) else value for key, value in written.values.items()
        }
    days = [value for value in found.values["told"].values.values() if isinstance(value, Day)]
    assert [day.date for day in days] == [start, previous][: len(days)]


@pytest.mark.parametrize(
    "reason",
    [
        "",
        "Because you asked for it.",
        "Yearly service, 12 months after the last one: counted from 31 February 2026 (makers' instructions).",
        "Yearly service, 12 months after the last one: counted from 03 March 2026 (makers' instructions).",
        "Yearly service, 12 months after the last one: counted from 3 Brumaire 2026 (makers' instructions).",
    ],
)
def test_a_reason_in_other_words_stays_as_it_is(reason: str) -> None:
    assert retold(reason) is reason


def test_a_reason_of_an_earlier_edition_is_read_too() -> None:
    found = retold("Every {other} year: counted from 3 March 2026 (a source of then (clause 2)).")
    assert isinstance(found, Sentence)
    assert found.values["source"] == "a source of then (clause 2)"
    assert not isinstance(found.values["what"], Sentence)


@pytest.mark.parametrize(
    "wrong",
    [EARLIEST - DAY, LATEST + DAY, dt.datetime(2026, 1, 1, 12), "2026-01-01", dt.date.min, dt.date.max],
)
def test_what_is_no_date_in_range_is_refused(wrong: dt.date) -> None:
    for facts in ({"checked": wrong}, {"checked": dt.date(2026, 1, 1), "previous_due": wrong}):
        with pytest.raises(Refused, match="1990-01-01 to 2200-01-01"):
            plan(LANDLORD, **facts)


def test_the_ends_of_the_range_are_accepted() -> None:
    assert plan(LANDLORD, checked=EARLIEST).next_due == dt.date(1991, 1, 1)
    assert plan(LANDLORD, checked=LATEST, previous_due=LATEST).next_due == dt.date(2201, 1, 1)


def test_a_missing_or_foreign_fact_is_refused() -> None:
    with pytest.raises(Refused, match="checked: missing"):
        plan(LANDLORD, previous_due=dt.date(2026, 1, 1))
    with pytest.raises(Refused, match=r"previous_due: “2026-01-01”.*only checked"):
        plan(RULES["yearly service"], checked=dt.date(2026, 1, 1), previous_due=dt.date(2026, 1, 1))
    assert plan(RULES["yearly service"], checked=dt.date(2026, 1, 1), previous_due=None).next_due.year == 2027
