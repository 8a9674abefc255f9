"""The switch that accepts newly drawn papers."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--accept-golden", action="store_true", help="keep the papers as they are drawn now")
