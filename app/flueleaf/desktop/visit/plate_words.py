"""A plate, and an analyser, in a line or two."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flueleaf.desktop.visit.form import date_text
from flueleaf.desktop.visit.window_field import window_text
from flueleaf.operations.facts.wording import RATE_NAMES, label, unit


def appliance_name(appliance: Mapping[str, Any]) -> str:
    """Return what an appliance is called on the leaf: make and model, else its kind."""
    name = f"{appliance.get('make', '')} {appliance.get('model', '')}".strip()
    return name or str(appliance.get("kind", "")) or "new appliance"


def plate_summary(appliance: Mapping[str, Any]) -> str:
    """Return the plate on one line and the maker's limits on another."""
    rated = appliance.get("rated_input", {})
    ends = [str(rated[key]) for key in ("min_kw", "max_kw") if rated.get(key)]
    kw = f"{' to '.join(ends)} kW {rated.get('basis', '')}".strip() if ends else ""
    serial = f"serial {appliance['serial']}" if appliance.get("serial") else ""
    plate = [appliance.get("kind", ""), serial, appliance.get("fuel", ""), appliance.get("flue", ""), kw]
    return f"{_joined(plate)}\n{limits_summary(appliance.get('limits', {}))}"


def limits_summary(limits: Mapping[str, Any]) -> str:
    """Return the maker's limits on one line."""
    found = [
        f"{label(key)} {limits[key]} {unit(key)}".strip() for key in ("co_ppm", "ratio") if limits.get(key)
    ]
    for rate, window in limits.get("co2_pct", {}).items():
        found.append(f"CO2 {window_text(window)} % at {RATE_NAMES.get(rate, rate)}")
    if not found:
        return "no limit of the maker’s: the rule table’s count"
    source = limits.get("limits_source", "")
    return f"maker’s limits: {', '.join(found)}{f' ({source})' if source else ''}"


def analyser_summary(instrument: Mapping[str, Any]) -> str:
    """Return an analyser on one line."""
    due = instrument.get("calibration_due", "")
    serial = f"serial {instrument['serial']}" if instrument.get("serial") else ""
    stated = ", ".join(label(key) for key in instrument.get("tolerance", {}))
    return _joined(
        [
            instrument.get("name", ""),
            serial,
            f"calibration due {date_text(due)}" if due else "no calibration date noted",
            f"tolerance stated for {stated}" if stated else "usual tolerances count",
        ]
    )


def _joined(parts: list[str]) -> str:
    return " · ".join(part for part in parts if part)
