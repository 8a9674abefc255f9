"""What the contract refuses, of every command that reads JSON; how a refusal and a result look.

An input key that is not known is refused, and what is out of range or not finite; exit code 2, one line per
fault on standard error (where, the value, what is accepted), nothing on standard output.
"""

from __future__ import annotations

import copy
import io
import json
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from tests.headless.contract import EXAMPLE, EXAMPLE_TEXT, GONE, TALLY, edited

from flueleaf.paths import DEMO_DB

Changes = dict[str, Any]

RUN: dict[str, Any] = {
    "fuel": "natural gas",
    "meter": {"unit": "m3", "volume": "0.083", "seconds": 120},
    "calorific_value_mj_m3": 39.4,
    "rated_input": {"basis": "net", "kw": 24.0},
    "tolerance_pct": {"plus": 5, "minus": 5},
}
PREVIOUS = [
    {
        "date": "2025-11-20",
        "slips": [{**EXAMPLE["slips"][1]}],
        "instrument": copy.deepcopy(EXAMPLE["instrument"]),
    }
]
ADJUSTED = {**TALLY, "adjustments": [{"text": "x", "amount": "-1", "vat_pct": "20"}]}

# Every level of every document: a key more is refused by its path.
LEVELS: list[tuple[str, dict[str, Any], list[str]]] = [
    (
        "assess",
        {**EXAMPLE, "previous": PREVIOUS},
        [
            "surplus",
            "appliance.surplus",
            "appliance.limits.surplus",
            "appliance.limits.co2_pct.surplus",
            "appliance.rated_input.surplus",
            "instrument.surplus",
            "instrument.tolerance.surplus",
            "instrument.tolerance.co_ppm.surplus",
            "slips.0.surplus",
            "slips.2.surplus",
            "previous.0.surplus",
            "previous.0.slips.0.surplus",
            "previous.0.instrument.surplus",
        ],
    ),
    (
        "tally",
        ADJUSTED,
        ["surplus", "customer.surplus", "lines.1.surplus", "payments.0.surplus", "adjustments.0.surplus"],
    ),
    ("plan", {"rule": "yearly service", "checked": "2026-01-01"}, ["surplus"]),
    ("interest", {"debt": 1, "from": "2026-01-01", "to": "2026-01-02", "annual_rate_pct": 8}, ["surplus"]),
    ("tax-point", {"completed": "2026-01-01"}, ["surplus"]),
    ("mileage", {"tax_year": "2026-27", "vehicle": "car or van", "miles": 1}, ["surplus"]),
    ("quarters", {"tax_year": "2026-27", "election": "standard"}, ["surplus"]),
    ("gas-rate", RUN, ["surplus", "meter.surplus", "rated_input.surplus", "tolerance_pct.surplus"]),
]


def _printed(path: str) -> str:
    """Return a path as a message shows it: ``slips[0].surplus``."""
    steps = path.split(".")
    return steps[0] + "".join(f"[{step}]" if step.isdigit() else f".{step}" for step in steps[1:])


@pytest.mark.parametrize(
    ("command", "document", "path"), [(c, d, path) for c, d, paths in LEVELS for path in paths]
)
def test_an_unknown_key_is_refused_at_every_level(
    ask: Any, command: str, document: dict[str, Any], path: str
) -> None:
    assert ask(command, document).code == 0
    said = ask(command, edited(document, {path: 1}))
    assert (said.code, said.answer) == (2, None)
    assert said.error.startswith(f"{_printed(path)}: ")
    assert len(said.error.splitlines()) == 1


O2 = "slips.1.o2_pct"
# Both ends of what is accepted, and what lies a little outside.
RANGES: list[tuple[str, str, str]] = [
    (O2, "0", "-0.01"),
    (O2, "25", "25.01"),
    ("slips.1.co2_pct", "0", "-0.01"),
    ("slips.1.co2_pct", "25", "25.0000000001"),
    ("slips.1.co_ppm", "0", "-1"),
    ("slips.1.co_ppm", "100000", "100000.1"),
    ("slips.1.no_ppm", "100000", "100001"),
    ("slips.1.ratio", "0", "-0.0001"),
    ("slips.1.ratio", "1", "1.0001"),
    ("slips.1.flue_c", "-30", "-30.1"),
    ("slips.1.flue_c", "600", "600.1"),
    ("slips.1.air_c", "-30", "-30.01"),
    ("slips.1.air_c", "600", "601"),
    ("slips.1.attempt", "1", "0"),
]


