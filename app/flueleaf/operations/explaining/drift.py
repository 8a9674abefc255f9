"""How a drift was worked out, or why none can be claimed."""

from __future__ import annotations

from flueleaf.domain.judging.drift import DAYS_OF_YEAR, LEVEL, Drift
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import said
from flueleaf.operations.drifts import told
from flueleaf.operations.explaining.explanation import Explanation, Given, unrounded
from flueleaf.operations.facts import wording
from flueleaf.operations.page_records import DriftRow

MOST_SHOWN = 12  # readings listed one by one; of more the last ones
SOURCE = said(
    "Slope: Theil 1950; its 95 % interval: Sen 1968, equation 2.6; significance: Mann 1945, Kendall 1975; "
    "recalled. Places and ties as in scipy.stats 1.17, read in its source."
)
CAUTION = said(
    "That no drift can be claimed does not say that there is none: few readings tell little. A drift says "
    "nothing of today’s reading, and the date holds only while the appliance goes on as before; its limit "
    "and the maker’s instructions decide."
)
NEVER = said("by this end of the interval never")
METHODS = {
    "exact": said("counted: how many orders of so many different readings are as strict"),
    "normal": said("from the normal distribution, because readings or days are alike or there are many"),
}


def drift_key(row: DriftRow) -> str:
    """Return the key of a drift: ``drift.max.co_ppm``."""
    return f"drift.{row.rate}.{row.quantity}"


def explain_drift(row: DriftRow) -> Explanation:
    """Return how the drift of one quantity at one rate was worked out."""
    unit = wording.unit(row.quantity)
    since = (
        said("only readings since the adjustment of {date}", date=in_words(row.adjusted_on))
        if row.adjusted_on
        else said("all readings with the fuel of now")
    )
    return Explanation(
        key=drift_key(row),
        title=said(
            "drift of {quantity}, {rate}",
            quantity=wording.label(row.quantity),
            rate=wording.RATE_NAMES[row.rate],
        ),
        formula=(
            said("The slope is the median of the slopes of all pairs of readings of different days."),
            said(
                "A drift is claimed where chance alone would order the readings so strictly in fewer than "
                "{level} of 100 cases.",
                level=f"{LEVEL * 100:g}",
            ),
            said("slope = median((vⱼ − vᵢ) / (tⱼ − tᵢ)); S = pairs that rise − pairs that fall"),
            said("reached = middle day + (limit − middle value) / slope"),
        ),
        inputs=(*_readings(row, unit), Given(said("compared"), since)),
        steps=_steps(row, unit),
        result=told(row),
        source=SOURCE,
        caution=CAUTION,
    )


def _readings(row: DriftRow, unit: str) -> list[Given]:
    shown = row.readings[-MOST_SHOWN:]
    left_out = len(row.readings) - len(shown)
    found = [Given(in_words(one.date), f"{unrounded(one.value)} {unit}".rstrip()) for one in shown]
    if left_out:
        found.insert(0, Given(said("earlier readings"), said("{n} more", n=left_out)))
    if row.limit is not None:
        found.append(Given(said("limit"), f"{row.limit:f} {unit}".rstrip()))
    return found


def _steps(row: DriftRow, unit: str) -> tuple[str, ...]:
    drift = row.drift
    made: list[str] = [said("readings: {n}", n=drift.n)]
    if drift.slope_per_year is not None:
        slope = _with(drift.slope_per_year, unit)
        made.append(said("slope = {slope} a year of {days} days", slope=slope, days=f"{DAYS_OF_YEAR:g}"))
    if drift.slope_low is not None and drift.slope_high is not None:
        made.append(
            said(
                "95 % interval: {low} to {high} a year",
                low=_with(drift.slope_low, unit),
                high=_with(drift.slope_high, unit),
            )
        )
    made += _significance(drift)
    if row.reached.on is not None:
        made.append(said("reached: {date}", date=in_words(row.reached.on)))
        first, last = row.reached.earliest, row.reached.latest
        made.append(said("earliest: {date}", date=in_words(first) if first else NEVER))
        made.append(said("latest: {date}", date=in_words(last) if last else NEVER))
    return tuple(made)


def _with(value: float, unit: str) -> str:
    return f"{unrounded(value)} {unit}".rstrip()


def _significance(drift: Drift) -> list[str]:
    if drift.tau is None or drift.p_value is None or drift.p_corrected is None:
        return [said("no two readings differ in both day and value: nothing can be tested")]
    made: list[str] = [
        said("tau = {tau}", tau=unrounded(drift.tau)),
        said("p = {p}, {method}", p=unrounded(drift.p_value), method=METHODS[drift.method]),
    ]
    if drift.borderline:
        made.append(
            said("with the correction for continuity p = {p}: only just", p=unrounded(drift.p_corrected))
        )
    comparison = said("p < {level}: claimed", level=f"{LEVEL:g}")
    made.append(comparison if drift.significant else said("p ≥ {level}: not claimed", level=f"{LEVEL:g}"))
    return made
