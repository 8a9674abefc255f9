from __future__ import annotations

from tests.domain.judging.bench import FIRE, case


def test_the_flue_tells_whether_the_appliance_is_room_sealed() -> None:
    assert case(kind=FIRE, flue="room-sealed").room_sealed
    assert not case(flue="open").room_sealed


def test_where_the_flue_is_unknown_the_kind_tells() -> None:
    assert case().room_sealed
    assert not case(kind=FIRE).room_sealed
