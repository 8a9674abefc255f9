"""Dates, references and figures with their unit are not broken over two lines; all else may be."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop.section import label
from flueleaf.desktop.unbroken import unbroken

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.theme import ThemeKeeper


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("last time, on 5 Jan 2026", "last time, on 5_Jan_2026"),
        ("maker’s instructions, page 41", "maker’s instructions, page_41"),
        ("41 kB, 1 page", "41_kB, 1_page"),
        ("61 ppm of 350 ppm", "61_ppm of 350_ppm"),
        ("14 days late", "14_days late"),
        ("3 Quay Lane, QX1 1AA", "3 Quay Lane, QX1 1AA"),
        ("7 pagesful of 12 things", "7 pagesful of 12 things"),
        ("", ""),
    ],
)
def test_what_belongs_together_stays_together(text: str, shown: str) -> None:
    assert unbroken(text) == shown.replace("_", "\N{NO-BREAK SPACE}")


def test_a_wrapped_label_gives_its_text_back_as_given(keeper: ThemeKeeper, qtbot: QtBot) -> None:
    assert keeper.scale == 1.0
    made = label("due 20 Dec 2026", wrap=True)
    qtbot.addWidget(made)
    assert made.text() == "due 20 Dec 2026"
    made.setFixedWidth(made.fontMetrics().horizontalAdvance("20 Dec 2026") + 2)
    one_line = made.fontMetrics().height()
    assert made.heightForWidth(made.width()) < 2.5 * one_line  # "due", then the whole date
    made.setText("due 21 Dec 2026")
    assert made.text() == "due 21 Dec 2026"
