from __future__ import annotations

import pytest

from flueleaf.domain.combustion import constants


def test_the_molar_volume_at_15_degrees_follows_from_the_gas_constant() -> None:
    # 23.6448 l/mol: ISO 6976:2016, ideal molar volume at 15 °C (recalled).
    assert pytest.approx(0.0236448, abs=5e-8) == constants.MOLAR_VOLUME_15C_M3
