"""The cautions a record leaves with the customer: for the reader of the paper, not for the engineer.

Wording is our own; what to do follows the usual advice to gas users (common practice).
"""

from __future__ import annotations

from collections.abc import Mapping

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.records.visits import Visit, Work

FUMES = (
    "Headaches, dizziness, sickness, staining, a smell of fumes or a sounding alarm outrank every reading on "
    "this paper: turn the appliance off, open windows, get everybody out, and have it looked at before it is "
    "used again."
)
SMELL_OF_GAS = (
    "If you smell gas: no flames, no switches. Turn the gas off where it comes in if you can reach it, open "
    "windows, go outside and call the gas emergency line; with bottled or tank gas, your supplier."
)
AS_LEFT = (
    "The readings hold for this day, this gas and these settings. Have the appliance serviced as its maker "
    "says, and let nobody but a competent person open or adjust it."
)
OUT_OF_USE = (
    "This appliance was left out of use. Do not turn it on again before a registered engineer has put right "
    "what is stated here."
)
CLASSED = (
    "A defect of this appliance was classed as unsafe by the engineer. The warning notice left with you says "
    "what to do; until it is cured the appliance must not be used."
)

_UNSAFE = ("immediately dangerous", "at risk")
_OUT_OF_USE = ("made safe", "isolated")


def visit_cautions(visit: Visit, fuels: Mapping[str, Fuel]) -> tuple[str, ...]:
    """Return the cautions that hold for the whole visit."""
    gas = any(fuels[work.appliance.fuel].state == "gas" for work in visit.works)
    return (FUMES, SMELL_OF_GAS, AS_LEFT) if gas else (FUMES, AS_LEFT)


def work_cautions(work: Work) -> tuple[str, ...]:
    """Return the cautions that hold for one appliance."""
    found = []
    if work.outcome in _OUT_OF_USE:
        found.append(OUT_OF_USE)
    if any(defect.defect_class in _UNSAFE for defect in work.defects):
        found.append(CLASSED)
    return tuple(found)
