"""Arrival: what the visit is for, and when."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.time_field import TimeField
from flueleaf.desktop.fields.words_field import WordsField
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.form import Form, date_text, typed_date
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.words import _
from flueleaf.domain.records.visits import PURPOSES


class ArrivalPart(Part):
    """Purpose, date and times; the rest of the top of the document is other parts' business."""

    KEYS = ("purpose", "date", "arrived", "left")

    def __init__(self, typing: Typing) -> None:
        super().__init__(_("arrival"), typing, name="arrival")
        self._form = Form()
        today = typing.desk.today
        cells = Cells()
        self.purpose = self._form.add("purpose", WordsField("purpose", _("purpose"), PURPOSES))
        cells.put(self.purpose, units=4)
        date = DateField("date", _("date"), today=today, future=False)
        cells.put(self._form.add("date", date, typed_date(today), date_text), units=2)
        cells.put(self._form.add("arrived", TimeField("arrived", _("arrived"))))
        cells.put(self._form.add("left", TimeField("left", _("left"))))
        self.add_widget(cells)
        typing.ear.listen(self._form.fields)

    def fields(self) -> Sequence[QWidget]:
        """Return the fields."""
        return self._form.fields

    def fill(self, document: Mapping[str, Any]) -> None:
        """Show the top of a document."""
        self._form.fill({key: document[key] for key in self.KEYS if key in document})

    def read(self) -> dict[str, Any]:
        """Return the top of the document."""
        return self._form.read()

    def locate(self, path: str) -> Field | None:
        """Return the field of a path."""
        return self._form.locate(path) if path in self.KEYS else None
