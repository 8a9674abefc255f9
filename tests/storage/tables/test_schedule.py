from __future__ import annotations

from pathlib import Path

import pytest

from flueleaf.storage.tables.schedule import FILE, due_rules, read_due_rules


def test_the_rules_of_the_contract() -> None:
    assert list(due_rules()) == [
        "landlord check",
        "first landlord check",
        "yearly service",
        "instrument calibration",
        "dangerous fitting report",
        "installation notice",
    ]
    for rule in due_rules().values():
        assert bool(rule.months) != bool(rule.days)
        assert rule.source
        assert rule.checked


def test_a_rule_may_be_given_once(tmp_path: Path) -> None:
    path = tmp_path / "due_dates__2018.toml"
    text = FILE.read_text(encoding="utf-8")
    path.write_text(text, encoding="utf-8")
    assert read_due_rules(path) == due_rules()
    path.write_text(text.replace('"yearly service"', '"landlord check"'), encoding="utf-8")
    with pytest.raises(ValueError, match="'landlord check' is given twice"):
        read_due_rules(path)


def test_an_unknown_key_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "due_dates__2018.toml"
    path.write_text(
        FILE.read_text(encoding="utf-8").replace("days        = 30", "dais = 30"), encoding="utf-8"
    )
    with pytest.raises(ValueError, match="unknown keys dais"):
        read_due_rules(path)
