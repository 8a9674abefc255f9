"""How the figures of a slip were worked out: its ratio, and everything the physics says of its flame."""

from __future__ import annotations

from decimal import Decimal

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.assessment import SlipAssessment
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import FLAME_POINTS
from flueleaf.domain.words import said
from flueleaf.operations.explaining.explanation import Explanation, Given, unrounded
from flueleaf.operations.explaining.flame import FLAME, flame_text
from flueleaf.operations.explaining.flame_figure import Flame
from flueleaf.operations.explaining.verdicts import slip_key
from flueleaf.operations.facts import wording

RATIO_CAUTION = said(
    "Dilution leaves the ratio alone, a poor zero does not: purge the analyser in fresh air first."
)


def explain_ratio(slip: SlipAssessment) -> Explanation | None:
    """Return how CO/CO2 was worked out, None where there is no ratio."""
    if slip.ratio is None:
        return None
    co, co2 = slip.values.get("co_ppm"), slip.co2_pct
    computed = slip.point in FLAME_POINTS and co is not None and co2 is not None and co2 > 0
    steps: tuple[str, ...] = (said("as the analyser printed it: no CO and CO2 of a flame to divide"),)
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


def explain_figures(
    fuel: Fuel,
    slip: SlipAssessment,
    *,
    air_humidity_pct: Decimal | None = None,
    input_net_kw: float | None = None,
) -> list[Explanation]:
    """Return how each figure the slip gives was worked out; what it does not give is left out.

    Args:
        fuel: what burns.
        slip: with its figures.
        air_humidity_pct: of the combustion air, where it was measured.
        input_net_kw: by the meter at the rate of the slip, where it was measured.
    """
    flame = Flame(fuel, slip, air_humidity_pct, input_net_kw)
    found = []
    for one in FLAME:
        if getattr(slip.figures, one.key) is None:
            continue
        title = said(
            "{name}, {point}, {rate}",
            name=one.name,
            point=said(slip.point),
            rate=wording.RATE_NAMES[slip.rate],
        )
        found.append(
            Explanation(
                key=slip_key(slip, one.key),
                title=title,
                formula=one.formula,
                inputs=(
                    *_inputs(slip, one.needs),
                    *_beside(flame, one.beside),
                    Given(said("fuel"), fuel.name),
                ),
                steps=one.steps(flame),
                result=flame_text(one, slip.figures),
                source=one.source,
                caution=one.caution,
            )
        )
    return found


def _beside(flame: Flame, keys: tuple[str, ...]) -> tuple[Given, ...]:
    """Return what goes in beside the readings of the slip."""
    found = []
    humidity, heat = flame.air_humidity_pct, flame.input_net_kw
    if "air_humidity_pct" in keys and humidity is not None:
        found.append(Given(said("humidity of the air"), f"{humidity:f} %", said("as typed")))
    if "input_net_kw" in keys and heat is not None:
        found.append(Given(said("net heat input"), f"{unrounded(heat)} kW", said("by the meter")))
    return tuple(found)


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
