"""Which steps of a procedure were gone through, which way each fork went, and where one stands now.

A walk follows what is written down: it never decides. The verdict comes from the deciding slips alone.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from flueleaf.domain.judging.assessment import SlipAssessment
from flueleaf.domain.judging.doubts import contradicted
from flueleaf.domain.judging.steps import ONWARD, Ending, Place, Procedure, Result, Step
from flueleaf.domain.records.register import Point, Rate
from flueleaf.domain.records.visits import Answer, NotMeasured, Outcome, Override, Purpose

# The results that hold one up: only these can be gone past.
_STOPPING: frozenset[Result] = frozenset(("no", "over", "doubtful", "open point"))
_CLEAR: frozenset[Result] = frozenset(("yes", "good", "without limit", "not measured", "closed"))


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is known of one appliance.

    Attributes:
        slips: all attempts, as judged.
        answers: check key to answer; None where nobody was asked: then the steps that rest on checks, on
            close-up and on the outcome are left out.
        asked: keys of the checks that the kind asks for this purpose.
        wanted: the slips that the kind wants for this purpose.
        open_points: opened test points that are said not to be refitted, or not for sure.
        untold_points: opened test points of which nothing is said; ``opened``: whether any was opened.
        outcome: None while there is none.
        overrides: steps gone past all the same; one without a reason goes past nothing.
    """

    slips: Sequence[SlipAssessment] = ()
    answers: Mapping[str, Answer] | None = None
    asked: frozenset[str] = frozenset()
    wanted: frozenset[Place] = frozenset()
    not_measured: Sequence[NotMeasured] = ()
    open_points: Sequence[Point] = ()
    untold_points: Sequence[Point] = ()
    opened: bool = False
    outcome: Outcome | None = None
    purpose: Purpose | None = None
    overrides: Sequence[Override] = ()


@dataclass(frozen=True, slots=True)
class Taken:
    """A step that was gone through, or is still to be.

    Attributes:
        result: how it went; None where nothing is written down yet, or nothing was tried again.
        attempt: of the slip that tells, 0 at other steps.
        adjusted: whether that slip was taken after an adjustment.
        reason: why it could not be measured, or why one went on all the same.
        overridden: whether one went on all the same.
    """

    step: Step
    result: Result | None = None
    attempt: int = 0
    adjusted: bool = False
    reason: str = ""
    overridden: bool = False

    @property
    def clear(self) -> bool:
        """Whether the way on is clear: all was well, nothing judges it, or one went on all the same."""
        return self.overridden or self.result in _CLEAR

    @property
    def open_step(self) -> bool:
        """Whether it is still to be done; a remedy waits for another attempt instead."""
        return self.result is None and self.step.by != "remedy"


@dataclass(frozen=True, slots=True)
class Walk:
    """The way through a procedure.

    Attributes:
        procedure: that was followed.
        taken: in the order gone; those without a result are still to be done.
        here: the step to do next: where the way is held up, else the first not written down yet; None once
            all is done, or an outcome has ended it.
        stopped: how the step went that holds the way up until something is put right; None: nothing does.
        ahead: what comes after a stop, as long as everything goes well.
        beyond: point, rate and attempt of slips taken although the way to them was not clear.
        stale: slips that a later adjustment has overtaken, though they decide.
        ending: how it ended, None while it has not; ``ended_as``: what that is called.
    """

    procedure: Procedure
    taken: tuple[Taken, ...] = ()
    here: Step | None = None
    stopped: Result | None = None
    ahead: tuple[Step, ...] = ()
    beyond: tuple[tuple[Point, Rate, int], ...] = ()
    stale: tuple[Place, ...] = ()
    ending: Ending | None = None
    ended_as: str = ""


