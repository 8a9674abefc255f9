"""BS 845 style by its printed formula, worked in decimals from atomic masses and heating values.

K1 = 255 * carbon % / Q with Q in kJ/kg, net or gross; dry loss = K1 * (flue - air) / CO2; gross efficiency
also loses 9 * hydrogen % * (2488 + 2.1 * flue - 4.2 * air) / Q gross. K1 was read in the instructions of an
analyser that quote BS 845; the wet term is recalled, the standard itself was not seen.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

import pytest

from flueleaf.domain.combustion import losses
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()
C, H = Decimal("12.011"), Decimal("1.008")  # IUPAC, abridged


class Analysis(NamedTuple):
    """Mass % of carbon and hydrogen; net and gross heating value, kJ/kg."""

    carbon: Decimal
    hydrogen: Decimal
    net: Decimal
    gross: Decimal


def alkane(carbon: int, gross_kj_per_mol: str) -> Analysis:
    """Return the analysis of CnH2n+2 from ISO 6976:2016, table 3 (25 °C), and A.5 (44.013 kJ/mol)."""
    hydrogen = 2 * carbon + 2
    grams = carbon * C + hydrogen * H
    gross = Decimal(gross_kj_per_mol)
    net = gross - Decimal(hydrogen) / 2 * Decimal("44.013")
    return Analysis(
        100 * carbon * C / grams, 100 * hydrogen * H / grams, 1000 * net / grams, 1000 * gross / grams
    )


def oil(carbon: str, hydrogen: str, net_mj_per_kg: str) -> Analysis:
    """Return the analysis of an oil; its gross value is the net one and the heat of its water."""
    net = Decimal(net_mj_per_kg) * 1000
    water_mol = Decimal(hydrogen) * 10 / H / 2
    return Analysis(Decimal(carbon), Decimal(hydrogen), net, net + water_mol * Decimal("44.013"))


def supply() -> Analysis:
    """Return the analysis of the natural gas of the fuel table, its moles counted by hand."""
    carbon = Decimal("0.905") + 2 * Decimal("0.052") + 3 * Decimal("0.0135")
    carbon += 4 * Decimal("0.0045") + 5 * Decimal("0.001") + Decimal("0.012")
    hydrogen = 4 * Decimal("0.905") + 6 * Decimal("0.052") + 8 * Decimal("0.0135")
    hydrogen += 10 * Decimal("0.0045") + 12 * Decimal("0.001")
    grams = carbon * C + hydrogen * H + Decimal("0.012") * (2 * Decimal("15.999") + Decimal("28.014"))
    gross = (
        Decimal("0.905") * Decimal("890.58")
        + Decimal("0.052") * Decimal("1560.69")
        + Decimal("0.0135") * Decimal("2219.17")
        + Decimal("0.0025") * Decimal("2877.40")
        + Decimal("0.0020") * Decimal("2868.20")
        + Decimal("0.0010") * Decimal("3535.77")
    )
    net = gross - hydrogen / 2 * Decimal("44.013")
    return Analysis(
        100 * carbon * C / grams, 100 * hydrogen * H / grams, 1000 * net / grams, 1000 * gross / grams
    )


def half_and_half() -> Analysis:
    """Return the analysis of equal parts of n-butane and isobutane."""
    return alkane(4, str((Decimal("2877.40") + Decimal("2868.20")) / 2))


ANALYSES = {
    "natural gas": supply(),
    "methane": alkane(1, "890.58"),
    "propane": alkane(3, "2219.17"),
    "butane": half_and_half(),
    "kerosene": oil("86.0", "14.0", "43.11"),
    "gas oil": oil("86.5", "13.3", "42.50"),
}
READINGS = [("9.0", "60", "20"), ("10.5", "140", "15"), ("4.2", "230", "5")]


@pytest.mark.parametrize(("co2", "flue", "air"), READINGS)
@pytest.mark.parametrize("name", ANALYSES)
def test_efficiency_by_the_printed_formula(name: str, co2: str, flue: str, air: str) -> None:
    fuel, warmer = ANALYSES[name], Decimal(flue) - Decimal(air)
    dry_net = 255 * fuel.carbon / fuel.net * warmer / Decimal(co2)
    dry_gross = 255 * fuel.carbon / fuel.gross * warmer / Decimal(co2)
    steam = 2488 + Decimal("2.1") * Decimal(flue) - Decimal("4.2") * Decimal(air)
    wet = 9 * fuel.hydrogen * steam / fuel.gross
    ours = losses.bs845(FUELS[name], float(co2), float(flue), float(air))
    assert ours.efficiency_net_pct == pytest.approx(float(100 - dry_net), abs=0.005)
    assert ours.efficiency_gross_pct == pytest.approx(float(100 - dry_gross - wet), abs=0.005)


# The worth of K1 for methane, written out in full: 255 * 74.868 / 50,026 = 0.38163 on net heat,
# 255 * 74.868 / 55,513 = 0.34391 on gross; wet term at 60 and 20 °C 9 * 25.132 * 2530 / 55,513 = 10.3085.
def test_methane_in_full() -> None:
    ours = losses.bs845(FUELS["methane"], 9.0, 60.0, 20.0)
    assert ours.efficiency_net_pct == pytest.approx(100 - 0.38163 * 40 / 9, abs=0.001)
    assert ours.efficiency_gross_pct == pytest.approx(100 - 0.34391 * 40 / 9 - 10.3085, abs=0.002)
