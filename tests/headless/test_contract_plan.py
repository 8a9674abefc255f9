"""``plan`` against its contract: Gas Safety (Installation and Use) Regulations, regs 36(3)(a) and 36A.

With deadline D, a check c with D - 2 months < c <= D gives D + 12 months, any other c + 12 months.
"""

from __future__ import annotations

from typing import Any

import pytest

LANDLORD: list[tuple[str, str, str | None, str | None, str, str]] = [
    # id, checked, previous_due, anchor, next_due, window_opens
    ("the example", "2026-02-10", "2026-03-31", None, "2027-03-31", "2027-02-01"),
    ("on D - 2 months: restart", "2026-01-31", "2026-03-31", None, "2027-01-31", "2026-12-01"),
    ("the day after", "2026-02-01", "2026-03-31", None, "2027-03-31", "2027-02-01"),
    ("on D", "2026-03-31", "2026-03-31", None, "2027-03-31", "2027-02-01"),
    ("a day late", "2026-04-01", "2026-03-31", None, "2027-04-01", "2027-02-02"),
    ("never back-dated", "2025-06-15", "2026-03-31", None, "2026-06-15", "2026-04-16"),
    ("no deadline before", "2026-05-15", None, None, "2027-05-15", "2027-03-16"),
    # calendar months, month-end clamped: 30 April - 2 months is 28 February
    ("clamped: restart", "2026-02-28", "2026-04-30", None, "2027-02-28", "2026-12-29"),
    ("clamped: the day after", "2026-03-01", "2026-04-30", None, "2027-04-30", "2027-03-01"),
    ("clamped in a leap year: restart", "2028-02-29", "2028-04-30", None, "2029-02-28", "2028-12-29"),
    ("31 December - 2 months is 31 October", "2026-10-31", "2026-12-31", None, "2027-10-31", "2027-09-01"),
    ("1 November keeps it", "2026-11-01", "2026-12-31", None, "2027-12-31", "2027-11-01"),
    # 29 February
    ("from 29 February", "2024-02-29", None, None, "2025-02-28", "2024-12-29"),
    ("deadline on 29 February", "2024-02-10", "2024-02-29", None, "2025-02-28", "2024-12-29"),
    ("anchored, a common year", "2025-02-10", "2025-02-28", "2024-02-29", "2026-02-28", "2025-12-29"),
    ("anchored, back to 29 February", "2027-02-10", "2027-02-28", "2024-02-29", "2028-02-29", "2027-12-30"),
    ("without an anchor it stays", "2027-02-10", "2027-02-28", None, "2028-02-28", "2027-12-29"),
    ("restart drops the anchor", "2027-03-05", "2027-02-28", "2024-02-29", "2028-03-05", "2028-01-06"),
]


@pytest.mark.parametrize(
    ("checked", "previous_due", "anchor", "next_due", "window_opens"),
    [pytest.param(*case[1:], id=case[0]) for case in LANDLORD],
)
def test_landlord_check(
    ask: Any, checked: str, previous_due: str | None, anchor: str | None, next_due: str, window_opens: str
) -> None:
    given = {"checked": checked, "previous_due": previous_due, "anchor": anchor}
    said = ask("plan", {"rule": "landlord check"} | {k: v for k, v in given.items() if v})
    assert (said.code, said.error) == (0, "")
    assert (said.answer["next_due"], said.answer["window_opens"]) == (next_due, window_opens)
    assert said.answer["why"]


@pytest.mark.parametrize("case", LANDLORD, ids=[case[0] for case in LANDLORD])
def test_the_window_keeps_the_anniversary_from_its_first_day_on(ask: Any, case: tuple[str, ...]) -> None:
    """``window_opens`` is the first day on which the next check keeps ``next_due``'s anniversary."""
    *_, due, opens = case
    kept = ask("plan", {"rule": "landlord check", "previous_due": due, "checked": opens}).answer["next_due"]
    assert kept[5:] in (due[5:], "02-28")
    assert kept[:4] == str(int(due[:4]) + 1)


OTHERS: list[tuple[str, dict[str, str], str, str | None]] = [
    ("first landlord check", {"installed": "2026-01-31"}, "2027-01-31", "2026-12-01"),
    ("first landlord check", {"installed": "2024-02-29"}, "2025-02-28", "2024-12-29"),
    # null for rules without a window
    ("yearly service", {"checked": "2026-11-20"}, "2027-11-20", None),
    ("yearly service", {"checked": "2024-02-29"}, "2025-02-28", None),
    ("instrument calibration", {"checked": "2026-08-31"}, "2027-08-31", None),
    # 14 days of having the information; 30 days of completion
    ("dangerous fitting report", {"known": "2026-11-20"}, "2026-12-04", None),
    ("dangerous fitting report", {"known": "2026-12-20"}, "2027-01-03", None),
    ("dangerous fitting report", {"known": "2024-02-16"}, "2024-03-01", None),
    ("installation notice", {"completed": "2026-01-31"}, "2026-03-02", None),
    ("installation notice", {"completed": "2028-01-31"}, "2028-03-01", None),
]


@pytest.mark.parametrize(("rule", "dates", "next_due", "window_opens"), OTHERS)
def test_other_rules(
    ask: Any, rule: str, dates: dict[str, str], next_due: str, window_opens: str | None
) -> None:
    found = ask("plan", {"rule": rule, **dates}).answer
    assert (found["next_due"], found["window_opens"]) == (next_due, window_opens)
    assert found["why"]


REFUSED: list[tuple[dict[str, object], str]] = [
    ({"rule": "landlord check"}, "checked: missing"),
    ({"rule": "first landlord check", "checked": "2026-01-01"}, "installed: missing"),
    ({"rule": "weekly check", "checked": "2026-01-01"}, "rule: “weekly check” is not accepted"),
    ({"checked": "2026-01-01"}, "rule: missing"),
    ({"rule": "yearly service", "checked": "2026-02-29"}, "checked: “2026-02-29” is not accepted"),
    ({"rule": "yearly service", "checked": "01/02/2026"}, "checked: “01/02/2026” is not accepted"),
    ({"rule": "yearly service", "checked": 20260101}, "checked: “20260101” is not accepted"),
    (
        {"rule": "yearly service", "checked": "2026-01-01", "installed": "2026-01-01"},
        "installed: “unknown key”",
    ),
    (
        {
            "rule": "landlord check",
            "checked": "2026-03-01",
            "previous_due": "2026-03-31",
            "anchor": "2025-03-12",
        },
        "anchor: “2025-03-12” is not accepted",
    ),
]


@pytest.mark.parametrize(("document", "says"), REFUSED)
def test_refused(ask: Any, document: dict[str, object], says: str) -> None:
    said = ask("plan", document)
    assert (said.code, said.answer) == (2, None)
    assert any(row.startswith(says) and "accepted:" in row for row in said.error.splitlines())
