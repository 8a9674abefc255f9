from __future__ import annotations

import copy
from typing import Any

import pytest

from flueleaf.domain.combustion.fuel import Siegert
from flueleaf.domain.combustion.fuel_table import fuel_from_table, siegert_from_table

TEXTS = {"name": "town mix", "source": "an analysis", "checked": "read", "edition": "2026"}
GAS = {**TEXTS, "state": "gas", "mole_pct": {"methane": 80, "hydrogen": 20}}
LIQUID = {**TEXTS, "state": "liquid", "mass_pct": {"carbon": 86.5, "hydrogen": 13.3}, "net_mj_per_kg": 42.5}
SIEGERT = {
    "table": "siegert",
    "edition": "1",
    "source": "a law",
    "checked": "read",
    "class": [{"key": "LPG", "a": 0.63, "b": 0.008}],
}


def changed(table: dict[str, Any], **changes: Any) -> dict[str, Any]:
    return {**copy.deepcopy(table), **changes}


def without(table: dict[str, Any], key: str) -> dict[str, Any]:
    return {name: value for name, value in table.items() if name != key}


def test_a_gas_is_read_with_its_fractions_and_its_provenance() -> None:
    fuel = fuel_from_table(GAS)
    assert fuel.parts == {"methane": 0.8, "hydrogen": 0.2}
    assert (fuel.name, fuel.source, fuel.checked, fuel.edition) == ("town mix", "an analysis", "read", "2026")
    assert fuel.siegert is None


def test_a_liquid_is_read_its_remainder_counted_as_inert() -> None:
    fuel = fuel_from_table(LIQUID)
    assert fuel.parts == {"carbon": 0.865, "hydrogen": 0.133}
    assert fuel.net_kj == 42_500.0


def test_an_analysis_rounded_in_print_is_scaled_to_the_whole() -> None:
    fuel = fuel_from_table(changed(GAS, mole_pct={"methane": 80.02, "hydrogen": 20.0}))
    assert sum(fuel.parts.values()) == pytest.approx(1.0)


def test_the_siegert_class_brings_its_coefficients() -> None:
    classes = {"LPG": Siegert(0.63, 0.008, "a law")}
    assert fuel_from_table(changed(GAS, siegert_class="LPG"), classes).siegert == classes["LPG"]
    assert fuel_from_table(changed(GAS, siegert_class="LPG")).siegert_class == "LPG"
    assert fuel_from_table(GAS, classes).siegert is None


@pytest.mark.parametrize(
    ("table", "named"),
    [
        (changed(GAS, state="solid"), "state"),
        (changed(GAS, state=["gas"]), "state"),
        (changed(GAS, colour="blue"), "colour: unknown key"),
        (changed(GAS, net_mj_per_kg=42.5), "net_mj_per_kg: unknown key"),
        (without(GAS, "source"), "source"),
        (changed(GAS, name="  "), "name"),
        (changed(GAS, edition=2026), "edition"),
        (changed(GAS, siegert_class="peat"), "siegert_class: 'peat'"),
        (without(GAS, "mole_pct"), "mole_pct"),
        (changed(GAS, mole_pct={}), "mole_pct"),
        (changed(GAS, mole_pct={"methane": 80, "hydrogen": 19}), "mole_pct: 'parts that add up to 99'"),
        (changed(GAS, mole_pct={"methan": 100}), "mole_pct.methan: unknown key"),
        (changed(GAS, mole_pct={"methane": -1, "hydrogen": 101}), "mole_pct.methane"),
        (changed(GAS, mole_pct={"methane": True, "hydrogen": 99}), "mole_pct.methane"),
        (changed(GAS, mole_pct={"methane": "80", "hydrogen": 20}), "mole_pct.methane"),
        (changed(GAS, mole_pct={"methane": float("nan"), "hydrogen": 20}), "mole_pct.methane"),
        (changed(GAS, mole_pct={"nitrogen": 60, "carbon dioxide": 40, "methane": 0}), "nothing in it burns"),
        (changed(LIQUID, net_mj_per_kg=4.25), "net_mj_per_kg"),
        (without(LIQUID, "net_mj_per_kg"), "net_mj_per_kg"),
        (
            changed(LIQUID, mass_pct={"carbon": 86.0, "hydrogen": 15.0}),
            "mass_pct: 'parts that add up to 101'",
        ),
        (changed(LIQUID, mass_pct={"carbon": 80.0, "hydrogen": 13.0}), "mass_pct: 'parts that add up to 93'"),
        (changed(LIQUID, mass_pct={"carbon": 10, "hydrogen": 1, "oxygen": 88}), "mass_pct: 'oxygen enough"),
        (changed(LIQUID, mass_pct={"carbon": 99.0}), "mass_pct: 'no carbon or no hydrogen'"),
    ],
)
def test_a_faulty_table_is_refused_naming_the_key(table: dict[str, Any], named: str) -> None:
    with pytest.raises(ValueError, match=named):
        fuel_from_table(table, {"LPG": Siegert(0.63, 0.008)})


def test_siegert_coefficients_carry_their_source() -> None:
    assert siegert_from_table(SIEGERT) == {"LPG": Siegert(0.63, 0.008, "a law (1)")}


@pytest.mark.parametrize(
    ("table", "named"),
    [
        (changed(SIEGERT, extra=1), "extra: unknown key"),
        (without(SIEGERT, "class"), "class: None"),
        (changed(SIEGERT, **{"class": [{"key": "LPG", "a": 0.63}]}), r"class\[0\].b"),
        (changed(SIEGERT, **{"class": [{"key": "LPG", "a": 63, "b": 0.008}]}), r"class\[0\].a"),
        (changed(SIEGERT, **{"class": [{"key": "", "a": 0.6, "b": 0.008}]}), r"class\[0\].key"),
    ],
)
def test_a_faulty_siegert_table_is_refused_naming_the_key(table: dict[str, Any], named: str) -> None:
    with pytest.raises(ValueError, match=named):
        siegert_from_table(table)
