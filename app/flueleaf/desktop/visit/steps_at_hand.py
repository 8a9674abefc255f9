"""What the margin says of the procedure: which way each fork went, and the step that is next."""

from __future__ import annotations

from dataclasses import dataclass

from flueleaf.desktop.words import _
from flueleaf.domain.judging.steps import Result
from flueleaf.domain.judging.walk import Taken, Walk

RESULT_WORDS: dict[Result, str] = {
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
    gone = tuple(_gone(one) for one in walk.taken if one.result is not None and _told(one))[-MOST_LINES:]
    if walk.ending is not None and told_outcome:
        return Steps(gone, _("ended: {ending}", ending=_(walk.ended_as)), _(walk.ending.does))
    if walk.here is not None:
        return Steps(gone, _("next: {step}", step=_(walk.here.title)), _(walk.here.does))
    return Steps(gone)


def _told(taken: Taken) -> bool:
    """Tell whether a passage is worth a line: every reading is, the rest where it went another way."""
    return taken.step.by == "slip" or _off_the_way(taken)


def _off_the_way(taken: Taken) -> bool:
    return taken.overridden or taken.result in ("over", "doubtful", "no", "open point", "again")


def _gone(taken: Taken) -> str:
    assert taken.result is not None
    words = {"step": _(taken.step.title), "number": taken.attempt, "result": RESULT_WORDS[taken.result]}
    if taken.attempt > 1 and taken.adjusted:
        text = _("{step}, attempt {number}, after adjusting: {result}", **words)
    elif taken.attempt > 1:
        text = _("{step}, attempt {number}: {result}", **words)
    else:
        text = _("{step}: {result}", **words)
    if taken.overridden:
        return _("{step}; you went on because: {reason}", step=text, reason=taken.reason)
    return text
