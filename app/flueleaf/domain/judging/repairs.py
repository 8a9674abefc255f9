"""Which slip of the pen would explain a doubt: two digits exchanged, a point misplaced, two fields exchanged.

A figure is only ever asked about, never changed, and only where a single slip of the pen makes everything
agree: the fuel's relation, the printed ratio, and last time's readings where there are any. One of them must
be there: a figure that stands alone agrees with nothing.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from flueleaf.domain.judging.assessment import Doubt, Judged
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.changes import compare
from flueleaf.domain.judging.gas_doubts import gas_doubts, off_the_line
from flueleaf.domain.judging.readings import Readings, read
from flueleaf.domain.judging.rule_table import RuleTable
from flueleaf.domain.judging.uncertainty import has_changed
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.words import lines, said

# The doubts that a slip of the pen may be behind.
EXPLAINED = ("beyond-physics", "o2-co2-disagree", "ratio-disagrees", "changed-since-last")
# What is tried; whatever else a slip holds has nothing to agree with.
_TRIED = ("o2_pct", "co2_pct", "co_ppm", "ratio")
_GASES = frozenset({"o2_pct", "co2_pct"})
# Where the point may have gone, in places. A ratio read as a percentage is two places off.
_SHIFTS: Mapping[str, tuple[int, ...]] = {"ratio": (-2, -1, 1)}
_USUAL_SHIFTS = (-1, 1)

Values = Mapping[str, Decimal]


def asked(
    case: Case, readings: Readings, judged: Iterable[Judged], defaults: RuleTable, doubts: tuple[Doubt, ...]
) -> tuple[Doubt, ...]:
    """Return the doubts of a slip, the first that a single slip of the pen explains asking about it.

    Args:
        case: with the earlier visits.
        readings: of the slip.
        judged: its verdicts, for what a change must exceed.
        defaults: the default tolerances.
        doubts: all of its doubts.
    """
    at = next((at for at, doubt in enumerate(doubts) if _wants(doubt)), None)
    if at is None:
        return doubts
    limits = tuple(judged)
    fitting = [
        (question, values)
        for question, values in candidates(readings.slip.values)
        if _agrees(case, readings, values, limits, defaults)
    ]
    if len({tuple(values.items()) for _, values in fitting}) != 1:
        return doubts
    (question, _), *_others = fitting
    doubt = replace(doubts[at], text=lines([doubts[at].text, question], " "))
    return (*doubts[:at], doubt, *doubts[at + 1 :])


def candidates(values: Values) -> Iterator[tuple[str, Values]]:
    """Yield each slip of the pen as a question, with the readings as they would be without it."""
    for key in _TRIED:
        if key not in values:
            continue
        for meant in meant_by(key, values[key]):
            yield _question(key, meant, values[key]), {**values, key: meant}
    if "o2_pct" in values and "co2_pct" in values and values["o2_pct"] != values["co2_pct"]:
        yield (
            said("Were O2 and CO2 typed in each other’s place? Only the analyser’s print tells."),
            {**values, "o2_pct": values["co2_pct"], "co2_pct": values["o2_pct"]},
        )


def meant_by(key: str, typed: Decimal) -> list[Decimal]:
    """Return what a figure may have been before a slip of the pen: each once, none with more decimals.

    Args:
        key: of the quantity.
        typed: as typed.
    """
    decimals = max(-int(typed.as_tuple().exponent), QUANTITIES[key].decimals)
    found: list[Decimal] = []
    for meant in (*_exchanged(typed), *(typed.scaleb(by) for by in _SHIFTS.get(key, _USUAL_SHIFTS))):
        plain = _without_noughts(meant, QUANTITIES[key].decimals)
        within = plain <= QUANTITIES[key].high  # the same digits are never below the least, which is 0
        if within and plain != typed and -int(plain.as_tuple().exponent) <= decimals and plain not in found:
            found.append(plain)
    return found


def _exchanged(typed: Decimal) -> Iterator[Decimal]:
    """Yield a number with each two neighbouring digits exchanged, the point staying where it is."""
    text = f"{typed:f}"
    places = [at for at, char in enumerate(text) if char.isdigit()]
    for one, other in itertools.pairwise(places):
        swapped = list(text)
        swapped[one], swapped[other] = swapped[other], swapped[one]
        yield Decimal("".join(swapped))


def _without_noughts(value: Decimal, decimals: int) -> Decimal:
    """Return a number without noughts at its end beyond the usual decimals."""
    shortest = value.normalize()
    places = max(-int(shortest.as_tuple().exponent), decimals)
    return Decimal(f"{value:.{places}f}")


def _question(key: str, meant: Decimal, typed: Decimal) -> str:
    quantity = QUANTITIES[key]
    return said(
        "{label} {meant} typed as {typed}? Only the analyser’s print tells.",
        label=quantity.label,
        meant=f"{meant:f} {quantity.unit}".rstrip(),
        typed=f"{typed:f}",
    )


def _wants(doubt: Doubt) -> bool:
    return doubt.code in EXPLAINED and not doubt.confirmed


def _agrees(
    case: Case, readings: Readings, values: Values, judged: tuple[Judged, ...], defaults: RuleTable
) -> bool:
    """Tell whether the gases would be free of doubt and borne out, and none of the readings told as changed.

    The figure in question must be last time's within what the instruments explain: what a good appliance may
    show anyway is no sign of a slip of the pen.
    """
    slip = replace(readings.slip, values=values)
    would_be = read(slip, readings.fuel, readings.tolerances)
    # Most candidates lie off the line, which is told at once; a doubt looks for another fuel that would fit.
    if _off_the_line(would_be) or any(True for _ in gas_doubts(case, would_be)):
        return False
    changes = compare(case, would_be, judged, defaults)
    if not _borne_out(readings, would_be, {change.new.quantity for change in changes}):
        return False
    for change in changes:
        key = change.new.quantity
        floor = change.floor if values.get(key) == readings.slip.values.get(key) else 0
        if has_changed(change.old.value, change.new.value, variance=change.variance, floor=Fraction(floor)):
            return False
    return True


def _off_the_line(would_be: Readings) -> bool:
    """Tell whether O2 and CO2 would not go together; air with flue gas in it lies on the fuel's line too."""
    o2, co2 = would_be.o2_pct, would_be.co2_pct
    if o2 is None or co2 is None or would_be.derived:
        return False
    apart, allowed = off_the_line(would_be.fuel, would_be, o2, co2)
    return apart > allowed


def _borne_out(readings: Readings, would_be: Readings, last_time: Set[str]) -> bool:
    """Tell whether something else speaks for what would be changed.

    Args:
        readings, would_be: as typed, and without the slip of the pen.
        last_time: the quantities that last time's readings stand beside.
    """
    typed, values = readings.slip.values, would_be.slip.values
    changed = {key for key in values if values[key] != typed[key]}
    two_gases = bool(changed & _GASES) and values.keys() >= _GASES
    two_ratios = would_be.typed is not None and would_be.computed is not None
    return two_gases or two_ratios or bool(changed & last_time)