def walk(procedure: Procedure, evidence: Evidence) -> Walk:
    """Follow a procedure as far as the evidence goes.

    A step of which nothing is written down yet is listed and gone past; one that went badly leads to its
    remedy, where the way ends until there is another attempt. Every attempt at a slip is one passage of its
    step. Before the steps that follow the slips, attempts that are left over are gone through, so that the
    last attempt is the one that counts, as it does for the verdict.
    """
    return _Walker(procedure, evidence).walk()


class _Walker:
    def __init__(self, procedure: Procedure, evidence: Evidence) -> None:
        self._procedure = procedure
        self._evidence = evidence
        self._steps = procedure.by_key
        self._attempts = _attempts(evidence.slips)
        self._used: Counter[Place] = Counter()
        self._last: dict[Place, Taken] = {}
        self._overrides = {one.step: one.reason.strip() for one in evidence.overrides if one.reason.strip()}
        self._why = {
            (one.point, one.rate): one.reason.strip() for one in evidence.not_measured if one.reason.strip()
        }

    def walk(self) -> Walk:
        taken: list[Taken] = []
        here = self._first_applying(self._procedure.steps[0])
        stop: Step | None = None
        while here is not None:
            again = self._gone_through(here)
            passed = again or self._pass(here)
            if again is None:
                taken.append(passed)
            following = self._next(passed)
            if following is None:
                stop = None if passed.clear or passed.open_step else here
                break
            here = self._leftover(following) or self._first_applying(following)
        return self._ended(tuple(taken), stop)

    def _gone_through(self, step: Step) -> Taken | None:
        """Return the last passage of a slip's step that is clear and has no attempt left to go through."""
        if step.by != "slip" or self._more(step):
            return None
        last = self._last.get(step.place)
        return last if last is not None and last.clear else None

    def _pass(self, step: Step) -> Taken:
        """Return how a step went; at a slip, with the next attempt not yet gone through."""
        if step.by == "checks":
            found = self._checks(step)
        elif step.by == "slip":
            found = self._slip(step)
        elif step.by == "close-up":
            found = self._close_up(step)
        else:
            found = Taken(step, "again" if self._tried_again(step) else None)
        reason = self._overrides.get(step.key, "")
        if reason and found.result in _STOPPING and not self._more(step):
            found = replace(found, reason=reason, overridden=True)
        if step.by == "slip" and found.result is not None:
            self._last[step.place] = found
        return found

    def _checks(self, step: Step) -> Taken:
        answers = self._evidence.answers or {}
        given = [answers.get(key) for key in step.checks if key in self._evidence.asked]
        if "no" in given:
            return Taken(step, "no")
        return Taken(step) if None in given else Taken(step, "yes")

    def _slip(self, step: Step) -> Taken:
        place = step.place
        slips = self._attempts.get(place, ())
        at = self._used[place]
        if at < len(slips):
            self._used.update((place,))
            return Taken(step, _result(slips[at]), slips[at].attempt, slips[at].adjusted)
        if slips:  # wanted once more, and not there yet
            return Taken(step)
        reason = self._why.get(place, "")
        return Taken(step, "not measured" if reason else None, reason=reason)

    def _close_up(self, step: Step) -> Taken:
        if self._evidence.open_points:
            return Taken(step, "open point")
        return Taken(step) if self._evidence.untold_points else Taken(step, "closed")

    def _tried_again(self, step: Step) -> Step | None:
        """Return the first slip step of a remedy that has an attempt not yet gone through."""
        found = (self._steps[key] for key in step.ways.get("again", ()))
        return next((one for one in found if self._more(one)), None)

    def _more(self, step: Step) -> bool:
        if step.by != "slip":
            return False
        place = step.place
        return self._used[place] < len(self._attempts.get(place, ()))

    def _next(self, passed: Taken) -> Step | None:
        """Return the step that a passage leads to, None where it leads nowhere.

        What is not written down yet holds nothing up: in the evening a visit is not typed in its order.
        """
        step = passed.step
        if step.by == "remedy":
            return self._tried_again(step)
        if passed.overridden or passed.result is None:
            return self._onward(step)
        return self._first_of(step.ways.get(passed.result, ()))

    def _leftover(self, following: Step) -> Step | None:
        """Return the first slip step with an attempt left over, where the way leads on from the slips."""
        if following.by in ("slip", "remedy"):
            return None
        return next((step for step in self._procedure.of_slips if self._used_and_more(step)), None)

    def _used_and_more(self, step: Step) -> bool:
        return step.place in self._used and self._more(step)

    def _first_applying(self, step: Step) -> Step | None:
        """Return a step, or the first after it on the good way, that concerns this appliance."""
        current: Step | None = step
        while current is not None and not self._applies(current):
            current = self._onward(current)
        return current

    def _onward(self, step: Step) -> Step | None:
        return self._first_of(step.ways.get(ONWARD[step.by], ()))

    def _first_of(self, keys: Iterable[str]) -> Step | None:
        return next((self._steps[key] for key in keys), None)

    def _applies(self, step: Step) -> bool:
        evidence = self._evidence
        if step.by == "slip":
            place = step.place
            return place in evidence.wanted or place in self._attempts or place in self._why
        if step.by == "remedy":
            return True
        if evidence.answers is None:
            return False
        if step.by == "checks":
            return any(key in evidence.asked for key in step.checks)
        return evidence.opened

    def _ended(self, taken: tuple[Taken, ...], stop: Step | None) -> Walk:
        evidence = self._evidence
        here = stop or next((one.step for one in taken if one.open_step), None)
        ending = None
        if evidence.outcome is not None and evidence.answers is not None:
            ending = self._procedure.ending_of(evidence.outcome)
        if ending is not None and ending.whole and here is not None:
            ending = None
        return Walk(
            procedure=self._procedure,
            taken=taken,
            here=None if ending else here,
            stopped=next((one.result for one in reversed(taken) if one.result), None) if stop else None,
            ahead=() if ending or stop is None else tuple(self._ahead(stop)),
            beyond=tuple(self._beyond()),
            stale=tuple(_stale(taken)),
            ending=ending,
            ended_as=ending.title_for(evidence.purpose) if ending else "",
        )

    def _ahead(self, here: Step) -> Iterator[Step]:
        """Yield what comes after a step as long as all goes well."""
        seen = {here.key}
        current = self._onward(here)
        while current is not None and current.key not in seen:
            seen.add(current.key)
            if self._applies(current):
                yield current
            current = self._onward(current)

    def _beyond(self) -> Iterator[tuple[Point, Rate, int]]:
        """Yield the attempts that the way did not lead to."""
        for step in self._procedure.of_slips:
            place = step.place
            for slip in self._attempts.get(place, [])[self._used[place] :]:
                yield (*place, slip.attempt)


def _attempts(slips: Iterable[SlipAssessment]) -> dict[Place, list[SlipAssessment]]:
    found: dict[Place, list[SlipAssessment]] = {}
    for slip in sorted(slips, key=lambda slip: slip.attempt):
        found.setdefault((slip.point, slip.rate), []).append(slip)
    return found


def _result(slip: SlipAssessment) -> Result:
    """Return how a slip went; where no limit is known nothing is judged, and nothing holds one up."""
    if slip.verdict == "over":
        return "over"
    if slip.verdict in ("within", "near"):
        return "good"
    without = all(judged.limit is None for judged in slip.judged) and not contradicted(slip.doubts)
    told = all(judged.value is not None for judged in slip.judged)
    return "without limit" if without and told else "doubtful"


def _stale(taken: Iterable[Taken]) -> Iterator[Place]:
    """Yield the flue slips that count although an adjustment, told at another one, came after them."""
    slips = [one for one in taken if one.step.by == "slip" and one.step.point == "flue" and one.attempt]
    last = {one.step.place: one for one in slips}
    for place, one in last.items():
        if not one.adjusted and any(later.adjusted for later in slips[slips.index(one) :]):
            yield place
