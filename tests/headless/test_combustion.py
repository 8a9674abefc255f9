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


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("blend.toml", 'name = "blend"\nstate = "gas"\nsource = "a notice"\n[mole_pct]\nhydrogen = 100\n'),
        (
            "blend.json",
            '{"name": "blend", "state": "gas", "source": "a notice", "mole_pct": {"hydrogen": 100}}',
        ),
    ],
)
def test_a_fuel_may_be_described_in_a_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, text: str
) -> None:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    assert run(["fuel", str(path)]) == 0
    shown = json.loads(capsys.readouterr().out)
    assert (shown["name"], shown["source"], shown["co2_max_pct"]) == ("blend", "a notice", 0.0)


def test_a_faulty_fuel_file_is_refused_at_its_key(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "blend.toml"
    path.write_text('name = "blend"\nstate = "gas"\nsorce = "a notice"\n', encoding="utf-8")
    assert run(["fuel", str(path)]) == 2
    out, err = capsys.readouterr()
    assert (out, err.partition(":")[0]) == ("", "sorce")


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
