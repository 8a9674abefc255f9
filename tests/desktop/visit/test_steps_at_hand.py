from __future__ import annotations

from typing import Any

from flueleaf.desktop.visit.steps_at_hand import kept_steps


def taken(title: str, result: str | None, **more: Any) -> dict[str, Any]:
    usual = {"step": "x", "attempt": 0, "adjusted": False, "reason": "", "overridden": False}
    return {**usual, "title": title, "result": result, **more}


def test_a_visit_from_before_there_were_procedures_tells_nothing() -> None:
    assert kept_steps(None) == []
    assert kept_steps({}) == []


def test_readings_forks_and_the_ending_are_told_in_their_order() -> None:
    kept = {
        "taken": [
            taken("gas supply tight", "yes"),
            taken("integrity", "over", attempt=1),
            taken("find the leak", "again"),
            taken("integrity", "good", attempt=2, adjusted=True),
            taken("low rate", "not measured", reason="No access."),
            taken("spillage", "no", overridden=True, reason="Cowl on order."),
            taken("close-up", None),
        ],
        "ending": "left in use with notes",
    }
    assert kept_steps(kept) == [
        "integrity: beyond its limit",
        "find the leak: done, and measured again",
        "integrity, attempt 2, after adjusting: not beyond its limit",
        "low rate: not measured",
        "spillage: answered no; you went on because: Cowl on order.",
        "ended: left in use with notes",
    ]


def test_a_result_that_is_not_known_here_is_said_as_it_is() -> None:
    assert kept_steps({"taken": [taken("x", "odd", attempt=1)], "ending": None}) == ["x: odd"]
