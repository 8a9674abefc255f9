"""What the margin says of the flame of a slip: the few figures an engineer looks at first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from flueleaf.desktop.visit.figure_rows import Figure
from flueleaf.desktop.words import _
from flueleaf.domain.judging.assessment import SlipAssessment
from flueleaf.domain.judging.doubts import contradicted
from flueleaf.operations.explaining.flame import BY_KEY, flame_value

MOST_DECIMALS = 2  # of any of them
_SHORT = {
    "air_factor": _("air factor"),
    "excess_air_pct": _("excess air"),
    "co_undiluted_ppm": _("CO, air-free"),
    "nox_mg_per_kwh": _("NOx, net"),
    "dew_point_c": _("dew point, dry air"),
    "dew_point_humid_c": _("dew point, humid air"),
    "efficiency_net_pct": _("net"),
    "efficiency_gross_pct": _("gross"),
    "efficiency_net_condensing_pct": _("net"),
    "efficiency_gross_condensing_pct": _("gross"),
    "condensed_fraction": _("condensed"),
    "condensate_l_per_h": _("condensate"),
}
_GASES = ("air_factor", "excess_air_pct", "co_undiluted_ppm", "nox_mg_per_kwh")
_PLAIN = ("efficiency_net_pct", "efficiency_gross_pct")
_BOUND = (
    "efficiency_net_condensing_pct",
    "efficiency_gross_condensing_pct",
    "condensed_fraction",
    "condensate_l_per_h",
)


def flame_figures(slip: SlipAssessment) -> Sequence[Figure]:
    """Return the figures shown of a slip, none where its readings contradict each other or the fuel.

    What a reading does not give is left out, and so is the upper bound where nothing condenses: it is then
    what stands above it.
    """
    if contradicted(slip.doubts):
        return ()
    made = slip.figures
    dew = "dew_point_c" if made.dew_point_humid_c is None else "dew_point_humid_c"
    bound = _BOUND if made.condensed_fraction else ()
    return (
        *_group(slip, (*_GASES, dew), ""),
        *_group(slip, _PLAIN, _("efficiency, first principles, no condensing credit")),
        *_group(slip, bound, _("efficiency, upper bound at equilibrium")),
    )


def _group(slip: SlipAssessment, keys: Sequence[str], head: str) -> Iterator[Figure]:
    """Give the figures there are, the first of them under the basis of all."""
    for key in keys:
        if value := flame_value(slip.figures, key):
            yield Figure(_SHORT[key], value, BY_KEY[key].unit, head=head, key=key)
            head = ""
