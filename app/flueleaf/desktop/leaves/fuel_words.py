"""What the parts of a fuel are called on the screen."""

from __future__ import annotations

from flueleaf.desktop.words import _

GASES = {
    "methane": _("methane"),
    "ethane": _("ethane"),
    "propane": _("propane"),
    "n-butane": _("n-butane"),
    "isobutane": _("isobutane"),
    "n-pentane": _("n-pentane"),
    "isopentane": _("isopentane"),
    "neopentane": _("neopentane"),
    "hydrogen": _("hydrogen"),
    "carbon monoxide": _("carbon monoxide"),
    "carbon dioxide": _("carbon dioxide"),
    "nitrogen": _("nitrogen"),
}
ELEMENTS = {
    "carbon": _("carbon"),
    "hydrogen": _("hydrogen"),
    "oxygen": _("oxygen"),
    "nitrogen": _("nitrogen"),
    "sulphur": _("sulphur"),
}
PARTS = {**GASES, **ELEMENTS}
