"""A whole visit out of the document of ``flueleaf evening``, or out of what was typed on a visit leaf."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from flueleaf.domain.combustion.fuel import Fuel
from flueleaf.domain.judging.noted import Note
from flueleaf.domain.problems import Fault, Refused
from flueleaf.domain.records.register import POINTS, Flue, Point
from flueleaf.domain.records.visits import (
    ANSWERS,
    DEFECT_CLASSES,
    OUTCOMES,
    PURPOSES,
    SIGNATURES,
    CheckAnswer,
    Defect,
    SignOff,
    Supply,
    Visit,
    Work,
)
from flueleaf.domain.words import quoted, said
from flueleaf.operations.intake.combustion import gas_rate_of
from flueleaf.operations.intake.contradictions import contradictions
from flueleaf.operations.intake.money import read_line
from flueleaf.operations.intake.notes import read_notes
from flueleaf.operations.intake.reader import Reader, as_decimal
from flueleaf.operations.intake.register import read_appliance, read_customer, read_instrument, read_premises
from flueleaf.operations.intake.slips import read_not_measured, read_overrides, read_slips
from flueleaf.storage.tables.fuels import load_fuels

BIGGEST_PRESSURE_MBAR = 1000  # a keying guard far above any domestic pressure; common practice


@dataclass(frozen=True, slots=True)
class Choices:
    """What the tables allow: names of kinds, fuels and papers, each kind's check keys, flues and notes.

    ``burnt``: the fuels by name, those that are offered no more included.
    """

    kinds: Mapping[str, Sequence[str]]
    flues: Mapping[str, Sequence[Flue]]
    fuels: Sequence[str]
    papers: Sequence[str]
    burnt: Mapping[str, Fuel] = field(default_factory=load_fuels)
    notes: Mapping[str, Sequence[Note]] = field(default_factory=dict)


def read_visit(document: object, *, choices: Choices, today: dt.date, typed: bool = False) -> Visit:
    """Read a visit.

    Args:
        document: the JSON object; see the contract's ``evening``.
        choices: names allowed by the shipped tables.
        today: no visit may be later.
        typed: the document comes from fields, where a number's own unit may follow it.

    Raises:
        Refused: naming every fault.
    """
    root = Reader.of(document, typed=typed)
    visit = _visit(root, choices, today)
    root.finish()
    return visit


def peek_visit(document: object, *, choices: Choices, today: dt.date) -> tuple[Visit, tuple[Fault, ...]]:
    """Read what can be read of a visit still being typed, and the faults in the way of its sign-off.

    A refused value is left out of the visit; where the record cannot do without one, a placeholder stands,
    and a fault says so.
    """
    root = Reader.of(document, typed=True)
    visit = _visit(root, choices, today)
    try:
        root.finish()
    except Refused as refused:
        return visit, refused.faults
    return visit, ()


def _visit(root: Reader, choices: Choices, today: dt.date) -> Visit:
    visit = Visit(
        visit_id=_visit_id(root),
        purpose=root.choice("purpose", PURPOSES),
        date=root.date("date", required=True, latest=today) or today,
        arrived=root.time("arrived"),
        left=root.time("left"),
        customer=read_customer(root.child("customer")),
        premises=read_premises(root.child("premises")),
        works=tuple(_work(entry, choices) for entry in root.items("works", required=True, most=50)),
        lines=tuple(read_line(entry) for entry in root.items("lines", most=200)),
        sign_off=_sign_off(root),
        papers=_papers(root, choices.papers),
        issued_at=root.moment("issued_at"),
    )
    for fault in contradictions(visit, today):
        root.note(fault)
    return visit


def _visit_id(root: Reader) -> str:
    text = root.text("visit_id", required=True, longest=60)
    try:
        return str(uuid.UUID(text))
    except ValueError:
        if text:
            root.fault("visit_id", said("a UUID, as 1c0d2f6e-8a1b-4c3d-9e5f-0a1b2c3d4e5f"))
        return ""


def _work(reader: Reader, choices: Choices) -> Work:
    appliance = read_appliance(reader.child("appliance"), kinds=choices.flues, fuels=tuple(choices.fuels))
    instrument = read_instrument(reader.child("instrument")) if reader.has("instrument") else None
    reader.known(["instrument"])
    return Work(
        appliance=appliance,
        instrument=instrument,
        supply=_supply(reader, appliance.fuel, choices.burnt),
        slips=read_slips(reader),
        checks=tuple(_check(entry, choices.kinds[appliance.kind]) for entry in reader.items("checks")),
        close_up=_close_up(reader),
        defects=tuple(_defect(entry) for entry in reader.items("defects")),
        not_measured=tuple(read_not_measured(reader)),
        outcome=reader.choice("outcome", OUTCOMES),
        overrides=read_overrides(reader),
        notes=read_notes(reader, choices.notes.get(appliance.kind, ())),
    )


def _supply(reader: Reader, fuel: str, fuels: Mapping[str, Fuel]) -> Supply:
    if not reader.has("supply"):
        reader.known(["supply"])
        return Supply()
    supply = reader.child("supply")
    return Supply(
        standing_mbar=supply.decimal("standing_mbar", low=0, high=BIGGEST_PRESSURE_MBAR),
        working_mbar=supply.decimal("working_mbar", low=0, high=BIGGEST_PRESSURE_MBAR),
        inlet_mbar=supply.decimal("inlet_mbar", low=0, high=BIGGEST_PRESSURE_MBAR),
        gas_rate=_gas_rate(supply, fuel, fuels),
        tightness=_tightness(supply),
    )


def _gas_rate(supply: Reader, fuel: str, fuels: Mapping[str, Fuel]) -> Mapping[str, Any] | None:
    """Read a meter run and keep it as given; the fuel is the appliance's own where none is named."""
    if not supply.has("gas_rate"):
        supply.known(["gas_rate"])
        return None
    gas_rate_of(supply.child("gas_rate"), fuels=fuels, usual=fuel)
    given = supply.raw("gas_rate")
    return dict(given) if isinstance(given, Mapping) else None


