"""What is really seen: contrast of rendered text and marks, and whether the ring of the keyboard shows.

Luminance and contrast are those of WCAG 2.2 (W3C Recommendation, 2023), definitions "relative luminance" and
"contrast ratio" (recalled). Widgets are rendered three times as large, so that strokes reach their full
colour.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QColor, QImage, QRegion
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QLabel,
    QLineEdit,
    QPushButton,
    QRadioButton,
    QScrollArea,
    QWidget,
)

PRIMARY, SECONDARY, MARK = 7.0, 4.5, 3.0
TIMES = 3
SAME = 0.02  # how far apart in luminance two colours still count as one ground


def luminance(colours: np.ndarray) -> np.ndarray:
    """Return the relative luminance of an array of colours, 0 to 255, whose last axis is red, green, blue."""
    parts = colours[..., :3].astype(float) / 255
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    result: np.ndarray = linear @ np.array([0.2126, 0.7152, 0.0722])
    return result


def contrast(one: Any, other: Any) -> Any:
    """Return the contrast ratio of luminances, 1 to 21."""
    lighter, darker = np.maximum(one, other), np.minimum(one, other)
    return (lighter + 0.05) / (darker + 0.05)


def contrast_of(one: str, other: str) -> float:
    """Return the contrast ratio of two colours written as #rrggbb."""
    first, second = (np.array(QColor(colour).getRgb()[:3]) for colour in (one, other))
    return float(contrast(luminance(first), luminance(second)))


def pixels(image: QImage) -> np.ndarray:
    """Return an image as an array of height, width, and red, green, blue."""
    image = image.convertToFormat(QImage.Format.Format_RGB888)
    flat = np.frombuffer(image.constBits(), np.uint8)[: image.sizeInBytes()]
    rows = flat.reshape(image.height(), image.bytesPerLine())[:, : image.width() * 3]
    return rows.reshape(image.height(), image.width(), 3).copy()


