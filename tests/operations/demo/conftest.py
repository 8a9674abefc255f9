"""The story of the demo book, told once for all tests of this folder."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from flueleaf.operations.demo.planning import Planned
from flueleaf.operations.demo.scenario import Scenario, load
from flueleaf.operations.demo.story import told
from flueleaf.paths import DEMO_DB

Told = list[tuple[Planned, dict[str, Any]]]


@pytest.fixture(scope="session")
def today() -> dt.date:
    return dt.date(2026, 11, 25)


@pytest.fixture(scope="session")
def scenario() -> Scenario:
    return load(DEMO_DB)


@pytest.fixture(scope="session")
def whole_story(scenario: Scenario, today: dt.date) -> Told:
    return list(told(scenario, years=6, scale=1, seed=1, today=today))
