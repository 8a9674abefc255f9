"""``trend`` against its contract: CSV ``date,value`` and ``--limit X``."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from flueleaf.headless.main import run

KEYS = {
    "n",
    "slope_per_year",
    "slope_low",
    "slope_high",
    "significant",
    "reaches_limit_on",
    "earliest",
    "latest",
}
RISING = (
    "date,value\n2020-11-03,57\n2021-11-05,70\n2022-11-04,81\n2023-11-10,90\n2024-11-01,99\n2025-11-08,117\n"
)


def ask(capsys: Any, tmp_path: Path, text: str, *more: str) -> tuple[int, Any, str]:
    file = tmp_path / "co.csv"
    file.write_text(text, encoding="utf-8")
    code = run(["trend", str(file), *more])
    told = capsys.readouterr()
    return code, json.loads(told.out) if told.out else None, told.err


def test_a_drift_and_its_day(capsys: Any, tmp_path: Path) -> None:
    code, answer, error = ask(capsys, tmp_path, RISING, "--limit", "350")
    assert (code, error) == (0, "")
    assert set(answer) >= KEYS
    # scipy.stats.theilslopes 1.17 on these rows, years of 365.25 days
    assert answer["slope_per_year"] == pytest.approx(11.037774725274726)
    assert answer["slope_low"] == pytest.approx(9.030906593406593)
    assert answer["slope_high"] == pytest.approx(13.527777777777777)
    assert (answer["n"], answer["significant"]) == (6, True)
    assert answer["earliest"] < answer["reaches_limit_on"] < answer["latest"]
    assert answer["reaches_limit_on"] == "2047-04-25"


def test_no_drift_no_day(capsys: Any, tmp_path: Path) -> None:
    code, answer, _ = ask(capsys, tmp_path, "".join(RISING.splitlines(keepends=True)[:5]), "--limit", "350")
    assert (code, answer["n"], answer["significant"]) == (0, 4, False)
    assert (answer["reaches_limit_on"], answer["earliest"], answer["latest"]) == (None, None, None)
    assert answer["slope_low"] < answer["slope_per_year"] < answer["slope_high"]
    assert answer["text"] == "no drift can be claimed from 4 readings"


def test_one_reading_is_an_answer(capsys: Any, tmp_path: Path) -> None:
    code, answer, _ = ask(capsys, tmp_path, "date,value\n2020-11-03,57\n", "--limit", "350")
    assert (code, answer["n"], answer["slope_per_year"], answer["significant"]) == (0, 1, None, False)


def test_the_limit_may_be_left_out_or_lie_below_nothing(capsys: Any, tmp_path: Path) -> None:
    assert ask(capsys, tmp_path, RISING)[1]["reaches_limit_on"] is None
    assert ask(capsys, tmp_path, RISING, "--limit", "-5")[1]["reaches_limit_on"] is None


def test_standard_input_is_read(tmp_path: Path) -> None:
    told = subprocess.run(
        [sys.executable, "-m", "flueleaf", "trend", "-", "--limit", "350"],
        input="\ufeff" + RISING,
        capture_output=True,
        encoding="utf-8",
        cwd=tmp_path,
        check=True,
    )
    assert json.loads(told.stdout)["n"] == 6


@pytest.mark.parametrize(
    ("text", "more", "where"),
    [
        ("", (), "co.csv"),
        ("date,value\n", (), "co.csv"),
        ("date,value\n2020-11-03,57\nsoon,58\n", (), "line 3, date"),
        ("date,value\n2020-11-03,57\n2021-11-03,58 ppm\n", (), "line 3, value"),
        ("day;co\n", (), "line 1"),
        (RISING, ("--limit", "350 ppm"), "--limit"),
        (RISING, ("--limit", "nan"), "--limit"),
    ],
)
def test_what_is_refused_is_named(
    capsys: Any, tmp_path: Path, text: str, more: tuple[str, ...], where: str
) -> None:
    code, answer, error = ask(capsys, tmp_path, text, *more)
    assert (code, answer) == (2, None)
    assert error.startswith(f"{where}: ")
    assert "accepted: " in error
    assert len(error.splitlines()) == 1


def test_a_file_that_is_not_there_is_refused(capsys: Any, tmp_path: Path) -> None:
    assert run(["trend", str(tmp_path / "none.csv")]) == 2
    assert "FILE" in capsys.readouterr().err
