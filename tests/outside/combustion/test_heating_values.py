"""Heat of combustion and molar mass of the single gases against the ``chemicals`` library."""

from __future__ import annotations

import pytest
from chemicals import MW, Hfg, Hfl

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.combustion.species import FUEL_GASES

CAS = {
    "methane": "74-82-8",
    "ethane": "74-84-0",
    "propane": "74-98-6",
    "n-butane": "106-97-8",
    "isobutane": "75-28-5",
    "n-pentane": "109-66-0",
    "isopentane": "78-78-4",
    "neopentane": "463-82-1",
    "hydrogen": "1333-74-0",
    "carbon monoxide": "630-08-0",
}


def pure(name: str) -> Fuel:
    return Fuel(name, "gas", {name: 1.0})


# Hess's law with another compilation than ours (API Technical Data Book, else CRC): ``chemicals``.
@pytest.mark.parametrize("name", CAS)
def test_net_heat_from_another_compilation(name: str) -> None:
    atoms = FUEL_GASES[name]
    method = "CRC" if name in {"hydrogen", "carbon monoxide"} else "API_TDB_G"
    made = atoms.carbon * Hfg("124-38-9", method="WEBBOOK") + atoms.hydrogen / 2.0 * Hfg(
        "7732-18-5", method="WEBBOOK"
    )
    assert pure(name).net_kj == pytest.approx((Hfg(CAS[name], method=method) - made) / 1000.0, rel=0.001)


# Heat of vaporisation of water at 25 °C, JANAF formation enthalpies: ``chemicals``.
def test_gross_less_net_is_the_heat_of_vaporisation() -> None:
    vaporising = (Hfg("7732-18-5", method="JANAF") - Hfl("7732-18-5", method="JANAF")) / 1000.0
    hydrogen = pure("hydrogen")
    assert hydrogen.gross_kj - hydrogen.net_kj == pytest.approx(vaporising, abs=0.005)


# Molar masses: ``chemicals``.
@pytest.mark.parametrize("name", CAS)
def test_molar_mass(name: str) -> None:
    assert FUEL_GASES[name].g_per_mol == pytest.approx(MW(CAS[name]), rel=1e-5)
