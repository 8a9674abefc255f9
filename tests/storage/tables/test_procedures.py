from __future__ import annotations

from pathlib import Path

import pytest

from flueleaf.domain.judging.steps import ONWARD, Procedure
from flueleaf.domain.records.visits import OUTCOMES
from flueleaf.storage.tables.kinds import load_kinds
from flueleaf.storage.tables.procedures import PROCEDURES, load_procedures, read_procedures

ALL = pytest.mark.parametrize("procedure", load_procedures(), ids=lambda one: one.key)

SMALL = """
title = "small"
fuel  = "gas"
flues = ["open"]

[[step]]
key    = "look"
title  = "look"
does   = "Look."
by     = "checks"
checks = ["looked"]
source = "custom"
status = "common practice"
ways   = { yes = ["flue"], no = [] }

[[step]]
key    = "flue"
title  = "flue"
does   = "Measure."
by     = "slip"
point  = "flue"
rate   = "max"
source = "custom"
status = "common practice"
ways   = { good = [], over = ["mend"], doubtful = ["mend"], "not measured" = [] }

[[step]]
key    = "mend"
title  = "mend"
does   = "Mend it."
by     = "remedy"
source = "custom"
status = "common practice"
ways   = { again = ["flue"] }

[[ending]]
key      = "done"
title    = "done"
outcomes = ["left in use"]
does     = "Go home."
whole    = true
"""


def written(folder: Path, *changes: tuple[str, str]) -> Path:
    text = SMALL
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    (folder / "small.toml").write_text(text, encoding="utf-8")
    return folder


def test_a_procedure_is_read(tmp_path: Path) -> None:
    (found,) = read_procedures(written(tmp_path))
    assert [step.key for step in found.steps] == ["look", "flue", "mend"]
    assert found.step("flue").place == ("flue", "max")
    assert found.step("flue").ways["without limit"] == ()
    assert found.step("mend").ways == {"again": ("flue",)}


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('key    = "mend"', 'key    = "flue"', "step 'flue' is given twice"),
        ('yes = ["flue"]', 'yes = ["flu"]', "a way leads to 'flu', which is no step"),
        ('again = ["flue"]', 'again = ["mend"]', "leads to 'mend', which is a remedy itself"),
        ('over = ["mend"], ', "", "small.toml: flue: ways: 'over' wants a list of steps"),
        ("no = []", "no = [], maybe = []", "no step told by checks has the results ['maybe']"),
        ("no = []", 'no = "flue"', "'no' wants a list of steps"),
        ('checks = ["looked"]\n', "", "checks belong to a step that checks tell of"),
        ('point  = "flue"', 'point  = "chimney"', "chimney"),
        ('does     = "Go home."', 'does     = "Go home."\ntitles = { holiday = "off" }', "titles: accepted"),
        ("whole    = true", "whole    = true\nmusic = true", "music"),
        ('by     = "remedy"', 'by     = "remedy"\nmusic  = true', "music"),
        ('title = "small"', 'title = "small"\nmusic = true', "music"),
        ('fuel  = "gas"', 'fuel  = "wood"', "wood"),
        ('title = "small"', "title = ", "small.toml"),
    ],
)
def test_what_is_wrong_in_a_file_is_named(tmp_path: Path, old: str, new: str, told: str) -> None:
    with pytest.raises(ValueError, match=r"small\.toml") as problem:
        read_procedures(written(tmp_path, (old, new)))
    assert told in str(problem.value)


def test_two_endings_may_not_be_the_same_outcome(tmp_path: Path) -> None:
    twice = SMALL + SMALL[SMALL.index("[[ending]]") :].replace('"done"', '"again done"', 1)
    (tmp_path / "small.toml").write_text(twice, encoding="utf-8")
    with pytest.raises(ValueError, match="outcome 'left in use' is given twice"):
        read_procedures(tmp_path)


def test_two_procedures_may_not_be_for_the_same_appliances(tmp_path: Path) -> None:
    written(tmp_path)
    (tmp_path / "other.toml").write_text(SMALL, encoding="utf-8")
    with pytest.raises(ValueError, match="'open, gas' is given twice"):
        read_procedures(tmp_path)


