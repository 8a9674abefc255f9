"""A larger town: every customer and premises of the scenario copied under new names and addresses."""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Iterator

from flueleaf.domain.records.register import CustomerKind
from flueleaf.operations.demo.dice import Dice
from flueleaf.operations.demo.scenario import Json, Payer, Place, Scenario

YEAR_DAYS = 365
_FIRST_COPIED_NUMBER = 100  # house numbers of the scenario itself stay below
_NAMED_AS_FIRM: tuple[CustomerKind, ...] = ("agent", "business")


def enlarged(scenario: Scenario, scale: int, seed: int) -> tuple[Place, ...]:
    """Return the places of a town ``scale`` times as large; the first of them are the scenario's own.

    Raises:
        ValueError: a scale below 1.
    """
    if scale < 1:
        raise ValueError(f"a scale of {scale} makes no town; 1 or more does")
    places = list(scenario.places)
    numbers = _house_numbers(scenario)
    for copy in range(2, scale + 1):
        payers: dict[str, Payer] = {}
        for place in scenario.places:
            dice = Dice(seed, "copy", copy, place.address[0])
            address, postcode = next(numbers)
            known = payers.get(place.payer.key)
            payer = known or _payer(scenario, place, copy, dice, home=(address, postcode))
            payers[place.payer.key] = payer
            places.append(_place(scenario, place, copy, payer, (address, postcode)))
    return tuple(places)


def _house_numbers(scenario: Scenario) -> Iterator[tuple[tuple[str, ...], str]]:
    """Yield addresses that nobody has yet, street by street."""
    taken: Counter[str] = Counter()
    while True:
        for street in scenario.streets:
            taken[street["name"]] += 1
            yield _address(scenario, street, _FIRST_COPIED_NUMBER + taken[street["name"]]), street["postcode"]


def _address(scenario: Scenario, street: Json, number: int) -> tuple[str, ...]:
    village = (street["village"],) if "village" in street else ()
    return (f"{number} {street['name']}", *village, scenario.town)


def _payer(
    scenario: Scenario, place: Place, copy: int, dice: Dice, *, home: tuple[tuple[str, ...], str]
) -> Payer:
    """Return the copy of a customer; a householder lives where the appliance is."""
    payer = place.payer
    given, surname = dice.pick(scenario.given), dice.pick(scenario.surnames)
    firm = payer.kind in _NAMED_AS_FIRM
    mobile = payer.telephone.startswith("07")
    number = dice.between(0, 999)  # both ranges kept for drama hold a thousand numbers
    return dataclasses.replace(
        payer,
        key=f"{payer.key}/{copy}",
        name=f"{payer.name} {copy}" if firm else f"{given} {surname}",
        address=home[0],
        postcode=home[1],
        telephone=f"07700 900{number:03d}" if mobile else f"01632 960{number:03d}",
        email=f"{payer.key}.{copy}@example.net" if firm else f"{given}.{surname}.{copy}@example.org".lower(),
    )


def _place(
    scenario: Scenario, place: Place, copy: int, payer: Payer, home: tuple[tuple[str, ...], str]
) -> Place:
    dice = Dice("responsible", copy, place.address[0])
    responsible = f"{dice.pick(scenario.given)} {dice.pick(scenario.surnames)}" if place.responsible else ""
    shifted = (place.serviced_days_before + 97 * (copy - 1)) % YEAR_DAYS
    return dataclasses.replace(
        place,
        payer=payer,
        address=home[0],
        postcode=home[1],
        responsible=responsible,
        serviced_days_before=max(shifted, 1),
        fitted=tuple(dataclasses.replace(one, serial=f"{one.serial}-{copy}") for one in place.fitted),
    )
