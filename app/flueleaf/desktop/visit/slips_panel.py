"""The readings grid: a column a slip, a row a quantity, in the order the analyser prints them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.help.worded_label import worded
from flueleaf.desktop.theme import current
from flueleaf.desktop.visit.ear import Typing
from flueleaf.desktop.visit.reading_field import ReadingField
from flueleaf.desktop.visit.slip_column import SlipColumn, Spot, Typed, typed_slip
from flueleaf.desktop.visit.slip_placing import needed_px, place
from flueleaf.desktop.words import _
from flueleaf.domain.judging.assessment import Assessment
from flueleaf.domain.judging.case import PreviousVisit
from flueleaf.domain.judging.kind import Kind, WantedSlip
from flueleaf.domain.quantities import ON_SLIP

USUAL_ORDER = ("o2_pct", "co2_pct", "co_ppm", "ratio", "flue_c", "air_c")


class SlipsPanel(QWidget):
    """The slips of one work."""

    def __init__(self, typing: Typing, prefix: str, kind: Kind) -> None:
        """Make it empty.

        Args:
            typing: the desk and the ear.
            prefix: of the names of its fields.
            kind: of the appliance; it says what makes sense at each point.
        """
        super().__init__()
        self.setObjectName(f"{prefix}.slips")
        self.setMinimumWidth(1)  # it may become narrower than its slips side by side: then they stack
        self._typing = typing
        self._prefix = prefix
        self._kind = kind
        self._order: tuple[str, ...] = ()
        self._keys: tuple[str, ...] = USUAL_ORDER
        self._past: Sequence[PreviousVisit] = ()
        self._stacked = False
        self.columns: list[SlipColumn] = []
        self.heads: dict[str, list[QLabel]] = {}
        self._body = QWidget()
        self._holder = QVBoxLayout(self)
        self._holder.setContentsMargins(0, 0, 0, 0)
        self._holder.addWidget(self._body)

    @property
    def keys(self) -> tuple[str, ...]:
        """The quantities, in the order of typing."""
        return self._keys

    def show_slips(self, wanted: Sequence[WantedSlip], slips: Sequence[Typed], order: Sequence[str]) -> None:
        """Show the wanted slips and those there are.

        Args:
            wanted: by the kind's procedure, in the order of measuring.
            slips: typed so far.
            order: quantity keys in the order of typing; () for the usual one.
        """
        found = {typed.spot: typed for typed in slips}
        spots = [Spot(one.point, one.rate) for one in wanted]
        spots += [spot for spot in found if Spot(spot.point, spot.rate) not in spots]
        ordered = [
            spot
            for first in dict.fromkeys(Spot(spot.point, spot.rate) for spot in spots)
            for spot in sorted({first, *(s for s in found if _same(s, first))}, key=lambda s: s.attempt)
            if spot in found or spot in spots
        ]
        self._order = tuple(order)
        typed = [found.get(spot, Typed(spot)) for spot in ordered]
        keys = self._rows(typed)
        if keys != self._keys or not self._refilled(typed):
            self._keys = keys
            self._make(typed)

    def add(self, spot: Spot) -> SlipColumn:
        """Add an empty slip, after those of its point and rate."""
        typed = [column.snapshot() for column in self.columns]
        at = max((n for n, one in enumerate(typed) if _same(one.spot, spot)), default=len(typed) - 1) + 1
        typed.insert(at, Typed(spot))
        self._keys = self._rows(typed)
        self._make(typed)
        self._typing.ear.grown.emit()
        return self.columns[at]

    def snapshots(self) -> list[Typed]:
        """Return everything typed, empty slips included."""
        return [column.snapshot() for column in self.columns]

    def read(self) -> list[dict[str, Any]]:
        """Return the slips with at least one value."""
        return [column.read() for column in self.columns if not column.empty]

    def read_reasons(self) -> list[dict[str, Any]]:
        """Return why slips could not be measured."""
        return [
            {"point": column.spot.point, "rate": column.spot.rate, "reason": reason}
            for column in self.columns
            if (reason := column.reason.text().strip())
        ]

    def read_columns(self) -> list[SlipColumn]:
        """Return the columns of ``read``, in its order."""
        return [column for column in self.columns if not column.empty]

    def column_of(self, widget: QWidget | None) -> SlipColumn | None:
        """Return the slip that has a field."""
        for column in self.columns:
            if widget in (*column.fields.values(), column.reason):
                return column
        return None

    def fields(self) -> list[Field]:
        """Return the fields, down each column."""
        return [field for column in self.columns for field in column.fields.values()]

    def show_past(self, past: Sequence[PreviousVisit]) -> None:
        """Put last time's values beside the fields."""
        self._past = past
        for column in self.columns:
            slip = next((s for visit in past for s in reversed(visit.slips) if _same(s, column.spot)), None)
            column.show_past(slip)

    def show_assessment(self, assessment: Assessment) -> None:
        """Show ratios and verdicts."""
        found = {Spot(slip.point, slip.rate, slip.attempt): slip for slip in assessment.slips}
        for column in self.columns:
            column.show_assessment(found.get(column.spot))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set the slips below each other where they have no room side by side."""
        super().resizeEvent(event)
        stacked = event.size().width() < needed_px(self)
        if stacked != self._stacked:
            self._stacked = stacked
            # Not from within the layout that is resizing it: what comes into view resizes its neighbours.
            QTimer.singleShot(0, self, self._place)

    def changeEvent(self, event: QEvent) -> None:
        """Keep widths and distances in step with the text scale."""
        if event.type() == QEvent.Type.FontChange and self._body.layout() is not None:
            QTimer.singleShot(0, self, self._place)
        super().changeEvent(event)

    def _refilled(self, slips: Sequence[Typed]) -> bool:
        """Show slips in the columns there are; returns False where they do not fit."""
        return len(slips) == len(self.columns) and all(
            column.refill(slip) for column, slip in zip(self.columns, slips, strict=True)
        )

    def _make(self, slips: Sequence[Typed]) -> None:
        self._body.hide()
        self._holder.removeWidget(self._body)
        self._body.setParent(None)
        self._body.deleteLater()
        self._body = QWidget()
        self.columns = [
            SlipColumn(
                f"{self._prefix}.slips.{n}",
                f"{self._prefix}.not_measured.{n}",
                typed,
                [key for key in self._keys if self._asked(key, typed)],
            )
            for n, typed in enumerate(slips)
        ]
        self.heads = {key: [_head(key) for _ in self.columns] for key in (*self._keys, "")}
        QGridLayout(self._body)
        self._holder.addWidget(self._body)
        self._place()
        self.show_past(self._past)
        for column in self.columns:
            self._typing.ear.listen([*column.fields.values(), column.reason])

    def _asked(self, key: str, slip: Typed) -> bool:
        """Tell whether a slip has a field for a quantity: it makes sense there, or was typed all the same."""
        return self._kind.makes_sense(key, slip.spot.point) or key in slip.texts

    def _rows(self, slips: Sequence[Typed]) -> tuple[str, ...]:
        """Return the quantities that any of the slips has a field for, in the order of typing."""
        wanted = [*(self._order or USUAL_ORDER), *(key for slip in slips for key in slip.texts)]
        return tuple(
            key
            for key in dict.fromkeys(wanted)
            if key in ON_SLIP and any(self._asked(key, slip) for slip in slips)
        )

    def _place(self) -> None:
        grid = self._body.layout()
        assert isinstance(grid, QGridLayout)
        for widget in self._body.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly):
            grid.removeWidget(widget)  # not takeAt: see Section
        grid.setContentsMargins(0, current().space(2), 0, 0)
        grid.setHorizontalSpacing(current().space(3))
        grid.setVerticalSpacing(current().space(0.5))
        place(self, grid, stacked=self._stacked)


def _head(key: str) -> QLabel:
    quantity = ON_SLIP.get(key)
    if quantity is None:
        return worded(_("ratio, computed"), tone="soft", wrap=False)
    made: QLabel = worded(f"{_(quantity.label)} {quantity.unit}".strip(), tone="soft", wrap=False)
    made.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    return made


def _same(one: Any, other: Any) -> bool:
    return (one.point, one.rate) == (other.point, other.rate)


def slips_of(work: Mapping[str, Any]) -> list[Typed]:
    """Return the slips of a work's document, those that could not be measured included."""
    slips = [typed_slip(entry) for entry in work.get("slips", ())]
    for entry in work.get("not_measured", ()):
        spot = Spot(entry["point"], entry["rate"])
        there = next((slip for slip in slips if slip.spot == spot), None)
        if there is None:
            there = Typed(spot)
            slips.append(there)
        there.reason = str(entry.get("reason", ""))
    return slips


def is_reading(widget: QWidget | None) -> bool:
    """Tell whether a widget is a field of the grid."""
    return isinstance(widget, ReadingField)
