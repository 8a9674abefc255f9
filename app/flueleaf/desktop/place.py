"""Where one can go in the window: the name of a leaf and what it shows."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Place:
    """An address inside the window.

    Attributes:
        leaf: name of the leaf; ``premises`` is shown by ``leaves/premises_leaf.py``.
        key: id of what is shown, "" for a new or an only one.
        within: id of what a new one belongs to (a new appliance: its premises).
        at_missing: whether one comes for what is missing there, rather than for where one was.
    """

    leaf: str
    key: str = ""
    within: str = ""
    at_missing: bool = field(default=False, compare=False)


TONIGHT = Place("tonight")
