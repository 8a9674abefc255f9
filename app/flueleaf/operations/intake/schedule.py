"""The question of a due date out of a document."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from flueleaf.domain.schedule.due import Rule
from flueleaf.operations.intake.reader import Reader


def read_plan(json_object: object, rules: Mapping[str, Rule]) -> tuple[Rule, dict[str, dt.date | None]]:
    """Read a rule and the dates it counts from; see the contract's ``plan``.

    Args:
        rules: the rules of the shipped table by name.

    Raises:
        Refused: naming every fault of form; ranges are for the plan to say.
    """
    root = Reader.of(json_object)
    rule = rules[root.choice("rule", tuple(rules))]
    if root.faults:
        # Which dates are wanted depends on the rule, so nothing can be said of them.
        root.known(root.names())
        root.finish()
    facts = {rule.counts_from: root.date(rule.counts_from, required=True)}
    if rule.renews:
        facts |= {key: root.date(key) for key in ("previous_due", "anchor")}
    root.finish()
    return rule, facts
