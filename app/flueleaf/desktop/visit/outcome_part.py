"""Outcome: defects as the engineer classes them, how the appliance is left, and who was told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.words_field import Word, WordsField
from flueleaf.desktop.section import label
from flueleaf.desktop.visit.cells import Cells
from flueleaf.desktop.visit.form import Form
from flueleaf.desktop.visit.gone_past_panel import GonePastPanel
from flueleaf.desktop.visit.rows_part import TypedRow, TypedRows
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.desktop.words import _
from flueleaf.domain.judging.assessment import Assessment

# "left in use" and "left in use with notes" both begin with an l; the second answers to its notes.
OUTCOMES = (
    Word("left in use", _("left in use"), "l"),
    Word("left in use with notes", _("left in use with notes"), "n"),
    Word("made safe", _("made safe"), "m"),
    Word("isolated", _("isolated"), "i"),
    Word("not accessed", _("not accessed"), "x"),
)
CLASSES = (
    Word("immediately dangerous", _("immediately dangerous"), "i"),
    Word("at risk", _("at risk"), "r"),
    Word("advice", _("advice"), "a"),
)
DEFECTS_HELP = _("Defects, if any: what it is, your class of it, what you did or advised.")


class OutcomePart(StagePart):
    """The end of the work at one appliance."""

    KEYS = ("defects", "overrides", "outcome")

    def add_own(self) -> None:
        """Defects, then the outcome; neither class nor outcome has a default."""
        self.defects = TypedRows(self.typing, self._defect)
        self._gone_past = GonePastPanel(self.typing, self.prefix)
        self._outcome = WordsField(f"{self.prefix}.outcome", _("how it was left"), OUTCOMES)
        self.add_widget(label(DEFECTS_HELP, role="small", tone="soft", wrap=True))
        self.add_widget(self.defects)
        self.add_widget(self._gone_past)
        self.add_row(self._outcome)
        self.typing.ear.listen([self._outcome])

    def own_fields(self) -> Sequence[QWidget]:
        """Return defects, why the work went on all the same, then the outcome."""
        return (*self.defects.fields(), *self._gone_past.fields(), self._outcome)

    def fill(self, work: Mapping[str, Any]) -> None:
        """Show defects and outcome."""
        super().fill(work)
        self.defects.fill(work.get("defects", ()))
        self._gone_past.fill(work.get("overrides", ()))
        self._outcome.set_text(str(work.get("outcome", "")))

    def read(self) -> dict[str, Any]:
        """Return ``defects``, ``overrides`` and ``outcome``, each where there is one."""
        told = {
            "defects": self.defects.read(),
            "overrides": self._gone_past.read(),
            "outcome": self._outcome.text(),
        }
        return {key: value for key, value in told.items() if value}

    @property
    def outcome(self) -> str:
        """How the appliance is left, "" while that is not said."""
        return self._outcome.text()

    def show_assessment(self, assessment: Assessment) -> None:
        """Ask for the reason where the work went on past a step that did not go well."""
        self._gone_past.show_walk(assessment.walk)

    def locate(self, path: str) -> Field | None:
        """Return the field of a path inside the work."""
        if path.startswith("outcome"):
            return self._outcome
        group, _, rest = path.partition("[")
        number, _, key = rest.partition("]")
        if group == "defects" and number:
            return self.defects.locate(int(number), key.lstrip("."))
        if group == "overrides" and number:
            return self._gone_past.locate(int(number))
        return None

    def _defect(self, number: int) -> TypedRow:
        own = f"{self.prefix}.defects.{number}"
        form, cells = Form(), Cells()
        cells.put(form.add("text", TextField(f"{own}.text", _("defect"))), units=4)
        cells.put(form.add("class", WordsField(f"{own}.class", _("class"), CLASSES)), units=2)
        cells.put(form.add("action", TextField(f"{own}.action", _("done about it"))), units=2)
        return TypedRow(form, cells)
