from __future__ import annotations

import pytest

from flueleaf.operations.demo.copies import enlarged
from flueleaf.operations.demo.scenario import load
from flueleaf.paths import DEMO_DB


def test_a_scale_of_one_is_the_scenario_itself() -> None:
    scenario = load(DEMO_DB)
    assert enlarged(scenario, 1, 1) == scenario.places


def test_a_larger_town_repeats_nobody() -> None:
    scenario = load(DEMO_DB)
    places = enlarged(scenario, 5, 1)
    assert len(places) == 5 * 60
    assert places[:60] == scenario.places
    assert len({(place.address, place.postcode) for place in places}) == 300
    assert len({place.payer.key for place in places}) == 5 * len({p.payer.key for p in scenario.places})
    serials = [one.serial for place in places for one in place.fitted]
    assert len(set(serials)) == len(serials)


def test_a_copied_householder_lives_where_the_appliance_is_and_a_landlord_keeps_several() -> None:
    places = enlarged(load(DEMO_DB), 2, 1)[60:]
    for place in places:
        if place.payer.kind == "householder":
            assert place.payer.address == place.address
    owner = [place for place in places if place.payer.key == "owner-01/2"]
    assert len(owner) == 6
    assert len({place.payer.name for place in owner}) == 1


def test_copies_keep_to_the_ranges_of_drama_and_to_unassigned_postcodes() -> None:
    for place in enlarged(load(DEMO_DB), 4, 1):
        assert place.postcode.startswith("QX")
        assert place.payer.postcode.startswith("QX")
        assert place.payer.telephone.startswith(("07700 900", "01632 960"))
        assert len(place.payer.telephone) == len("07700 900123")
        assert "@example." in place.payer.email


def test_equal_seeds_give_equal_towns() -> None:
    scenario = load(DEMO_DB)
    assert enlarged(scenario, 3, 7) == enlarged(scenario, 3, 7)
    assert enlarged(scenario, 3, 7) != enlarged(scenario, 3, 8)


def test_a_town_of_no_size_is_refused() -> None:
    with pytest.raises(ValueError, match="scale of 0"):
        enlarged(load(DEMO_DB), 0, 1)
