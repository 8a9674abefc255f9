"""The way back: which places were shown, and which one is shown now."""

from __future__ import annotations

from flueleaf.desktop.place import Place

LONGEST = 100


class History:
    """Places in the order they were opened, with a position in it."""

    def __init__(self) -> None:
        self._places: list[Place] = []
        self._at = -1

    @property
    def here(self) -> Place | None:
        """The place shown now."""
        return self._places[self._at] if self._places else None

    def arrive(self, place: Place) -> None:
        """Note a new place; what lay ahead is forgotten."""
        if place == self.here:
            return
        self._places = [*self._places[: self._at + 1], place][-LONGEST:]
        self._at = len(self._places) - 1

    def back(self) -> Place | None:
        """Step back; returns the place to show, or None at the beginning."""
        return self._step(-1)

    def forward(self) -> Place | None:
        """Step forward; returns the place to show, or None at the end."""
        return self._step(1)

    def forget(self, place: Place) -> None:
        """Drop a place that is no longer there (a form that was filled in)."""
        kept = [(at, p) for at, p in enumerate(self._places) if p != place]
        self._at = max(sum(at <= self._at for at, _ in kept) - 1, 0 if kept else -1)
        self._places = [p for _, p in kept]

    def _step(self, by: int) -> Place | None:
        if not 0 <= self._at + by < len(self._places):
            return None
        self._at += by
        return self._places[self._at]
