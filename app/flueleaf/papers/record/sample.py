"""An invented visit with all that a record can state: two attempts, doubts, a defect, two appliances."""

from __future__ import annotations

import datetime as dt

from flueleaf.papers.record.facts import (
    Appliance,
    Check,
    CloseUp,
    Defect,
    Doubt,
    Due,
    Instrument,
    Judged,
    Limit,
    Noted,
    NotMeasured,
    Reading,
    Record,
    Row,
    SignOff,
    Slip,
    Work,
)
from flueleaf.papers.sample_facts import sample_head

MAKER = "Halvard Ember 24 installation book, ed. 4, p. 31"
INTEGRITY = "flue integrity at the air inlet, common practice"
ANALYSER = Instrument(
    "Torvane 3 flue-gas analyser",
    "TV3-55120",
    dt.date(2026, 10, 31),
    True,
    "cells: O₂, CO; CO₂ computed",
)
LAW = "SI 1998/2451 reg. 26(9)"


def sample_record(kind: str, number: str, purpose: str) -> Record:
    """Return the facts of an invented visit."""
    return Record(
        head=sample_head(kind, number, replaces="R-2026-0411"),
        purpose=purpose,
        date=dt.date(2026, 11, 20),
        works=(_boiler(), _fire()),
        arrived="09:10",
        left="11:40",
        notes=("Loft hatch sticks; the second key is with the neighbour at no. 16.",),
        cautions=("The maker’s instructions, the current standard and the law come before anything here.",),
        sign_off=SignOff("Isolde Quennell", "signed on paper", "Edda Farrowgate", "900 417"),
    )


def _boiler() -> Work:
    return Work(
        appliance=Appliance(
            kind="condensing boiler",
            make="Halvard",
            model="Ember 24 Combi",
            serial="HV24-0098-1173",
            location="Kitchen, wall cupboard left of the window",
            fuel="natural gas",
            flue="room-sealed",
            installed=dt.date(2026, 11, 20),
            plate=(
                Row("rated input, maximum", "24.0", "kW", "net"),
                Row("rated input, minimum", "6.0", "kW", "net"),
            ),
        ),
        limits=(
            Limit("CO", "at most 350", "ppm"),
            Limit("CO/CO₂ ratio", "at most 0.004"),
            Limit("CO₂, high rate", "8.8 to 9.6", "%"),
            Limit("CO₂, low rate", "8.4 to 9.2", "%"),
        ),
        limits_source=MAKER,
        instrument=ANALYSER,
        supply=(
            Row("standing pressure", "22.4", "mbar"),
            Row("working pressure", "20.1", "mbar", "at the meter outlet, all appliances at maximum"),
            Row("inlet pressure", "19.6", "mbar", "at the appliance"),
            Row("gas rate", "2.41", "m³/h", "metric meter, 120 s"),
            Row("heat input", "23.8", "kW", "net, calorific value 39.4 MJ/m³", True),
            Row("deviation from the plate", "−0.8", "%", "on the plate’s own basis, net", True),
            Row("tightness", "no drop seen", "", "IGEM/UP/1B Edition 4; 20.5 mbar, 2 min; no smell of gas"),
        ),
        slips=(_inlet(), _high_first(), _high(), _low()),
        verdict="near",
        doubts=(Doubt("The analyser’s calibration ran out on 31 October 2026.", True),),
        checks=(
            Check("Condensate runs to a drain and the trap is full", "yes"),
            Check(
                "System cleaned, inhibitor added and its name left on site",
                "yes",
                "1 litre of inhibitor at the filter",
            ),
            Check("CO alarm in the room", "yes", "fitted today, tested"),
            Check("Controls shown to the user and the books handed over", "yes"),
            Check("Filling loop disconnected", "not applicable", "no filling loop: sealed by the maker"),
        ),
        examined=(
            Check("Effectiveness of the flue", "yes", LAW + " (a)"),
            Check("Supply of combustion air", "yes", LAW + " (b)"),
            Check("Operating pressure or heat input", "yes", LAW + " (c): both measured"),
            Check("Safe functioning", "yes", LAW + " (d)"),
        ),
        noted=(
            Noted("found", "as found, running or not", "off, lock-out shown"),
            Noted("flue run", "flue", "one pipe in the other, through the wall"),
            Noted("flue run", "flue, length of all pieces", "1.8\xa0m"),
            Noted("heating water", "flow", "58\xa0°C"),
            Noted("heating water", "return", "41\xa0°C"),
            Noted("heating water", "inhibitor put in on", "20\xa0November\xa02026"),
            Noted(
                "advice and handing over",
                "advice declined, by whom",
                "radiator valves: I. Quennell",
            ),
        ),
        close_up=(CloseUp("air inlet", "refitted"), CloseUp("flue", "refitted")),
        outcome="left in use with notes",
        cautions=("Symptoms, smell, staining or spillage count for more than any reading.",),
        due=(Due(dt.date(2027, 11, 20), "yearly service", "12 months after the visit"),),
    )