@pytest.mark.parametrize("quoted", [True, False], ids=["decimal string", "JSON number"])
@pytest.mark.parametrize(("path", "end", "beyond"), RANGES)
def test_ranges_are_inclusive(ask: Any, path: str, end: str, beyond: str, *, quoted: bool) -> None:
    def said(value: str) -> Any:
        text = json.dumps(edited(EXAMPLE, {path: "@"}))
        return ask("assess", text.replace('"@"', f'"{value}"' if quoted else value))

    assert said(end).code == 0
    refused = said(beyond)
    assert (refused.code, refused.answer) == (2, None)
    assert refused.error.startswith(f"{_printed(path)}: “{beyond}” is not accepted; accepted: ")


@pytest.mark.parametrize("literal", ["NaN", "Infinity", "-Infinity", "1e999", "-1e999"])
@pytest.mark.parametrize("command", ["assess", "tally"])
def test_what_is_not_finite_is_refused_where_it_stands(ask: Any, command: str, literal: str) -> None:
    path, document = (O2, EXAMPLE) if command == "assess" else ("lines.0.quantity", TALLY)
    said = ask(command, json.dumps(edited(document, {path: "@"})).replace('"@"', literal))
    assert (said.code, said.answer) == (2, None)
    assert said.error.startswith(f"{_printed(path)}: ")
    assert len(said.error.splitlines()) == 1


@pytest.mark.parametrize(
    "value",
    [
        True,
        False,
        None,
        "",
        " ",
        "4,8",
        "54 °C",
        "4.8 %",
        "NaN",
        "1e1",
        "four",
        "0x10",
        "4_8",
        "٤",
        [4.8],
        {},
    ],
)
@pytest.mark.parametrize("path", [O2, "slips.1.flue_c"])
def test_what_is_no_number_is_refused(ask: Any, path: str, value: object) -> None:
    said = ask("assess", edited(EXAMPLE, {path: value}))
    assert (said.code, said.answer) == (2, None)
    assert said.error.startswith(f"{_printed(path)}: ")
    assert len(said.error.splitlines()) == 1
    assert "Traceback" not in said.error


@pytest.mark.parametrize("literal", ["4.8", '"4.8"', "4.80", "4.8E0", "48e-1", "0.48e1"])
def test_numbers_may_be_json_numbers_or_decimal_strings(ask: Any, literal: str) -> None:
    said = ask("assess", EXAMPLE_TEXT.replace('"o2_pct": 4.8', f'"o2_pct": {literal}'))
    assert (said.code, said.answer["slips"][1]["o2_pct"]) == (0, 4.8)


