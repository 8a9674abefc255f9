"""What a run of the meter shows, line by line: flow, heat input both ways, the plate, how sure it is."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.visit.figure_rows import Figure
from flueleaf.desktop.words import _
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.gas_rate import VOLUME_CORRECTION, GasRate, Plate
from flueleaf.domain.problems import Refused
from flueleaf.operations.facts.supply import deviation_text
from flueleaf.operations.facts.wording import figure
from flueleaf.operations.intake.combustion import GasRateInput, read_gas_rate, worked_out
from flueleaf.operations.tables import shipped

MOST_DECIMALS = 3  # of any of them, but for a deviation that needs more to be seen beyond its tolerance
COVERAGE = 2.0  # k of the expanded uncertainty, about 95 % (JCGM 100:2008, 6.3.3; recalled)
_BASES = {"net": _("net"), "gross": _("gross")}


@dataclass(frozen=True, slots=True)
class GasRateShown:
    """What is shown of a meter run.

    Attributes:
        figures: the lines.
        verdict: on the heat input against the plate, "" without a plate.
        why: the reason, and what a longer run would settle.
    """

    figures: tuple[Figure, ...] = ()
    verdict: str = ""
    why: str = ""


def gas_rate_shown(document: Mapping[str, Any], fuels: Mapping[str, Fuel] | None = None) -> GasRateShown:
    """Return what a gas-rate document shows; nothing while it is not whole.

    Args:
        document: as ``gas_rate_document`` takes it.
        fuels: by name; None for the shipped ones.
    """
    try:
        given = read_gas_rate(document, fuels=fuels or shipped().fuels)
    except Refused:
        return GasRateShown()
    rate = worked_out(given)
    lines = (*_inputs(rate, given.calorific_value_date), *_against(rate, given.plate), _sure(rate, given))
    return GasRateShown(lines, rate.verdict or "", _(rate.why))


def _inputs(rate: GasRate, of_day: dt.date | None) -> tuple[Figure, ...]:
    day = (
        _("calorific value as on {date}", date=long_date(of_day))
        if of_day is not None
        else _("calorific value of the day")
    )
    head = _("as metered; {day}", day=day)
    billed = _(
        "{kw} kW with the correction that billing makes, × {factor} (SI 1996/439)",
        kw=figure(rate.input_net_corrected_kw, 1),
        factor=VOLUME_CORRECTION,
    )
    with_it = _("{kw} kW with it", kw=figure(rate.input_gross_corrected_kw, 1))
    net, gross = (
        figure(rate.input_net_uncorrected_kw, 1),
        figure(rate.input_gross_uncorrected_kw, 1),
    )
    return (
        Figure(_("flow"), figure(rate.metered_m3_per_h, 3), "m³/h", head=head),
        Figure(_("heat input, net"), net, "kW", note=billed),
        Figure(_("heat input, gross"), gross, "kW", note=with_it),
    )


def _against(rate: GasRate, plate: Plate | None) -> tuple[Figure, ...]:
    """Return how far the heat input lies off the plate, on the plate's own basis."""
    if plate is None or rate.deviation_pct is None:
        return ()
    note = _("of its {kw} kW {basis}", kw=f"{plate.kw:f}", basis=_BASES[plate.basis])
    if rate.corrected:
        note = _("{of}, input corrected", of=note)
    return (Figure(_("against the plate"), deviation_text(rate, plate), "%", note=note),)


def _sure(rate: GasRate, given: GasRateInput) -> Figure:
    run = given.run
    unit = {"m3": "m³", "ft3": "ft³"}[run.unit]
    # Rounded up: an uncertainty is never told smaller than it is.
    wide = math.ceil(COVERAGE * rate.standard_uncertainty_kw * 10.0) / 10.0
    note = _(
        "{basis}, at 95 %: {seconds} s of reaction and one step of the meter, {step} {unit}",
        basis=_BASES[rate.uncertainty_basis],
        seconds=f"{run.timing_s:f}",
        step=f"{run.step_in_unit:f}",
        unit=unit,
    )
    return Figure(_("uncertain by ±"), figure(wide, 1), "kW", note=note)
