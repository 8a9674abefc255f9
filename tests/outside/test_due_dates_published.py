"""Due dates against worked cases of others; each names its source."""

from __future__ import annotations

import datetime as dt

import pytest

from flueleaf.domain.schedule.due import plan
from flueleaf.storage.tables.schedule import due_rules

RULES = due_rules()


@pytest.mark.parametrize(
    ("previous", "checked", "next_due"),
    [
        # Guild of Residential Landlords, "MOT style gas safety records" (read November 2026).
        ("2023-08-10", "2023-07-05", "2024-08-10"),
        # Brooks & Green, "The changes to gas safety rules" (read November 2026), quoting reg. 36A(1) and (4).
        ("2019-02-10", "2019-01-05", "2020-02-10"),
        # Reg. 36A(1): "within the period of 2 months ending with the deadline date": both ends of it.
        ("2023-08-10", "2023-08-10", "2024-08-10"),
        ("2023-08-10", "2023-06-11", "2024-08-10"),
        # Outside it reg. 36(3)(a) alone: 12 months from the check.
        ("2023-08-10", "2023-06-10", "2024-06-10"),
        ("2023-08-10", "2023-08-11", "2024-08-11"),
    ],
)
def test_landlord_checks(previous: str, checked: str, next_due: str) -> None:
    found = plan(
        RULES["landlord check"],
        previous_due=dt.date.fromisoformat(previous),
        checked=dt.date.fromisoformat(checked),
    )
    assert found.next_due == dt.date.fromisoformat(next_due)


def test_a_check_on_10_february_is_due_again_on_10_february() -> None:
    # Brooks & Green, "The changes to gas safety rules" (read November 2026).
    assert plan(RULES["landlord check"], checked=dt.date(2018, 2, 10)).next_due == dt.date(2019, 2, 10)


@pytest.mark.parametrize(
    ("rule", "fact", "interval_days"),
    [
        # RIDDOR 2013 (SI 2013/1471) reg. 11(2): within 14 days.
        ("dangerous fitting report", "known", 14),
        # Building Regulations 2010 reg. 20: within 30 days of completion.
        ("installation notice", "completed", 30),
    ],
)
def test_reports_and_notices(rule: str, fact: str, interval_days: int) -> None:
    start = dt.date(2026, 12, 20)
    assert (plan(RULES[rule], **{fact: start}).next_due - start).days == interval_days


def test_a_new_appliance() -> None:
    # HSE, "Gas safety checks - what if…?" (read November 2026): within 12 months of the installation date.
    found = plan(RULES["first landlord check"], installed=dt.date(2025, 9, 12))
    assert found.next_due == dt.date(2026, 9, 12)
