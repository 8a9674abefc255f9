from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from flueleaf.domain.judging.kind import Kind
from flueleaf.domain.records.visits import PURPOSES
from flueleaf.storage.tables.fuels import load_fuels
from flueleaf.storage.tables.kinds import KINDS, load_kinds, read_kinds

ALL = pytest.mark.parametrize("kind", load_kinds().values(), ids=lambda kind: kind.key)

STAGE = """
key = "arrival"
lines = ["Look.", "Listen."]
[[check]]
key = "looked"
question = "Was it looked at?"
source = "custom"
status = "common practice"
"""
KIND = """
name = "stove"
flues = ["open"]
fuels = ["natural gas"]
points = ["flue"]
stages = ["arrival"]
[[slip]]
point = "flue"
rate = "max"
purposes = ["service"]
lines = ["Probe in.", "Wait."]
"""


def test_the_kinds_of_the_trade_are_there() -> None:
    assert list(load_kinds()) == [
        "back boiler",
        "condensing boiler",
        "cooker",
        "gas fire",
        "non-condensing boiler",
        "oil boiler",
        "warm air unit",
        "water heater",
    ]


@ALL
def test_every_kind_has_all_stages_with_cautions_for_every_purpose(kind: Kind) -> None:
    for purpose in PURPOSES:
        stages = [stage.key for stage in kind.stages_for(purpose)]
        assert stages[0] == "arrival"
        assert stages[-1] == "sign-off"
        assert {"combustion", "safety checks", "close-up", "work done"} <= set(stages)
    assert all(stage.caution and len(stage.lines) == 2 for stage in kind.stages)


@ALL
def test_every_kind_burns_shipped_fuels(kind: Kind) -> None:
    assert set(kind.fuels) <= set(load_fuels())
    assert kind.fuels


@ALL
def test_no_shipped_word_calls_anything_safe(kind: Kind) -> None:
    texts = [check.question + check.caution for check in kind.checks]
    texts += [" ".join(stage.lines) + stage.caution for stage in kind.stages]
    texts += [" ".join(slip.lines) + slip.caution for slip in kind.wanted]
    assert "safe" not in " ".join(texts).lower()


@ALL
def test_gas_kinds_ask_what_the_law_wants_examined(kind: Kind) -> None:
    # SI 1998/2451 reg. 26(9)(a) to (d) and (ca); oil follows its own standards.
    sources = " ".join(check.source for check in kind.checks)
    for letter in ("a", "b", "c", "ca", "d"):
        assert (f"reg. 26(9)({letter})" in sources) is (kind.name != "oil boiler")


def test_an_lpg_boiler_is_the_condensing_boiler_on_propane() -> None:
    assert "propane" in load_kinds()["condensing boiler"].fuels


def kinds(tmp_path: Path, kind: str = KIND, stage: str = STAGE) -> list[Kind]:
    (tmp_path / "stages").mkdir(exist_ok=True)
    (tmp_path / "stages" / "arrival.toml").write_text(stage, encoding="utf-8")
    (tmp_path / "stove.toml").write_text(kind, encoding="utf-8")
    return list(read_kinds(tmp_path).values())


def test_a_kind_is_read(tmp_path: Path) -> None:
    (kind,) = kinds(tmp_path)
    assert (kind.key, kind.name, kind.tables, kind.air_leak_o2_pct) == ("stove", "stove", (), None)
    assert kind.checks[0].purposes == PURPOSES
    assert kind.wanted[0].lines == ("Probe in.", "Wait.")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('flues = ["open"]', 'flues = ["open"]\ncolour = "red"', "unknown keys colour"),
        ('stages = ["arrival"]', 'stages = ["leaving"]', "'leaving'; accepted: arrival"),
        ('stages = ["arrival"]', 'stages = ["arrival", "arrival"]', "stage 'arrival' is given twice"),
        ('point = "flue"', 'point = "hob"', "'hob'; accepted: flue"),
        ('lines = ["Probe in.", "Wait."]', 'lines = ["Probe in."]', "lines: 1; accepted: 2 texts"),
        ('rate = "max"', 'rate = "max"\nrates = "min"', "unknown keys rates"),
        ('purposes = ["service"]', "purposes = []", "purposes: missing"),
        ('name = "stove"', "name =", "Invalid value"),
    ],
)
def test_a_wrong_kind_is_refused_by_name(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in KIND
    with pytest.raises(ValueError, match=r"stove\.toml") as refusal:
        kinds(tmp_path, KIND.replace(old, new, 1))
    assert said in str(refusal.value)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('status = "common practice"', 'status = "common practice"\ngood = true', "unknown keys good"),
        ('status = "common practice"', 'status = "sure"', "'sure'"),
        ('lines = ["Look.", "Listen."]', 'lines = ["Look.", "Listen."]\nlevel = 1', "unknown keys level"),
        ('lines = ["Look.", "Listen."]', 'lines = ["Look.", " "]', "is no text"),
    ],
)
def test_a_wrong_stage_is_refused_by_name(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in STAGE
    with pytest.raises(ValueError, match=r"arrival\.toml") as refusal:
        kinds(tmp_path, stage=STAGE.replace(old, new, 1))
    assert said in str(refusal.value)


def test_a_check_key_stands_once_in_a_kind(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="check 'looked' is given twice"):
        kinds(tmp_path, stage=STAGE + STAGE[STAGE.index("[[check]]") :])


def test_a_name_stands_once(tmp_path: Path) -> None:
    folder = tmp_path / "kinds"
    shutil.copytree(KINDS, folder)
    shutil.copy(folder / "cooker.toml", folder / "range.toml")
    with pytest.raises(ValueError, match=r"range\.toml: name: 'cooker' is given twice"):
        read_kinds(folder)


def test_what_belongs_to_the_premises_is_marked_so(tmp_path: Path) -> None:
    boiler = {check.key: check for check in load_kinds()["condensing boiler"].checks}
    premises = {key for key, check in boiler.items() if check.scope == "premises"}
    assert premises == {"gas_tight", "standing_pressure", "co_alarm", "responsible_told"}
    (tmp_path / "stages").mkdir()
    (tmp_path / "stages" / "arrival.toml").write_text(f'{STAGE}scope = "street"\n', encoding="utf-8")
    with pytest.raises(ValueError, match="scope"):
        read_kinds(tmp_path)


@ALL
def test_no_test_of_the_day_can_be_taken_over_from_an_earlier_visit(kind: Kind) -> None:
    tested = {
        "gas_tight",
        "spillage",
        "working_pressure",
        "gas_rate",
        "draught",
        "readings_settled",
        "co_alarm",
    }
    for check in kind.checks:
        if check.stage in ("close-up", "sign-off") or check.key in tested:
            assert check.anew, check.key