def _tightness(supply: Reader) -> Mapping[str, Any] | None:
    """Read a tightness test as entered: its own words and figures, one value a key.

    No verdict is made of it: the permissible drop stands in the owner's copy of the standard.
    """
    if not supply.has("tightness"):
        supply.known(["tightness"])
        return None
    test = supply.child("tightness")
    found: dict[str, Any] = {}
    for key in test.names():
        value = test.raw(key)
        number = as_decimal(value)
        if isinstance(value, bool):
            found[key] = value
        elif isinstance(value, str) and number is None:
            found[key] = test.text(key, longest=500)
        elif number is not None and abs(number) <= BIGGEST_PRESSURE_MBAR:
            found[key] = number
        else:
            test.fault(
                key,
                said(
                    "a text, true, false, or a number up to {most}",
                    most=BIGGEST_PRESSURE_MBAR,
                ),
            )
    return found


def _check(entry: Reader, keys: Sequence[str]) -> CheckAnswer:
    return CheckAnswer(
        key=entry.choice("key", tuple(keys)) if keys else entry.text("key", required=True),
        answer=entry.choice("answer", ANSWERS),
        note=entry.text("note", longest=1000),
        as_on=entry.date("as_on"),
    )


def _close_up(reader: Reader) -> Mapping[Point, bool | Literal["not sure"]]:
    if not reader.has("close_up"):
        reader.known(["close_up"])
        return {}
    answers = reader.child("close_up")
    answers.known(POINTS)
    found: dict[Point, bool | Literal["not sure"]] = {}
    for point in POINTS:
        if point in answers.names():
            value = answers.raw(point)
            if isinstance(value, bool):
                found[point] = value
            elif value == "not sure":
                found[point] = "not sure"
            else:
                answers.fault(point, said("true, false or “not sure”"))
    return found


def _defect(entry: Reader) -> Defect:
    return Defect(
        text=entry.text("text", required=True, longest=1000),
        defect_class=entry.choice("class", DEFECT_CLASSES),
        action=entry.text("action", longest=1000),
    )


def _sign_off(root: Reader) -> SignOff | None:
    if not root.has("sign_off"):
        root.known(["sign_off"])
        return None
    entry = root.child("sign_off")
    return SignOff(
        customer_name=entry.text("customer_name", longest=200),
        customer=entry.choice("customer", SIGNATURES),
    )


def _papers(root: Reader, known: Sequence[str]) -> tuple[str, ...]:
    wanted = root.texts("papers", most=20)
    if any(kind not in known for kind in wanted) or len(set(wanted)) < len(wanted):
        root.fault("papers", said("each once, of {names}", names=quoted(known)))
        return ()
    return wanted
