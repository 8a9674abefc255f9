"""How a verdict came about: value, limit, whose limit, guard band and the chance that the truth lies beyond.

Every number is that of the verdict itself; nothing is judged again here.
"""

from __future__ import annotations

from math import sqrt
from typing import Protocol

from flueleaf.domain.judging.assessment import Judged
from flueleaf.domain.judging.rule_table import OWNERS
from flueleaf.domain.judging.uncertainty import K_ONE_SIDED
from flueleaf.domain.records.register import Point, Rate
from flueleaf.domain.words import lines, said
from flueleaf.operations.explaining.explanation import Explanation, Given, factor, unrounded
from flueleaf.operations.facts import wording
from flueleaf.operations.facts.record import judged_facts

SENSES = {"at most": said("at most"), "at least": said("at least")}
VERDICTS = {
    "over": said("over"),
    "near": said("near"),
    "within": said("within"),
    "unjudged": said("unjudged"),
}
WINDOWED = ("o2_pct", "co2_pct")  # may have a limit at either end
LEAST_CHANCE = 1e-12  # below it the arithmetic of the machine tells no digits
WHOSE = {
    "maker": said("the maker’s limit"),
    "table": said("limit of the rule table"),
    "none": said("no limit"),
}
OWN = said("the limit you entered")
OTHER = {
    "maker": said("does not count: the maker’s limit"),
    "table": said("does not count: limit of the rule table"),
    "none": said("no limit"),
}
OTHER_OWN = said("does not count: the limit you entered")
BASES = {
    "measured": said("as measured"),
    "typed": said("as the analyser printed it"),
    "derived": said("derived from the other gas by the fuel’s relation"),
    "computed": said("worked out from CO and CO2"),
}
METHOD = said(
    "Guard band: JCGM 106:2012, 8.3.2, one-sided 95 %; spread of a tolerance: JCGM 100:2008, 4.3.7; recalled."
)
LIMIT_CAUTION = said(
    "A verdict compares a reading with a limit. It does not say that the appliance is in order; the "
    "registered engineer judges, by the maker’s instructions first."
)
INLET_CAUTION = said(
    "Too little oxygen or any carbon dioxide at the air inlet means that products of combustion may be "
    "getting into the air. Stop there; a reading at the flue cannot make it good."
)
COMPARED = {
    "over": said("m < 0: beyond the limit"),
    "near": said("0 ≤ m < g: nearer to the limit than the instrument can tell"),
    "within": said("m ≥ g: clear of the limit by more than the guard band"),
}


class Taken(Protocol):
    """Where and how a slip was taken; an assessment is one, and so is a reading of the past."""

    @property
    def point(self) -> Point:
        """The test point."""

    @property
    def rate(self) -> Rate:
        """The rate."""

    @property
    def attempt(self) -> int:
        """1 for the first."""

    @property
    def ratio_text(self) -> str:
        """The computed ratio as shown."""


def explain_verdict(slip: Taken, judged: Judged) -> Explanation:
    """Return how one verdict of a slip came about.

    Args:
        slip: the slip; it gives the title and the ratio's text.
        judged: one of its verdicts.
    """
    told = judged_facts(judged, slip.ratio_text)
    title = said(
        "{quantity}, {point}, {rate}",
        quantity=told.label,
        point=said(slip.point),
        rate=wording.RATE_NAMES[slip.rate],
    )
    if judged.quantity == "ratio" and judged.basis == "typed":
        title = said("{figure}, as printed", figure=title)
    elif judged.quantity in WINDOWED and judged.limit is not None:
        title = said("{figure}, {sense}", figure=title, sense=SENSES[judged.sense])
    inputs = [Given(told.label, _with_unit(told.value, told.unit) or said("no reading"), BASES[judged.basis])]
    if told.limit:
        limit = said("{sense} {limit}", sense=SENSES[told.sense], limit=_with_unit(told.limit, told.unit))
        whose = OWN if judged.status == OWNERS else WHOSE[judged.source]
        inputs.append(Given(whose, limit, told.source))
    if judged.also:
        other = said("{sense} {limit}", sense=SENSES[told.sense], limit=_with_unit(told.also, told.unit))
        whose = OTHER_OWN if judged.also.status == OWNERS else OTHER[judged.also.source]
        inputs.append(Given(whose, other, told.also_source))
    if judged.tolerance:
        inputs.append(Given(said("tolerance"), judged.tolerance))
    return Explanation(
        key=slip_key(slip, judged.quantity),
        title=title,
        formula=_formula(judged),
        inputs=tuple(inputs),
        steps=_steps(judged, told.unit),
        result=verdict_text(judged, told.value, told.unit),
        source=_source(judged, told.source),
        caution=INLET_CAUTION if slip.point == "air inlet" else LIMIT_CAUTION,
    )


