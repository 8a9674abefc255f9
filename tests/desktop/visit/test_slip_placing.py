"""What stands in the readings grid lines up: the computed ratio under the figures typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QImage
from tests.desktop.visit.typist import Typist, go, leaf_of

from flueleaf.desktop.theme import current

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from flueleaf.desktop.theme import ThemeKeeper
    from flueleaf.desktop.visit.slips_panel import SlipsPanel


def right_end_px(panel: SlipsPanel, widget: QWidget) -> int:
    """Return the column of the last pixel of text drawn in a widget, over its panel."""
    image = widget.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    inner = range(current().px(6), image.height() - current().px(6))
    dark = [
        x for x in range(4, image.width() - 4) if any(image.pixelColor(x, y).lightness() < 128 for y in inner)
    ]
    return widget.mapTo(panel, QPoint()).x() + dark[-1]


@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_the_computed_ratio_stands_under_the_figures(
    typist: Typist, keeper: ThemeKeeper, scale: float
) -> None:
    keeper.set_scale(scale)
    go(typist, "works.0.slips.1.o2_pct")
    for value in ("4.9", "9.2", "70", "0.0008", "56", "18"):
        typist.write(value)
        typist.enter()
    leaf_of(typist).catch_up()
    combustion = leaf_of(typist).works[0].combustion
    assert combustion is not None
    column = combustion.slips.columns[1]
    typed = right_end_px(combustion.slips, column.fields["ratio"])
    computed = right_end_px(combustion.slips, column.ratio)
    assert (column.fields["ratio"].text(), column.ratio.text()) == ("0.0008", "0.0008")
    assert abs(typed - computed) <= 1
