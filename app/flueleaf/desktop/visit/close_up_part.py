"""Close-up: every opened test point, confirmed refitted by the engineer and by nobody else."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.visit.answer_field import RefittedField
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.words import _
from flueleaf.domain.judging.procedure import OPENED

WORDS: Mapping[Any, str] = {True: "true", False: "false", "not sure": "not sure"}
VALUES: Mapping[str, Any] = {"true": True, "false": False, "not sure": "not sure"}


class CloseUpPart(StagePart):
    """The points come from the appliance's kind; none is ever prefilled."""

    KEYS = ("close_up",)

    def add_own(self) -> None:
        """One line a point."""
        self._points: dict[str, RefittedField] = {}
        for point in (point for point in OPENED if point in self.kind.points):
            field = RefittedField(f"{self.prefix}.close_up.{point}", _("{point} test point", point=_(point)))
            self._points[point] = field
            self.add_row(field)
        self.typing.ear.listen(self._points.values())

    def own_fields(self) -> Sequence[QWidget]:
        """Return the points."""
        return tuple(self._points.values())

    def fill(self, work: Mapping[str, Any]) -> None:
        """Show what was confirmed."""
        super().fill(work)
        given = work.get("close_up", {})
        for point, field in self._points.items():
            field.set_text(WORDS.get(given.get(point), ""))

    def read(self) -> dict[str, Any]:
        """Return ``close_up``, left out while nothing was said."""
        given = {point: VALUES[field.text()] for point, field in self._points.items() if field.text()}
        return {"close_up": given} if given else {}

    def locate(self, path: str) -> Field | None:
        """Return the field of a path inside the work."""
        return self._points.get(path.removeprefix("close_up.")) if path.startswith("close_up.") else None
