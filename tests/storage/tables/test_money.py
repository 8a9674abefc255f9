from __future__ import annotations

import datetime as dt
import itertools
import shutil
from pathlib import Path

import pytest

from flueleaf.storage.tables.money import RULES, money_rules, read_money_rules

DAY = dt.timedelta(days=1)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the shipped rule files, to be spoilt."""
    return Path(shutil.copytree(RULES, tmp_path / "rules"))


def test_editions_leave_no_gap_and_do_not_overlap() -> None:
    rules = money_rules()
    for tables in (rules.vat, rules.cis, rules.late_payment, rules.mileage, rules.tax_quarters):
        editions = sorted((table.edition for table in tables), key=lambda edition: edition.valid_from)
        for before, after in itertools.pairwise(editions):
            assert before.valid_to is not None
            assert before.valid_to + DAY == after.valid_from
        assert editions[-1].valid_to is None
        assert all(edition.source and edition.checked for edition in editions)


def test_reference_rates_follow_each_other() -> None:
    rates = money_rules().reference_rates
    for before, after in itertools.pairwise(rates):
        assert before.last + DAY == after.first
    assert all((rate.first.day, rate.first.month) in {(1, 1), (1, 7)} for rate in rates)


def test_the_tables_are_read_once() -> None:
    assert money_rules() is money_rules()


def test_a_copy_reads_the_same(folder: Path) -> None:
    assert read_money_rules(folder) == money_rules()


def test_a_missing_table_is_an_error(folder: Path) -> None:
    (folder / "cis__2007.toml").unlink()
    with pytest.raises(ValueError, match="no table 'cis'"):
        read_money_rules(folder)


@pytest.mark.parametrize(
    ("name", "old", "new", "said"),
    [
        ("vat__2011.toml", 'rates_pct          = ["20"', "rates_pct          = [20", "rates_pct"),
        ("vat__2011.toml", "invoice_days ", "invoice_dais ", "invoice_days: missing"),
        ("mileage__2026.toml", "first_miles ", "first_mils ", "unknown keys first_mils"),
        ("late_payment__2002.toml", 'below  = "10000.00"', "", "last band"),
        ("late_payment__2002.toml", '[[compensation]]\namount = "100.00"', "", "last band"),
        ("tax_quarters__2026.toml", ', "04-05"]', "]", "shorter|longer"),
        ("reference_rates__2024.toml", 'pct   = "5.25"', "pct   = 5.25", "pct"),
    ],
)
def test_a_spoilt_table_is_named(folder: Path, name: str, old: str, new: str, said: str) -> None:
    path = folder / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(ValueError, match=said):
        read_money_rules(folder)
