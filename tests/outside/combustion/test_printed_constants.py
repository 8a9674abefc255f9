"""Constants of standards and statutes that others have printed."""

from __future__ import annotations

from decimal import Decimal

import pytest

from flueleaf.domain.combustion import gas
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.gas_rate import M3_PER_FT3, MeterRun, billing_kwh, gas_rate
from flueleaf.domain.combustion.losses import SIEGERT_O2_PCT, loss_siegert_pct
from flueleaf.domain.combustion.species import FUEL_GASES
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()

# German ordinance 1. BImSchV (2010), Anlage 2 no. 3.4.1, oxygen form (read): class, A, B.
SIEGERT_LAW = [
    ("kerosene", 0.68, 0.007),
    ("gas oil", 0.68, 0.007),
    ("natural gas", 0.66, 0.009),
    ("methane", 0.66, 0.009),
    ("propane", 0.63, 0.008),
    ("butane", 0.63, 0.008),
]


@pytest.mark.parametrize(("name", "a", "b"), SIEGERT_LAW)
def test_siegert_of_the_ordinance(name: str, a: float, b: float) -> None:
    # Written out here from the ordinance's text, 21 % oxygen included.
    assert SIEGERT_O2_PCT == 21.0
    assert loss_siegert_pct(FUELS[name], 5.0, 120.0, 20.0) == pytest.approx(100.0 * (a / 16.0 + b))


# EN 15502-1: mg/kWh net for each ppm free of air, G20 (printed 1.074 and 1.764; recalled).
@pytest.mark.parametrize(
    ("key", "printed"), [("co_mg_per_kwh_net_per_ppm", 1.074), ("nox_mg_per_kwh_net_per_ppm", 1.764)]
)
def test_emission_factors_of_en_15502(key: str, printed: float) -> None:
    assert getattr(FUELS["methane"], key) == pytest.approx(printed, abs=0.0005)


# mg/m3 of one ppm at 0 °C and 101.325 kPa: CO 1.2497, NO2 2.0525 (molar masses over 22.414 l/mol).
def test_milligrams_of_a_ppm() -> None:
    assert gas.co_mg_per_m3(1.0) == pytest.approx(28.010 / 22.41397, rel=5e-5)
    assert gas.co_mg_per_m3(1.0) == pytest.approx(1.2497, abs=5e-5)
    assert gas.no2_mg_per_m3(1.0) == pytest.approx(2.0525, abs=5e-5)


# EN 437:2021, table of test gases, 15 °C dry, 101.325 kPa: composition by volume, net and gross MJ/m3,
# relative density, gross Wobbe index (recalled). Its real-gas factors are older, of ISO 6976:1995: butanes
# lie 0.2 % off.
EN_437 = [
    ("G20", {"methane": 100.0}, (34.02, 37.78, 0.555, 50.72), 0.001),
    ("G21", {"methane": 87.0, "propane": 13.0}, (41.01, 45.28, 0.684, 54.76), 0.001),
    ("G222", {"methane": 77.0, "hydrogen": 23.0}, (28.53, 31.86, 0.443, 47.87), 0.001),
    ("G23", {"methane": 92.5, "nitrogen": 7.5}, (31.46, 34.95, 0.586, 45.66), 0.001),
    ("G25", {"methane": 86.0, "nitrogen": 14.0}, (29.25, 32.49, 0.612, 41.52), 0.001),
    ("G30", {"n-butane": 50.0, "isobutane": 50.0}, (116.09, 125.81, 2.075, 87.33), 0.0025),
    ("G31", {"propane": 100.0}, (88.00, 95.65, 1.550, 76.84), 0.001),
]
EN_437_KEYS = ("net_mj_per_m3", "gross_mj_per_m3", "relative_density", "wobbe_gross_mj_per_m3")


@pytest.mark.parametrize("place", range(4), ids=EN_437_KEYS)
@pytest.mark.parametrize(("name", "volume_pct", "printed", "off"), EN_437, ids=[row[0] for row in EN_437])
def test_test_gases_of_en_437(
    name: str, volume_pct: dict[str, float], printed: tuple[float, ...], off: float, place: int
) -> None:
    moles = {gas_: pct / (1.0 - FUEL_GASES[gas_].summation_factor ** 2) for gas_, pct in volume_pct.items()}
    fuel = Fuel(name, "gas", {gas_: amount / sum(moles.values()) for gas_, amount in moles.items()})
    last_digit = 0.0005 if place == 2 else 0.005
    found = getattr(fuel, EN_437_KEYS[place])
    assert found == pytest.approx(printed[place], rel=off, abs=last_digit)


# Exact conversions (Weights and Measures Act 1985; 1 ft = 0.3048 m) and the Btu of ISO 31-4, 1055.056 J.
def test_cubic_foot() -> None:
    assert Decimal("0.3048") ** 3 == M3_PER_FT3


# 1040 Btu/ft3 is 38.75 MJ/m3; 1 kW is 3412.14 Btu/h (exact conversions, computed).
def test_heat_input_in_british_units_is_the_same_heat() -> None:
    btu_j = 1055.05585262
    cv = Decimal(1040) * Decimal(str(btu_j)) / Decimal("0.3048") ** 3 / 1_000_000
    assert float(cv) == pytest.approx(38.75, abs=0.005)
    rate = gas_rate(FUELS["natural gas"], MeterRun("ft3", Decimal(1), Decimal(36)), calorific_value_mj_m3=cv)
    assert rate.input_gross_kw * 3412.14 == pytest.approx(1040.0 * 100.0, rel=2e-6)


# Gas (Calculation of Thermal Energy) Regulations 1996 (SI 1996/439): m3 x 1.02264 x CV / 3.6.
def test_a_bill_of_two_cubic_metres() -> None:
    assert round(billing_kwh(Decimal(2), Decimal("39.3")), 2) == Decimal("22.33")
