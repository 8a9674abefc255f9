"""How a heat input by the meter, and a rated input on the other basis, were worked out."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.gas_rate import (
    GUARD_FACTOR,
    M3_PER_FT3,
    VOLUME_CORRECTION,
    GasRate,
    MeterRun,
)
from flueleaf.domain.problems import Refused
from flueleaf.domain.records.register import RatedInput
from flueleaf.domain.schedule.due import in_words
from flueleaf.domain.words import said
from flueleaf.operations.explaining.explanation import Explanation, Given, unrounded
from flueleaf.operations.explaining.verdicts import VERDICTS
from flueleaf.operations.facts.wording import figure
from flueleaf.operations.intake.combustion import GasRateInput, read_gas_rate, worked_out
from flueleaf.operations.tables import shipped

SOURCE = said(
    "The trade’s way of rating; 1 ft = 0.3048 m (Weights and Measures Act 1985, schedule 1; recalled), "
    "3.6 MJ in a kWh. The volume correction of SI 1996/439 belongs to billing and is applied only when asked."
)
CAUTION = said(
    "Everything else on the meter has to be off, and the appliance at full rate. Its calorific value is that "
    "of the day; the maker’s instructions decide what the input may be."
)
BASES = {"net": said("net"), "gross": said("gross")}
CONVERSION_SOURCE = said(
    "Gross and net heating value of the fuel at 25 °C (ISO 6976:2016; recalled, the composition stands in "
    "the fuel’s table)."
)
CONVERSION_CAUTION = said("Compare inputs on one basis only; the plate says which it means.")


def explain_gas_rate(
    document: Mapping[str, Any], fuels: Mapping[str, Fuel] | None = None
) -> Explanation | None:
    """Return how the heat input of a meter run came about, None where the run is not whole.

    Args:
        document: as ``gas_rate_document`` takes it.
        fuels: by name; None for the shipped ones.
    """
    try:
        given = read_gas_rate(document, fuels=fuels or shipped().fuels)
    except Refused:
        return None
    rate = worked_out(given)
    return Explanation(
        key="supply.gas_rate",
        title=said("gas rate and heat input"),
        formula=(
            said("Volume by the meter in the time, as an hourly flow, times its calorific value."),
            said("flow = volume · 3600 / time"),
            said("gross input = flow · CV / 3.6"),
            said("net input = gross input / (gross / net of the fuel)"),
        ),
        inputs=_inputs(given),
        steps=(*_flow_steps(given, rate), *_plate_steps(given, rate)),
        result=gas_rate_text(rate),
        source=SOURCE,
        caution=CAUTION,
    )


def gas_rate_text(rate: GasRate) -> str:
    """Return the heat input as the window says it."""
    net, gross = figure(rate.input_net_kw, 1), figure(rate.input_gross_kw, 1)
    text = said("{net} kW net, {gross} kW gross", net=net, gross=gross)
    return said("{value}: {verdict}", value=text, verdict=VERDICTS[rate.verdict]) if rate.verdict else text


def explain_conversion(fuel: Fuel, rated: RatedInput) -> Explanation | None:
    """Return a plate's rated input on the other basis, None where the plate gives none."""
    if rated.max_kw is None:
        return None
    ratio = fuel.gross_net_ratio
    other = "gross" if rated.basis == "net" else "net"
    result = other_basis_kw(fuel, rated.max_kw, rated.basis)
    sign = "·" if rated.basis == "net" else "/"
    return Explanation(
        key="plate.rated_input",
        title=said("rated input, {basis}", basis=BASES[other]),
        formula=(
            said("Gross counts the heat of condensing the water vapour, net does not."),
            said("gross = net · (gross heating value / net heating value)"),
        ),
        inputs=(
            Given(
                said("rated input"),
                f"{rated.max_kw:f} kW",
                said("{basis}, off the plate", basis=BASES[rated.basis]),
            ),
            Given(said("fuel"), said(fuel.name)),
        ),
        steps=(
            said("gross / net of {fuel} = {ratio}", fuel=said(fuel.name), ratio=unrounded(ratio)),
            said(
                "{kw} {sign} {ratio} = {result}",
                kw=f"{rated.max_kw:f}",
                sign=sign,
                ratio=unrounded(ratio),
                result=unrounded(result),
            ),
        ),
        result=said("{kw} kW {basis}", kw=figure(result, 1), basis=BASES[other]),
        source=CONVERSION_SOURCE,
        caution=CONVERSION_CAUTION,
    )


