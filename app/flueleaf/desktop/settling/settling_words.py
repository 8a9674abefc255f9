"""What is said of a run: settled from when to when, or what still moves."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from flueleaf.desktop.words import _
from flueleaf.domain.judging.settling import LEAD, SHORTEST_S, Movement, Settling
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.operations import settling as runs

S_PER_MIN = 60
LEAST_S = 30  # of a shorter stretch no slope is told: a digit in a few seconds is many in a minute


def duration(seconds: Decimal | int) -> str:
    """Return a duration in minutes and whole seconds: 2 min 36 s."""
    whole = int(seconds)
    minutes, rest = divmod(whole, S_PER_MIN)
    if not minutes:
        return _("{seconds} s", seconds=rest)
    return (
        _("{minutes} min {seconds} s", minutes=minutes, seconds=rest)
        if rest
        else _("{minutes} min", minutes=minutes)
    )


def run_words(found: Settling) -> str:
    """Return in a sentence or two what can be said of a logged run."""
    if found.from_s is None or found.to_s is None:
        return _("Not settled: there is no CO reading in this run.")
    values = values_words(runs.texts_of(found))
    if found.settled:
        return _(
            "Settled from {begin} to {end} of the run. Medians: {values}.",
            begin=duration(found.from_s),
            end=duration(found.to_s),
            values=values,
        )
    return _("Not settled. {why} Medians of the last stretch: {values}.", why=why_words(found), values=values)


def live_words(found: Settling) -> str:
    """Return in a sentence what can be said of values typed at intervals."""
    if found.from_s is None or found.to_s is None:
        return _("Type what the analyser shows, again and again; Enter stamps the time.")
    if found.settled:
        value = runs.texts_of(found)[LEAD]
        since = duration(found.to_s - found.from_s)
        return _("Settled since {duration}: median {value} ppm.", duration=since, value=value)
    return _("Not settled. {why}", why=why_words(found))


def why_words(found: Settling) -> str:
    """Return what keeps a run from being settled at its end."""
    assert found.from_s is not None
    assert found.to_s is not None
    long_s = found.to_s - found.from_s
    for key, movement in found.movements.items() if long_s >= LEAST_S else ():
        if not movement.rests and movement.per_min is not None and abs(movement.per_min) >= _digit(key):
            return moving_words(key, movement)
    if long_s < SHORTEST_S:
        return _(
            "The last unbroken stretch is {duration} long; {least} are wanted.",
            duration=duration(long_s),
            least=duration(SHORTEST_S),
        )
    return _("The readings scatter too widely, or are too few, to call them still.")


def moving_words(key: str, movement: Movement) -> str:
    """Return how fast a quantity moves: CO still moves, by 4 ppm a minute upwards."""
    assert movement.per_min is not None
    quantity = QUANTITIES[key]
    amount = f"{abs(movement.per_min):.{quantity.decimals}f} {quantity.unit}"
    if movement.per_min > 0:
        return _("{quantity} still rises by {amount} a minute.", quantity=_(quantity.label), amount=amount)
    return _("{quantity} still falls by {amount} a minute.", quantity=_(quantity.label), amount=amount)


def values_words(texts: Mapping[str, str]) -> str:
    """Return values with their names and units: CO 60 ppm, O2 4.8 %."""
    named = (f"{_(QUANTITIES[key].label)} {text}\u00a0{QUANTITIES[key].unit}" for key, text in texts.items())
    return ", ".join(named)


def _digit(key: str) -> float:
    return float(Decimal(1).scaleb(-QUANTITIES[key].decimals))
