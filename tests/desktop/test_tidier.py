"""Garbage is collected between two events only, never under the hands of Qt."""

from __future__ import annotations

import gc
import weakref
from typing import TYPE_CHECKING

from flueleaf.desktop.tidier import tidier

if TYPE_CHECKING:
    from flueleaf.desktop.window import MainWindow


class Ring:
    """Garbage only the collector can take away."""

    def __init__(self) -> None:
        self.itself = self


def test_python_collects_nothing_by_itself_once_there_is_a_window(window: MainWindow) -> None:
    assert window.isVisible()
    assert not gc.isenabled()
    ring = weakref.ref(Ring())
    kept = [[] for _ in range(gc.get_threshold()[0] + 100)]
    assert ring() is not None
    tidier().tidy()
    assert ring() is None
    assert tidier().tidy() == 0  # nothing new has gathered
    assert len(kept) > gc.get_threshold()[0]
