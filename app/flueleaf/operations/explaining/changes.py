"""How this time's readings compare with last time's, and what the instruments can explain of it."""

from __future__ import annotations

from math import sqrt

from flueleaf.domain.judging.changes import Change
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.visits import Slip
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import said
from flueleaf.operations.explaining.explanation import Explanation, Given, factor, unrounded
from flueleaf.operations.facts import wording

SOURCE = said(
    "Two-sided 95 %, rounded to 2: JCGM 100:2008, 6.2; recalled. Least difference told: a tenth of the "
    "limit, or one point of gas; common practice."
)
CAUTION = said("That a reading has not changed says nothing about whether it is good; its limit does.")


def explain_change(slip: Slip, change: Change) -> Explanation:
    """Return how one quantity compares with the latest earlier visit."""
    quantity = QUANTITIES[change.new.quantity]
    unit = f" {quantity.unit}" if quantity.unit else ""
    difference = change.difference
    spread = sqrt(float(change.variance))
    return Explanation(
        key=f"{slip.point}.{slip.rate}.{slip.attempt}.{quantity.key}.change",
        title=said(
            "{name} since last time, {point}, {rate}",
            name=quantity.label,
            point=said(slip.point),
            rate=wording.RATE_NAMES[slip.rate],
        ),
        formula=(
            said("A change is told where both instruments together cannot explain the difference."),
            said("|now − last| > 2 · √(u² now + u² last), and more than a good appliance shows anyway"),
        ),
        inputs=(
            Given(said("last time"), f"{unrounded(change.old.value)}{unit}", in_words(change.visit.date)),
            Given(said("now"), f"{unrounded(change.new.value)}{unit}"),
            Given(said("tolerance"), change.new.tolerance),
            Given(said("tolerance then"), change.old.tolerance),
        ),
        steps=(
            said(
                "{now} − {last} = {difference}",
                now=unrounded(change.new.value),
                last=factor(change.old.value),
                difference=f"{unrounded(difference)}{unit}",
            ),
            said(
                "2 · {spread} = {explained}",
                spread=unrounded(spread),
                explained=f"{unrounded(2 * spread)}{unit}",
            ),
            said("least difference told: {floor}", floor=f"{unrounded(change.floor)}{unit}"),
        ),
        result=change_text(change),
        source=SOURCE,
        caution=CAUTION,
    )


def change_text(change: Change) -> str:
    """Return whether a change is told."""
    if change.told:
        return said("changed, more than the instruments explain")
    return said("no change beyond the instruments")
