"""How far a reading may lie from the truth, and what follows for a limit.

Sources: JCGM 100:2008 (GUM) 4.3.7, rectangular distribution, F.2.2.1, resolution of a display, and 5.1.2,
propagation by partial derivatives; JCGM 106:2012 section 8, guarded acceptance; all recalled. Variances are
exact fractions, so that no verdict hangs on a rounding of the machine; they are put together from whole
numerators and denominators, which is several times faster than fraction by fraction.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Context, Decimal, Inexact
from fractions import Fraction

from flueleaf.domain.judging.assessment import Exact
from flueleaf.domain.judging.rule_table import RuleTable
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import Instrument, Tolerance
from flueleaf.domain.words import said

# One-sided 95 % of a normal distribution, the guard band's factor. Source: JCGM 106:2012, 8.3.2; recalled.
K_ONE_SIDED = Fraction("1.645")
# Two-sided 95 %, rounded as is usual, for a change between two readings. JCGM 100:2008, 6.2; recalled.
K_CHANGE = 2
PPM_PER_PERCENT = 10_000
# Typed numbers have at most 40 digits: their sums and products fit in here, or it is said.
_EXACT = Context(prec=400, traps=[Inexact])
# Compared with a printed scale: the tolerance is one step of it, digits tell nothing besides.
BY_EYE = frozenset({"smoke"})
_WORKED_OUT = Decimal(0)
_DIGITS = tuple(Decimal(1).scaleb(-places) for places in range(8))


@dataclass(frozen=True, slots=True)
class Tolerances:
    """The tolerances that count: the instrument's own, and the defaults where it states none.

    Attributes:
        name: what to call them in a result.
    """

    own: Mapping[str, Tolerance]
    default: Mapping[str, Tolerance]
    own_name: str
    default_name: str

    @classmethod
    def of(cls, instrument: Instrument | None, defaults: RuleTable) -> Tolerances:
        """Return the tolerances of an instrument, or the defaults when there is none."""
        default_name = f"{defaults.title}: {defaults.source}"
        if instrument is None:
            return cls({}, defaults.tolerances, "", default_name)
        own_name = said("stated for {analyser}", analyser=instrument.name)
        return cls(instrument.tolerance, defaults.tolerances, own_name, default_name)

    @property
    def name(self) -> str:
        """Which tolerances count on the whole."""
        return self.own_name if self.own else self.default_name

    def source(self, *keys: str) -> str:
        """Return where the tolerances of some quantities come from."""
        if len(keys) == 1:
            return self.own_name if keys[0] in self.own else self.default_name
        names = (self.own_name if key in self.own else self.default_name for key in keys)
        return "; ".join(dict.fromkeys(names))

    def half_width(self, key: str, value: Exact) -> Fraction:
        """Return the half-width at a measured value: the larger of absolute and relative."""
        return Fraction(self._half_width(key, value))

    def _half_width(self, key: str, value: Exact) -> Exact:
        """Return it as a decimal where the value is one."""
        tolerance = self.own.get(key) or self.default[key]
        if not tolerance.rel:
            return tolerance.abs
        if isinstance(value, Decimal):
            return max(tolerance.abs, _EXACT.multiply(tolerance.rel, value.copy_abs()))
        return max(Fraction(tolerance.abs), Fraction(tolerance.rel) * abs(value))

    def least_half_width(self, key: str) -> Decimal:
        """Return the half-width that a tolerance never falls below, whatever the value."""
        return (self.own.get(key) or self.default[key]).abs

    def variance(self, key: str, value: Exact, digit: Decimal | None = None) -> Fraction:
        """Return the variance at a measured value: of the tolerance, and of the last digit typed.

        Args:
            key, value: the quantity and its value.
            digit: what ``last_digit`` says of it, where that is known already.
        """
        return rectangular(self._half_width(key, value), last_digit(key, value) if digit is None else digit)


def last_digit(key: str, value: Exact) -> Decimal:
    """Return what one step of the last digit typed stands for; 0 for a number that was worked out.

    Never more than a step of an analyser's display: 9 stands for 9.0, and a ratio of 0.004 for 0.0040, since
    the noughts at the end are often left off. What is read by eye from a scale has its step for a tolerance
    already.
    """
    if isinstance(value, Fraction) or key in BY_EYE:
        return _WORKED_OUT
    # Never infinite: such a number is refused where it is typed.
    places = max(-int(value.as_tuple().exponent), QUANTITIES[key].decimals)
    return _DIGITS[places] if places < len(_DIGITS) else Decimal(1).scaleb(-places)


def rectangular(half_width: Exact, digit: Decimal = _WORKED_OUT) -> Fraction:
    """Return the variance of a rectangular distribution, and of a last digit as a second one.

    Half-width squared over three, and half of the digit squared over three.

    Args:
        half_width: of the tolerance, in the quantity's unit.
        digit: what one step of the last digit stands for.
    """
    above, below = half_width.as_integer_ratio()
    if not digit:
        return Fraction(above * above, 3 * below * below)
    step, of = digit.as_integer_ratio()
    return Fraction((2 * above * of) ** 2 + (step * below) ** 2, 12 * (below * of) ** 2)


def difference(one: Exact, other: Exact) -> Exact:
    """Return one less the other, exactly; a decimal where both are."""
    if isinstance(one, Decimal) and isinstance(other, Decimal):
        return _EXACT.subtract(one, other)
    (above, below), (less, less_below) = one.as_integer_ratio(), other.as_integer_ratio()
    return Fraction(above * less_below - less * below, below * less_below)


def co_co2_ratio(co_ppm: Exact, co2_pct: Exact) -> Fraction:
    """Return CO over CO2, exactly; CO2 above 0."""
    (co, co_below), (co2, co2_below) = co_ppm.as_integer_ratio(), co2_pct.as_integer_ratio()
    return Fraction(co * co2_below, co_below * PPM_PER_PERCENT * co2)


def ratio_variance(
    *, co_ppm: Exact, co2_pct: Exact, co_variance: Fraction, co2_variance: Fraction
) -> Fraction:
    """Return the variance of CO/CO2 by its partial derivatives.

    CO comes from a cell of its own and is independent of CO2 either way. Where CO2 is worked out from O2 the
    two are not independent of each other: CO2's variance is then O2's carried through the fuel's relation,
    and O2 is not counted beside it a second time. CO/(10 000 · f(O2)) by its partial derivatives is the same.

    Args:
        co_ppm, co2_pct: the readings, co2_pct above 0.
        co_variance, co2_variance: in ppm² and %².
    """
    # (co_variance · CO2² + co2_variance · CO²) / (10 000² · CO2⁴), over one denominator.
    (co, co_below), (co2, co2_below) = co_ppm.as_integer_ratio(), co2_pct.as_integer_ratio()
    (u, u_below), (v, v_below) = co_variance.as_integer_ratio(), co2_variance.as_integer_ratio()
    by_co = u * (co2 * co_below) ** 2 * v_below
    by_co2 = v * (co * co2_below) ** 2 * u_below
    below = u_below * v_below * (co_below * PPM_PER_PERCENT * co2 * co2) ** 2
    return Fraction((by_co + by_co2) * co2_below * co2_below, below)


def is_near(margin: Exact, variance: Fraction) -> bool:
    """Tell whether a value not beyond its limit lies inside the guard band."""
    (m, m_below), (v, v_below) = margin.as_integer_ratio(), variance.as_integer_ratio()
    k, k_below = K_ONE_SIDED.as_integer_ratio()
    return (m * k_below) ** 2 * v_below < (k * m_below) ** 2 * v


def standard_uncertainty(variance: Fraction) -> float:
    """Return the standard uncertainty."""
    above, below = variance.as_integer_ratio()
    return math.sqrt(above / below)


def chance_beyond(margin: Exact, spread: float) -> float:
    """Return the probability that the true value is beyond the limit, from the normal distribution.

    Args:
        margin: distance to the limit, negative beyond it.
        spread: standard uncertainty of the reading; 0 for a reading taken as exact.
    """
    if spread == 0.0:
        return 1.0 if margin < 0 else 0.0
    return 0.5 * math.erfc(float(margin) / spread / math.sqrt(2.0))


def has_changed(before: Exact, now: Exact, *, variance: Fraction, floor: Exact) -> bool:
    """Tell whether two readings differ by more than both uncertainties and a floor explain.

    Args:
        variance: of the difference, both readings' together.
        floor: a difference that good appliances show anyway.
    """
    apart = abs(Fraction(now) - Fraction(before))
    return apart**2 > K_CHANGE**2 * variance and apart > Fraction(floor)
