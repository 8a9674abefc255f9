from __future__ import annotations

import os
import subprocess
import sys
from typing import Any

import pytest

from flueleaf.domain.problems import Refused
from flueleaf.operations.combustion import fuel_document, gas_rate_document
from flueleaf.storage.tables.fuels import load_fuels

KEYS = [
    "co2_max_pct",
    "k",
    "gross_net_ratio",
    "gross_mj_per_m3",
    "net_mj_per_m3",
    "net_mj_per_kg",
    "dry_flue_m3_per_kwh_net",
    "h2o_kg_per_kwh_net",
    "co_mg_per_kwh_net_per_ppm",
    "nox_mg_per_kwh_net_per_ppm",
    "relative_density",
    "wobbe_gross_mj_per_m3",
    "dew_point_c",
]
RUN: dict[str, Any] = {
    "fuel": "natural gas",
    "meter": {"unit": "m3", "volume": "0.082", "seconds": 120},
    "calorific_value_mj_m3": "39.4",
}


@pytest.mark.parametrize("name", load_fuels())
def test_a_fuel_shows_the_contracts_constants(name: str) -> None:
    shown = fuel_document(name)
    assert list(shown)[: len(KEYS)] == KEYS
    missing = {key for key in KEYS if shown[key] is None}
    by_volume = {"gross_mj_per_m3", "net_mj_per_m3", "relative_density", "wobbe_gross_mj_per_m3"}
    assert missing == (by_volume if load_fuels()[name].state == "liquid" else set())


def test_an_unknown_fuel_is_refused_with_the_known_ones() -> None:
    with pytest.raises(Refused, match="“natural gas”"):
        fuel_document("peat")


def test_without_a_plate_there_is_no_deviation() -> None:
    shown = gas_rate_document(RUN)
    assert shown["volume_m3_per_h"] == pytest.approx(2.46)
    assert {"input_gross_kw", "input_net_kw"} <= set(shown)
    assert not {"deviation_pct", "verdict", "why"} & set(shown)


def test_with_a_plate_there_is_a_deviation_and_a_verdict() -> None:
    plate = {"rated_input": {"basis": "net", "kw": 24}, "tolerance_pct": {"plus": 5, "minus": 10}}
    shown = gas_rate_document(RUN | plate)
    assert shown["deviation_pct"] == pytest.approx(100.0 * (shown["input_net_kw"] / 24.0 - 1.0))
    assert shown["verdict"] == "within"


def test_the_day_of_the_calorific_value_is_shown() -> None:
    assert (
        gas_rate_document(RUN | {"calorific_value_date": "2026-11-20"})["calorific_value_date"]
        == "2026-11-20"
    )
    assert "calorific_value_date" not in gas_rate_document(RUN)


def test_nothing_heavy_is_loaded_for_a_figure() -> None:
    code = (
        "import sys; from flueleaf.operations.combustion import fuel_document; fuel_document('methane');"
        "import flueleaf.domain.combustion.slip_figures;"
        "print(sorted({'numpy', 'cantera', 'matplotlib', 'scipy', 'fpdf', 'PySide6'} & set(sys.modules)))"
    )
    path = os.pathsep.join(entry for entry in sys.path if entry)
    told = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": path},
        capture_output=True,
        text=True,
        check=True,
    )
    assert told.stdout.strip() == "[]"
