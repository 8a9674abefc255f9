"""The paper kinds there are: every folder of ``papers.kinds`` is one."""

from __future__ import annotations

import functools
import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from types import ModuleType
from typing import Any

from flueleaf.papers import kinds
from flueleaf.papers.facts import Seals


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of paper.

    Attributes:
        key: name of its folder; name: as people and JSON say it ("commissioning record").
        title: as printed.
        facts_type: the record that ``draw`` takes.
        sample: facts of an invented paper, for tests and for looking at.
    """

    key: str
    title: str
    facts_type: type
    sample: Callable[[], Any]

    @property
    def name(self) -> str:
        """The kind as it is called in facts, in JSON and on the screen."""
        return self.key.replace("_", " ")

    def draw(self, facts: Any, seals: Seals) -> bytes:
        """Return the PDF of the facts. The drawing library is loaded by the first call.

        Raises:
            UserProblem: a picture that is no PNG.
            ValueError: facts of another kind, or seals of another paper.
        """
        if facts.head.kind != self.name or facts.head.number != seals.number:
            raise ValueError(f"{facts.head.kind} {facts.head.number} is not {self.name} {seals.number}")
        made: bytes = self.load().draw(facts, seals)
        return made

    def load(self) -> ModuleType:
        """Load the drawing of this kind, and with it the drawing library."""
        return importlib.import_module(f"{kinds.__name__}.{self.key}.draw")


@functools.cache
def all_kinds() -> dict[str, Kind]:
    """Return the kinds by name ("commissioning record"), in alphabetical order."""
    found = {}
    for info in sorted(pkgutil.iter_modules(kinds.__path__), key=lambda module: module.name):
        module = importlib.import_module(f"{kinds.__name__}.{info.name}")
        kind = Kind(info.name, module.TITLE, module.Facts, module.sample)
        found[kind.name] = kind
    return found
