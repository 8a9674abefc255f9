"""What the margin says of the procedure: which way each fork went, and the step that is next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flueleaf.desktop.words import _
from flueleaf.domain.judging.walk import Taken, Walk

RESULT_WORDS: dict[str, str] = {
    "yes": _("done"),
    "no": _("answered no"),
    "good": _("not beyond its limit"),
    "over": _("beyond its limit"),
    "doubtful": _("in doubt, or a figure missing"),
    "without limit": _("no limit is known"),
    "not measured": _("not measured"),
    "closed": _("done"),
    "open point": _("a test point is open"),
    "again": _("done, and measured again"),
}
MOST_LINES = 8


@dataclass(frozen=True, slots=True)
class Steps:
    """The way through the procedure.

    Attributes:
        gone: the steps gone through, a line each, the latest last.
        now: the step to do next, or how it ended; does: what to do there.
    """

    gone: tuple[str, ...] = ()
    now: str = ""
    does: str = ""

    @property
    def shown(self) -> bool:
        """Whether there is anything to show."""
        return bool(self.gone or self.now)


def forked(walk: Walk | None) -> bool:
    """Tell whether anything went another way than the good one."""
    return walk is not None and (walk.stopped is not None or any(_off_the_way(one) for one in walk.taken))


def steps(walk: Walk | None, *, told_outcome: bool) -> Steps:
    """Return what is shown of a walk.

    Args:
        walk: the way through the procedure; None gives nothing.
        told_outcome: whether how the appliance is left was said: only then has it ended.
    """
    if walk is None:
        return Steps()
    passed = [_live(one) for one in walk.taken if one.result is not None]
    gone = tuple(_gone(one) for one in passed if one.told)[-MOST_LINES:]
    if walk.ending is not None and told_outcome:
        return Steps(gone, _("ended: {ending}", ending=_(walk.ended_as)), _(walk.ending.does))
    if walk.here is not None:
        return Steps(gone, _("next: {step}", step=_(walk.here.title)), _(walk.here.does))
    return Steps(gone)


def kept_steps(procedure: Mapping[str, Any] | None) -> list[str]:
    """Return the lines of a visit that was signed off, out of its frozen result; the ending last.

    A visit signed off before there were procedures has none.
    """
    if not procedure:
        return []
    taken = [_Gone(**{key: one[key] for key in _KEPT}) for one in procedure["taken"] if one["result"]]
    found = [_gone(one) for one in taken if one.told]
    ended = procedure.get("ending")
    return [*found, _("ended: {ending}", ending=_(ended))] if ended else found


@dataclass(frozen=True, slots=True)
class _Gone:
    """A step gone through, live or kept."""

    title: str
    result: str
    attempt: int
    adjusted: bool
    reason: str
    overridden: bool

    @property
    def told(self) -> bool:
        """Whether it is worth a line: every reading is, the rest where it went another way."""
        return self.overridden or self.attempt > 0 or self.result in _WORTH_A_LINE


_KEPT = ("title", "result", "attempt", "adjusted", "reason", "overridden")
_OFF_THE_WAY = ("over", "doubtful", "no", "open point", "again")
_WORTH_A_LINE = (*_OFF_THE_WAY, "not measured")


def _live(taken: Taken) -> _Gone:
    assert taken.result is not None
    return _Gone(
        taken.step.title, taken.result, taken.attempt, taken.adjusted, taken.reason, taken.overridden
    )


def _off_the_way(taken: Taken) -> bool:
    return taken.overridden or taken.result in _OFF_THE_WAY


def _gone(one: _Gone) -> str:
    words = {"step": _(one.title), "number": one.attempt, "result": RESULT_WORDS.get(one.result, one.result)}
    if one.attempt > 1 and one.adjusted:
        text = _("{step}, attempt {number}, after adjusting: {result}", **words)
    elif one.attempt > 1:
        text = _("{step}, attempt {number}: {result}", **words)
    else:
        text = _("{step}: {result}", **words)
    if one.overridden:
        return _("{step}; you went on because: {reason}", step=text, reason=one.reason)
    return text
