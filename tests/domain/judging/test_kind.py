from __future__ import annotations

from tests.domain.judging.bench import BOILER, FIRE

from flueleaf.storage.tables.kinds import load_kinds


def test_a_purpose_chooses_its_checks() -> None:
    keys = {check.key for check in BOILER.checks_for("service")}
    assert "heat_exchanger_clean" in keys
    assert "system_flushed" not in keys
    assert "system_flushed" in {check.key for check in BOILER.checks_for("commissioning")}


def test_checks_of_one_stage() -> None:
    stages = {check.stage for check in BOILER.checks_for("service", "gas supply")}
    assert stages == {"gas supply"}


def test_stages_come_in_the_order_of_the_visit() -> None:
    assert [stage.key for stage in BOILER.stages_for("commissioning")] == [
        "arrival", "gas supply", "combustion", "safety checks", "close-up", "work done", "sign-off",
    ]  # fmt: skip


def test_without_a_purpose_every_slip_is_wanted() -> None:
    wanted = [(slip.point, slip.rate) for slip in BOILER.slips_for(None)]
    assert wanted == [("air inlet", "max"), ("flue", "max"), ("flue", "min")]
    assert [(slip.point, slip.rate) for slip in BOILER.slips_for("breakdown")] == [("flue", "max")]


def test_only_some_kinds_are_always_room_sealed() -> None:
    assert BOILER.room_sealed_only
    assert not FIRE.room_sealed_only


def test_a_flue_chooses_stages_and_checks() -> None:
    boiler = load_kinds()["non-condensing boiler"]
    assert "air and flue" not in [stage.key for stage in boiler.stages_for("service", "room-sealed")]
    sealed = {check.key for check in boiler.checks_for("service", flue="room-sealed")}
    opened = {check.key for check in boiler.checks_for("service", flue="open")}
    assert opened - sealed == {"ventilation", "flue_flow", "spillage"}
    assert sealed - opened == {"case_seal"}
    assert {check.key for check in boiler.checks_for("service")} == sealed | opened
    assert boiler.checks_for("service", "air and flue", "room-sealed") == ()


def test_with_the_flue_unknown_nothing_is_asked_that_no_flue_of_the_kind_wants() -> None:
    hob = load_kinds()["hob"]
    assert hob.checks_for("service") == hob.checks_for("service", flue="none")
    assert "flue_effective" not in {check.key for check in hob.checks_for("service")}


def test_without_a_flue_the_slips_of_the_usual_one_are_wanted() -> None:
    heater = load_kinds()["water heater"]
    usual = [(slip.point, slip.rate) for slip in heater.slips_for("service")]
    assert usual == [("flue", "max")] == [(w.point, w.rate) for w in heater.slips_for("service", "open")]
    flueless = [(slip.point, slip.rate) for slip in heater.slips_for("service", "none")]
    assert flueless == [("outdoors", "max"), ("room", "max")]


def test_a_quantity_makes_sense_where_the_kind_says_so() -> None:
    oil, gas = load_kinds()["oil boiler"], load_kinds()["condensing boiler"]
    assert oil.makes_sense("smoke", "flue")
    assert not gas.makes_sense("smoke", "flue")
    assert gas.makes_sense("smoke", "oven")  # not a point of the kind: nothing is known of it


def test_what_is_written_down_follows_stage_purpose_and_flue() -> None:
    boiler = load_kinds()["non-condensing boiler"]
    run = [note.key for note in boiler.notes_for("service", "combustion", "open")]
    assert run == ["chimney", "flue_length_m", "flue_voids", "terminal"]
    assert boiler.notes_for("service", "close-up") == ()
    found = [note.key for note in boiler.notes_for("landlord check", "arrival")]
    assert found == ["as_found", "user_tells"]
