"""Decoding and scaling: upright as the camera noted, never stalling the window, the newest wish only."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

import pytest
import shiboken6
from PySide6.QtCore import QBuffer, QIODevice, QObject
from PySide6.QtGui import QColor, QImage
from tests.desktop.photo.drawn_slips import lying_jpeg, slip

from flueleaf.desktop.photo.beside import run_beside, wait_for_all
from flueleaf.desktop.photo.pictures import LONGEST_SIDE_PX, Pictures, Wanted, decode, scaled
from flueleaf.domain.problems import UserProblem

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("qapp")  # a slip is drawn with letters


def png(image: QImage) -> bytes:
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    assert image.save(buffer, "PNG")  # type: ignore[call-overload]
    return bytes(buffer.data().data())


def test_a_picture_stands_upright_as_its_camera_noted() -> None:
    image = decode(lying_jpeg(60, 40))
    assert (image.width(), image.height()) == (40, 60)
    assert QColor(image.pixel(20, 10)).red() > 200  # what was left is now on top
    assert QColor(image.pixel(20, 50)).blue() > 200


def test_a_large_picture_is_read_no_larger_than_is_of_use() -> None:
    image = decode(png(QImage(6000, 1500, QImage.Format.Format_RGB32)))
    assert (image.width(), image.height()) == (LONGEST_SIDE_PX, LONGEST_SIDE_PX // 4)


@pytest.mark.parametrize("cut", [12, 60])
def test_a_damaged_picture_is_said_so(cut: int) -> None:
    with pytest.raises(UserProblem, match="damaged"):
        decode(png(slip(90, 140))[:cut])


@pytest.mark.parametrize(("turn", "corner"), [(0, (1, 1)), (90, (38, 1)), (180, (58, 38)), (270, (1, 58))])
def test_a_turn_is_to_the_right(turn: int, corner: tuple[int, int]) -> None:
    image = QImage(60, 40, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    for x in range(5):
        for y in range(5):
            image.setPixelColor(x, y, QColor("black"))
    assert QColor(scaled(image, turn, 600, 600).pixel(*corner)).value() == 0


def test_a_picture_is_fitted_and_never_made_larger() -> None:
    image = slip(900, 1400)
    assert scaled(image, 0, 300, 300).size().toTuple() == (192, 300)
    assert scaled(image, 90, 300, 300).size().toTuple() == (300, 192)
    assert scaled(image, 0, 5000, 5000).size().toTuple() == (900, 1400)


def test_pictures_are_read_beside_the_window_and_only_the_newest_wish_is_met(qtbot: QtBot) -> None:
    window, gate, loads = threading.get_ident(), threading.Event(), []
    data = png(slip(90, 140))

    def load(photo_id: int) -> bytes:
        loads.append((photo_id, threading.get_ident()))
        assert gate.wait(20)
        return data

    pictures = Pictures(load)
    met: list[Wanted] = []
    pictures.ready.connect(lambda wanted, _image: met.append(wanted))
    for photo_id in (1, 2, 3):
        pictures.want(Wanted(photo_id, 0, 30, 30))
    assert met == []  # the window went on while the first was still being read
    gate.set()
    qtbot.waitUntil(lambda: len(met) == 1)
    assert met == [Wanted(3, 0, 30, 30)]
    assert [photo_id for photo_id, _ in loads] == [1, 3]
    assert all(thread != window for _, thread in loads)
    pictures.want(Wanted(3, 90, 30, 30))  # decoded already
    qtbot.waitUntil(lambda: len(met) == 2)
    pictures.want(Wanted(3, 0, 30, 30))  # kept at that size: there at once
    assert met[2] == Wanted(3, 0, 30, 30)
    assert len(loads) == 2


def test_what_cannot_be_read_is_told(qtbot: QtBot) -> None:
    pictures = Pictures(lambda _photo_id: b"nothing")
    with qtbot.waitSignal(pictures.failed) as told:
        pictures.want(Wanted(1, 0, 30, 30))
    assert isinstance(told.args[0], UserProblem)


def test_nothing_follows_for_an_owner_that_is_gone(qtbot: QtBot) -> None:
    owner, other, told = QObject(), QObject(), []
    gate = threading.Event()
    run_beside(lambda: gate.wait(20), owner, lambda _: told.append("gone"), told.append)
    owner.deleteLater()
    qtbot.waitUntil(lambda: not _valid(owner))
    gate.set()
    wait_for_all()
    run_beside(lambda: 1, other, lambda _: told.append("there"), told.append)
    qtbot.waitUntil(lambda: told == ["there"])


def _valid(owner: QObject) -> bool:
    return bool(shiboken6.isValid(owner))
