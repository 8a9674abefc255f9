"""Nearer, farther and about: by keys, wheel and mouse, never beyond the picture."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from tests.desktop.conftest import show

from flueleaf.desktop.photo.photo_view import NEARER, NEAREST, PhotoView

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def view(qtbot: QtBot) -> PhotoView:
    made = PhotoView()
    made.resize(300, 400)
    image = QImage(900, 1400, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.red)
    made.show_image(image)
    show(qtbot, made)
    made.setFocus()
    return made


def test_keys_go_nearer_and_farther_and_fit(view: PhotoView, qtbot: QtBot) -> None:
    qtbot.keyClick(view, Qt.Key.Key_Plus)
    qtbot.keyClick(view, Qt.Key.Key_Up, CTRL)
    assert view.zoom == pytest.approx(NEARER**2)
    assert view.wanted_px().width() == round(300 * NEARER**2 * view.devicePixelRatioF())
    qtbot.keyClick(view, Qt.Key.Key_Minus)
    assert view.zoom == pytest.approx(NEARER)
    qtbot.keyClick(view, Qt.Key.Key_0)
    assert view.zoom == 1.0
    for _ in range(20):
        qtbot.keyClick(view, Qt.Key.Key_Down, CTRL)
    assert view.zoom == 1.0


def test_arrows_move_up_to_the_edge(view: PhotoView, qtbot: QtBot) -> None:
    qtbot.keyClick(view, Qt.Key.Key_Down)
    assert view.centre.toTuple() == (0.5, 0.5)  # all of it is seen already
    for _ in range(6):
        qtbot.keyClick(view, Qt.Key.Key_Plus)
    for _ in range(40):
        qtbot.keyClick(view, Qt.Key.Key_Down)
        qtbot.keyClick(view, Qt.Key.Key_Right)
    assert 0.5 < view.centre.x() < 1.0
    assert 0.5 < view.centre.y() < 1.0
    bottom = view.grab().toImage().pixelColor(150, 394)  # inside the ring of focus
    assert bottom.red() > 200  # no empty page came into view


def test_the_mouse_moves_what_it_holds(view: PhotoView, qtbot: QtBot) -> None:
    for _ in range(6):
        view.zoom_by(NEARER)
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=QPoint(150, 200))
    qtbot.mouseMove(view, QPoint(150, 100))
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton)
    assert view.centre.y() > 0.5
    assert view.centre.x() == 0.5


def test_escape_leaves(view: PhotoView, qtbot: QtBot) -> None:
    with qtbot.waitSignal(view.left):
        qtbot.keyClick(view, Qt.Key.Key_Escape)


def test_an_empty_view_takes_every_key(qtbot: QtBot) -> None:
    view = PhotoView()
    show(qtbot, view)
    for key in (Qt.Key.Key_Plus, Qt.Key.Key_Left, Qt.Key.Key_Down, Qt.Key.Key_Home):
        qtbot.keyClick(view, key)
    assert view.image.isNull()


MOVE = st.tuples(st.sampled_from([NEARER, 1 / NEARER, 0.0]), st.floats(-3, 3), st.floats(-3, 3))


@settings(max_examples=60, deadline=None)
@given(st.lists(MOVE, max_size=12), st.integers(10, 900), st.integers(10, 900))
def test_wherever_one_goes_the_picture_is_seen(
    qapp: QApplication, moves: list[tuple[float, float, float]], wide: int, high: int
) -> None:
    assert qapp is not None
    view = PhotoView()
    view.resize(wide, high)
    view.show_image(QImage(700, 300, QImage.Format.Format_RGB32))
    for times, right, down in moves:
        if times:
            view.zoom_by(times)
        view.move_by(right, down)
        assert 1.0 <= view.zoom <= NEAREST
        fitted = min(wide / 700, high / 300) * view.zoom
        for share, whole, seen in (
            (view.centre.x(), 700 * fitted, wide),
            (view.centre.y(), 300 * fitted, high),
        ):
            half = min(seen / whole, 1.0) / 2
            assert half - 1e-9 <= share <= 1 - half + 1e-9
