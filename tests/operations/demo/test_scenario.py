from __future__ import annotations

from collections import Counter

from flueleaf.operations.demo.scenario import Scenario


def test_sixty_premises_with_ninety_appliances(scenario: Scenario) -> None:
    assert len(scenario.places) == 60
    assert sum(len(place.fitted) for place in scenario.places) == 90


def test_every_kind_and_fuel_is_there(scenario: Scenario) -> None:
    fitted = [one for place in scenario.places for one in place.fitted]
    kinds = Counter(one.model.kind for one in fitted)
    assert set(kinds) == {"condensing boiler", "gas fire", "water heater"}
    assert kinds["condensing boiler"] > 60
    assert {one.model.fuel for one in fitted} == {"natural gas", "propane"}
    models = {one.model.model for one in fitted if one.model.kind == "condensing boiler"}
    assert any("combi" in model for model in models)
    assert any("system" in model for model in models)


def test_landlords_have_several_premises_and_every_kind_of_customer_is_there(scenario: Scenario) -> None:
    owners = Counter((place.payer.key, place.payer.kind) for place in scenario.places)
    assert sum(1 for (_, kind), count in owners.items() if kind == "landlord" and count > 1) >= 3
    assert {kind for _, kind in owners} == {"householder", "landlord", "agent", "business"}


def test_serials_and_addresses_are_one_of_a_kind(scenario: Scenario) -> None:
    serials = [one.serial for place in scenario.places for one in place.fitted]
    assert len(set(serials)) == len(serials)
    assert len({(place.address, place.postcode) for place in scenario.places}) == 60


def test_what_befalls_an_appliance_is_read(scenario: Scenario) -> None:
    fitted = [one for place in scenario.places for one in place.fitted]
    assert sum(one.drift_ppm_per_year > 0 for one in fitted) >= 5
    assert sum(bool(one.corrected_years_ago) for one in fitted) >= 5
    assert {cause for one in fitted for cause in (one.made_safe or {}).values()} == set(scenario.defects)


def test_no_maker_is_quoted_without_a_document(scenario: Scenario) -> None:
    models = {one.model.key: one.model for place in scenario.places for one in place.fitted}
    assert all(model.limits_source for model in models.values())