REFUSED: list[tuple[str, dict[str, Any], Changes, str]] = [
    # of the appliance only limits and rated_input, of the document instrument and date may be absent
    ("assess", EXAMPLE, {"fuel": GONE}, "fuel: missing"),
    ("assess", EXAMPLE, {"fuel": "Natural gas"}, "fuel: “Natural gas”"),
    ("assess", EXAMPLE, {"fuel": "coal"}, "fuel: “coal”"),
    ("assess", EXAMPLE, {"appliance.kind": GONE}, "appliance.kind: missing"),
    ("assess", EXAMPLE, {"appliance.kind": "kettle"}, "appliance.kind: “kettle”"),
    ("assess", EXAMPLE, {"slips": GONE}, "slips: missing"),
    ("assess", EXAMPLE, {"slips": []}, "slips: “[]”"),
    ("assess", EXAMPLE, {"slips": {}}, "slips: “{}”"),
    ("assess", EXAMPLE, {"slips.1.point": "chimney"}, "slips[1].point: “chimney”"),
    ("assess", EXAMPLE, {"slips.1.rate": "full"}, "slips[1].rate: “full”"),
    ("assess", EXAMPLE, {"slips.1.attempt": 1.5}, "slips[1].attempt: “1.5”"),
    ("assess", EXAMPLE, {"slips.1.attempt": 0}, "slips[1].attempt: “0”"),
    ("assess", EXAMPLE, {"slips.1.smoke": "1-0"}, "slips[1].smoke: “1-0”"),
    ("assess", EXAMPLE, {"slips.1.confirmed": "beyond-physics"}, "slips[1].confirmed: “beyond-physics”"),
    ("assess", EXAMPLE, {"date": "2026-02-29"}, "date: “2026-02-29”"),
    ("assess", EXAMPLE, {"date": "26/11/2026"}, "date: “26/11/2026”"),
    ("assess", EXAMPLE, {"appliance.rated_input.basis": "nett"}, "appliance.rated_input.basis: “nett”"),
    ("assess", EXAMPLE, {"appliance.limits.co2_pct.max": [9, 8]}, "appliance.limits.co2_pct.max: “[9, 8]”"),
    ("assess", EXAMPLE, {"appliance.limits.co_ppm": -1}, "appliance.limits.co_ppm: “-1”"),
    ("assess", EXAMPLE, {"instrument.tolerance.co_ppm.abs": -1}, "instrument.tolerance.co_ppm.abs: “-1”"),
    ("assess", EXAMPLE, {"instrument.calibration_due": "soon"}, "instrument.calibration_due: “soon”"),
    # money
    ("tally", TALLY, {"vat": "none", "lines.1.vat_pct": GONE}, "lines[0].vat_pct: “20”"),
    ("tally", TALLY, {"kind": "receipt"}, "kind: “receipt”"),
    ("tally", TALLY, {"vat": "flat"}, "vat: “flat”"),
    ("tally", TALLY, {"lines": []}, "lines: “[]”"),
    ("tally", TALLY, {"lines.0.quantity": "1,5"}, "lines[0].quantity: “1,5”"),
    ("tally", TALLY, {"lines.0.unit_price": "£78"}, "lines[0].unit_price: “£78”"),
    ("tally", TALLY, {"lines.0.unit_price": GONE}, "lines[0].unit_price: missing"),
    ("tally", TALLY, {"lines.0.vat_pct": "17.5"}, "lines[0].vat_pct: “17.5”"),
    ("tally", TALLY, {"lines.0.vat_category": "X"}, "lines[0].vat_category: “X”"),
    ("tally", TALLY, {"lines.0.base_quantity": 0}, "lines[0].base_quantity: “0”"),
    ("tally", TALLY, {"lines.0.labour": "yes"}, "lines[0].labour: “yes”"),
    ("tally", TALLY, {"lines.1.discount_pct": "100.01"}, "lines[1].discount_pct: “100.01”"),
    ("tally", TALLY, {"customer.business": 1}, "customer.business: “1”"),
    ("tally", TALLY, {"cis_deduction_pct": 25}, "cis_deduction_pct: “25”"),
    ("tally", TALLY, {"payments.0.date": "2026-13-01"}, "payments[0].date: “2026-13-01”"),
    ("tally", TALLY, {"payments.0.amount": "0.001"}, "payments[0].amount: “0.001”"),
    ("tally", TALLY, {"customer.business": True, "base_rate_pct": GONE}, "base_rate_pct: missing"),
    ("gas-rate", RUN, {"meter.unit": "litre"}, "meter.unit: “litre”"),
    ("gas-rate", RUN, {"meter.seconds": 0}, "meter.seconds: “0”"),
    ("gas-rate", RUN, {"meter.volume": 0}, "meter.volume: “0”"),
    ("gas-rate", RUN, {"fuel": "gas oil"}, "fuel: “gas oil”"),
    ("gas-rate", RUN, {"calorific_value_mj_m3": 1040}, "calorific_value_mj_m3: “1040”"),
]  # fmt: skip


@pytest.mark.parametrize(("command", "document", "changes", "says"), REFUSED, ids=[row[3] for row in REFUSED])
def test_refused_in_one_line(
    ask: Any, command: str, document: dict[str, Any], changes: Changes, says: str
) -> None:
    said = ask(command, edited(document, changes))
    assert (said.code, said.answer) == (2, None)
    assert said.error.startswith(says)
    assert "accepted: " in said.error
    assert len(said.error.splitlines()) == 1


