"""In the mutants' runs a failing property is not made smaller, and no slow example fails."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import unshrunk
from hypothesis import Phase, settings


@pytest.fixture
def as_configured() -> Iterator[settings]:
    before = settings()
    settings.register_profile("before", before)
    unshrunk.pytest_configure()
    yield settings()
    settings.load_profile("before")


def test_a_failure_is_looked_for_but_not_made_smaller(as_configured: settings) -> None:
    assert as_configured.phases == (Phase.explicit, Phase.generate)


def test_no_example_is_too_slow(as_configured: settings) -> None:
    assert as_configured.deadline is None