def picture(widget: QWidget, times: int = TIMES) -> np.ndarray:
    """Return a widget as it is seen in its window, enlarged."""
    image = QImage(widget.size() * times, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(times)
    window = widget.window()
    corner = widget.mapTo(window, QPoint())
    window.render(image, QPoint(), QRegion(QRect(corner, widget.size())))
    return pixels(image)


def text_contrast(widget: QWidget) -> float:
    """Return the contrast of the text of a label, button or field with what is round it."""
    inset = 5 if isinstance(widget, (QAbstractButton, QLineEdit)) else 0  # border and rule are no text
    seen = luminance(picture(widget))
    inset *= TIMES
    seen = seen[inset : seen.shape[0] - inset, inset : seen.shape[1] - inset]
    values, counts = np.unique(np.round(seen, 3), return_counts=True)
    ground = values[counts.argmax()]
    return float(contrast(seen, ground).max())


def texts(window: QWidget) -> list[QWidget]:
    """Return what shows words of its own in a window, disabled things left out (exempt by 1.4.3)."""
    shown: list[QWidget] = [
        w for w in window.findChildren(QLabel) if w.text().strip() and w.pixmap().isNull()
    ]
    shown += [w for w in window.findChildren(QAbstractButton) if w.text().strip()]
    shown += [w for w in window.findChildren(QLineEdit) if w.displayText().strip()]
    return [w for w in shown if w.isVisible() and w.isEnabled() and w.visibleRegion().contains(w.rect())]


def wanted_contrast(widget: QWidget) -> float:
    """Return the contrast a text has to have: quiet words are secondary, all others primary."""
    quiet = widget.property("tone") in {"soft", "fault"} or widget.property("quiet")
    passed_over = isinstance(widget, QRadioButton) and not widget.isChecked()
    return SECONDARY if quiet or passed_over else PRIMARY


def faint_texts(window: QWidget) -> list[str]:
    """Return the texts of a window that stand out too little from what is round them."""
    found = ((widget, text_contrast(widget)) for widget in texts(window))
    return [
        f"{widget.objectName()} {getattr(widget, 'text', str)()!r}: {seen:.1f}:1"
        for widget, seen in found
        if seen < wanted_contrast(widget) - 0.05
    ]


def hidden_rings(controls: list[QWidget]) -> list[str]:
    """Return the controls on which the keyboard is not seen (WCAG 2.2, 2.4.7 and 1.4.11)."""
    faults = []
    for control in controls:
        _elsewhere(control)
        before = luminance(picture(control, 1))
        control.setFocus(Qt.FocusReason.TabFocusReason)
        QApplication.sendPostedEvents()
        after = luminance(picture(control, 1))
        if before.shape == after.shape:
            changed = int((contrast(before, after) >= MARK).sum())
            least = min(control.width(), control.height()) * 2
            if changed < least:
                faults.append(f"{control.objectName()}: {changed} of {least} pixels show the keyboard")
    return faults


def _elsewhere(control: QWidget) -> None:
    """Take the focus away, with the control in sight as it is when the focus comes to it."""
    around: QWidget | None = control
    while (around := around.parentWidget() if around is not None else None) is not None:
        if isinstance(around, QScrollArea):
            around.ensureWidgetVisible(control)  # as Qt does at a press of Tab
    control.setFocus(Qt.FocusReason.TabFocusReason)
    QApplication.sendPostedEvents()
    control.clearFocus()
    QApplication.sendPostedEvents()


def obscured(control: QWidget) -> str:
    """Return why a control with the keyboard is not seen whole (WCAG 2.2, 2.4.11), "" if it is."""
    room = control.window().size()
    around: QWidget | None = control
    while (around := around.parentWidget() if around is not None else None) is not None:
        if isinstance(around, QScrollArea):
            room = around.viewport().size()
            break
    seen = control.visibleRegion().boundingRect()
    if isinstance(control, QAbstractItemView):  # a list may be longer than the page; its row is what counts
        row = control.visualRect(control.currentIndex()).translated(control.viewport().pos())
        return (
            "" if seen.contains(row.adjusted(1, 1, -1, -1)) else f"{control.objectName()}: row out of sight"
        )
    if control.height() <= room.height() and control.width() <= room.width():
        whole = seen.height() >= control.height() - 1 and seen.width() >= control.width() - 1
        return "" if whole else f"{control.objectName()}: {seen.height()} px of {control.height()} seen"
    return f"{control.objectName()}: out of sight" if seen.isEmpty() else ""


def unlabelled(window: QWidget, kinds: tuple[type[QWidget], ...]) -> list[str]:
    """Return the controls of some kinds that have no name for a screen reader."""
    return [
        f"{type(w).__name__} {w.objectName()}"
        for w in window.findChildren(QWidget)
        if isinstance(w, kinds) and w.isVisible() and w.isEnabled() and not spoken_name(w)
    ]


def spoken_name(widget: QWidget) -> str:
    """Return what a screen reader calls a control."""
    own = widget.accessibleName()
    return own or (widget.text() if isinstance(widget, QPushButton) else "")


def tiny(window: QWidget, kinds: tuple[type[QWidget], ...], least_px: int = 24) -> list[str]:
    """Return the controls that are smaller than a target may be (WCAG 2.2, 2.5.8: 24 px)."""
    return [
        f"{type(w).__name__} {w.objectName()}: {w.width()} x {w.height()}"
        for w in window.findChildren(QWidget)
        if isinstance(w, kinds) and w.isVisible() and w.isEnabled() and min(w.width(), w.height()) < least_px
    ]


def misnamed(window: QWidget) -> list[str]:
    """Return the buttons whose spoken name lacks the words seen on them (WCAG 2.2, 2.5.3)."""
    found = [w for w in window.findChildren(QPushButton) if w.isVisible() and w.text()]
    return [
        f"{w.text()!r} is spoken {w.accessibleName()!r}"
        for w in found
        if w.accessibleName() and w.text().replace("&", "").casefold() not in w.accessibleName().casefold()
    ]
