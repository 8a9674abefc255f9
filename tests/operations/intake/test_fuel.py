from __future__ import annotations

import datetime as dt
import json
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from flueleaf.domain.problems import Refused
from flueleaf.operations.assessing import assess_document
from flueleaf.operations.combustion import gas_rate_document
from flueleaf.operations.intake.fuel import fuel_of, read_fuel
from flueleaf.operations.intake.reader import Reader
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()
BLEND: dict[str, Any] = {
    "name": "blend",
    "state": "gas",
    "source": "the network's notice",
    "siegert_class": "public-supply gas",
    "mole_pct": {"methane": Decimal(80), "hydrogen": "20"},
}
OIL: dict[str, Any] = {
    "name": "bio oil",
    "state": "liquid",
    "source": "the supplier's analysis",
    "net_mj_per_kg": Decimal("37.5"),
    "mass_pct": {"carbon": Decimal(77), "hydrogen": Decimal(12), "oxygen": Decimal(11)},
}
TODAY = dt.date(2026, 11, 26)


def faults(document: dict[str, Any], **how: Any) -> list[tuple[str, str]]:
    reader = Reader.of(document)
    fuel_of(reader, FUELS, **how)
    with pytest.raises(Refused) as caught:
        reader.finish()
    return [(fault.where, fault.value) for fault in caught.value.faults]


def test_a_name_is_the_shipped_fuel() -> None:
    assert fuel_of(Reader.of({"fuel": "propane"}), FUELS) is FUELS["propane"]


def test_an_object_is_a_fuel_of_its_own() -> None:
    reader = Reader.of({"fuel": BLEND})
    fuel = fuel_of(reader, FUELS)
    reader.finish()
    assert fuel.parts == {"methane": 0.8, "hydrogen": 0.2}
    assert fuel.siegert == FUELS["natural gas"].siegert
    assert (fuel.name, fuel.checked) == ("blend", "as entered")


def test_the_usual_fuel_stands_in_only_where_none_is_given_and_its_state_fits() -> None:
    assert fuel_of(Reader.of({}), FUELS, usual=FUELS["propane"]) is FUELS["propane"]
    assert faults({}, state="gas", usual=FUELS["kerosene"]) == [("fuel", "")]
    assert faults({"fuel": None}, usual=FUELS["propane"]) == [("fuel", "null")]


@pytest.mark.parametrize(
    ("changes", "where", "value"),
    [
        ({"state": "vapour"}, "fuel.state", "vapour"),
        ({"colour": "blue"}, "fuel.colour", "unknown key"),
        ({"source": ""}, "fuel.source", ""),
        ({"siegert_class": "peat"}, "fuel.siegert_class", "peat"),
        ({"mole_pct": {"methane": 80}}, "fuel.mole_pct", "parts that add up to 80"),
        ({"mole_pct": {"methane": "8o", "hydrogen": 20}}, "fuel.mole_pct.methane", "8o"),
        ({"mole_pct": {"steam": 100}}, "fuel.mole_pct.steam", "unknown key"),
        ({"mole_pct": {"nitrogen": 100}}, "fuel.mole_pct", "nothing in it burns"),
        ({"mole_pct": {"methane": Decimal("-1.5"), "hydrogen": 101}}, "fuel.mole_pct.methane", "-1.5"),
    ],
)
def test_a_faulty_fuel_is_refused_at_its_key(changes: dict[str, Any], where: str, value: str) -> None:
    assert faults({"fuel": BLEND | changes}) == [(where, value)]


def test_a_missing_key_is_said_to_be_missing() -> None:
    assert faults({"fuel": {k: v for k, v in BLEND.items() if k != "mole_pct"}}) == [("fuel.mole_pct", "")]


def test_a_liquid_does_not_pass_a_gas_meter() -> None:
    assert faults({"fuel": OIL}, state="gas") == [("fuel.state", "liquid")]


def test_a_file_may_be_json_or_toml() -> None:
    toml = """
    name = "blend"
    state = "gas"
    source = "the network's notice"
    [mole_pct]
    methane = 80.0
    hydrogen = 20
    """
    as_json = json.dumps({**BLEND, "mole_pct": {"methane": 80, "hydrogen": 20}})
    for text in (toml, as_json):
        assert read_fuel(text, name="a file", fuels=FUELS).parts == {"methane": 0.8, "hydrogen": 0.2}
    headed = "[mole_pct]\nmethane = 100\n"
    with pytest.raises(Refused, match=r"^state: missing"):
        read_fuel(headed, name="a file", fuels=FUELS)