def test_every_fault_has_its_line(ask: Any) -> None:
    faults = {O2: "4,8", "slips.2.co_ppm": -1, "fuel": "coal", "surplus": 1}
    lines = ask("assess", edited(EXAMPLE, faults)).error.splitlines()
    assert sorted(line.split(":")[0] for line in lines) == [
        "fuel",
        "slips[1].o2_pct",
        "slips[2].co_ppm",
        "surplus",
    ]


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "null", "3", '"x"', "{'a': 1}", "[" * 5000, '{"fuel": "x"} x']
)
@pytest.mark.parametrize("command", ["assess", "tally", "plan", "interest", "gas-rate"])
def test_what_is_no_document_is_refused(ask: Any, command: str, text: str) -> None:
    said = ask(command, text)
    assert (said.code, said.answer) == (2, None)
    assert len(said.error.splitlines()) == 1


def test_a_key_given_twice_is_named_by_its_path(ask: Any) -> None:
    said = ask("assess", EXAMPLE_TEXT.replace('"co_ppm": 61', '"co_ppm": 61, "co_ppm": 16'))
    assert (said.code, said.answer) == (2, None)
    assert said.error.startswith("slips[1].co_ppm: ")


@pytest.mark.parametrize(
    "arguments",
    [["assess"], ["assess", "no such file"], ["no-such-command"], ["due", "x.book", "--until", "31/01/2027"],
     ["assess", "-", "--today", "2026-02-30"], ["find", "x.book", "y", "--most", "0"], ["fuel"], []],
)  # fmt: skip
def test_arguments_are_refused_in_one_line(call: Any, arguments: list[str]) -> None:
    said = call(*arguments)
    assert (said.code, said.answer) == (2, None)
    assert len(said.error.splitlines()) == 1


def test_a_dash_is_standard_input(call: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(EXAMPLE_TEXT.encode())))
    assert call("assess", "-").answer["verdict"] == "within"


def test_the_clock_stands_in_for_an_absent_date(ask: Any) -> None:
    undated = edited(EXAMPLE, {"date": GONE})
    assert ask("assess", undated, "--today", "2027-03-01").answer["doubts"] == []
    late = ask("assess", undated, "--today", "2027-03-02").answer["doubts"]
    assert [doubt["code"] for doubt in late] == ["calibration-expired"]


def test_one_document_in_utf8_whatever_the_console_speaks(tmp_path: Path) -> None:
    """A process of its own, told to speak ASCII: one JSON document in UTF-8, and nothing else."""
    file = tmp_path / "in.json"
    file.write_text(
        json.dumps(edited(EXAMPLE, {"instrument.name": "Zoë’s"}), ensure_ascii=False), encoding="utf-8"
    )
    app = DEMO_DB.parent / "app"
    env = {"PYTHONPATH": str(app), "PYTHONIOENCODING": "ascii", "LANG": "C", "PATH": ""}
    done = subprocess.run(
        [sys.executable, "-m", "flueleaf", "assess", str(file)],
        env=env,
        capture_output=True,
        check=False,
        cwd=tmp_path,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert "Zoë’s" in json.loads(done.stdout.decode("utf-8"))["tolerance"]
    assert "Zoë’s".encode() in done.stdout


@pytest.mark.parametrize(
    "text",
    ['{"date": ' + "[" * 300 + "]" * 300 + "}", "[" * 300 + "]" * 300, '{"date": 1e9999999999999999999}',
     '{"date": -1e-9999999999999999999}', json.dumps({"x" * 100_000: 1})],
    ids=["deep in a key", "deep", "huge exponent", "tiny exponent", "long key"],
)  # fmt: skip
@pytest.mark.parametrize("command", ["assess", "tally", "plan", "interest", "gas-rate", "mileage"])
def test_a_hostile_document_is_refused_in_lines_one_can_read(ask: Any, command: str, text: str) -> None:
    said = ask(command, text)
    assert (said.code, said.answer) == (2, None)
    assert all("accepted: " in line and len(line) < 1000 for line in said.error.splitlines())


def test_a_name_longer_than_any_file_is_no_fuel(call: Any) -> None:
    said = call("fuel", "x" * 5000)
    assert (said.code, said.answer) == (2, None)
    assert said.error.startswith("NAME: ")
