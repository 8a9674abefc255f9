"""The only signal that crosses leaves: what changed in the book."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Any, Protocol

from PySide6.QtCore import QObject, Signal


class Changed(Protocol):
    """What an operation returns: the topics it touched, and one line that says what was done."""

    @property
    def topics(self) -> Collection[Any]:
        """The topics touched."""

    @property
    def summary(self) -> str:
        """One line for the status bar."""


@dataclass(frozen=True, slots=True, eq=False)
class _Watch:
    topics: frozenset[Any]
    reload: Callable[[], None]


class ChangeHub(QObject):
    """Carries the changes of an operation to every leaf that shows their topics."""

    changed = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._watches: list[_Watch] = []
        self.changed.connect(self._pass_on)

    def watch(self, owner: QObject, topics: Collection[Any], reload: Callable[[], None]) -> None:
        """Call ``reload`` after a change of any of the topics, for as long as ``owner`` lives."""
        watch = _Watch(frozenset(topics), reload)
        self._watches.append(watch)
        watches = self._watches
        owner.destroyed.connect(lambda: watches.remove(watch))

    def tell(self, changes: Changed) -> None:
        """Pass on what an operation changed."""
        self.changed.emit(changes)

    def _pass_on(self, changes: Changed) -> None:
        topics = frozenset(changes.topics)
        for watch in tuple(self._watches):
            if watch.topics & topics and watch in self._watches:
                watch.reload()
