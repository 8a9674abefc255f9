"""One figure of a flame: its name, unit, formula and source, and the steps its numbers give."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from flueleaf.domain.combustion.constants import O2_IN_DRY_AIR_PCT
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.slip_figures import SlipFigures
from flueleaf.domain.judging.assessment import SlipAssessment


@dataclass(frozen=True, slots=True)
class Flame:
    """A flue slip with what its figures were worked out from beside its readings.

    Attributes:
        fuel: what burns.
        slip: the slip.
        air_humidity_pct: relative humidity of the combustion air, None where it was not measured.
        input_net_kw: by the meter at the rate of the slip, None where it was not measured.
    """

    fuel: Fuel
    slip: SlipAssessment
    air_humidity_pct: Decimal | None = None
    input_net_kw: float | None = None

    @property
    def made(self) -> SlipFigures:
        """The figures."""
        return self.slip.figures

    @property
    def o2(self) -> Fraction:
        """The oxygen as used, %; a figure that needs it is there only where it is."""
        return Fraction(self.slip.o2_pct) if self.slip.o2_pct is not None else Fraction(0)

    @property
    def remains(self) -> Fraction:
        """What the oxygen stays below that of dry air, %."""
        return Fraction(str(O2_IN_DRY_AIR_PCT)) - self.o2


Steps = Callable[[Flame], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class FlameFigure:
    """One figure.

    Attributes:
        key: of ``SlipFigures``.
        name, unit, decimals: how it is shown; a share of one is shown in percent.
        formula: in words, then in symbols.
        steps: from the numbers of a flame to the figure.
        source: title, clause and edition, and how it was checked.
        caution: what the figure does not say.
        needs: the readings that go in; beside: what else, ``air_humidity_pct`` or ``input_net_kw``.
    """

    key: str
    name: str
    unit: str
    decimals: int
    formula: tuple[str, ...]
    steps: Steps
    source: str
    caution: str
    needs: tuple[str, ...]
    beside: tuple[str, ...] = ()


def value_of(figures: SlipFigures, key: str) -> float:
    """Return a figure that is there; steps are asked for only where it is."""
    value: float | None = getattr(figures, key)
    return 0.0 if value is None else value