def verdict_text(judged: Judged, value: str, unit: str) -> str:
    """Return value and word as the window shows them."""
    shown = _with_unit(value, unit)
    word = VERDICTS[judged.verdict]
    return said("{value}: {verdict}", value=shown, verdict=word) if shown else word


def slip_key(slip: Taken, quantity: str) -> str:
    """Return the key of a figure of a slip."""
    return f"{slip.point}.{slip.rate}.{slip.attempt}.{quantity}"


def _with_unit(text: str, unit: str) -> str:
    return f"{text} {unit}".strip() if text else ""


def _formula(judged: Judged) -> tuple[str, ...]:
    if judged.limit is None:
        return (said("Without a limit nothing can be judged."),)
    difference = said("m = limit − value") if judged.sense == "at most" else said("m = value − limit")
    return (
        said("Over where the value lies beyond the limit; near where it lies closer than the guard band."),
        difference,
        said("u = a / √3")
        if judged.resolution is None
        else said("u = √(a² + (d / 2)²) / √3, d the last digit"),
        said("guard band g = 1.645 · u"),
        said("over: m < 0, near: 0 ≤ m < g, within: m ≥ g"),
        said("chance beyond = ½ · erfc(m / (u · √2))"),
    )


def _steps(judged: Judged, unit: str) -> tuple[str, ...]:
    if judged.value is None or judged.limit is None or judged.margin is None:
        return ()
    first, second = (
        (judged.limit, judged.value) if judged.sense == "at most" else (judged.value, judged.limit)
    )
    made: list[str] = [
        said(
            "m = {first} − {second} = {margin}",
            first=unrounded(first),
            second=factor(second),
            margin=_with_unit(unrounded(judged.margin), unit),
        )
    ]
    spread = judged.standard_uncertainty
    if spread is not None:
        made += _spread_steps(judged, spread, unit)
    made.append(_comparison(judged))
    return tuple(made)


def _spread_steps(judged: Judged, spread: float, unit: str) -> list[str]:
    guard = float(K_ONE_SIDED) * spread
    chance = judged.chance_beyond
    made = [_spread_step(judged, spread, unit)]
    made.append(
        said("g = 1.645 · {u} = {guard}", u=unrounded(spread), guard=_with_unit(unrounded(guard), unit))
    )
    if chance is not None:
        made.append(
            said(
                "chance beyond the limit: {exact}, shown as {shown}",
                exact=unrounded(chance) if chance > LEAST_CHANCE else f"< {unrounded(LEAST_CHANCE)}",
                shown=wording.chance_text(chance),
            )
        )
    return made


def _spread_step(judged: Judged, spread: float, unit: str) -> str:
    """Return how the standard uncertainty came about."""
    if judged.quantity == "ratio" and judged.basis != "measured":
        return said("u = {u}, from the tolerances of CO and CO2 and the digits typed", u=unrounded(spread))
    u = _with_unit(unrounded(spread), unit)
    if judged.basis == "derived":
        return said("u = {u}, that of the other gas carried through the fuel’s relation", u=u)
    if judged.resolution is None:
        return said("u = {half} / √3 = {u}", half=_with_unit(unrounded(spread * sqrt(3.0)), unit), u=u)
    digit = float(judged.resolution) / 2.0
    # Worked back: a verdict keeps its uncertainty, not the half-width; ten digits outlast the way there.
    half = sqrt(max(3.0 * spread * spread - digit * digit, 0.0))
    return said(
        "u = √({half}² + {digit}²) / √3 = {u}",
        half=f"{half:.10g}",
        digit=unrounded(judged.resolution / 2),
        u=u,
    )


def _comparison(judged: Judged) -> str:
    """Return what the verdict's own comparison found."""
    if judged.verdict == "unjudged":
        return said("not judged: {why}", why=judged.why)
    return COMPARED[judged.verdict]


def _source(judged: Judged, named: str) -> str:
    status = "" if judged.status in named else wording.STATUS.get(judged.status, "")
    parts = [part for part in (named, status) if part]
    why = said("Unjudged: {why}.", why=judged.why) if judged.why else ""
    limit = said("Limit: {source}.", source=", ".join(parts)) if parts else ""
    return lines((part for part in (why, limit, METHOD) if part), between=" ")
