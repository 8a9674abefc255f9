"""Saturation and latent heat of water against IAPWS."""

from __future__ import annotations

import iapws
import pytest

from flueleaf.domain.combustion.water import latent_kj_per_mol, saturation_c, saturation_kpa

G_PER_MOL = 18.015268  # IAPWS R6-95, molar mass of water


# IAPWS-IF97 (revised release 2007), table 35: kelvin, MPa.
@pytest.mark.parametrize(
    ("kelvin", "mpa"), [(300.0, 0.353658941e-2), (500.0, 0.263889776e1), (600.0, 0.123443146e2)]
)
def test_verification_values_of_pressure(kelvin: float, mpa: float) -> None:
    assert saturation_kpa(kelvin - 273.15) / 1000.0 == pytest.approx(mpa, rel=1e-8)


# IAPWS-IF97 (revised release 2007), table 36: MPa, kelvin.
@pytest.mark.parametrize(
    ("mpa", "kelvin"), [(0.1, 0.372755919e3), (1.0, 0.453035632e3), (10.0, 0.584149488e3)]
)
def test_verification_values_of_temperature(mpa: float, kelvin: float) -> None:
    assert saturation_c(mpa * 1000.0) + 273.15 == pytest.approx(kelvin, abs=5e-7)


# IAPWS-95, pressure of the saturated state, another equation than ours: ``iapws``.
@pytest.mark.parametrize("water_c", [1.0, 10.0, 20.0, 30.0, 40.0, 50.0, 55.0, 60.0, 70.0, 80.0, 90.0, 99.0])
def test_vapour_pressure_by_another_equation(water_c: float) -> None:
    assert saturation_kpa(water_c) == pytest.approx(
        iapws.IAPWS95(T=water_c + 273.15, x=0).P * 1000.0, rel=3e-4
    )


# IAPWS-95, saturated vapour less saturated liquid: ``iapws``. Ours takes the vapour for ideal.
@pytest.mark.parametrize("water_c", [5.0, 15.0, 25.0, 40.0, 50.0, 60.0])
def test_latent_heat(water_c: float) -> None:
    vapour = iapws.IAPWS95(T=water_c + 273.15, x=1).h
    liquid = iapws.IAPWS95(T=water_c + 273.15, x=0).h
    assert latent_kj_per_mol(water_c) * 1000.0 / G_PER_MOL == pytest.approx(vapour - liquid, rel=3e-3)