@pytest.mark.parametrize("text", ["", "name =", "[1, 2]", '{"name": 1}', '{"name": "a", "name": "b"}', "{"])
def test_what_is_no_fuel_is_refused(text: str) -> None:
    with pytest.raises(Refused):
        read_fuel(text, name="a file", fuels=FUELS)


def slip_of(fuel: object, **readings: object) -> dict[str, Any]:
    """Return the one slip of an assessment with a fuel."""
    document = {
        "fuel": fuel,
        "appliance": {"kind": "condensing boiler"},
        "slips": [{"point": "flue", "rate": "max", **readings}],
    }
    slips: list[dict[str, Any]] = assess_document(document, today=TODAY)["slips"]
    return slips[0]


WARM = {"flue_c": 54, "air_c": 18}


def test_a_blend_is_assessed_by_its_own_line() -> None:
    plain, blend = (slip_of(fuel, o2_pct=5, co_ppm=40, **WARM) for fuel in ("methane", BLEND))
    assert blend["co2_from_o2_pct"] < plain["co2_from_o2_pct"]
    assert blend["dew_point_c"] > plain["dew_point_c"]
    assert blend["ratio"] > plain["ratio"]


def test_hydrogen_has_no_ratio_but_all_that_oxygen_tells() -> None:
    hydrogen = {**BLEND, "name": "hydrogen", "mole_pct": {"hydrogen": 100}}
    slip = slip_of(hydrogen, o2_pct=5, co_ppm=0, no_ppm=20, **WARM)
    assert slip["ratio"] is None
    assert slip["verdict"] == "unjudged"
    assert slip["dew_point_c"] > 65
    assert 95 < slip["efficiency_net_pct"] < 100
    assert slip["nox_mg_per_kwh"] > 0
    assert slip["efficiency_net_bs845_pct"] is None


@pytest.mark.parametrize(
    "readings",
    [{"co2_pct": 4, "co_ppm": 50}, {"ratio": "0.002", "co_ppm": 40}, {"co2_pct": 0}, {"o2_pct": 21}],
)
def test_hydrogen_with_readings_that_carbon_would_explain_is_never_good(readings: dict[str, Any]) -> None:
    hydrogen = {**BLEND, "name": "hydrogen", "mole_pct": {"hydrogen": 100}}
    slip = slip_of(hydrogen, **readings)
    assert slip["verdict"] == "unjudged"
    assert slip["air_factor"] is None


def test_an_entered_gas_turns_gross_into_net_at_the_meter() -> None:
    run = {"meter": {"unit": "m3", "volume": "0.082", "seconds": 120}, "calorific_value_mj_m3": "32.6"}
    found = gas_rate_document({"fuel": BLEND, **run})
    ratio = read_fuel(json.dumps(BLEND, default=str), name="blend", fuels=FUELS).gross_net_ratio
    assert found["input_gross_kw"] / found["input_net_kw"] == pytest.approx(ratio)


def test_the_guides_own_fuel_is_one() -> None:
    guide = (Path(__file__).parents[3] / "DEVELOPERS.md").read_text(encoding="utf-8")
    described = re.search(r"^echo '(\{.*\})' \\$", guide, re.MULTILINE)
    assert described is not None
    fuel = read_fuel(described[1], name="the guide", fuels=FUELS)
    assert fuel.parts == {"methane": 0.8, "hydrogen": 0.2}


HEAD = 'name = "x"\nsource = "s"\n'


@pytest.mark.parametrize(
    ("text", "where", "accepted"),
    [
        (HEAD + "state = " + "[" * 300 + "]" * 300, "state" + "[0]" * 3, "at most 32 levels"),
        (HEAD + "state = " + "[" * 5000 + "]" * 5000, "own.toml", "table in JSON or TOML"),
        ("[" * 5000, "own.toml", "document of the contract"),
        (HEAD + "state = 0x" + "f" * 9000, "state", "computed with"),
        (HEAD + 'state = "gas"\n[mole_pct]\nmethane = 0x' + "f" * 9000, "mole_pct.methane", "computed with"),
        (HEAD + "net_mj_per_kg = 1e9999999999999999999", "own.toml", "table in JSON or TOML"),
    ],
)
def test_a_hostile_table_is_refused_by_its_place(text: str, where: str, accepted: str) -> None:
    with pytest.raises(Refused) as caught:
        read_fuel(text, name="own.toml", fuels=FUELS)
    (fault,) = caught.value.faults
    assert fault.where.startswith(where)
    assert accepted in str(fault)
