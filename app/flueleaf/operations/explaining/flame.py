"""Everything that is told of a flame, in the order it is listed.

The window, the sheet that says how a figure was worked out and the record show a figure by this table, so
that it reads the same everywhere.
"""

from __future__ import annotations

from flueleaf.domain.combustion.slip_figures import SlipFigures
from flueleaf.operations.explaining.flame_figure import FlameFigure, value_of
from flueleaf.operations.explaining.flame_gas import AIR, DEW, EMISSIONS
from flueleaf.operations.explaining.flame_heat import CONDENSING, LOSSES, OTHER_WAYS
from flueleaf.operations.facts import wording

FLAME: tuple[FlameFigure, ...] = (*AIR, *EMISSIONS, *DEW, *LOSSES, *CONDENSING, *OTHER_WAYS)
BY_KEY = {one.key: one for one in FLAME}
SHARES = frozenset({"condensed_fraction"})  # of one, shown in percent


def flame_value(figures: SlipFigures, key: str) -> str:
    """Return a figure as it is shown, without its unit; "" where the slip does not give it."""
    if getattr(figures, key) is None:
        return ""
    value = value_of(figures, key) * (100.0 if key in SHARES else 1.0)
    return wording.figure(value, BY_KEY[key].decimals)


def flame_text(one: FlameFigure, figures: SlipFigures) -> str:
    """Return a figure with its unit."""
    return f"{flame_value(figures, one.key)} {one.unit}".strip()
