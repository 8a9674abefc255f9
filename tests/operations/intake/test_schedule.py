from __future__ import annotations

import datetime as dt

import pytest

from flueleaf.domain.problems import Refused
from flueleaf.operations.intake.schedule import read_plan
from flueleaf.storage.tables.schedule import due_rules

RULES = due_rules()


def test_a_rule_with_its_dates() -> None:
    rule, facts = read_plan(
        {"rule": "landlord check", "previous_due": "2026-03-31", "checked": "2026-02-10"}, RULES
    )
    assert rule is RULES["landlord check"]
    assert facts == {"checked": dt.date(2026, 2, 10), "previous_due": dt.date(2026, 3, 31), "anchor": None}
    assert read_plan({"rule": "installation notice", "completed": "2026-02-10"}, RULES) == (
        RULES["installation notice"],
        {"completed": dt.date(2026, 2, 10)},
    )


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"rule": "landlord", "checked": "2026-02-10"}, "did you mean “landlord check”"),
        ({"rule": "yearly service"}, "checked: missing"),
        ({"rule": "yearly service", "checked": "2026-02-30"}, "checked: “2026-02-30”"),
        ({"rule": "yearly service", "checked": 20260210}, "checked: “20260210”"),
        ({"rule": "yearly service", "checked": "2026-02-10", "previous_due": "2026-02-10"}, "unknown key"),
        ({"rule": "landlord check", "checked": "2026-02-10", "previous_due": None}, "previous_due: “null”"),
    ],
)
def test_what_is_refused(given: dict[str, object], said: str) -> None:
    with pytest.raises(Refused, match=said):
        read_plan(given, RULES)
