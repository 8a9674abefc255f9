"""The window draws where nobody looks."""

from __future__ import annotations

import os

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


def pytest_configure(config: pytest.Config) -> None:
    """Leave out what the offscreen platform says it cannot do."""
    config.addinivalue_line("qt_log_ignore", "This plugin does not support")
