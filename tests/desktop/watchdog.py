"""A watchdog of the event loop: how long each turn held the window's thread, and which function held it.

A turn is one key handed to a widget, or one pass of the event loop with everything that was due in it. While
a turn lasts, an interval timer interrupts it and notes where the thread is; of a long turn, the way down seen
most often is named. The interrupt is served in the window's own thread: a second thread that looked at its
frames would keep painters and other locals alive beyond their function. Needs POSIX interval timers.
"""

from __future__ import annotations

import contextlib
import signal
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from types import FrameType

APP = "/flueleaf/"
LOOK_AFTER_S, LOOK_EVERY_S = 0.015, 0.005


@dataclass(frozen=True, slots=True)
class Stall:
    """One long turn: what was done, how long it held the thread, and the ways down that were seen in it."""

    what: str
    ms: float
    ways: Counter[str] = field(default_factory=Counter)

    @property
    def way(self) -> str:
        """The way seen most often, from the outermost function of the app to the innermost."""
        return self.ways.most_common(1)[0][0] if self.ways else "nothing of ours: inside Qt"

    def __str__(self) -> str:
        return f"{self.ms:6.1f} ms  {self.what}\n           {self.way}"


class Watchdog:
    """Times turns, and looks where the thread is while they last."""

    def __init__(self, least_ms: float) -> None:
        """Watch nothing yet.

        Args:
            least_ms: turns from this length on are kept.
        """
        self.least_ms = least_ms
        self.longest_ms = 0.0
        self.turns = 0
        self.stalls: list[Stall] = []
        self._ways: Counter[str] = Counter()

    @contextlib.contextmanager
    def turn(self, what: str) -> Iterator[None]:
        """Time a block as one turn of the loop."""
        self._ways = Counter()
        before = signal.signal(signal.SIGALRM, self._look)
        begun = time.perf_counter()
        signal.setitimer(signal.ITIMER_REAL, LOOK_AFTER_S, LOOK_EVERY_S)
        try:
            yield
        finally:
            signal.setitimer(signal.ITIMER_REAL, 0)
            held_ms = (time.perf_counter() - begun) * 1e3
            signal.signal(signal.SIGALRM, before)
            self.turns += 1
            self.longest_ms = max(self.longest_ms, held_ms)
            if held_ms >= self.least_ms:
                self.stalls.append(Stall(what, held_ms, self._ways))

    def worst(self) -> dict[str, Stall]:
        """Return the longest turn of each kind of turn that was long."""
        worst: dict[str, Stall] = {}
        for stall in self.stalls:
            if stall.what not in worst or worst[stall.what].ms < stall.ms:
                worst[stall.what] = stall
        return worst

    def _look(self, _number: int, frame: FrameType | None) -> None:
        self._ways[way_down(frame)] += 1


def way_down(frame: FrameType | None) -> str:
    """Return the functions of the app from the outermost to where the thread is, and the last one at all."""
    steps: list[str] = []
    innermost = ""
    while frame is not None:
        module = frame.f_code.co_filename.rpartition("/")[2].removesuffix(".py")
        name = f"{module}.{frame.f_code.co_name}:{frame.f_lineno}"
        innermost = innermost or name
        if APP in frame.f_code.co_filename:
            steps.append(name)
        frame = frame.f_back
    steps.reverse()
    if not steps or steps[-1] != innermost:
        steps.append(innermost)
    return " > ".join(steps)
