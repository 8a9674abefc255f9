"""Documents gone wrong in 200 ways each: a command is done or refuses, and writes nothing by half."""

from __future__ import annotations

import copy
import json
import random
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.headless.contract import EXAMPLE, TALLY

from flueleaf.paths import DEMO_DB

Document = dict[str, Any]

WEIRD: list[Any] = [
    None, True, "", " ", "NaN", "4,8", "54 °C", "-1", "٤", "\ud800", "\x00", "2026-02-29", "9999-12-31",
    0, -0.0, -1, 1e308, 10**30, 1e-300, 25, [], {}, [[]], [{}], {"a": 1}, "x" * 5000,
    "landlord check", "none", "flue", "O", "100.00", [8.8, 9.6],
]  # fmt: skip
GAS_RATE: Document = {
    "fuel": "natural gas",
    "meter": {"unit": "m3", "volume": 0.083, "seconds": 120},
    "calorific_value_mj_m3": 39.4,
    "corrected": False,
    "rated_input": {"basis": "net", "kw": 24},
    "tolerance_pct": {"plus": 5, "minus": 5},
}
WHOLE: dict[str, Document] = {
    "assess": {**EXAMPLE, "previous": [{"date": "2025-11-20", "slips": [EXAMPLE["slips"][1]]}]},
    "tally": {**TALLY, "customer": {"business": True}, "prepaid": "5.00", "prices_include_vat": True},
    "plan": {
        "rule": "landlord check",
        "previous_due": "2026-03-31",
        "checked": "2026-02-10",
        "anchor": "2024-03-31",
    },
    "interest": {"debt": "1000", "annual_rate_pct": "8.5", "from": "2026-01-01", "to": "2026-02-20"},
    "tax-point": {"completed": "2026-05-01", "invoiced": "2026-05-15", "paid": "2026-06-01"},
    "mileage": {"tax_year": "2026-27", "vehicle": "car or van", "miles": 10001},
    "quarters": {"tax_year": "2026-27", "election": "standard"},
    "gas-rate": GAS_RATE,
}


def _places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    steps = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, item in steps:
        yield (*path, step)
        yield from _places(item, (*path, step))


def _gone_wrong(document: Document, dice: random.Random) -> Document:
    """Return a copy with one to three keys or entries taken away, replaced, doubled or swapped."""
    found = json.loads(json.dumps(document))
    for _ in range(dice.choice((1, 1, 2, 3))):
        places = list(_places(found))
        if not places:
            break
        *above, last = dice.choice(places)
        holder = found
        for step in above:
            holder = holder[step]
        way = dice.randrange(4)
        if way == 0:
            del holder[last]
        elif way == 1 and isinstance(holder, list):
            holder.append(copy.deepcopy(holder[last]))
        elif way == 1:
            holder[f"{last}s"] = copy.deepcopy(holder[last])
        else:
            holder[last] = copy.deepcopy(dice.choice(WEIRD))
    return found


@pytest.mark.parametrize("command", WHOLE)
def test_no_document_ends_otherwise_than_done_or_refused(ask: Any, command: str) -> None:
    dice = random.Random(command)
    codes = set()
    for _ in range(200):
        document = _gone_wrong(WHOLE[command], dice)
        said = ask(command, document)
        codes.add(said.code)
        if said.code == 0:
            assert said.error == "", document
        else:
            assert (said.code, said.answer) == (2, None), document
            assert all("accepted: " in line for line in said.error.splitlines()), document
    assert codes == {0, 2}


def test_no_evening_gone_wrong_writes_by_half(
    evening: Any, call: Any, book: Path, document: Document, tmp_path: Path
) -> None:
    dice = random.Random("evening")
    blank = book.read_bytes()
    for _ in range(200):
        book.write_bytes(blank)
        shutil.rmtree(tmp_path / "out", ignore_errors=True)
        wrong = _gone_wrong(document, dice)
        said = evening(wrong)
        assert said.code in (0, 2), wrong
        if said.code == 2:
            assert book.read_bytes() == blank, wrong
            assert not list(tmp_path.glob("out/*.pdf")), wrong
        else:
            assert call("verify", book).answer["ok"], wrong


@pytest.mark.parametrize(
    ("arguments", "text", "code"),
    [
        (["quarters", "-"], '{"tax_year": "\\ud800", "election": "standard"}', 2),
        (["assess", "-"], '{"\\udfff": 1, "fuel": "a\\nb"}', 2),
        (["fuel", "a\udcffb"], "", 2),
        (["assess", "a\udcffb"], "", 2),
        (["papers", "a\udcffb"], "", 3),
    ],
)
def test_what_is_no_text_is_refused_by_a_process_of_its_own(
    tmp_path: Path, arguments: list[str], text: str, code: int
) -> None:
    """Half a surrogate pair cannot be printed as UTF-8, neither a name in other bytes."""
    done = subprocess.run(
        [sys.executable, "-m", "flueleaf", *arguments],
        input=text.encode(),
        env={"PYTHONPATH": str(DEMO_DB.parent / "app"), "LANG": "C.UTF-8", "PATH": ""},
        capture_output=True,
        check=False,
        cwd=tmp_path,
    )
    said = done.stderr.decode("utf-8")
    assert (done.returncode, done.stdout) == (code, b"")
    assert "Traceback" not in said
    if code == 2:
        assert all("accepted: " in line for line in said.splitlines())
