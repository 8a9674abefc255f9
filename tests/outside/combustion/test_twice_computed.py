"""Constants computed beforehand by two independent routes, printed to the digits given.

Source: atom-count stoichiometry with the ``chemicals`` library, and Cantera equilibrium; dry air 20.95 % O2.
"""

from __future__ import annotations

import pytest

from flueleaf.domain.combustion import gas, losses
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()

# key, how far off, then methane, natural gas, propane, butane, kerosene, gas oil (None: not computed there).
NAMES = ("methane", "natural gas", "propane", "butane", "kerosene", "gas oil")
ROWS: list[tuple[str, float, tuple[float | None, ...]]] = [
    ("co2_max_pct", 0.01, (11.70, 12.04, 13.72, 14.02, 15.14, 15.38)),
    ("k", 0.0001, (0.8952, 0.9001, 0.9162, 0.9194, None, None)),
    ("k", 0.0006, (None, None, None, None, 0.932, 0.934)),
    ("gross_net_ratio", 0.0002, (1.1096, 1.1068, 1.0861, 1.0829, None, None)),
    ("gross_net_ratio", 0.005, (None, None, None, None, 1.07, 1.07)),
    ("gross_mj_per_m3", 0.02, (37.78, 39.62, 95.67, 125.55, None, None)),
    ("net_mj_per_m3", 0.02, (34.02, 35.76, 88.02, 115.85, None, None)),
    ("net_mj_per_kg", 0.01, (50.03, 47.18, 46.34, 45.63, 43.11, 42.50)),
    ("dry_flue_m3_per_kwh_net", 0.0001, (0.9064, 0.9091, 0.9109, 0.9155, None, None)),
    ("h2o_kg_per_kwh_net", 0.0001, (0.1616, 0.1575, 0.1270, 0.1223, None, None)),
    ("h2o_kg_per_kwh_net", 0.001, (None, None, None, None, 0.105, None)),
    ("co_mg_per_kwh_net_per_ppm", 0.0002, (1.0738, 1.0770, 1.0791, 1.0845, None, None)),
    ("co_mg_per_kwh_net_per_ppm", 0.001, (None, None, None, None, 1.106, 1.111)),
    ("nox_mg_per_kwh_net_per_ppm", 0.0003, (1.7636, 1.7689, 1.7723, 1.7812, None, None)),
    ("nox_mg_per_kwh_net_per_ppm", 0.002, (None, None, None, None, 1.817, 1.826)),
    ("dew_point_c", 0.1, (59.2, 58.7, 54.9, 54.1, 51.0, 50.3)),
]
CASES = [
    pytest.param(name, key, value, off, id=f"{name}-{key}")
    for key, off, values in ROWS
    for name, value in zip(NAMES, values, strict=True)
    if value is not None
]


@pytest.mark.parametrize(("name", "key", "value", "off"), CASES)
def test_constants_of_a_fuel(name: str, key: str, value: float, off: float) -> None:
    assert getattr(FUELS[name], key) == pytest.approx(value, abs=off)


# Dew point, dry air, at air factor 1.2 and 1.5.
@pytest.mark.parametrize(
    ("name", "factor", "dew_c"),
    [
        ("methane", 1.2, 55.7),
        ("methane", 1.5, 51.4),
        ("natural gas", 1.2, 55.2),
        ("natural gas", 1.5, 50.9),
        ("propane", 1.2, 51.4),
        ("propane", 1.5, 47.2),
        ("butane", 1.2, 50.6),
        ("butane", 1.5, 46.4),
        ("kerosene", 1.2, 47.6),
        ("kerosene", 1.5, 43.4),
        ("gas oil", 1.2, 46.8),
        ("gas oil", 1.5, 42.7),
    ],
)
def test_dew_points_with_more_air(name: str, factor: float, dew_c: float) -> None:
    assert gas.dew_point_c(FUELS[name], factor) == pytest.approx(dew_c, abs=0.1)


# Air 20 °C; net and gross efficiency, without condensing credit and at equilibrium.
@pytest.mark.parametrize(
    ("name", "o2_pct", "flue_c", "net_pct", "gross_pct"),
    [
        ("methane", 4.0, 60.0, 98.09, 88.40),
        ("methane", 4.0, 50.0, 101.42, 91.40),
        ("methane", 4.0, 100.0, 96.16, 86.66),
        ("propane", 5.0, 80.0, 97.06, 89.37),
    ],
)
def test_check_rows(name: str, o2_pct: float, flue_c: float, net_pct: float, gross_pct: float) -> None:
    fuel = FUELS[name]
    heat = losses.condensing(fuel, gas.air_factor(fuel, o2_pct), flue_c, 20.0)
    assert heat.efficiency_net_pct == pytest.approx(net_pct, abs=0.01)
    assert heat.efficiency_gross_pct == pytest.approx(gross_pct, abs=0.01)
