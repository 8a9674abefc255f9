"""What leaves by the flue, and the efficiency that remains, in each basis that is about.

Three ways, never mixed: first principles (heat capacities, the vapour's sensible heat counted), Siegert's
formula as the German ordinance prints it, and the style of BS 845. The first also as an upper bound with
condensation.
"""

from __future__ import annotations

from dataclasses import dataclass

from flueleaf.domain.combustion.constants import O2_IN_DRY_AIR_PCT, STANDARD_PRESSURE_KPA
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.gas import dry_flue_mol
from flueleaf.domain.combustion.species import heat_content_kj_per_mol
from flueleaf.domain.combustion.water import latent_kj_per_mol, saturation_kpa, vapour_per_dry_mole

# Accepted temperatures of flue gas and air, °C: what an instrument can show. Source: common practice.
COLDEST_C, HOTTEST_C = -30.0, 600.0
# Siegert's oxygen, % (1. BImSchV 2010, Anlage 2 no. 3.4.1; read).
SIEGERT_O2_PCT = 21.0


@dataclass(frozen=True, slots=True)
class Condensing:
    """Equilibrium with condensate at flue temperature: the most that can come of it.

    Attributes:
        efficiency_net_pct, efficiency_gross_pct: with the latent heat of the condensed part.
        condensed_fraction: part of the water made that condenses, 0 to 1.
    """

    efficiency_net_pct: float
    efficiency_gross_pct: float
    condensed_fraction: float


@dataclass(frozen=True, slots=True)
class Bs845:
    """Efficiencies in the style of BS 845."""

    efficiency_net_pct: float
    efficiency_gross_pct: float


def _check_temperatures(flue_c: float, air_c: float) -> None:
    for name, value in (("flue gas", flue_c), ("combustion air", air_c)):
        if not COLDEST_C <= value <= HOTTEST_C:
            raise ValueError(f"{name} at {value} °C is outside {COLDEST_C}..{HOTTEST_C} °C")
    if flue_c < air_c:
        raise ValueError(f"flue gas at {flue_c} °C is colder than the air at {air_c} °C: no loss to work out")


def _check_loss(loss_pct: float) -> float:
    if loss_pct > 100.0:
        raise ValueError(f"a loss of {loss_pct:.0f} % is more than the heat supplied")
    return loss_pct


def loss_net_pct(fuel: Fuel, factor: float, flue_c: float, air_c: float) -> float:
    """Return the flue loss, % of net heat input, by first principles.

    Heat that the wet products (all vapour, dry combustion air) would give up on cooling to the temperature of
    the combustion air, over the net heating value at 25 °C.

    Args:
        fuel: what burns.
        factor: air factor, 1 or more.
        flue_c, air_c: flue gas and combustion air, −30 to 600 °C, flue not below air.
    """
    _check_temperatures(flue_c, air_c)
    dry_flue_mol(fuel, factor)  # refuses an air factor below 1
    spare = factor - 1.0
    flue, air = fuel.flue_polynomial, fuel.air_polynomial
    wet = (
        flue[0] + spare * air[0],
        flue[1] + spare * air[1],
        flue[2] + spare * air[2],
        flue[3] + spare * air[3],
        flue[4] + spare * air[4],
    )
    given_up = heat_content_kj_per_mol(wet, flue_c) - heat_content_kj_per_mol(wet, air_c)
    return _check_loss(100.0 * given_up / fuel.net_kj)


def condensing(fuel: Fuel, factor: float, flue_c: float, air_c: float) -> Condensing:
    """Return efficiency and condensed fraction at equilibrium: vapour left = dry gas · p_sat / (p − p_sat).

    An upper bound, dry combustion air. Gross is held to 100 %: latent heat taken below the reference of 25 °C
    would otherwise pass it by up to 0.2.

    Args:
        fuel, factor, air_c: as for ``loss_net_pct``.
        flue_c: as there, and not below 0 °C.
    """
    if flue_c < 0.0:
        raise ValueError(f"flue gas at {flue_c} °C would freeze its water")
    net_pct = 100.0 - loss_net_pct(fuel, factor, flue_c, air_c)
    water = fuel.h2o_mol
    condensed = 0.0
    if flue_c < 100.0 and saturation_kpa(flue_c) < STANDARD_PRESSURE_KPA:
        condensed = max(0.0, water - dry_flue_mol(fuel, factor) * vapour_per_dry_mole(flue_c))
    if condensed:
        net_pct += 100.0 * condensed * latent_kj_per_mol(flue_c) / fuel.net_kj
    gross_pct = min(100.0, net_pct / fuel.gross_net_ratio)
    fraction = condensed / water if water else 0.0
    return Condensing(min(net_pct, 100.0 * fuel.gross_net_ratio), gross_pct, fraction)


def loss_siegert_pct(fuel: Fuel, o2_pct: float, flue_c: float, air_c: float) -> float:
    """Return Siegert's flue loss, % of net heat input: (flue − air) · (A / (21 − O2) + B).

    Args:
        fuel: one whose class has coefficients.
        o2_pct: oxygen, 0 <= O2 < 20.95.
        flue_c, air_c: as for ``loss_net_pct``.
    """
    if fuel.siegert is None:
        raise ValueError(f"{fuel.name} has no Siegert coefficients")
    if not 0.0 <= o2_pct < O2_IN_DRY_AIR_PCT:
        raise ValueError(f"oxygen {o2_pct} % is outside 0..{O2_IN_DRY_AIR_PCT} %")
    _check_temperatures(flue_c, air_c)
    slope = fuel.siegert.a / (SIEGERT_O2_PCT - o2_pct) + fuel.siegert.b
    return _check_loss((flue_c - air_c) * slope)


def bs845(fuel: Fuel, co2_pct: float, flue_c: float, air_c: float) -> Bs845:
    """Return efficiencies in the style of BS 845-1:1987 (formulas recalled).

    Dry loss K1 · (flue − air) / CO2 with K1 = 255 · C% / Q; gross also loses
    9 · H% · (2488 + 2.1 flue − 4.2 air) / Q. C and H are mass % of the fuel (the carbon of its CO2 included,
    which shows in the flue too), Q the net or gross heating value in kJ/kg.

    Args:
        fuel: what burns.
        co2_pct: carbon dioxide in dry flue gas, above 0 and not above the fuel's maximum.
        flue_c, air_c: as for ``loss_net_pct``.
    """
    if not 0.0 < co2_pct <= fuel.co2_max_pct:
        raise ValueError(f"carbon dioxide {co2_pct} % is outside 0..{fuel.co2_max_pct:.2f} % of {fuel.name}")
    _check_temperatures(flue_c, air_c)
    dry = 255.0 * fuel.carbon_mass_pct * (flue_c - air_c) / co2_pct / 1000.0
    wet = 9.0 * fuel.hydrogen_mass_pct * (2488.0 + 2.1 * flue_c - 4.2 * air_c) / 1000.0
    net_loss = _check_loss(dry / fuel.net_mj_per_kg)
    gross_loss = _check_loss((dry + wet) / fuel.gross_mj_per_kg)
    return Bs845(100.0 - net_loss, 100.0 - gross_loss)
