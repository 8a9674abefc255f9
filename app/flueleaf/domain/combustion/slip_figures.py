"""Every figure that one flue slip gives, each absent where its readings are absent or out of its range."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import ParamSpec, TypeVar

from flueleaf.domain.combustion import gas, losses
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.water import liquid_kg_per_l

_P = ParamSpec("_P")
_T = TypeVar("_T")

# The oxygen that emission limits of gas and oil firing refer to, %.
# Source: 1. BImSchV of 26 January 2010, section 2 and EN 267; recalled.
REFERENCE_O2_PCT = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SlipFigures:
    """Figures of a flue slip, named as in the headless contract; None: not to be had from these readings.

    Basis: the air factor comes from measured O2, else from CO2; losses, ``_net_`` and ``_gross_``
    efficiencies by first principles with dry air; the ``_condensing_`` pair an upper bound; the ``_bs845_``
    pair from measured CO2, else from O2. Emissions: ``_per_kwh`` of net heat, ``_per_kwh_gross`` of gross;
    ``_mg_per_m3`` of dry gas at 0 °C and 101.325 kPa; NOx is measured NO counted as NO2. Condensate is that
    of the upper bound, its litres at flue temperature and at the heat input given.
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
    nox_undiluted_ppm: float | None = None
    co_at_3_o2_ppm: float | None = None
    nox_at_3_o2_ppm: float | None = None
    co_at_3_o2_mg_per_m3: float | None = None
    nox_at_3_o2_mg_per_m3: float | None = None
    co_mg_per_kwh_gross: float | None = None
    nox_mg_per_kwh_gross: float | None = None
    condensate_kg_per_kwh_net: float | None = None
    condensate_l_per_h: float | None = None


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
    input_net_kw: float | None = None,
) -> SlipFigures:
    """Return the figures of one flue slip; readings in the accepted ranges never raise.

    Args:
        fuel: what burns.
        o2_pct, co2_pct: % of dry flue gas, as measured.
        co_ppm, no_ppm: ppm of dry flue gas, as measured.
        flue_c, air_c: flue gas and combustion air, °C.
        air_humidity_pct: relative humidity of the combustion air, when measured.
        input_net_kw: net heat input at the rate of the slip, when measured.
    """
    oxygen = o2_pct
    if oxygen is None and co2_pct is not None:
        oxygen = _within(gas.o2_from_co2_pct, fuel, co2_pct)
    factor = None if oxygen is None else _within(gas.air_factor, fuel, oxygen)
    if oxygen is None or factor is None:
        return _without_air_factor(fuel, o2_pct, co2_pct, flue_c, air_c)
    humid = None
    if air_c is not None and air_humidity_pct is not None:
        humid = _within(gas.dew_point_c, fuel, factor, air_c=air_c, humidity_pct=air_humidity_pct)
    british = _bs845(fuel, o2_pct, co2_pct, flue_c, air_c)
    return SlipFigures(
        co2_from_o2_pct=gas.co2_from_o2_pct(fuel, oxygen),
        air_factor=factor,
        excess_air_pct=100.0 * (factor - 1.0),
        excess_air_short_pct=gas.excess_air_short_pct(oxygen),
        dew_point_c=_within(gas.dew_point_c, fuel, factor),
        dew_point_humid_c=humid,
        efficiency_net_bs845_pct=None if british is None else british.efficiency_net_pct,
        efficiency_gross_bs845_pct=None if british is None else british.efficiency_gross_pct,
        **_of_co(fuel, co_ppm, oxygen),
        **_of_nox(fuel, no_ppm, oxygen),
        **_heat(fuel, oxygen, factor, flue_c, air_c),
        **_condensing(fuel, factor, flue_c, air_c, input_net_kw),
    )


def _of_co(fuel: Fuel, co_ppm: float | None, oxygen: float) -> dict[str, float]:
    if co_ppm is None:
        return {}
    per_kwh = gas.co_mg_per_kwh(fuel, co_ppm, oxygen)
    at_3 = gas.at_oxygen_ppm(co_ppm, oxygen, REFERENCE_O2_PCT)
    return {
        "co_undiluted_ppm": gas.co_undiluted_ppm(co_ppm, oxygen),
        "co_mg_per_kwh": per_kwh,
        "co_mg_per_kwh_gross": per_kwh / fuel.gross_net_ratio,
        "co_at_3_o2_ppm": at_3,
        "co_at_3_o2_mg_per_m3": gas.co_mg_per_m3(at_3),
    }


def _of_nox(fuel: Fuel, no_ppm: float | None, oxygen: float) -> dict[str, float]:
    if no_ppm is None:
        return {}
    per_kwh = gas.nox_mg_per_kwh(fuel, no_ppm, oxygen)
    at_3 = gas.at_oxygen_ppm(no_ppm, oxygen, REFERENCE_O2_PCT)
    return {
        "nox_undiluted_ppm": gas.at_oxygen_ppm(no_ppm, oxygen, 0.0),
        "nox_mg_per_kwh": per_kwh,
        "nox_mg_per_kwh_gross": per_kwh / fuel.gross_net_ratio,
        "nox_at_3_o2_ppm": at_3,
        "nox_at_3_o2_mg_per_m3": gas.no2_mg_per_m3(at_3),
    }


def _heat(
    fuel: Fuel, oxygen: float, factor: float, flue_c: float | None, air_c: float | None
) -> dict[str, float | None]:
    """Return losses and efficiencies without condensing."""
    if flue_c is None or air_c is None:
        return {}
    siegert = _within(losses.loss_siegert_pct, fuel, oxygen, flue_c, air_c)
    loss = _within(losses.loss_net_pct, fuel, factor, flue_c, air_c)
    if loss is None:
        return {"loss_siegert_pct": siegert}
    return {
        "loss_siegert_pct": siegert,
        "loss_net_pct": loss,
        "efficiency_net_pct": 100.0 - loss,
        "efficiency_gross_pct": (100.0 - loss) / fuel.gross_net_ratio,
    }


def _condensing(
    fuel: Fuel, factor: float, flue_c: float | None, air_c: float | None, input_net_kw: float | None
) -> dict[str, float | None]:
    """Return what equilibrium at flue temperature would bring, and the condensate of it."""
    if flue_c is None or air_c is None:
        return {}
    heat = _within(losses.condensing, fuel, factor, flue_c, air_c)
    if heat is None:
        return {}
    kg_per_kwh = heat.condensed_fraction * fuel.h2o_kg_per_kwh_net
    litres = None
    if input_net_kw is not None:
        # Nothing condenses above 100 °C, where the density of the liquid is not asked for.
        litres = kg_per_kwh * input_net_kw / liquid_kg_per_l(flue_c) if kg_per_kwh else 0.0
    return {
        "efficiency_net_condensing_pct": heat.efficiency_net_pct,
        "efficiency_gross_condensing_pct": heat.efficiency_gross_pct,
        "condensed_fraction": heat.condensed_fraction,
        "condensate_kg_per_kwh_net": kg_per_kwh,
        "condensate_l_per_h": litres,
    }


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
