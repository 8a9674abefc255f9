"""A plugin of pytest for the mutants' runs: to fail is enough, to be slow is no failure, memory has an end.

Making a counterexample smaller takes longer than all other tests together; a deadline missed on a machine
that is busy would seem to notice a change; and an endless loop may fill the memory before its time is up.
"""

from __future__ import annotations

import sys

from hypothesis import Phase, settings

if sys.platform != "win32":
    import resource

NAME = "for mutants"
MOST_BYTES = 2 << 30  # some four times what the tests of the rules take, scipy among them


def pytest_configure() -> None:
    """Take these settings before the tests are read, which keep those of their time."""
    settings.register_profile(NAME, phases=[Phase.explicit, Phase.generate], deadline=None)
    settings.load_profile(NAME)


def pytest_sessionstart() -> None:
    """Let the memory end at ``MOST_BYTES``, where the system can."""
    if sys.platform != "win32":
        resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, resource.getrlimit(resource.RLIMIT_AS)[1]))
