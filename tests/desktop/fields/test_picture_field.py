"""A logo or signature: from a PNG or JPEG file, pasted, taken out; anything else is said at the field."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QMimeData, Qt, QUrl
from PySide6.QtGui import QColor, QGuiApplication, QImage
from PySide6.QtWidgets import QPushButton
from tests.desktop.conftest import FakeAnswers, show

from flueleaf.desktop.fields import picture_field
from flueleaf.desktop.fields.picture_field import MOST_SIDE, PictureField

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper

PNG = b"\x89PNG\r\n\x1a\n"


@pytest.fixture
def answers() -> FakeAnswers:
    return FakeAnswers()


@pytest.fixture
def field(qtbot: QtBot, answers: FakeAnswers) -> PictureField:
    made = PictureField("logo", "logo", answers)
    show(qtbot, made)
    return made


def image(width: int = 30, height: int = 10) -> QImage:
    made = QImage(width, height, QImage.Format.Format_RGB32)
    made.fill(QColor("teal"))
    return made


def choose(field: PictureField) -> None:
    button = field.findChild(QPushButton, "logo.choose")
    assert isinstance(button, QPushButton)
    button.click()


@pytest.mark.parametrize(("name", "kind"), [("a.png", "PNG"), ("a.jpg", "JPG"), ("wrong.png", "JPG")])
def test_png_and_jpeg_are_kept_as_png(
    field: PictureField, answers: FakeAnswers, tmp_path: Path, name: str, kind: str
) -> None:
    answers.file = tmp_path / name
    assert image().save(str(answers.file), kind)
    told: list[str] = []
    field.edited.connect(told.append)
    choose(field)
    data = field.data()
    assert data is not None
    assert data.startswith(PNG)
    assert field.image().size() == image().size()
    assert told == [field.text()]
    if kind == "PNG":
        assert data == answers.file.read_bytes()


@pytest.mark.parametrize("data", [b"", b"no picture", PNG + b"cut off", b"GIF89a", b"<svg/>"])
def test_what_is_no_picture_is_said(
    field: PictureField, answers: FakeAnswers, tmp_path: Path, data: bytes
) -> None:
    answers.file = tmp_path / "logo.png"
    answers.file.write_bytes(data)
    choose(field)
    assert field.fault() == "logo.png is no PNG or JPEG picture. Choose one that is."
    assert field.text() == ""


def test_a_file_that_cannot_be_read(field: PictureField, answers: FakeAnswers, tmp_path: Path) -> None:
    answers.file = tmp_path / "gone.png"
    choose(field)
    assert "cannot be read" in field.fault()


def test_a_file_too_large_is_not_even_read(
    field: PictureField, answers: FakeAnswers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(picture_field, "MOST_BYTES", 10)
    answers.file = tmp_path / "large.png"
    assert image().save(str(answers.file), "PNG")
    choose(field)
    assert "too large" in field.fault()


def test_a_large_picture_is_made_smaller(field: PictureField) -> None:
    QGuiApplication.clipboard().setImage(image(MOST_SIDE * 2, MOST_SIDE))
    field.paste()
    assert (field.image().width(), field.image().height()) == (MOST_SIDE, MOST_SIDE // 2)


def test_pasting_by_key_taking_out_and_going_on(qtbot: QtBot, field: PictureField) -> None:
    QGuiApplication.clipboard().setText("no picture")
    qtbot.keyClick(field.control(), Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert "no picture to paste" in field.fault()
    QGuiApplication.clipboard().setImage(image())
    qtbot.keyClick(field.control(), Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert field.fault() == ""
    assert field.picture.isVisible()
    with qtbot.waitSignal(field.entered):
        qtbot.keyClick(field.control(), Qt.Key.Key_Return)
    out = field.findChild(QPushButton, "logo.take_out")
    assert isinstance(out, QPushButton)
    out.click()
    assert field.data() is None
    assert not field.picture.isVisible()
    assert field.control().hasFocus()


def test_a_copied_file_may_be_pasted(field: PictureField, tmp_path: Path) -> None:
    place = tmp_path / "a.jpg"
    assert image().save(str(place), "JPG")
    copied = QMimeData()
    copied.setUrls([QUrl.fromLocalFile(str(place))])
    QGuiApplication.clipboard().setMimeData(copied)
    field.paste()
    assert field.image().size() == image().size()


def test_a_damaged_picture_of_the_book_is_said(field: PictureField) -> None:
    field.set_text("bm8gcGljdHVyZQ==")
    assert "damaged" in field.fault()
    assert field.text() == ""


def test_a_pasted_path_that_no_file_can_have_is_said(field: PictureField) -> None:
    copied = QMimeData()
    copied.setUrls([QUrl("file:///logo%00.png")])
    QGuiApplication.clipboard().setMimeData(copied)
    field.paste()
    assert field.fault().startswith("logo\\x00.png cannot be read")
    assert field.text() == ""


def test_the_picture_grows_with_the_text(qtbot: QtBot, field: PictureField, keeper: ThemeKeeper) -> None:
    QGuiApplication.clipboard().setImage(image(600, 200))
    field.paste()
    before = field.picture.width()
    keeper.set_scale(2.0)
    qtbot.waitUntil(lambda: field.picture.width() > 1.9 * before, timeout=60_000)
