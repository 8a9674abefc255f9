"""The switches that accept newly drawn papers and pictures."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--accept-golden", action="store_true", help="keep the papers as they are drawn now")
    parser.addoption("--accept-shots", action="store_true", help="keep the pictures as the window is now")
