"""Taking back what was typed on a leaf, and bringing it back, as states of the whole leaf.

A leaf hands over how to read itself (``snapshot``) and how to show a state again (``restore``). It calls
``note`` after each change with the name of the field changed; keys typed into one field without leaving it
are one step. Where the cursor was is part of a step, so that undoing shows what it undid.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, Signal

MOST_STEPS = 200


@dataclass(frozen=True, slots=True)
class Step:
    """A state of the leaf before a change, and the field the change was made in."""

    state: Any
    field: str


class Undoing(QObject):
    """The steps of one leaf."""

    changed = Signal()  # what can be undone or redone is another now

    def __init__(
        self,
        snapshot: Callable[[], Any],
        restore: Callable[[Any, str], None],
        parent: QObject | None = None,
    ) -> None:
        """Begin with nothing to undo; call ``begin`` once the leaf is filled in.

        Args:
            snapshot: returns the leaf's state; equal states are one.
            restore: shows a state, with the cursor in the field named, without calling ``note``.
            parent: its owner.
        """
        super().__init__(parent)
        self._snapshot = snapshot
        self._restore = restore
        self._now: Any = None
        self._back: list[Step] = []
        self._ahead: list[Step] = []
        self._typing_in = ""

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return bool(self._back)

    @property
    def can_redo(self) -> bool:
        """Whether there is a step to bring back."""
        return bool(self._ahead)

    def begin(self) -> None:
        """Take the leaf as it is for the beginning; earlier steps are forgotten."""
        self._now = self._snapshot()
        self._back.clear()
        self._ahead.clear()
        self._typing_in = ""
        self.changed.emit()

    def note(self, field: str) -> None:
        """Note a change made in a field; while one types on in it, it stays one step."""
        state = self._snapshot()
        if state == self._now:
            return
        if not (field and field == self._typing_in and self._back):
            self._back = [*self._back, Step(self._now, field)][-MOST_STEPS:]
        self._now = state
        self._ahead.clear()
        self._typing_in = field
        self.changed.emit()

    def settle(self) -> None:
        """Take what followed by itself from the last change as part of it."""
        self._now = self._snapshot()

    def step(self, field: str) -> None:
        """Note a change that is a step of its own, whatever was typed into the field before and after."""
        self.part()
        self.note(field)
        self.part()

    def history(self) -> tuple[Any, list[tuple[Any, str]], list[tuple[Any, str]]]:
        """Return the state now, the steps to take back and those to bring back, each latest last."""
        back, ahead = ([(step.state, step.field) for step in steps] for steps in (self._back, self._ahead))
        return self._now, back, ahead

    def take_up(self, now: Any, back: list[tuple[Any, str]], ahead: list[tuple[Any, str]]) -> None:
        """Go on with steps of earlier, after ``begin``; what was changed since then is one more step."""
        self._back = [Step(state, field) for state, field in back]
        if now == self._now:
            self._ahead = [Step(state, field) for state, field in ahead]
        else:
            self._back.append(Step(now, ""))
        self.changed.emit()

    def put_before(self, back: list[tuple[Any, str]]) -> None:
        """Put earlier steps, latest last, before those there are."""
        self._back = [*(Step(state, field) for state, field in back), *self._back][-MOST_STEPS:]
        self.changed.emit()

    def part(self) -> None:
        """End the step: what is typed next, even into the same field, is a step of its own."""
        self._typing_in = ""

    def undo(self) -> bool:
        """Take the last step back; returns whether there was one."""
        return self._go(self._back, self._ahead)

    def redo(self) -> bool:
        """Bring the step back that was taken back last; returns whether there was one."""
        return self._go(self._ahead, self._back)

    def _go(self, take: list[Step], give: list[Step]) -> bool:
        if not take:
            return False
        step = take.pop()
        give.append(Step(self._now, step.field))
        self._now = step.state
        self._typing_in = ""
        self._restore(step.state, step.field)
        self.changed.emit()
        return True
