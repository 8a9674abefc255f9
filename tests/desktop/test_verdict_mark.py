from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop.verdict_mark import VERDICTS, Mark, VerdictWord

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper


def test_a_mark_grows_with_the_text(qtbot: QtBot, keeper: ThemeKeeper) -> None:
    word = VerdictWord("near", "by 12 ppm")
    qtbot.addWidget(word)
    word.show()
    mark = word.findChild(Mark)
    assert mark is not None
    before_px = mark.width()
    keeper.set_scale(2.0)
    assert mark.width() == 2 * before_px


@pytest.mark.usefixtures("keeper")
def test_every_verdict_has_a_shape_of_its_own_and_its_word(qtbot: QtBot) -> None:
    shapes = set()
    for verdict in VERDICTS:
        mark = Mark(verdict)
        qtbot.addWidget(mark)
        grey = mark.grab().toImage().convertToFormat(mark.grab().toImage().Format.Format_Mono)
        shapes.add(bytes(grey.constBits()))
        said = VerdictWord(verdict)
        qtbot.addWidget(said)
        assert said.accessibleName() == verdict
    assert len(shapes) == len(VERDICTS)
