from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from tests.headless.contract import TALLY as CONTRACT_TALLY

from flueleaf.headless.main import DONE, REFUSED, run


class Asked:
    """Runs a command on a document and keeps what came out."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self._file, self._capsys = folder / "input.json", capsys

    def text(self, command: str, text: str) -> tuple[int, str, str]:
        self._file.write_text(text, encoding="utf-8")
        code = run([command, str(self._file)])
        out, err = self._capsys.readouterr()
        return code, out, err

    def __call__(self, command: str, document: object) -> Any:
        code, out, err = self.text(command, json.dumps(document))
        assert (code, err) == (DONE, "")
        return json.loads(out)

    def refused(self, command: str, document: object) -> list[str]:
        code, out, err = self.text(command, json.dumps(document))
        assert (code, out) == (REFUSED, "")
        return err.splitlines()


@pytest.fixture
def asked(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Asked:
    return Asked(tmp_path, capsys)


def test_tally_of_the_contract(asked: Asked) -> None:
    assert asked("tally", CONTRACT_TALLY) == {
        "line_nets": ["78.00", "11.16"],
        "adjustment_nets": [],
        "net": "89.16",
        "vat": [{"category": "S", "pct": "20", "net": "89.16", "vat": "17.83", "reverse_charge_vat": "0.00"}],
        "vat_total": "17.83",
        "total": "106.99",
        "reverse_charge_vat": "0.00",
        "cis_deduction": "0.00",
        "payable": "106.99",
        "paid": "50.00",
        "owing": "56.99",
        "late_interest": "0.00",
        "late_compensation": "0.00",
    }


def test_late_charges_of_a_business(asked: Asked) -> None:
    found = asked("tally", CONTRACT_TALLY | {"customer": {"business": True}})
    # 56.99 for 25 days at 11.75 %: 0.4587
    assert (found["late_interest"], found["late_compensation"]) == ("0.46", "40.00")


def test_without_vat_and_overpaid(asked: Asked) -> None:
    found = asked(
        "tally",
        {
            "vat": "none",
            "lines": [{"quantity": 1, "unit_price": 10}],
            "payments": [{"date": "2026-01-01", "amount": "22.40"}],
        },
    )
    assert (found["vat"], found["owing"]) == ([], "-12.40")


def test_plan(asked: Asked) -> None:
    found = asked("plan", {"rule": "landlord check", "previous_due": "2026-03-31", "checked": "2026-02-10"})
    assert (found["next_due"], found["window_opens"], found["anchor"]) == (
        "2027-03-31",
        "2027-02-01",
        "2026-03-31",
    )
    assert "36A" in found["why"]
    found = asked("plan", {"rule": "dangerous fitting report", "known": "2026-11-20"})
    assert (found["next_due"], found["window_opens"], found["anchor"]) == ("2026-12-04", None, None)


def test_interest(asked: Asked) -> None:
    debt = {"debt": "1000", "from": "2026-01-01", "to": "2026-02-20"}
    assert asked("interest", debt | {"annual_rate_pct": "8.5"}) == {
        "interest": "11.64",
        "compensation": "70.00",
        "annual_rate_pct": "8.5",
    }
    assert asked("interest", debt | {"base_rate_pct": 3.75})["annual_rate_pct"] == "11.75"
    assert asked("interest", debt | {"base_rate_pct": 3.75, "to": "2026-01-01"}) == {
        "interest": "0.00",
        "compensation": "0.00",
        "annual_rate_pct": "11.75",
    }
    assert asked("interest", {"debt": 0, "from": "2026-01-01", "to": "2026-01-01"})["annual_rate_pct"] is None
    assert asked.refused("interest", debt) == [
        "base_rate_pct: missing; accepted: the Bank of England's official rate on 2025-12-31 in %, "
        "from 0 to 100"
    ]


def test_tax_point(asked: Asked) -> None:
    found = asked("tax-point", {"completed": "2026-05-01", "invoiced": "2026-05-15", "paid": "2026-06-01"})
    assert found == {"tax_point": "2026-05-15"}


def test_mileage(asked: Asked) -> None:
    assert asked("mileage", {"tax_year": "2026-27", "vehicle": "car or van", "miles": 10001}) == {
        "amount": "5500.25"
    }


def test_quarters(asked: Asked) -> None:
    found = asked("quarters", {"tax_year": "2026-27", "election": "standard"})
    assert [(q["from"], q["to"], q["deadline"]) for q in found] == [
        ("2026-04-06", "2026-07-05", "2026-08-07"),
        ("2026-04-06", "2026-10-05", "2026-11-07"),
        ("2026-04-06", "2027-01-05", "2027-02-07"),
        ("2026-04-06", "2027-04-05", "2027-05-07"),
    ]
    assert [q["quarter_from"] for q in found] == ["2026-04-06", "2026-07-06", "2026-10-06", "2027-01-06"]


@pytest.mark.parametrize(
    ("command", "text", "said"),
    [
        ("tally", '{"vat": "standard", "lines": [{"quantity": NaN, "unit_price": 1}]}', "finite numbers"),
        (
            "tally",
            '{"vat": "none", "lines": [{"quantity": 1e400, "unit_price": 1}]}',
            "lines[0].quantity: “1E+400”",
        ),
        ("tally", '{"vat": "none", "lines": [{"quantity": "1,5", "unit_price": 1}]}', "did you mean 1.5?"),
        (
            "tally",
            '{"vat": "none", "lines": [{"quantity": 1, "unit_price": 1, "vat_pct": 0}]}',
            "lines[0].vat_pct: “0”",
        ),
        ("tally", '{"vat": "standard", "lines": [{"quantity": 1, "unit_price": 1}]}', "one of 20, 5, 0"),
        ("tally", '{"vat": "standard", "lins": []}', "lins: “unknown key”"),
        ("tally", "{", "a JSON document"),
        ("plan", '{"rule": "landlord check", "checked": "1989-12-31"}', "checked: “1989-12-31”"),
        ("plan", '{"rule": "landlord check", "checked": "2201-01-01"}', "checked: “2201-01-01”"),
        ("plan", '{"rule": "landlord check", "checked": "31/12/2026"}', "YYYY-MM-DD"),
        (
            "interest",
            '{"debt": 5, "from": "1999-01-01", "to": "2026-01-01", "base_rate_pct": 4}',
            "from: “1999-01-01”",
        ),
        ("tax-point", "{}", "at least one of completed, invoiced, paid"),
        ("mileage", '{"tax_year": "2026-27", "vehicle": "van", "miles": 1}', "“car or van”, “motorcycle”"),
        ("quarters", '{"tax_year": "2026", "election": "standard"}', "a tax year as 2026-27"),
    ],
)
def test_bad_input_is_refused_by_name(asked: Asked, command: str, text: str, said: str) -> None:
    code, out, err = asked.text(command, text)
    assert (code, out) == (REFUSED, "")
    assert said in err
