"""The way of the keyboard through the visit leaf: order of Tab, jumps between sections, field in focus."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QScrollArea, QWidget

from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import LineField
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.theme import current
from flueleaf.desktop.visit.fold import unfold
from flueleaf.desktop.visit.part import Part
from flueleaf.desktop.visit.slips_panel import SlipsPanel


def set_tab_order(parts: Iterable[Part]) -> None:
    """Let Tab go through the fields of the sections in the order they are read.

    Qt leaves two stops as they are where nothing between them has a focus policy. But a field has none, and
    is a stop for Tab all the same, by its focus proxy: it would lead back to its own control. So each stop is
    set right behind the one before it, by way of the first stop.
    """
    stops = [stop for part in parts for widget in part.fields() for stop in _stops(widget)]
    for before, after in itertools.pairwise(stops):
        if before.nextInFocusChain() is not after:
            if before is not stops[0]:
                QWidget.setTabOrder(stops[0], after)
            QWidget.setTabOrder(before, after)


def field_of(widget: QWidget | None) -> Field | None:
    """Return the field a control belongs to."""
    while widget is not None and not isinstance(widget, Field):
        widget = widget.parentWidget()
    return widget


def part_of(parts: Sequence[Part], widget: QWidget | None) -> Part | None:
    """Return the section a control stands in."""
    if widget is None:
        return None
    return next((part for part in parts if part.isAncestorOf(widget)), None)


def go_to(widget: QWidget, scroll: QScrollArea) -> None:
    """Put the cursor into a field, opening what it is folded in, and bring it into view."""
    unfold(widget)
    control = widget.control() if isinstance(widget, Field) else widget
    control.setFocus(Qt.FocusReason.ShortcutFocusReason)
    show_around(control, scroll)


def go_back_to(leaf: Leaf, field: Field | None, scroll: QScrollArea) -> None:
    """Put the cursor behind the text of a field; without one it stays where it is, if it can."""
    focused = QApplication.focusWidget()
    if field is not None:
        go_to(field, scroll)
    elif focused is None or not leaf.isAncestorOf(focused):
        go_to(leaf.first_focus() or leaf, scroll)
    if isinstance(field, LineField):
        field.edit.end(False)  # behind it, so that the next key does not replace it


def show_around(control: QWidget, scroll: QScrollArea) -> None:
    """Scroll so that a control is seen with what stands above and below it."""
    up = control.parentWidget()
    while up is not None and not isinstance(up, SlipsPanel):
        up = up.parentWidget()
    if up is not None:  # the whole grid, as far as there is room, then the field
        scroll.ensureWidgetVisible(up, 0, current().space(4))
    scroll.ensureWidgetVisible(control, 0, current().space(18))


def step(parts: Sequence[Part], by: int) -> QWidget | None:
    """Return the first field of the next section that has one, or of the one before."""
    here = part_of(parts, QApplication.focusWidget())
    at = parts.index(here) if here is not None else (-1 if by > 0 else len(parts))
    ahead = parts[at + 1 :] if by > 0 else parts[:at][::-1] if at > 0 else ()
    return next((first for part in ahead if (first := part.first()) is not None), None)


def _stops(widget: QWidget) -> list[QWidget]:
    if not isinstance(widget, Field):
        return [widget]
    return [w for w in widget.findChildren(QWidget) if w.focusPolicy() != Qt.FocusPolicy.NoFocus]
