"""Every figure that one flue slip gives, each absent where its readings are absent or out of its range."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ParamSpec, TypeVar

from flueleaf.domain.combustion import gas, losses
from flueleaf.domain.combustion.fuel import Fuel

_P = ParamSpec("_P")
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipFigures:
    """Figures of a flue slip, named as in the headless contract; None: not to be had from these readings.

    Basis: the air factor comes from measured O2, else from CO2; losses, ``_net_`` and ``_gross_``
    efficiencies by first principles with dry air; the ``_condensing_`` pair an upper bound; the ``_bs845_``
    pair from measured CO2, else from O2; emissions per kWh of net heat.
    """

    co2_from_o2_pct: float | None = None
    air_factor: float | None = None
    excess_air_pct: float | None = None
    excess_air_short_pct: float | None = None
    co_undiluted_ppm: float | None = None
    co_mg_per_kwh: float | None = None
    nox_mg_per_kwh: float | None = None
    dew_point_c: float | None = None
    dew_point_humid_c: float | None = None
    loss_net_pct: float | None = None
    loss_siegert_pct: float | None = None
    efficiency_net_pct: float | None = None
    efficiency_gross_pct: float | None = None
    efficiency_net_condensing_pct: float | None = None
    efficiency_gross_condensing_pct: float | None = None
    condensed_fraction: float | None = None
    efficiency_net_bs845_pct: float | None = None
    efficiency_gross_bs845_pct: float | None = None


def slip_figures(
    fuel: Fuel,
    *,
    o2_pct: float | None,
    co2_pct: float | None,
    co_ppm: float | None,
    no_ppm: float | None,
    flue_c: float | None,
    air_c: float | None,
    air_humidity_pct: float | None = None,
) -> SlipFigures:
    """Return the figures of one flue slip; readings in the accepted ranges never raise.

    Args:
        fuel: what burns.
        o2_pct, co2_pct: % of dry flue gas, as measured.
        co_ppm, no_ppm: ppm of dry flue gas, as measured.
        flue_c, air_c: flue gas and combustion air, °C.
        air_humidity_pct: relative humidity of the combustion air, when measured.
    """
    oxygen = o2_pct
    if oxygen is None and co2_pct is not None:
        oxygen = _within(gas.o2_from_co2_pct, fuel, co2_pct)
    factor = None if oxygen is None else _within(gas.air_factor, fuel, oxygen)
    if oxygen is None or factor is None:
        return _without_air_factor(fuel, o2_pct, co2_pct, flue_c, air_c)
    loss = heat = siegert = humid = None
    if flue_c is not None and air_c is not None:
        loss = _within(losses.loss_net_pct, fuel, factor, flue_c, air_c)
        heat = _within(losses.condensing, fuel, factor, flue_c, air_c)
        siegert = _within(losses.loss_siegert_pct, fuel, oxygen, flue_c, air_c)
    if air_c is not None and air_humidity_pct is not None:
        humid = _within(gas.dew_point_c, fuel, factor, air_c=air_c, humidity_pct=air_humidity_pct)
    british = _bs845(fuel, o2_pct, co2_pct, flue_c, air_c)
    net_pct = None if loss is None else 100.0 - loss
    return SlipFigures(
        co2_from_o2_pct=gas.co2_from_o2_pct(fuel, oxygen),
        air_factor=factor,
        excess_air_pct=100.0 * (factor - 1.0),
        excess_air_short_pct=gas.excess_air_short_pct(oxygen),
        co_undiluted_ppm=None if co_ppm is None else _within(gas.co_undiluted_ppm, co_ppm, oxygen),
        co_mg_per_kwh=None if co_ppm is None else _within(gas.co_mg_per_kwh, fuel, co_ppm, oxygen),
        nox_mg_per_kwh=None if no_ppm is None else _within(gas.nox_mg_per_kwh, fuel, no_ppm, oxygen),
        dew_point_c=_within(gas.dew_point_c, fuel, factor),
        dew_point_humid_c=humid,
        loss_net_pct=loss,
        loss_siegert_pct=siegert,
        efficiency_net_pct=net_pct,
        efficiency_gross_pct=None if net_pct is None else net_pct / fuel.gross_net_ratio,
        efficiency_net_condensing_pct=None if heat is None else heat.efficiency_net_pct,
        efficiency_gross_condensing_pct=None if heat is None else heat.efficiency_gross_pct,
        condensed_fraction=None if heat is None else heat.condensed_fraction,
        efficiency_net_bs845_pct=None if british is None else british.efficiency_net_pct,
        efficiency_gross_bs845_pct=None if british is None else british.efficiency_gross_pct,
    )


def _within(work: Callable[_P, _T], *args: _P.args, **kwargs: _P.kwargs) -> _T | None:
    """Return what a formula gives, or None where the readings are outside its range."""
    try:
        return work(*args, **kwargs)
    except ValueError:
        return None


def _bs845(
    fuel: Fuel, o2_pct: float | None, co2_pct: float | None, flue_c: float | None, air_c: float | None
) -> losses.Bs845 | None:
    carbon = co2_pct
    if carbon is None and o2_pct is not None:
        carbon = _within(gas.co2_from_o2_pct, fuel, o2_pct)
    if carbon is None or flue_c is None or air_c is None:
        return None
    return _within(losses.bs845, fuel, carbon, flue_c, air_c)


def _without_air_factor(
    fuel: Fuel, o2_pct: float | None, co2_pct: float | None, flue_c: float | None, air_c: float | None
) -> SlipFigures:
    """Return what is left when neither O2 nor CO2 gives an air factor."""
    british = _bs845(fuel, o2_pct, co2_pct, flue_c, air_c)
    return SlipFigures(
        co2_from_o2_pct=None if o2_pct is None else _within(gas.co2_from_o2_pct, fuel, o2_pct),
        efficiency_net_bs845_pct=None if british is None else british.efficiency_net_pct,
        efficiency_gross_bs845_pct=None if british is None else british.efficiency_gross_pct,
    )
