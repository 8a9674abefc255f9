"""``settle`` against its contract."""

from __future__ import annotations

import io
import math
import random
from pathlib import Path
from types import SimpleNamespace

import pytest
from tests.headless.conftest import Call
from tests.headless.contract import EXAMPLE, codes, edited

NONE = {"from_s": None, "to_s": None, "co_ppm": None, "o2_pct": None, "co2_pct": None}


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A boiler that comes to rest: CO falls to 60 ppm, O2 to 4.8 %, CO2 rises to 9.1 %."""
    chance = random.Random(7)
    lines = ["Zeit [s];CO-Wert;Sauerstoff;CO2 [%]"]
    for t in range(420):
        left = math.exp(-t / 30)
        gas = (60 + 140 * left + chance.gauss(0, 0.4), 4.8 + 2 * left, 9.1 - left)
        lines.append(f"{t};{gas[0]:.0f};{gas[1]:.1f};{gas[2]:.1f}".replace(".", ","))
    lines[100] = "99;---;;NaN"
    path = tmp_path / "run.csv"
    path.write_text("\n".join(lines), encoding="utf-16")
    return path


def test_the_settled_part_of_a_run(call: Call, log: Path) -> None:
    said = call("settle", log, "--co", "CO-Wert", "--o2", "Sauerstoff")
    assert (said.code, said.error) == (0, "")
    answer = said.answer
    assert answer["settled"] is True
    # After 100 s 5 ppm of the 140 are left, after 160 s 0.7.
    assert 100 < answer["from_s"] < 200
    assert answer["to_s"] - answer["from_s"] >= 60
    assert (answer["co_ppm"], answer["o2_pct"], answer["co2_pct"]) == (60, 4.8, 9.1)
    assert abs(answer["slope_ppm_per_min"]) <= 1
    assert 0 < answer["spread_ppm"] < 1


def test_a_column_that_is_not_known_is_asked_for(call: Call, log: Path) -> None:
    said = call("settle", log)
    assert (said.code, said.answer) == (2, None)
    assert said.error == "--co: missing; accepted: one of “Zeit [s]”, “CO-Wert”, “Sauerstoff”, “CO2 [%]”\n"


def test_a_run_that_never_settles(call: Call, tmp_path: Path) -> None:
    path = tmp_path / "drifting.csv"
    path.write_text("time,co\n" + "".join(f"{t},{90 + t // 10}\n" for t in range(600)))
    answer = call("settle", path).answer
    assert answer["settled"] is False
    assert answer == answer | NONE
    assert answer["slope_ppm_per_min"] == pytest.approx(6, abs=0.2)
    assert answer["spread_ppm"] == pytest.approx(1 / math.sqrt(12), abs=0.05)


def test_refusals_name_line_value_and_what_is_accepted(call: Call, tmp_path: Path) -> None:
    path = tmp_path / "run.csv"
    path.write_text("time,co\n0,60\n1,sixty\n")
    said = call("settle", path)
    assert (said.code, said.answer) == (2, None)
    assert said.error == (
        "line 3, co: “sixty” is not accepted; accepted: a number from 0 to 100,000 ppm, or an empty cell\n"
    )
    said = call("settle", tmp_path / "gone.csv")
    assert said.code == 2
    assert "a file that can be read" in said.error
    assert call("settle", path, "--cow", "x").code == 2


def test_standard_input_is_read(call: Call, monkeypatch: pytest.MonkeyPatch) -> None:
    data = b"t,co\n" + b"".join(b"%d,60\n" % t for t in range(61))
    monkeypatch.setattr("sys.stdin", SimpleNamespace(buffer=io.BytesIO(data)))
    assert call("settle", "-").answer["to_s"] == 60


def test_a_slip_says_that_its_run_had_not_settled(ask: Call) -> None:
    assert ask("assess", edited(EXAMPLE, {"slips.2.settled": True})).answer["doubts"] == []
    found = ask("assess", edited(EXAMPLE, {"slips.2.settled": False})).answer
    assert codes(found["doubts"]) == {"not-settled"}
    assert [doubt["rate"] for doubt in found["doubts"]] == ["min"]
    said = ask("assess", edited(EXAMPLE, {"slips.2.settled": "no"}))
    assert (said.code, said.error) == (
        2, "slips[2].settled: “no” is not accepted; accepted: true or false\n"
    )  # fmt: skip
