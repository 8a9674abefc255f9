from __future__ import annotations

from dataclasses import replace

import pytest

from flueleaf.domain.judging.steps import BYS, ONWARD, RESULTS, Ending, Step, procedure_for
from flueleaf.storage.tables.procedures import load_procedures


def test_every_sort_of_evidence_has_results_and_a_way_on() -> None:
    assert set(RESULTS) == set(ONWARD) == set(BYS)
    assert all(ONWARD[by] in RESULTS[by] for by in BYS)


def test_the_place_of_a_step_that_no_slip_tells_of_is_refused() -> None:
    step = Step("look", "look", "Look.", "checks", "custom", "common practice", checks=("looked",))
    with pytest.raises(ValueError, match="no slip tells how the step 'look' went"):
        _ = step.place
    with pytest.raises(ValueError, match="'look'"):
        _ = replace(step, point="flue").place


def test_an_ending_is_called_by_the_purpose() -> None:
    ending = Ending("done", "left in use", ("left in use",), "", titles={"commissioning": "commissioned"})
    assert ending.title_for("commissioning") == "commissioned"
    assert ending.title_for("service") == ending.title_for(None) == "left in use"


def test_flue_and_fuel_choose_the_procedure() -> None:
    shipped = load_procedures()
    chosen = {
        (flue, state): found.key
        for flue in ("room-sealed", "open", "none")
        for state in ("gas", "liquid")
        if (found := procedure_for(shipped, flue, state))  # type: ignore[arg-type]
    }
    assert chosen == {
        ("room-sealed", "gas"): "room_sealed",
        ("open", "gas"): "open_flued",
        ("none", "gas"): "flueless",
        ("room-sealed", "liquid"): "oil",
        ("open", "liquid"): "oil",
    }
    assert procedure_for(shipped, None, "gas") is None


def test_a_procedure_knows_its_steps_and_endings() -> None:
    found = procedure_for(load_procedures(), "open", "gas")
    assert found is not None
    assert found.step("spillage").checks == ("spillage",)
    with pytest.raises(KeyError):
        found.step("nowhere")
    made_safe = found.ending_of("made safe")
    assert made_safe is not None
    assert made_safe.title == "made safe: warning notice"
    assert not made_safe.whole