def _inlet() -> Slip:
    return Slip(
        "air inlet",
        "high rate",
        readings=(Reading("O₂", "20.9", "%"), Reading("CO₂", "0.0", "%"), Reading("CO", "0", "ppm")),
        judged=(
            Judged("O₂", "20.9", "within", "%", "20.6", "at least", "table", INTEGRITY, "0.3 points"),
            Judged("CO₂", "0.0", "within", "%", "0.2", "at most", "table", INTEGRITY, "0.2 points"),
        ),
    )


def _high_first() -> Slip:
    return Slip(
        "flue",
        "high rate",
        decides=False,
        readings=_flue_readings("3.0", "10.1", "412", "0.0041", ("58", "18", "88.3")),
        judged=(
            Judged("CO", "412", "over", "ppm", "350", "at most", "maker", MAKER, "−62 ppm", "", "98 %"),
            Judged(
                "CO/CO₂ ratio",
                "0.0041",
                "over",
                "",
                "0.004",
                "at most",
                "maker",
                MAKER,
                "−0.0001",
                derived=True,
            ),
            Judged("CO₂", "10.1", "over", "%", "9.6", "at most", "maker", MAKER, "−0.5 points"),
        ),
    )


def _high() -> Slip:
    return Slip(
        "flue",
        "high rate",
        attempt=2,
        readings=_flue_readings("4.8", "9.1", "61", "0.0007", ("54", "18", "88.7")),
        judged=(
            Judged(
                "CO", "61", "within", "ppm", "350", "at most", "maker", MAKER, "289 ppm", "", "under 0.1 %"
            ),
            Judged(
                "CO/CO₂ ratio",
                "0.0007",
                "within",
                "",
                "0.004",
                "at most",
                "maker",
                MAKER,
                "0.0033",
                derived=True,
            ),
            Judged("CO₂", "9.1", "near", "%", "8.8", "at least", "maker", MAKER, "0.3 points"),
            Judged("CO₂", "9.1", "within", "%", "9.6", "at most", "maker", MAKER, "0.5 points"),
        ),
        doubts=(Doubt("O₂ 4.8 % belongs to CO₂ 9.3 %, 9.1 % was read; the tolerances explain it.", True),),
    )


def _low() -> Slip:
    return Slip(
        "flue",
        "low rate",
        readings=(
            Reading("O₂", "5.3", "%"),
            Reading("CO₂", "9.0", "%", derived=True),
            Reading("CO", "18", "ppm"),
            Reading("CO/CO₂ ratio", "0.0002"),
            Reading("flue gas", "47", "°C"),
            Reading("combustion air", "18", "°C"),
        ),
        judged=(
            Judged(
                "CO", "18", "within", "ppm", "350", "at most", "maker", MAKER, "332 ppm", "", "under 0.1 %"
            ),
            Judged("CO/CO₂ ratio", "0.0002", "within", "", "0.004", "at most", "maker", MAKER, "0.0038"),
            Judged(
                "CO₂", "9.0", "within", "%", "8.4", "at least", "maker", MAKER, "0.6 points", derived=True
            ),
            Judged("CO₂", "9.0", "near", "%", "9.2", "at most", "maker", MAKER, "0.2 points", derived=True),
        ),
        doubts=(Doubt("A shift of the burner during the last minute cannot be ruled out."),),
    )


def _flue_readings(o2: str, co2: str, co: str, ratio: str, rest: tuple[str, str, str]) -> tuple[Reading, ...]:
    flue_c, air_c, efficiency = rest
    basis = "gross, first principles, no condensing credit"
    return (
        Reading("O₂", o2, "%"),
        Reading("CO₂", co2, "%"),
        Reading("CO", co, "ppm"),
        Reading("CO/CO₂ ratio", ratio, derived=True),
        Reading("flue gas", flue_c, "°C"),
        Reading("combustion air", air_c, "°C"),
        Reading("efficiency", efficiency, "%", basis, True),
    )


def _fire() -> Work:
    return Work(
        appliance=Appliance(
            kind="gas fire",
            make="Ostrel",
            model="Hearthline 3",
            location="Front room",
            fuel="natural gas",
            flue="open",
        ),
        instrument=ANALYSER,
        slips=(
            Slip(
                "room",
                "high rate",
                readings=(Reading("CO", "2", "ppm"),),
                judged=(Judged("CO", "2", "unjudged", "ppm", why="no limit applies to this point"),),
            ),
        ),
        verdict="unjudged",
        missing=("flue, low rate: a slip",),
        checks=(
            Check("Spillage test, warm, doors shut and fans running", "no", "smoke comes back after 4 min"),
        ),
        close_up=(CloseUp("flue", "not opened"),),
        defects=(
            Defect(
                "Spillage at the canopy; the air brick in the outer wall is painted over.",
                "at risk",
                "Turned off with the user’s leave, labelled; warning notice left.",
            ),
        ),
        not_measured=(NotMeasured("flue", "high rate", "the failed spillage test stops everything"),),
        outcome="made safe",
        cautions=("Out of use until a registered engineer has put the defect right.",),
    )
