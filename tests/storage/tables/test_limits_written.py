"""The limits as they were found, typed a second time: a table that is changed by mistake shows here.

Sources and status stand in the tables. The two values of flue integrity, the two of the condensing boiler and
the tolerances are common practice or recalled; EH40/2005, EN 50291-1 and (EU) 813/2013 were read in part.
"""

from __future__ import annotations

import tomllib

import pytest

from flueleaf.paths import RESOURCES

TABLES = {path.stem: path for path in sorted((RESOURCES / "rules" / "limits").glob("*.toml"))}
# Table and slot: limit, half-width. A slot without a limit is the owner's to fill.
LIMITS = {
    "air_co_guideline__2021": {"over_24_h": ("4", None)},  # mg/m3
    "co_alarm__2000": {
        "at_30_ppm_from": ("120", None),
        "at_50_ppm_from": ("60", None),
        "at_50_ppm_to": ("90", None),
        "at_100_ppm_from": ("10", None),
        "at_100_ppm_to": ("40", None),
        "at_300_ppm_to": ("3", None),
    },
    "condensing_boiler__2000": {"flue_co": ("350", None), "flue_ratio": ("0.0040", None)},
    "flue_integrity__2000": {"air_inlet_o2": ("20.6", "0.1"), "air_inlet_co2": ("0.2", "0.1")},
    "nox_ecodesign__2018": {"gas": ("56", None), "oil": ("120", None)},
    "oil_firing__2000": {"flue_smoke": ("1", None)},
    "room_co_guideline__2010": {
        "over_15_min": ("100", None),
        "over_1_h": ("35", None),
        "over_8_h": ("10", None),
        "over_24_h": ("7", None),
    },
    "room_co_workplace__2020": {"over_8_h": ("20", None), "over_15_min": ("100", None)},
    "tightness__2026": {
        "let_by_from": ("7", None),
        "let_by_to": ("10", None),
        "let_by_time": ("1", None),
        "test_from": ("20", None),
        "test_lowest": ("18", None),
        "test_to": ("21", None),
        "stabilise_time": ("1", None),
        "test_time": ("2", None),
    },
}
TOLERANCES = {  # half-width, and its share of the value; of both the larger counts
    "o2_pct": ("0.3", None),
    "co2_pct": ("0.3", None),
    "co_ppm": ("20", "0.05"),
    "no_ppm": ("20", "0.05"),
    "flue_c": ("2", None),
    "air_c": ("2", None),
    "smoke": ("1", None),
}


@pytest.mark.parametrize("name", TABLES)
def test_the_limits_are_those_that_were_found(name: str) -> None:
    table = tomllib.loads(TABLES[name].read_text(encoding="utf-8"))
    entries = [*table.get("limit", []), *table.get("information", [])]
    found = {
        one["slot"]: (one["limit"], one.get("half_width")) for one in entries if one.get("limit") is not None
    }
    assert found == LIMITS.get(name, {})


def test_the_default_tolerances_are_those_that_were_found() -> None:
    table = tomllib.loads(TABLES["instrument_tolerance__2000"].read_text(encoding="utf-8"))
    assert {one["key"]: (one["abs"], one.get("rel")) for one in table["tolerance"]} == TOLERANCES