def test_each_flue_of_each_kind_has_a_procedure() -> None:
    liquid = {"kerosene", "gas oil"}
    for kind in load_kinds().values():
        states = {"liquid" if fuel in liquid else "gas" for fuel in kind.fuels}
        for flue in kind.flues:
            for state in states:
                found = [one for one in load_procedures() if flue in one.flues and one.state == state]
                assert len(found) == 1, (kind.name, flue, state)


def test_each_slip_that_a_kind_wants_is_a_step_of_its_procedure() -> None:
    for kind in load_kinds().values():
        for procedure in load_procedures():
            liquid = procedure.state == "liquid"
            if not set(kind.flues) & set(procedure.flues) or liquid != ("kerosene" in kind.fuels):
                continue
            places = {step.place for step in procedure.steps if step.by == "slip"}
            wanted = {
                (one.point, one.rate)
                for one in kind.wanted
                if not getattr(one, "flues", ()) or set(one.flues) & set(procedure.flues)
            }
            assert wanted <= places, (kind.name, procedure.key)


def test_each_check_of_a_step_is_asked_by_some_kind() -> None:
    asked = {check.key for kind in load_kinds().values() for check in kind.checks}
    for procedure in load_procedures():
        for step in procedure.steps:
            assert set(step.checks) <= asked, (procedure.key, step.key)


@ALL
def test_the_good_way_goes_from_the_first_step_to_the_end_and_never_round(procedure: Procedure) -> None:
    gone = [procedure.steps[0]]
    while keys := gone[-1].ways[ONWARD[gone[-1].by]]:
        step = procedure.step(keys[0])
        assert step not in gone
        gone.append(step)
    assert gone[-1].by == "close-up"
    # What the good way leaves out is a remedy, or what is done where something could not be measured.
    left_out = [step for step in procedure.steps if step not in gone]
    assert all(step.by == "remedy" or step.key == "flue by eye" for step in left_out)


@ALL
def test_a_bad_slip_leads_to_a_remedy_of_that_slip(procedure: Procedure) -> None:
    for step in procedure.steps:
        if step.by == "slip":
            for result in ("over", "doubtful"):
                (remedy,) = (procedure.step(key) for key in step.ways[result])
                assert remedy.by == "remedy"
                assert step.key in remedy.ways["again"]


@ALL
def test_whatever_does_not_go_well_leads_to_a_step_that_says_what_to_do(procedure: Procedure) -> None:
    seen = 0
    for step in procedure.steps:
        for result in {"no", "open point"} & set(step.ways):
            (following,) = (procedure.step(key) for key in step.ways[result])
            assert (following.by, following.ways) == ("remedy", {"again": (step.key,)})
            seen += 1
    assert seen >= 5


@ALL
def test_every_outcome_is_an_ending(procedure: Procedure) -> None:
    assert all(procedure.ending_of(outcome) for outcome in OUTCOMES)
    assert [one.key for one in procedure.endings if one.whole] == ["done"]


def test_the_analyser_comes_after_air_flue_flow_and_spillage_of_an_open_flue() -> None:
    (found,) = (one for one in load_procedures() if one.key == "open_flued")
    keys = [step.key for step in found.steps]
    order = ["ventilation", "flue flow", "spillage", "combustion high"]
    assert sorted(order, key=keys.index) == order
    assert found.step("spillage").ways["no"] == ("cure the spillage",)
    assert "is not used" in found.step("cure the spillage").does


def test_smoke_comes_before_the_analyser_of_an_oil_appliance() -> None:
    (found,) = (one for one in load_procedures() if one.key == "oil")
    keys = [step.key for step in found.steps]
    order = ["burner", "draught", "smoke", "combustion high"]
    assert sorted(order, key=keys.index) == order


def test_no_step_calls_anything_safe() -> None:
    for path in PROCEDURES.glob("*.toml"):
        text = path.read_text(encoding="utf-8").lower().replace("made safe", "").replace("safe working", "")
        assert "safe" not in text, path.name
