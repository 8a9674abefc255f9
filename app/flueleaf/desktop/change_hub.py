"""The only signal that crosses leaves: what changed in the book."""

from __future__ import annotations

from collections.abc import Callable, Collection
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


class ChangeHub(QObject):
    """Carries the changes of an operation to every leaf that shows their topics."""

    changed = Signal(object)

    def watch(self, owner: QObject, topics: Collection[Any], reload: Callable[[], None]) -> None:
        """Call ``reload`` after a change of any of the topics, for as long as ``owner`` lives."""
        wanted = frozenset(topics)

        def on_changed(changes: Changed) -> None:
            if wanted & frozenset(changes.topics):
                reload()

        self.changed.connect(on_changed)
        owner.destroyed.connect(lambda: self.changed.disconnect(on_changed))

    def tell(self, changes: Changed) -> None:
        """Pass on what an operation changed."""
        self.changed.emit(changes)
