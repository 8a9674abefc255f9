from __future__ import annotations

from tests.domain.judging.bench import BOILER, FIRE


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
