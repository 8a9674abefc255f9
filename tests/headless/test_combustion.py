from __future__ import annotations

import json
from pathlib import Path

import pytest

from flueleaf.headless.main import run

RUN = {
    "fuel": "natural gas",
    "meter": {"unit": "m3", "volume": 0.082, "seconds": 120},
    "calorific_value_mj_m3": 39.4,
}


def test_fuel_prints_one_json_document(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["fuel", "gas oil"]) == 0
    shown = json.loads(capsys.readouterr().out)
    assert shown["co2_max_pct"] == pytest.approx(15.38, abs=0.01)
    assert shown["gross_mj_per_m3"] is None


def test_a_misspelt_fuel_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["fuel", "gasoil"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "“gasoil” is not accepted" in err


def test_gas_rate_reads_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "run.json"
    path.write_text(json.dumps(RUN), encoding="utf-8")
    assert run(["gas-rate", str(path)]) == 0
    assert json.loads(capsys.readouterr().out)["input_gross_kw"] == pytest.approx(2.46 * 39.4 / 3.6)


def test_a_faulty_run_is_refused_fault_by_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "run.json"
    path.write_text(json.dumps(RUN | {"fuel": "gas oil", "cv": 39}), encoding="utf-8")
    assert run(["gas-rate", str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert [line.split(":")[0] for line in err.splitlines()] == ["fuel", "cv"]
