"""A procedure as data: the steps in their order, what tells that one is done, and where each fork leads.

The shipped procedures stand in ``resources/procedures``; each step names its source and how it was checked.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from flueleaf.domain.judging.rule_table import Status
from flueleaf.domain.records.register import Flue, Point, Rate
from flueleaf.domain.records.visits import Outcome, Purpose

# What tells how a step went: answers to checks, a slip, the close-up, or a new attempt at a slip.
By = Literal["checks", "slip", "close-up", "remedy"]
Result = Literal[
    "yes", "no",
    "good", "over", "doubtful", "without limit", "not measured",
    "closed", "open point",
    "again",
]  # fmt: skip
State = Literal["gas", "liquid"]
Place = tuple[Point, Rate]

BYS: tuple[By, ...] = ("checks", "slip", "close-up", "remedy")
STATES: tuple[State, ...] = ("gas", "liquid")
# The results a step may have; each but those of a remedy leads somewhere.
RESULTS: Mapping[By, tuple[Result, ...]] = {
    "checks": ("yes", "no"),
    "slip": ("good", "over", "doubtful", "without limit", "not measured"),
    "close-up": ("closed", "open point"),
    "remedy": ("again",),
}
# The way on: what an engineer who goes on all the same takes, and what is still ahead.
ONWARD: Mapping[By, Result] = {"checks": "yes", "slip": "good", "close-up": "closed", "remedy": "again"}


@dataclass(frozen=True, slots=True)
class Step:
    """One step.

    Attributes:
        key: unique within the procedure; title: a few words for a list.
        does: what to do here, a sentence.
        checks: keys of the checks that tell; one that the kind does not ask is left out.
        point, rate: of the slip that tells.
        ways: result to the keys of the steps it may lead to. Of a remedy, the first that was tried again: at
            a slip that is its next attempt; an answer or a close-up is given anew, and its step goes well.
            No key: the procedure goes on nowhere but to an ending.
        source: what it goes back to; status: how that was checked.
    """

    key: str
    title: str
    does: str
    by: By
    source: str
    status: Status
    checks: tuple[str, ...] = ()
    point: Point | None = None
    rate: Rate | None = None
    ways: Mapping[Result, tuple[str, ...]] = field(default_factory=dict)

    @property
    def place(self) -> Place:
        """Where its slip is taken.

        Raises:
            ValueError: no slip tells how this step went.
        """
        if self.point is None or self.rate is None:
            raise ValueError(f"no slip tells how the step {self.key!r} went")
        return self.point, self.rate


@dataclass(frozen=True, slots=True)
class Ending:
    """How a visit to an appliance ends.

    Attributes:
        key: unique within the procedure; outcomes: those that are it.
        whole: whether every step must have been gone through for it.
        titles: what it is called, by purpose of the visit; ``title`` where the purpose has none.
        does: what is still to be done, a sentence.
    """

    key: str
    title: str
    outcomes: tuple[Outcome, ...]
    does: str
    whole: bool = False
    titles: Mapping[Purpose, str] = field(default_factory=dict)

    def title_for(self, purpose: Purpose | None) -> str:
        """Return what it is called at the end of such a visit."""
        return self.titles.get(purpose, self.title) if purpose else self.title


@dataclass(frozen=True, slots=True)
class Procedure:
    """The steps at one sort of appliance.

    Attributes:
        flues, state: the appliances it is for, by flue and by fuel.
        steps: in the order of the good way; the first is where it begins. Remedies stand where they lead.
    """

    key: str
    title: str
    flues: tuple[Flue, ...]
    state: State
    steps: tuple[Step, ...]
    endings: tuple[Ending, ...]
    # Looked up at every key typed: told once.
    by_key: Mapping[str, Step] = field(init=False, repr=False, compare=False)
    of_slips: tuple[Step, ...] = field(init=False, repr=False, compare=False)
    passable: tuple[str, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "by_key", {step.key: step for step in self.steps})
        # A remedy is no step of its own to go past: what holds one up is the step before it.
        object.__setattr__(self, "passable", tuple(step.key for step in self.steps if step.by != "remedy"))
        object.__setattr__(self, "of_slips", tuple(step for step in self.steps if step.by == "slip"))

    def step(self, key: str) -> Step:
        """Return a step by its key.

        Raises:
            KeyError: there is none.
        """
        return self.by_key[key]

    def ending_of(self, outcome: Outcome) -> Ending | None:
        """Return the ending that an outcome is, None where the procedure knows none."""
        return next((ending for ending in self.endings if outcome in ending.outcomes), None)


def procedure_for(procedures: Iterable[Procedure], flue: Flue | None, state: State) -> Procedure | None:
    """Return the procedure for a flue and a fuel; None where the flue is not known or nothing is shipped."""
    return next((one for one in procedures if flue in one.flues and one.state == state), None)
