"""Siegert's formula as the ordinance prints it, and how far it lies from first principles.

1. BImSchV of 26 January 2010, Anlage 2 no. 3.4.1 (read): loss = (flue - air) * (A / (21 - O2) + B). The same
coefficients for oil and LPG stand in the Flemish order on the upkeep of heating appliances, annex II no. 4
(read, as consolidated); it prints 0.65 instead of 0.66 for natural gas, so the name of the ordinance counts.
"""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.outside.combustion import reference

from flueleaf.domain.combustion.losses import SIEGERT_O2_PCT, loss_siegert_pct
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()

# Class, A, B of the ordinance.
LAW = {
    "kerosene": ("0.68", "0.007"),
    "gas oil": ("0.68", "0.007"),
    "natural gas": ("0.66", "0.009"),
    "methane": ("0.66", "0.009"),
    "propane": ("0.63", "0.008"),
    "butane": ("0.63", "0.008"),
}


@pytest.mark.parametrize("name", LAW)
def test_siegert_of_the_ordinance(name: str) -> None:
    a, b = (Decimal(text) for text in LAW[name])
    assert SIEGERT_O2_PCT == 21.0
    for o2, flue, air in (("5", 120, 20), ("3.5", 165, 12), ("9.2", 58, 31)):
        printed = (flue - air) * (a / (21 - Decimal(o2)) + b)
        assert loss_siegert_pct(FUELS[name], float(o2), flue, air) == pytest.approx(float(printed), rel=1e-9)


# Flue 40 to 200 °C, O2 3 to 6 %, air 0 to 35 °C: gas lies within 0.13 points of first principles (Cantera),
# oil within 0.06, LPG up to 0.45 too low and never too high. The bounds are no wider than they need be.
@pytest.mark.parametrize(
    ("name", "low", "high", "least"),
    [
        ("natural gas", -0.13, 0.13, 0.11),
        ("methane", -0.13, 0.13, 0.115),
        ("kerosene", -0.06, 0.06, 0.055),
        ("gas oil", -0.06, 0.06, 0.05),
        ("propane", -0.45, 0.0, 0.43),
        ("butane", -0.45, 0.0, 0.43),
    ],
)
def test_how_far_siegert_lies_from_first_principles(name: str, low: float, high: float, least: float) -> None:
    gaps = [
        loss_siegert_pct(FUELS[name], o2, flue, air) - reference.loss_pct(name, o2, flue, air)
        for o2 in (3.0, 4.0, 5.0, 6.0)
        for flue in range(40, 201, 5)
        for air in (0.0, 10.0, 20.0, 35.0)
    ]
    assert low <= min(gaps) <= max(gaps) <= high
    assert max(abs(gap) for gap in gaps) >= least