def other_basis_kw(fuel: Fuel, kw: Decimal, basis: str) -> float:
    """Return a heat input on the other basis, kW."""
    ratio = Fraction(fuel.gross_net_ratio)
    return float(Fraction(kw) * ratio if basis == "net" else Fraction(kw) / ratio)


def _inputs(given: GasRateInput) -> tuple[Given, ...]:
    run = given.run
    unit = {"m3": "m³", "ft3": "ft³"}[run.unit]
    of_day = given.calorific_value_date
    found = [
        *_dial(run, unit),
        Given(
            said("volume"),
            f"{run.volume:f} {unit}",
            said("step {step} {unit}", step=run.step_in_unit, unit=unit),
        ),
        Given(said("time"), f"{run.seconds:f} s", said("start and stop within {s} s", s=run.timing_s)),
        Given(
            said("calorific value"),
            f"{given.calorific_value_mj_m3:f} MJ/m³",
            said("gross, of {day}", day=in_words(of_day)) if of_day else said("gross, of the day"),
        ),
        Given(said("fuel"), said(given.fuel.name)),
    ]
    if given.plate is not None:
        found.append(Given(said("plate’s input"), f"{given.plate.kw:f} kW", BASES[given.plate.basis]))
        if given.plate.plus_pct is not None and given.plate.minus_pct is not None:
            span = f"+{given.plate.plus_pct:f} % / −{given.plate.minus_pct:f} %"
            found.append(Given(said("may be off by"), span))
    return tuple(found)


def _dial(run: MeterRun, unit: str) -> list[Given]:
    if run.dial is None:
        return []
    turn = said("{volume} {unit} a turn", volume=f"{run.dial.per_revolution:f}", unit=unit)
    return [Given(said("turns of the dial"), f"{run.dial.revolutions:f}", turn)]


def _flow_steps(given: GasRateInput, rate: GasRate) -> list[str]:
    run, cv = given.run, f"{given.calorific_value_mj_m3:f}"
    volume = f"{run.volume:f}" if run.unit == "m3" else f"{run.volume:f} · {M3_PER_FT3:f}"
    flow = unrounded(rate.metered_m3_per_h)
    made: list[str] = [
        said("flow = {volume} · 3600 / {s} = {flow} m³/h", volume=volume, s=f"{run.seconds:f}", flow=flow),
    ]
    if rate.corrected:
        flow = unrounded(rate.volume_m3_per_h)
        made.append(said("corrected: · {factor} = {flow} m³/h", factor=VOLUME_CORRECTION, flow=flow))
    gross = unrounded(rate.input_gross_kw)
    ratio = unrounded(given.fuel.gross_net_ratio)
    made += [
        said("gross = {flow} · {cv} / 3.6 = {gross} kW", flow=flow, cv=cv, gross=gross),
        said(
            "net = {gross} / {ratio} = {net} kW", gross=gross, ratio=ratio, net=unrounded(rate.input_net_kw)
        ),
        said(
            "uncertainty = √(step² / 6 + timing² / 3), step {step} %, timing {timing} % = {u} %",
            step=unrounded(rate.step_pct),
            timing=unrounded(rate.timing_pct),
            u=unrounded(rate.standard_uncertainty_pct),
        ),
        said(
            "without the volume correction {plain} kW gross, with it {corrected} kW gross",
            plain=unrounded(rate.input_gross_uncorrected_kw),
            corrected=unrounded(rate.input_gross_corrected_kw),
        ),
    ]
    return made


def _plate_steps(given: GasRateInput, rate: GasRate) -> list[str]:
    if given.plate is None or rate.deviation_pct is None:
        return []
    measured = rate.input_net_kw if given.plate.basis == "net" else rate.input_gross_kw
    made: list[str] = [
        said(
            "deviation = 100 · ({measured} / {plate} − 1) = {deviation} %",
            measured=unrounded(measured),
            plate=f"{given.plate.kw:f}",
            deviation=unrounded(rate.deviation_pct),
        ),
        said(
            "one meter step either way: {low} % to {high} %",
            low=unrounded(rate.deviation_low_pct or 0.0),
            high=unrounded(rate.deviation_high_pct or 0.0),
        ),
        said(
            "guard band 1.645 · {u} kW = {guard} kW (JCGM 106, one-sided 95 %; recalled)",
            u=unrounded(rate.standard_uncertainty_kw),
            guard=unrounded(GUARD_FACTOR * rate.standard_uncertainty_kw),
        ),
    ]
    if rate.why:
        made.append(said("{verdict}: {why}", verdict=VERDICTS[rate.verdict or "unjudged"], why=rate.why))
    return made
