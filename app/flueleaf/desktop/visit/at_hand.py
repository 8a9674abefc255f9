"""What the margin says of the slip being typed: verdicts as graphs, and last time's values."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass

from flueleaf.desktop.bullet import BulletFacts
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.visit.slip_column import Spot
from flueleaf.desktop.words import _
from flueleaf.domain.judging.assessment import WORST_FIRST, Judged, SlipAssessment
from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.judging.rule_table import OWNERS
from flueleaf.domain.judging.texts import whose_limit
from flueleaf.domain.judging.uncertainty import K_ONE_SIDED
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.operations.facts.record import judged_facts
from flueleaf.operations.facts.wording import RATE_NAMES, value_text
from flueleaf.papers.record.facts import Judged as JudgedFacts

OTHER = {"maker": _("the maker’s"), "table": _("the rule table’s"), "none": _("no limit")}

BASES = {"derived": _("derived"), "typed": _("typed"), "computed": _("computed")}


@dataclass(frozen=True, slots=True)
class LastTime:
    """A slip of the past at the same point and rate."""

    title: str
    lines: tuple[str, ...]


def graphs(slip: SlipAssessment, key: str) -> list[BulletFacts]:
    """Return a graph per judged quantity, the one being typed first.

    Both ends of a window share one, which tells of the nearer end; of a ratio both typed and computed the
    worse is shown.
    """
    groups: dict[str, list[Judged]] = {}
    for judged in slip.judged:
        groups.setdefault(judged.quantity, []).append(judged)
    found = [(quantity, _graph(slip, group)) for quantity, group in groups.items()]
    found.sort(key=lambda pair: pair[0] != key)
    shown = [facts for quantity, facts in found if quantity == key or facts.value is not None]
    return [facts if n == 0 else _without_source(facts, found) for n, facts in enumerate(shown)]


def _without_source(facts: BulletFacts, found: Sequence[tuple[str, BulletFacts]]) -> BulletFacts:
    """Leave out the document of a limit that the first graph has named already."""
    named = found[0][1].detail.splitlines()
    kept = facts.detail.splitlines()
    kept = kept[:1] + [line for line in kept[1:] if line not in named]
    return dataclasses.replace(facts, detail="\n".join(kept))


def last_time(spot: Spot, past: Sequence[PreviousVisit]) -> LastTime | None:
    """Return the latest earlier slip at the same point and rate."""
    for visit in past:
        for slip in reversed(visit.slips):
            if (slip.point, slip.rate) == (spot.point, spot.rate):
                lines = [
                    f"{_(quantity.label)} {value_text(key, slip.values[key])} {quantity.unit}".rstrip()
                    for key, quantity in QUANTITIES.items()
                    if key in slip.values
                ]
                by = (_("with {analyser}", analyser=visit.instrument.name),) if visit.instrument else ()
                title = _("last time, {date}", date=long_date(visit.date))
                return LastTime(title, (", ".join(lines), *by))
    return None


def _graph(slip: SlipAssessment, group: Sequence[Judged]) -> BulletFacts:
    worst = min(group, key=lambda judged: (WORST_FIRST.index(judged.verdict), judged.margin or 0))
    low = next((judged.limit for judged in group if judged.sense == "at least"), None)
    high = next((judged.limit for judged in group if judged.sense == "at most"), None)
    said = judged_facts(worst, slip.ratio_text)
    low, high = (low, high) if worst.limit is not None else (None, None)
    basis = worst.basis
    facts = BulletFacts(
        title=_title(_(said.label), _(RATE_NAMES[slip.rate]), "" if basis == "measured" else _(BASES[basis])),
        value_text=_of_limit(
            said, None if low is None else f"{low:f}", None if high is None else f"{high:f}"
        ),
        verdict=worst.verdict,
        low=None if low is None else float(low),
        high=None if high is None else float(high),
        source=_("no limit is known") if worst.limit is None else _(whose_limit(worst.source, worst.status)),
        key=worst.quantity,
        detail="\n".join(_details(said, worst)),
    )
    if worst.value is None:
        return facts
    # The guard band of a verdict; the two limits of the air inlet have a narrower one, which is not drawn.
    wide = float(K_ONE_SIDED) * (worst.standard_uncertainty or 0.0) if slip.point != "air inlet" else 0.0
    return dataclasses.replace(facts, value=float(worst.value), guard=wide)


def _title(quantity: str, rate: str, basis: str) -> str:
    if basis:
        return _("{quantity}, {basis}, {rate}", quantity=quantity, basis=basis, rate=rate)
    return _("{quantity}, {rate}", quantity=quantity, rate=rate)


def _of_limit(told: JudgedFacts, low: str | None, high: str | None) -> str:
    value = f"{told.value} {told.unit}".strip() if told.value else _("no reading yet")
    if low is not None and high is not None:
        return _("{value}, window {low} to {high}", value=value, low=low, high=high)
    if low is not None:
        return _("{value}, at least {low}", value=value, low=low)
    return _("{value} of {high}", value=value, high=high) if high is not None else value


def _details(told: JudgedFacts, judged: Judged) -> list[str]:
    margin = _("margin {margin}", margin=told.margin.replace(" ", "\u00a0")) if told.margin else ""
    chance = (
        _("chance beyond {chance}", chance=_(told.chance).replace(" %", "\u00a0%")) if told.chance else ""
    )
    why = _("in doubt: look at what is said below") if told.why.startswith("in doubt") else ""
    together = ", ".join(one for one in (margin, chance) if one)
    return [line for line in (together, told.source, _other(told, judged), why) if line]


def _other(told: JudgedFacts, judged: Judged) -> str:
    """Return the limit that does not count, where it differs from the one that does."""
    if judged.also is None:
        return ""
    limit = _("{sense} {limit}", sense=_(told.sense), limit=f"{told.also} {told.unit}".strip())
    if told.also_whose == told.whose:  # the owner's entry counts before what is shipped
        return _("without your entry it would be {limit}: {source}", limit=limit, source=told.also_source)
    return _(
        "{whose} would be {limit}: {source}",
        whose=_("the one you entered") if judged.also.status == OWNERS else OTHER[told.also_whose],
        limit=limit,
        source=told.also_source,
    )
