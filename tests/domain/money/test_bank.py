"""Which bank details a paper may print."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.money import bank


@pytest.mark.parametrize("text", ["000042", "00-00-42", "00 00 42", " 00–00–42 "])
def test_a_sort_code_has_six_figures(text: str) -> None:
    assert bank.sort_code(text) == "00-00-42"


@pytest.mark.parametrize("text", ["", "01", "00-00-4", "00-00-421", "0000-42-", "٠٠٠٠٤٢", "00/00/42"])
def test_what_is_no_sort_code_is_not_printed(text: str) -> None:
    assert bank.sort_code(text) == ""


@pytest.mark.parametrize("text", ["", "1234567", "123456789", "0000424x", "٠٠٠٠٤٢٤٢"])
def test_what_is_no_account_number_is_not_printed(text: str) -> None:
    assert bank.account_number(text) == ""


@settings(max_examples=100)
@given(st.integers(0, 99_999_999))
def test_eight_figures_stay_as_they_are(number: int) -> None:
    assert bank.account_number(f"{number:08d}") == f"{number:08d}"
    assert bank.account_number(f" {number // 10_000:04d} {number % 10_000:04d}") == f"{number:08d}"
