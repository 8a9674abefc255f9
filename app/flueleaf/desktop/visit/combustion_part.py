"""Combustion: the readings grid, the doubts about it, and what could not be measured."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.photo.photo_line import PhotoLine
from flueleaf.desktop.visit.doubts_panel import DoubtsPanel
from flueleaf.desktop.visit.slip_column import SlipColumn, Spot
from flueleaf.desktop.visit.slips_panel import USUAL_ORDER, SlipsPanel, slips_of
from flueleaf.desktop.visit.stage_part import StagePart
from flueleaf.domain.judging.assessment import Assessment, Missing
from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.judging.kind import WantedSlip


class CombustionPart(StagePart):
    """The slips of one appliance."""

    KEYS = ("slips", "not_measured")

    def add_own(self) -> None:
        """That a photograph can stand beside, then grid and doubts."""
        self.slips = SlipsPanel(self.typing, self.prefix, self.kind)
        self.doubts = DoubtsPanel(self.prefix)
        self.doubts.hide()
        self._order: tuple[str, ...] = ()
        self.add_widget(PhotoLine(self.typing.photos))
        self.add_widget(self.slips)
        self.add_widget(self.doubts)
        self.doubts.confirmed.connect(self._on_confirmed)
        self.doubts.grown.connect(self.typing.ear.grown)
        self.typing.ear.left.connect(self.doubts.release)

    def own_fields(self) -> Sequence[QWidget]:
        """Return the readings down each column, the reasons, the buttons of the doubts."""
        reasons = [column.reason for column in self.slips.columns]
        return (*self.slips.fields(), *reasons, *self.doubts.buttons)

    def fill(self, work: Mapping[str, Any]) -> None:
        """Show slips and reasons."""
        super().fill(work)
        self.slips.show_slips(self._wanted(), slips_of(work), self._keys())

    def _wanted(self) -> Sequence[WantedSlip]:
        """Return the slips the procedure wants; where it wants none, one is offered and may stay empty."""
        wanted = self.kind.slips_for(self.purpose, self.flue)
        open_to_probe = self.flue != "none" and "flue" in self.kind.points
        point = "flue" if open_to_probe else next((one for one in self.kind.points if one != "flue"), None)
        return wanted or ((WantedSlip(point, "max", ()),) if point else ())

    def _keys(self) -> tuple[str, ...]:
        """Return the quantities in the order of typing; on oil smoke comes first: no analyser reads it."""
        if "smoke" in self._order or "smoke" not in self.kind.quantities.get("flue", ()):
            return self._order
        return ("smoke", *(self._order or USUAL_ORDER))

    def set_order(self, order: tuple[str, ...]) -> None:
        """Set the order in which the analyser prints."""
        if order != self._order:
            self._order = order
            self.slips.show_slips(self._wanted(), self.slips.snapshots(), self._keys())
            self.typing.ear.grown.emit()

    def read(self) -> dict[str, Any]:
        """Return ``slips`` and ``not_measured``."""
        slips, reasons = self.slips.read(), self.slips.read_reasons()
        return {**({"slips": slips} if slips else {}), **({"not_measured": reasons} if reasons else {})}

    def locate(self, path: str) -> Field | None:
        """Return the field of a path inside the work; slips count those with values only."""
        group, number, key = _split(path)
        if group == "slips" and number is not None:
            columns = self.slips.read_columns()
            if number < len(columns):
                fields = columns[number].fields
                return fields.get(key) or next(iter(fields.values()), None)
        if group == "not_measured" and number is not None:
            given = [column for column in self.slips.columns if column.reason.text().strip()]
            return given[number].reason if number < len(given) else None
        if group in ("slips", "not_measured"):
            return next(iter(self.slips.fields()), None)
        return None

    def field_of(self, missing: Missing) -> Field | None:
        """Return the first field of a missing slip."""
        for column in self.slips.columns:
            if (column.spot.point, column.spot.rate) == (missing.point, missing.rate):
                return next(iter(column.fields.values()), None)
        return None

    def show_past(self, past: Sequence[PreviousVisit]) -> None:
        """Put last time's values beside the fields."""
        self.slips.show_past(past)

    def show_assessment(self, assessment: Assessment) -> None:
        """Show verdicts and doubts."""
        self.slips.show_assessment(assessment)
        self.doubts.show_doubts(assessment.doubts)

    def add_attempt(self, column: SlipColumn | None) -> None:
        """Begin a further attempt of a slip, the last one of the grid if none is meant."""
        meant = column or self.slips.columns[-1]
        spots = [one.spot for one in self.slips.columns]
        last = max(s.attempt for s in spots if (s.point, s.rate) == (meant.spot.point, meant.spot.rate))
        self._begin(Spot(meant.spot.point, meant.spot.rate, last + 1))

    def add_slip(self) -> bool:
        """Begin a slip at the next point and rate the kind knows and the grid lacks."""
        there = {(column.spot.point, column.spot.rate) for column in self.slips.columns}
        for point in self.kind.points:
            for rate in self.kind.rates:
                if (point, rate) not in there:
                    self._begin(Spot(point, rate))
                    return True
        return False

    def confirm(self, column: SlipColumn | None) -> bool:
        """Confirm the first open doubt, of one slip if one is meant; returns whether there was one."""
        return self.doubts.confirm(column.spot if column is not None else None)

    def begun(self) -> list[dict[str, Any]]:
        """Return the slips that were begun by hand and hold nothing yet."""
        wanted = {Spot(one.point, one.rate) for one in self._wanted()}
        empty = (one for one in self.slips.columns if one.empty and not one.reason.text().strip())
        return [column.read() for column in empty if column.spot not in wanted]

    def _begin(self, spot: Spot) -> None:
        column = self.slips.add(spot)
        next(iter(column.fields.values())).control().setFocus()

    def _on_confirmed(self, spot: Spot, code: str, stands: bool) -> None:
        for column in self.slips.columns:
            if column.spot == spot:
                codes = [one for one in column.typed.confirmed if one != code]
                column.typed.confirmed = [*codes, code] if stands else codes
        self.typing.ear.typed.emit()


def _split(path: str) -> tuple[str, int | None, str]:
    """Return group, number and key of a path such as ``slips[1].co_ppm``."""
    head, __, key = path.partition(".")
    group, __, number = head.partition("[")
    return group, int(number.rstrip("]")) if number else None, key
