"""The keystroke-level model, for estimating how long a practised person needs for a task without errors.

S. K. Card, T. P. Moran, A. Newell, "The Psychology of Human-Computer Interaction", Lawrence Erlbaum 1983,
chapter 8 (first in Communications of the ACM 23 (1980) 7, pp. 396-410); operator times and placement rules
recalled, not read again:

- K, one key: 0.28 s, the average typist who is no secretary (40 words a minute); a modifier is a key.
- P, pointing with the mouse: 1.10 s.  H, the hand to another device and its return: 0.40 s each.
- M, preparing mentally: 1.35 s.  R: what the person waits for the system.

Rule 0 sets an M before every key that is no part of a value, and before every pointing at a command. An M
goes where the key was fully anticipated (rule 1), within one unit such as a run of one key (rule 2), before
a redundant terminator (rule 3), and before the terminator of a fixed string (rule 4); before that of a value
it stays. Against ourselves, one more M is taken for each value (it is looked up on the slip), and none is
dropped by rules 1 and 3.
"""

from __future__ import annotations

from dataclasses import dataclass, field

K_S, P_S, H_S, M_S = 0.28, 1.10, 0.40, 1.35


@dataclass(slots=True)
class KeystrokeModel:
    """Adds up operators as they are performed."""

    keys: int = 0
    pointings: int = 0
    homings: int = 0
    preparations: int = 0
    waiting_s: float = 0.0
    _last: str = field(default="", repr=False)

    def value(self, text: str) -> None:
        """A value is looked up and typed."""
        self.preparations += 1
        self.keys += len(text)
        self._last = "value"

    def key(self, name: str, modifiers: int = 0) -> None:
        """A key that is no part of a value; in a run of one key only the first is prepared."""
        self.preparations += self._last != name
        self.keys += 1 + modifiers
        self._last = name

    def answer(self) -> None:
        """A letter that answers a question; each is a judgement of its own."""
        self.preparations += 1
        self.keys += 1
        self._last = "answer"

    def hand(self, times: int = 1) -> None:
        """A hand goes to the mouse or to paper, or comes back."""
        self.homings += times

    def point(self) -> None:
        """The mouse selects a command."""
        self.preparations += 1
        self.pointings += 1

    def wait(self, seconds: float) -> None:
        """The person can do nothing but wait."""
        self.waiting_s += seconds

    @property
    def seconds(self) -> float:
        """The estimate."""
        return (
            self.keys * K_S
            + self.pointings * P_S
            + self.homings * H_S
            + self.preparations * M_S
            + self.waiting_s
        )

    def __str__(self) -> str:
        return (
            f"{self.keys} K + {self.pointings} P + {self.homings} H + {self.preparations} M"
            f" + {self.waiting_s:.1f} s R = {self.seconds:.0f} s"
        )
