"""Constants of standards and statutes that others have printed."""

from __future__ import annotations

from typing import Any

import pytest

from flueleaf.domain.combustion import gas
from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.species import FUEL_GASES
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()


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


# Flemish order on the upkeep of heating appliances, annex II no. 3.2, heating oil: 1 mg/m3 of CO free of air
# is 0.889 mg/kWh (read, as consolidated; the 1.101 it prints for a ppm is 0.9 % below its own 0.889).
def test_emission_factor_of_heating_oil() -> None:
    per_mg = FUELS["gas oil"].co_mg_per_kwh_net_per_ppm / gas.co_mg_per_m3(1.0)
    assert per_mg == pytest.approx(0.889, abs=0.0015)


# EN 437, table of test gases, 15 °C dry, 101.325 kPa: composition by volume, net and gross MJ/m3, relative
# density, gross Wobbe index. G222, G23 and G24 were read in an excerpt of EN 437:2003+A1:2009, the others are
# recalled. Its real-gas factors are older, of ISO 6976:1995: butanes lie 0.2 % off, and the 0.577 of G24
# stands beside a Wobbe index that asks for 0.5765.
EN_437_READ = [
    ("G222", {"methane": 77.0, "hydrogen": 23.0}, (28.53, 31.86, 0.443, 47.87), 0.0006),
    ("G23", {"methane": 92.5, "nitrogen": 7.5}, (31.46, 34.95, 0.586, 45.66), 0.0006),
    ("G24", {"methane": 68.0, "propane": 12.0, "hydrogen": 20.0}, (35.70, 39.55, 0.577, 52.09), 0.0006),
]
EN_437_RECALLED = [
    ("G20", {"methane": 100.0}, (34.02, 37.78, 0.555, 50.72), 0.0006),
    ("G21", {"methane": 87.0, "propane": 13.0}, (41.01, 45.28, 0.684, 54.76), 0.0006),
    ("G25", {"methane": 86.0, "nitrogen": 14.0}, (29.25, 32.49, 0.612, 41.52), 0.0006),
    ("G30", {"n-butane": 50.0, "isobutane": 50.0}, (116.09, 125.81, 2.075, 87.33), 0.0025),
    ("G31", {"propane": 100.0}, (88.00, 95.65, 1.550, 76.84), 0.0006),
]
EN_437_KEYS = ("net_mj_per_m3", "gross_mj_per_m3", "relative_density", "wobbe_gross_mj_per_m3")


KEYS = pytest.mark.parametrize("place", range(4), ids=EN_437_KEYS)


def as_printed(volume_pct: dict[str, float], printed: tuple[float, ...], off: float, place: int) -> None:
    moles = {gas_: pct / (1.0 - FUEL_GASES[gas_].summation_factor ** 2) for gas_, pct in volume_pct.items()}
    fuel = Fuel("test gas", "gas", {gas_: amount / sum(moles.values()) for gas_, amount in moles.items()})
    rounding = 0.0005 if place == 2 else 0.005
    found = getattr(fuel, EN_437_KEYS[place])
    assert found == pytest.approx(printed[place], abs=rounding + off * printed[place])


@KEYS
@pytest.mark.parametrize("row", EN_437_READ, ids=lambda row: row[0])
def test_test_gases_of_en_437_read(row: tuple[Any, ...], place: int) -> None:
    as_printed(*row[1:], place)


@KEYS
@pytest.mark.parametrize("row", EN_437_RECALLED, ids=lambda row: row[0])
def test_test_gases_of_en_437_recalled(row: tuple[Any, ...], place: int) -> None:
    as_printed(*row[1:], place)
