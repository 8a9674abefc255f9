"""A plate, and an analyser, in a line or two."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flueleaf.desktop.visit.form import date_text
from flueleaf.desktop.visit.window_field import window_text
from flueleaf.desktop.words import _
from flueleaf.operations.facts.wording import RATE_NAMES, label, unit


def appliance_name(appliance: Mapping[str, Any]) -> str:
    """Return what an appliance is called on the leaf: make and model, else its kind."""
    name = f"{appliance.get('make', '')} {appliance.get('model', '')}".strip()
    return name or _(str(appliance.get("kind", ""))) or _("new appliance")


def plate_summary(appliance: Mapping[str, Any]) -> str:
    """Return the plate on one line and the maker's limits on another."""
    serial = _("serial {number}", number=appliance["serial"]) if appliance.get("serial") else ""
    kw = _input(appliance.get("rated_input", {}))
    kind, fuel, flue = (_(appliance.get(key, "")) for key in ("kind", "fuel", "flue"))
    plate = [kind, serial, fuel, flue, kw]
    return f"{_joined(plate)}\n{limits_summary(appliance.get('limits', {}))}"


def _input(rated: Mapping[str, Any]) -> str:
    ends = [str(rated[key]) for key in ("min_kw", "max_kw") if rated.get(key)]
    if not ends:
        return ""
    basis = _(rated.get("basis", ""))
    if len(ends) == 1:
        return _("{kw} kW {basis}", kw=ends[0], basis=basis).strip()
    return _("{low} to {high} kW {basis}", low=ends[0], high=ends[1], basis=basis).strip()


def limits_summary(limits: Mapping[str, Any]) -> str:
    """Return the maker's limits on one line."""
    highest = ("co_ppm", "ratio", "smoke")
    found = [f"{_(label(key))} {limits[key]} {unit(key)}".strip() for key in highest if limits.get(key)]
    for key in ("co2_pct", "o2_pct"):
        for rate, window in limits.get(key, {}).items():
            found.append(
                _(
                    "{quantity} {window} % at {rate}",
                    quantity=_(label(key)),
                    window=window_text(window),
                    rate=_(RATE_NAMES.get(rate, rate)),
                )
            )
    if not found:
        return _("the maker states no limit: the usual limits of the rules count")
    if source := limits.get("limits_source", ""):
        return _("maker’s limits: {limits} ({source})", limits=", ".join(found), source=source)
    return _("maker’s limits: {limits}", limits=", ".join(found))


def analyser_summary(instrument: Mapping[str, Any]) -> str:
    """Return an analyser on one line."""
    due = instrument.get("calibration_due", "")
    stated = ", ".join(_(label(key)) for key in instrument.get("tolerance", {}))
    return _joined(
        [
            instrument.get("name", ""),
            _("serial {number}", number=instrument["serial"]) if instrument.get("serial") else "",
            _("calibration due {date}", date=date_text(due)) if due else _("no calibration date noted"),
            _("tolerance stated for {quantities}", quantities=stated)
            if stated
            else _("usual tolerances count"),
        ]
    )


def _joined(parts: list[str]) -> str:
    return " · ".join(part for part in parts if part)
