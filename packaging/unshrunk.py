"""A plugin of pytest for the mutants' runs: a property need only fail, and a slow example is no failure.

Making a counterexample smaller takes longer than all other tests together; and a deadline missed on a busy
machine would seem to notice a change.
"""

from __future__ import annotations

from hypothesis import Phase, settings

NAME = "unshrunk"


def pytest_configure() -> None:
    """Take these settings before the tests are read, which keep those of their time."""
    settings.register_profile(NAME, phases=[Phase.explicit, Phase.generate], deadline=None)
    settings.load_profile(NAME)
