from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.storage.tables.fuels import FUELS, SIEGERT_FILE, load_fuels, read_fuels

NAMES = ["butane", "gas oil", "kerosene", "methane", "natural gas", "propane"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for path in FUELS.glob("*.toml"):
        shutil.copy(path, tmp_path)
    return tmp_path


def test_the_shipped_fuels_carry_the_names_of_the_contract() -> None:
    assert list(load_fuels()) == NAMES
    assert all(name == fuel.name for name, fuel in load_fuels().items())


def test_the_fuels_are_read_once_and_cannot_be_changed() -> None:
    assert load_fuels() is load_fuels()
    with pytest.raises(TypeError):
        load_fuels()["peat"] = load_fuels()["methane"]  # type: ignore[index]


@pytest.mark.parametrize("fuel", load_fuels().values(), ids=lambda fuel: fuel.name)
def test_every_fuel_says_where_it_comes_from(fuel: Fuel) -> None:
    assert fuel.source
    assert fuel.checked in {"read", "recalled", "common practice"}
    assert fuel.siegert is not None
    assert "1. BImSchV" in fuel.siegert.source


def test_another_fuel_is_another_file(folder: Path) -> None:
    text = (folder / "methane.toml").read_text(encoding="utf-8")
    text = text.replace('"methane"', '"blend"').replace("methane = 100", "methane = 80\nhydrogen = 20")
    (folder / "blend.toml").write_text(text, encoding="utf-8")
    blend = read_fuels(folder)["blend"]
    assert blend.parts == {"methane": 0.8, "hydrogen": 0.2}


@pytest.mark.parametrize(
    ("name", "old", "new", "said"),
    [
        ("methane.toml", "methane = 100", "methane = 90", "methane.toml: mole_pct"),
        ("methane.toml", "edition", "editon", "methane.toml: editon: unknown key"),
        ("methane.toml", "[mole_pct]", "[mole_pct", "methane.toml: "),
        ("methane.toml", '"methane"', '"propane"', "propane.toml: name: 'propane' is given twice"),
        (SIEGERT_FILE, "0.68", '"0.68"', r"siegert__2010.toml: class\[0\].a"),
    ],
)
def test_a_faulty_file_is_named(folder: Path, name: str, old: str, new: str, said: str) -> None:
    path = folder / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(ValueError, match=said):
        read_fuels(folder)
