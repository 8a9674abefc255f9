"""How the figures of a slip were worked out: ratio, excess air, CO without it, losses, efficiency."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from flueleaf.domain.combustion.constants import O2_IN_DRY_AIR_PCT
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.slip_figures import SlipFigures
from flueleaf.domain.judging.assessment import SlipAssessment
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.words import said
from flueleaf.operations.explaining.explanation import Explanation, Given, unrounded
from flueleaf.operations.explaining.verdicts import slip_key
from flueleaf.operations.facts import wording

BALANCE = said(
    "Balance of dry flue gas with air of 20.95 % oxygen (ISO 6976:2016, annex A, composition of dry air; "
    "recalled)."
)
DRY_CAUTION = said("Holds for dry, well-mixed gas. Air leaking in before the probe makes it look leaner.")
LOSS_CAUTION = said(
    "What leaves by the flue only: losses of the casing and of standing by are not in it, nor is the gain of "
    "condensing."
)
RATIO_CAUTION = said(
    "Dilution leaves the ratio alone, a poor zero does not: purge the analyser in fresh air first."
)


@dataclass(frozen=True, slots=True)
class _Figure:
    """One figure: its name, formula, source, and the steps its numbers give."""

    key: str
    name: str
    unit: str
    decimals: int
    formula: tuple[str, ...]
    steps: Callable[[Fuel, SlipAssessment, SlipFigures], tuple[str, ...]]
    source: str
    caution: str
    needs: tuple[str, ...]


def explain_ratio(slip: SlipAssessment) -> Explanation | None:
    """Return how CO/CO2 was worked out, None where there is no ratio."""
    if slip.ratio is None:
        return None
    co, co2 = slip.values.get("co_ppm"), slip.co2_pct
    computed = co is not None and co2 is not None and co2 > 0
    steps: tuple[str, ...] = (said("as the analyser printed it; CO or CO2 is missing"),)
    if computed and co is not None and co2 is not None:
        below = said("10 000 · {co2}", co2=unrounded(co2))
        steps = (
            said("{co} / ({below}) = {ratio}", co=unrounded(co), below=below, ratio=unrounded(slip.ratio)),
            said(
                "shown as {text}, so that rounding never puts it on the other side of its limit",
                text=slip.ratio_text,
            ),
        )
    return Explanation(
        key=slip_key(slip, "ratio.figure"),
        title=said(
            "CO/CO2 ratio, {point}, {rate}", point=said(slip.point), rate=wording.RATE_NAMES[slip.rate]
        ),
        formula=(
            said("CO divided by CO2, both as shares of the same dry gas; 1 % is 10 000 ppm."),
            said("ratio = CO [ppm] / (10 000 · CO2 [%])"),
        ),
        inputs=_inputs(slip, ("co_ppm", "co2_pct")) if computed else _inputs(slip, ("ratio",)),
        steps=steps,
        result=slip.ratio_text,
        source=said("Definition of a ratio by volume; no constant goes in."),
        caution=RATIO_CAUTION,
    )


def explain_figures(fuel: Fuel, slip: SlipAssessment) -> list[Explanation]:
    """Return how each figure the slip gives was worked out; what it does not give is left out."""
    found = []
    for one in _FIGURES:
        value = getattr(slip.figures, one.key)
        if value is None:
            continue
        shown = f"{wording.figure(value, one.decimals)} {one.unit}".strip()
        found.append(
            Explanation(
                key=slip_key(slip, one.key),
                title=said(
                    "{name}, {point}, {rate}",
                    name=one.name,
                    point=said(slip.point),
                    rate=wording.RATE_NAMES[slip.rate],
                ),
                formula=one.formula,
                inputs=(*_inputs(slip, one.needs), Given(said("fuel"), fuel.name)),
                steps=one.steps(fuel, slip, slip.figures),
                result=shown,
                source=one.source,
                caution=one.caution,
            )
        )
    return found


def _inputs(slip: SlipAssessment, keys: tuple[str, ...]) -> tuple[Given, ...]:
    """Return the readings that go in, with the digits typed; a derived one says so."""
    found = []
    for key in keys:
        quantity = QUANTITIES[key]
        value = slip.values.get(key)
        if value is not None:
            text = f"{wording.value_text(key, value)} {quantity.unit}".strip()
            found.append(Given(quantity.label, text, said("as typed")))
            continue
        derived = {"o2_pct": slip.o2_pct, "co2_pct": slip.co2_pct}.get(key)
        if derived is not None:
            text = f"{unrounded(derived)} {quantity.unit}".strip()
            found.append(Given(quantity.label, text, said("from the other gas, by the fuel’s relation")))
    return tuple(found)


def _o2(slip: SlipAssessment) -> Fraction:
    """Return the oxygen as used; a figure that needs it is there only where it is."""
    return Fraction(slip.o2_pct) if slip.o2_pct is not None else Fraction(0)


def _co2_steps(fuel: Fuel, slip: SlipAssessment, made: SlipFigures) -> tuple[str, ...]:
    return (
        said(
            "{highest} · (20.95 − {o2}) / 20.95 = {result}",
            highest=unrounded(fuel.co2_max_pct),
            o2=unrounded(_o2(slip)),
            result=unrounded(made.co2_from_o2_pct or 0.0),
        ),
    )


def _air_steps(fuel: Fuel, slip: SlipAssessment, made: SlipFigures) -> tuple[str, ...]:
    o2 = _o2(slip)
    remains = Fraction(str(O2_IN_DRY_AIR_PCT)) - o2
    return (
        said(
            "k of {fuel} = {k} (dry flue gas over dry air, just enough air)",
            fuel=fuel.name,
            k=unrounded(fuel.k),
        ),
        said(
            "1 + {k} · {o2} / {remains} = {result}",
            k=unrounded(fuel.k),
            o2=unrounded(o2),
            remains=unrounded(remains),
            result=unrounded(made.air_factor or 0.0),
        ),
    )  # fmt: skip


def _undiluted_steps(_fuel: Fuel, slip: SlipAssessment, made: SlipFigures) -> tuple[str, ...]:
    o2 = _o2(slip)
    return (
        said(
            "{co} · 20.95 / {remains} = {result}",
            co=unrounded(slip.values["co_ppm"]),
            remains=unrounded(Fraction(str(O2_IN_DRY_AIR_PCT)) - o2),
            result=unrounded(made.co_undiluted_ppm or 0.0),
        ),
    )


def _loss_steps(fuel: Fuel, _slip: SlipAssessment, made: SlipFigures) -> tuple[str, ...]:
    return (
        said("air factor = {factor}", factor=unrounded(made.air_factor or 0.0)),
        said("net heat of the fuel Q = {heat} kJ per unit", heat=unrounded(fuel.net_kj)),
        said("loss = {loss} % of the net heat input", loss=unrounded(made.loss_net_pct or 0.0)),
    )


def _net_steps(_fuel: Fuel, _slip: SlipAssessment, made: SlipFigures) -> tuple[str, ...]:
    loss, net = made.loss_net_pct or 0.0, made.efficiency_net_pct or 0.0
    return (said("100 − {loss} = {net}", loss=unrounded(loss), net=unrounded(net)),)


def _gross_steps(fuel: Fuel, _slip: SlipAssessment, made: SlipFigures) -> tuple[str, ...]:
    return (
        said(
            "{net} / {ratio} = {gross}",
            net=unrounded(made.efficiency_net_pct or 0.0),
            ratio=unrounded(fuel.gross_net_ratio),
            gross=unrounded(made.efficiency_gross_pct or 0.0),
        ),
    )


_HEATS = said(
    "Heat capacities of the flue gases as polynomials, net heating value at 25 °C (ISO 6976:2016); recalled, "
    "the coefficients stand with the fuel’s table."
)
_WARM = ("o2_pct", "co2_pct", "flue_c", "air_c")
_FIGURES = (
    _Figure(
        "air_factor",
        said("air factor"),
        "",
        2,
        (
            said("Air supplied over the air needed; 1 is just enough."),
            said("λ = 1 + k · O2 / (20.95 − O2)"),
        ),
        _air_steps,
        BALANCE,
        DRY_CAUTION,
        ("o2_pct",),
    ),
    _Figure(
        "co_undiluted_ppm",
        said("air-free CO"),
        "ppm",
        0,
        (
            said("CO as it would read without excess air."),
            said("CO, air-free = CO · 20.95 / (20.95 − O2)"),
        ),
        _undiluted_steps,
        BALANCE,
        DRY_CAUTION,
        ("co_ppm", "o2_pct"),
    ),
    _Figure(
        "co2_from_o2_pct",
        said("CO2 that O2 stands for"),
        "%",
        1,
        (
            said("On the fuel’s line of complete combustion O2 and CO2 belong together."),
            said("CO2 = CO2max · (20.95 − O2) / 20.95"),
        ),
        _co2_steps,
        BALANCE,
        DRY_CAUTION,
        ("o2_pct",),
    ),
    _Figure(
        "loss_net_pct",
        said("flue loss, net"),
        "%",
        1,
        (
            said("Heat the wet flue gas would give up on cooling to the air, over the net heat."),
            said("loss = 100 · (H(flue) − H(air)) / Q"),
        ),
        _loss_steps,
        _HEATS,
        LOSS_CAUTION,
        _WARM,
    ),
    _Figure(
        "efficiency_net_pct",
        said("efficiency, net"),
        "%",
        1,
        (said("What the flue loss leaves of the net heat input."), said("η net = 100 − loss")),
        _net_steps,
        _HEATS,
        LOSS_CAUTION,
        _WARM,
    ),
    _Figure(
        "efficiency_gross_pct",
        said("efficiency, gross"),
        "%",
        1,
        (
            said("The same heat against the gross heat input."),
            said("η gross = η net / (gross heating value / net heating value)"),
        ),
        _gross_steps,
        _HEATS,
        LOSS_CAUTION,
        _WARM,
    ),
)  # fmt: skip
