from __future__ import annotations

import dataclasses
import datetime as dt
import shutil
from decimal import Decimal
from pathlib import Path

import pytest

from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.case import Case
from flueleaf.domain.judging.kind import SUPPLY, Kind
from flueleaf.domain.records.visits import PURPOSES, Slip, Supply
from flueleaf.storage.tables.fuels import load_fuels
from flueleaf.storage.tables.kinds import KINDS, load_kinds, read_kinds
from flueleaf.storage.tables.rules import load_rules

OIL = ("oil boiler", "oil range")
ALL = pytest.mark.parametrize("kind", load_kinds().values(), ids=lambda kind: kind.key)

STAGE = """
key = "arrival"
lines = ["Look.", "Listen."]
[[check]]
key = "looked"
question = "Was it looked at?"
source = "custom"
status = "common practice"
"""
KIND = """
name = "stove"
flues = ["open"]
fuels = ["natural gas"]
points = ["flue"]
stages = ["arrival"]
[[slip]]
point = "flue"
rate = "max"
purposes = ["service"]
lines = ["Probe in.", "Wait."]
"""

OWN = """
[[check]]
stage = "arrival"
key = "door_shuts"
question = "Does the door shut?"
source = "custom"
status = "common practice"
flues = ["open"]
stops = true
instead_of = "looked"

[quantities]
flue = ["co_ppm"]

[after_work]
law = "custom"
reason = "Because."
"""
NOTES = """
title = "pipe"
stage = "arrival"
purposes = ["service"]
[[note]]
key = "pipe_m"
label = "length"
value = "number"
unit = "m"
low = "0"
high = "9"
decimals = 1
keeps = true
[[note]]
key = "pipe_colour"
label = "colour"
value = "choice"
choices = ["black", "red"]
purposes = ["breakdown"]
flues = ["open"]
"""


def test_the_kinds_of_the_trade_are_there() -> None:
    assert list(load_kinds()) == [
        "back boiler",
        "condensing boiler",
        "cooker",
        "decorative gas fire",
        "flueless water heater",
        "gas fire",
        "grill",
        "hob",
        "live-fuel gas fire",
        "LPG cabinet heater",
        "non-condensing boiler",
        "oil boiler",
        "oil range",
        "oven",
        "warm air unit",
        "water heater",
    ]


# Books hold answers by these keys, in visits signed off before: a kind may gain keys, and lose none.
GAS_KEYS = {
    "analyser_zeroed",
    "maker_instructions",
    "no_symptoms",
    "gas_tight",
    "supply_pipe_sized",
    "standing_pressure",
    "working_pressure",
    "gas_rate",
    "gas_isolation",
    "flue_effective",
    "combustion_air",
    "pressure_or_input",
    "combustion_performance",
    "functions",
    "co_alarm",
    "case_refitted",
    "controls_restored",
    "responsible_told",
    "demonstrated",
    "instructions_left",
}
BOILER_KEYS = {
    "system_flushed",
    "inhibitor",
    "system_filter",
    "system_pressure",
    "relief_discharge",
    "heating_controls",
    "condensate_route",
    "condensate_trap",
    "heat_exchanger_clean",
    "seals_renewed",
    "electrodes",
    "fault_cured",
}
APPLIANCE_KEYS = {"fitted_by_instructions", "burner_clean", "seals_whole", "fault_cured"}
OPEN_KEYS = {"ventilation", "flue_flow", "spillage", "readings_settled"}
OIL_KEYS = {
    "analyser_zeroed",
    "maker_instructions",
    "no_symptoms",
    "oil_line_sound",
    "nozzle_right",
    "pump_pressure",
    "smoke_first",
    "draught",
    "readings_settled",
    "flue_effective",
    "combustion_air",
    "functions",
    "co_alarm",
    "case_refitted",
    "controls_restored",
    "responsible_told",
    "demonstrated",
    "instructions_left",
}
HELD_KEYS = {
    "back boiler": GAS_KEYS | BOILER_KEYS | OPEN_KEYS,
    "condensing boiler": GAS_KEYS | BOILER_KEYS | {"case_seal", "readings_settled", "rates_forced"},
    "cooker": GAS_KEYS | APPLIANCE_KEYS | {"ventilation", "flame_picture"},
    "gas fire": GAS_KEYS | APPLIANCE_KEYS | OPEN_KEYS,
    "non-condensing boiler": GAS_KEYS | BOILER_KEYS | OPEN_KEYS,
    "oil boiler": OIL_KEYS | BOILER_KEYS,
    "warm air unit": GAS_KEYS | APPLIANCE_KEYS | OPEN_KEYS,
    "water heater": GAS_KEYS | APPLIANCE_KEYS | OPEN_KEYS,
}


@pytest.mark.parametrize("name", HELD_KEYS)
def test_no_check_that_a_signed_visit_may_hold_is_ever_unknown(name: str) -> None:
    assert {check.key for check in load_kinds()[name].checks} >= HELD_KEYS[name]


@ALL
def test_every_kind_has_all_stages_with_cautions_for_every_purpose(kind: Kind) -> None:
    for purpose in PURPOSES:
        stages = [stage.key for stage in kind.stages_for(purpose)]
        assert stages[0] == "arrival"
        assert stages[-1] == "sign-off"
        assert {"combustion", "safety checks", "close-up", "work done"} <= set(stages)
        for flue in kind.flues:
            own = [stage.key for stage in kind.stages_for(purpose, flue)]
            assert {"arrival", "combustion", "safety checks", "close-up", "sign-off"} <= set(own)
    assert all(stage.caution and len(stage.lines) == 2 for stage in kind.stages)


@ALL
def test_every_kind_burns_shipped_fuels(kind: Kind) -> None:
    assert set(kind.fuels) <= set(load_fuels())
    assert kind.fuels


@ALL
def test_no_shipped_word_calls_anything_safe(kind: Kind) -> None:
    texts = [check.question + check.caution for check in kind.checks]
    texts += [" ".join(stage.lines) + stage.caution for stage in kind.stages]
    texts += [" ".join(slip.lines) + slip.caution for slip in kind.wanted]
    assert "safe" not in " ".join(texts).lower()


@ALL
def test_gas_kinds_ask_what_the_law_wants_examined(kind: Kind) -> None:
    # SI 1998/2451 reg. 26(9)(a) to (d) and (ca); oil follows its own standards.
    sources = " ".join(check.source for check in kind.checks)
    for letter in ("a", "b", "c", "ca", "d"):
        assert (f"reg. 26(9)({letter})" in sources) is not (kind.name in OIL)


@ALL
def test_every_check_has_its_source_and_status(kind: Kind) -> None:
    assert all(
        check.source.strip() and check.status in ("read", "common practice", "recalled")
        for check in kind.checks
    )


@ALL
def test_every_kind_says_where_how_and_what_is_measured(kind: Kind) -> None:
    assert kind.points
    assert kind.rates
    assert set(kind.quantities) == set(kind.points)
    for point, keys in kind.quantities.items():
        assert "co_ppm" in keys, point
        assert len(keys) == len(set(keys))
    for wanted in kind.wanted:
        assert wanted.rate in kind.rates
        assert set(wanted.flues) <= set(kind.flues)
    for room in {"room", "outdoors"} & set(kind.points):
        assert kind.quantities[room] == ("co_ppm", "co2_pct")
    for plume in {"hob", "grill", "oven"} & set(kind.points):
        assert "ratio" in kind.quantities[plume]
        assert "flue_c" not in kind.quantities[plume]


@ALL
def test_every_room_has_a_place_for_the_owners_limit(kind: Kind) -> None:
    places = [
        rule.slot
        for table in load_rules()
        if table.table in kind.tables
        for rule in table.rules
        if "room" in rule.points and rule.key == "co_ppm" and (not rule.kinds or kind.name in rule.kinds)
    ]
    assert len(places) == ("room" in kind.points), places


def test_words_of_the_trade_lead_to_kinds_and_are_no_kinds_themselves() -> None:
    kinds = load_kinds()
    by_word: dict[str, set[str]] = {}
    for kind in kinds.values():
        assert len(kind.also) == len(set(kind.also))
        for word in kind.also:
            by_word.setdefault(word, set()).add(kind.name)
    assert by_word["combi boiler"] == {"condensing boiler", "non-condensing boiler"}
    assert by_word["pressure-jet boiler"] == {"oil boiler"}
    assert not by_word.keys() & kinds.keys()


@ALL
def test_smoke_is_read_on_oil_and_nowhere_else(kind: Kind) -> None:
    fuels = load_fuels()
    liquid = all(fuels[name].state == "liquid" for name in kind.fuels)
    assert ("smoke" in kind.quantities.get("flue", ())) is liquid is (kind.name in OIL)


@ALL
def test_every_kind_says_what_is_examined_after_work_and_why(kind: Kind) -> None:
    after = kind.after_work
    assert after is not None
    assert len(after.reason) > 40
    if kind.name in OIL:
        assert after.examined == ()
        assert "26(9)" not in after.law
        assert "gas law" in after.reason
    else:
        assert after.examined[0] in ("c", "ca")
        assert after.law == "SI 1998/2451 reg. 26(9)"
        assert all(f"({letter})" in after.reason for letter in after.examined)


def test_only_a_heater_with_neither_meter_nor_test_point_begins_with_combustion_performance() -> None:
    first = {
        kind.name
        for kind in load_kinds().values()
        if kind.after_work and kind.after_work.examined[:1] == ("ca",)
    }
    assert first == {"LPG cabinet heater"}


@ALL
def test_combustion_performance_stands_in_for_pressure_or_input(kind: Kind) -> None:
    checks = {check.key: check for check in kind.checks}
    if kind.name in OIL:
        assert not any(check.instead_of for check in checks.values())
    else:
        assert checks["combustion_performance"].instead_of == "pressure_or_input"


@ALL
def test_an_open_flue_is_tried_before_the_analyser(kind: Kind) -> None:
    if "open" not in kind.flues or kind.name in OIL:
        return
    for purpose in PURPOSES:
        stages = [stage.key for stage in kind.stages_for(purpose, "open")]
        asked = {check.key: check for check in kind.checks_for(purpose, flue="open")}
        for key in ("ventilation", "flue_flow", "spillage"):
            assert stages.index(asked[key].stage) < stages.index("combustion"), key
        assert asked["spillage"].stops
        assert asked["flue_flow"].stops
        order = [check.key for check in kind.checks_for(purpose, flue="open")]
        assert order.index("ventilation") < order.index("flue_flow") < order.index("spillage")


@ALL
def test_oil_is_measured_in_its_order(kind: Kind) -> None:
    if kind.name not in OIL:
        return
    order = [check.key for check in kind.checks_for("service", flue="open")]
    wanted = ["nozzle_right", "pump_pressure", "draught", "smoke_first", "readings_settled", "smoke_again"]
    assert [key for key in order if key in wanted] == wanted
    stages = [stage.key for stage in kind.stages_for("service")]
    assert stages.index("oil supply") < stages.index("combustion")


@ALL
def test_no_flue_is_asked_about_where_there_is_none(kind: Kind) -> None:
    for flue in kind.flues:
        keys = {check.key for check in kind.checks_for("service", flue=flue)}
        assert ("spillage" in keys) is (flue == "open" and kind.name not in OIL)
        assert ("flue_effective" in keys) is (flue != "none")
        if flue != "room-sealed":
            assert "case_seal" not in keys


def test_a_supply_of_gas_says_what_can_be_measured_at_it() -> None:
    assert {one.name for one in dataclasses.fields(Supply)} == set(SUPPLY)
    for kind in load_kinds().values():
        for stage in kind.stages:
            assert bool(stage.supply) is (stage.key == "gas supply"), (kind.name, stage.key)


@ALL
def test_a_meter_is_read_where_the_meter_is_asked_about(kind: Kind) -> None:
    for purpose in PURPOSES:
        asked = {check.key for check in kind.checks_for(purpose)}
        there = {key for stage in kind.stages_for(purpose) for key in stage.supply}
        assert ("gas_rate" in asked) is ("gas_rate" in there) is ("tightness" in there)


@ALL
def test_a_room_is_held_against_the_air_outdoors(kind: Kind) -> None:
    for flue in kind.flues:
        for purpose in PURPOSES:
            points = [wanted.point for wanted in kind.slips_for(purpose, flue)]
            if "room" in points:
                assert points.index("outdoors") < points.index("room")
            if flue == "none":
                assert "flue" not in points
    if kind.flues == ("none",):
        assert {"room", "outdoors"} <= set(kind.points)
        assert "flue" not in kind.points


@ALL
def test_flueless_heaters_and_ovens_want_a_baseline(kind: Kind) -> None:
    wanted = {wanted.point for wanted in kind.slips_for("service", kind.flues[0])}
    measured = {"flueless water heater", "LPG cabinet heater", "oven", "grill", "cooker"}
    assert ("outdoors" in wanted) is (kind.name in measured)


def test_a_cooker_is_measured_where_grill_and_oven_are() -> None:
    kinds = load_kinds()
    for purpose in PURPOSES:
        alone = [*kinds["grill"].slips_for(purpose), *kinds["oven"].slips_for(purpose)]
        assert kinds["cooker"].slips_for(purpose) == tuple(dict.fromkeys(alone))
        assert kinds["hob"].slips_for(purpose) == ()


@ALL
def test_a_kind_whose_limits_are_unknown_judges_nothing(kind: Kind) -> None:
    if kind.name == "condensing boiler":
        return
    rules = load_rules()
    for point in kind.points:
        for rate in kind.rates:
            case = Case(
                date=dt.date(2026, 11, 26),
                fuel=load_fuels()[kind.fuels[0]],
                kind=kind,
                slips=(Slip(point, rate, {"co_ppm": Decimal(9000), "co2_pct": Decimal("1.0")}),),
            )
            found = assess(case, rules)
            integrity = point == "air inlet" and rate == "max"
            assert found.verdict == ("over" if integrity else "unjudged"), (point, rate)


@ALL
def test_what_is_written_down_stands_in_a_stage_of_every_purpose_it_is_for(kind: Kind) -> None:
    assert kind.notes
    keys = {note.key for note in kind.notes}
    assert {"as_found", "as_left", "parts", "advice_given", "advice_declined", "shown_to"} <= keys
    for note in kind.notes:
        assert set(note.flues) <= {"room-sealed", "open", "none"}
        if note.value == "number":
            assert note.low < note.high
        for purpose in note.purposes:
            assert any(note in kind.notes_for(purpose, stage.key) for stage in kind.stages_for(purpose))


@ALL
def test_nothing_found_measured_or_done_is_taken_over(kind: Kind) -> None:
    of_the_day = {
        "as_found",
        "as_left",
        "user_tells",
        "parts",
        "advice_given",
        "advice_declined",
        "shown_to",
        "flow_c",
        "return_c",
        "system_bar",
        "vessel_bar",
        "burner_mbar",
        "gas_rate_heating",
        "gas_rate_hot_water",
        "tap_l_min",
        "cold_c",
        "hot_c",
        "spillage_min",
        "burning_min",
        "pump_bar",
        "draught_flue_mbar",
        "water_tested",
        "alarm",
        "filter",
        "rubble",
        "fans_running",
        "nozzle",
        "oil_flow",
        "controls_set",
    }
    for note in kind.notes:
        assert note.keeps is not (note.key in of_the_day) or note.key == "hose_date", note.key


def test_a_condensing_boiler_has_everything_a_commissioning_writes_down() -> None:
    boiler = load_kinds()["condensing boiler"]
    keys = {note.key for note in boiler.notes_for("commissioning", flue="room-sealed")}
    assert keys >= {
        "flue_type",
        "flue_length_m",
        "flue_voids",
        "gas_rate_heating",
        "gas_rate_hot_water",
        "flow_c",
        "return_c",
        "cleaner",
        "inhibitor_name",
        "filter",
        "condensate_to",
        "controls_fitted",
        "alarm",
        "parts",
        "as_found",
        "as_left",
        "advice_given",
        "advice_declined",
        "shown_to",
    }
    assert "chimney" not in keys
    assert "shown_to" not in {note.key for note in boiler.notes_for("service")}


def test_what_a_kind_does_not_ask_it_still_knows() -> None:
    boiler = load_kinds()["back boiler"]
    assert "condensate_trap" in {check.key for check in boiler.checks}
    assert "condensate_trap" not in {check.key for check in boiler.checks_for("service")}


def test_an_lpg_boiler_is_the_condensing_boiler_on_propane() -> None:
    assert "propane" in load_kinds()["condensing boiler"].fuels


def kinds(tmp_path: Path, kind: str = KIND, stage: str = STAGE, notes: str = NOTES) -> list[Kind]:
    (tmp_path / "stages").mkdir(exist_ok=True)
    (tmp_path / "stages" / "arrival.toml").write_text(stage, encoding="utf-8")
    (tmp_path / "notes").mkdir(exist_ok=True)
    (tmp_path / "notes" / "pipe.toml").write_text(notes, encoding="utf-8")
    (tmp_path / "stove.toml").write_text(kind, encoding="utf-8")
    return list(read_kinds(tmp_path).values())


def test_a_kind_is_read(tmp_path: Path) -> None:
    (kind,) = kinds(tmp_path)
    assert (kind.key, kind.name, kind.tables, kind.air_leak_o2_pct) == ("stove", "stove", (), None)
    assert kind.checks[0].purposes == PURPOSES
    assert kind.wanted[0].lines == ("Probe in.", "Wait.")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('flues = ["open"]', 'flues = ["open"]\ncolour = "red"', "unknown keys colour"),
        ('stages = ["arrival"]', 'stages = ["leaving"]', "'leaving'; accepted: arrival"),
        ('stages = ["arrival"]', 'stages = ["arrival", "arrival"]', "stage 'arrival' is given twice"),
        ('point = "flue"', 'point = "hob"', "'hob'; accepted: flue"),
        ('lines = ["Probe in.", "Wait."]', 'lines = ["Probe in."]', "lines: 1; accepted: 2 texts"),
        ('rate = "max"', 'rate = "max"\nrates = "min"', "unknown keys rates"),
        ('purposes = ["service"]', "purposes = []", "purposes: missing"),
        ('name = "stove"', "name =", "Invalid value"),
    ],
)
def test_a_wrong_kind_is_refused_by_name(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in KIND
    with pytest.raises(ValueError, match=r"stove\.toml") as refusal:
        kinds(tmp_path, KIND.replace(old, new, 1))
    assert said in str(refusal.value)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('status = "common practice"', 'status = "common practice"\ngood = true', "unknown keys good"),
        ('status = "common practice"', 'status = "sure"', "'sure'"),
        ('lines = ["Look.", "Listen."]', 'lines = ["Look.", "Listen."]\nlevel = 1', "unknown keys level"),
        ('lines = ["Look.", "Listen."]', 'lines = ["Look.", " "]', "is no text"),
    ],
)
def test_a_wrong_stage_is_refused_by_name(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in STAGE
    with pytest.raises(ValueError, match=r"arrival\.toml") as refusal:
        kinds(tmp_path, stage=STAGE.replace(old, new, 1))
    assert said in str(refusal.value)


def test_a_check_key_stands_once_in_a_kind(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="check 'looked' is given twice"):
        kinds(tmp_path, stage=STAGE + STAGE[STAGE.index("[[check]]") :])


def test_what_a_kind_has_of_its_own_is_read(tmp_path: Path) -> None:
    (kind,) = kinds(tmp_path, KIND.replace('points = ["flue"]', 'points = ["flue"]\nnotes = ["pipe"]') + OWN)
    looked, door = kind.checks
    assert (door.stage, door.flues, door.stops, door.instead_of) == ("arrival", ("open",), True, "looked")
    assert (looked.flues, looked.stops, looked.instead_of) == ((), False, "")
    assert kind.quantities == {"flue": ("co_ppm",)}
    assert kind.makes_sense("co_ppm", "flue")
    assert not kind.makes_sense("o2_pct", "flue")
    assert kind.makes_sense("o2_pct", "room")
    assert kind.after_work is not None
    assert kind.after_work.examined == ()
    length, colour = kind.notes
    assert (length.group, length.unit, length.purposes, length.keeps) == ("pipe", "m", ("service",), True)
    assert (colour.purposes, colour.flues, colour.choices) == (("breakdown",), ("open",), ("black", "red"))
    assert [note.key for note in kind.notes_for("service")] == ["pipe_m"]
    assert kind.notes_for("breakdown", flue="none") == ()


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('instead_of = "looked"', 'instead_of = "seen"', "instead_of 'seen' is no check"),
        ('flue = ["co_ppm"]', 'flue = ["co"]', "quantities: flue: 'co'; accepted: o2_pct"),
        ('flue = ["co_ppm"]', 'room = ["co_ppm"]', "quantities: unknown keys room"),
        ('reason = "Because."', 'reason = "Because."\nexamined = ["d"]', "'d'; accepted: c, ca"),
        ('reason = "Because."', 'reason = ""', "after_work: reason: blank"),
        ('stage = "arrival"', 'stage = "leaving"', "'leaving'; accepted: arrival"),
        ('key = "door_shuts"', 'key = "looked"', "check 'looked' is given twice"),
    ],
)
def test_wrong_parts_of_a_kind_are_refused(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in OWN
    with pytest.raises(ValueError, match=r"stove\.toml") as refusal:
        kinds(tmp_path, KIND + OWN.replace(old, new))
    assert said in str(refusal.value)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            'stage = "arrival"',
            'stage = "leaving"',
            "stove.toml: note 'pipe_m': stage 'leaving'; accepted: arrival",
        ),
        ('value = "number"', 'value = "length"', "'length'; accepted: text, number, choice, date"),
        ('low = "0"\n', "", "low: missing"),
        (
            'choices = ["black", "red"]',
            'choices = ["black"]',
            "pipe_colour: choices: 1; accepted: at least two",
        ),
        ('key = "pipe_colour"', 'key = "pipe_m"', "note 'pipe_m' is given twice"),
        ("keeps = true", "keeps = true\nhigher = 1", "unknown keys higher"),
    ],
)
def test_wrong_notes_are_refused_by_name(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in NOTES
    kind = KIND.replace('points = ["flue"]', 'points = ["flue"]\nnotes = ["pipe"]')
    with pytest.raises(ValueError, match=r"(pipe|stove)\.toml") as refusal:
        kinds(tmp_path, kind, notes=NOTES.replace(old, new))
    assert said in str(refusal.value)


def test_what_is_not_asked_has_to_be_known(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="not_asked: 'seen' is no check"):
        kinds(tmp_path, KIND.replace('points = ["flue"]', 'points = ["flue"]\nnot_asked = ["seen"]'))


def test_a_name_stands_once(tmp_path: Path) -> None:
    folder = tmp_path / "kinds"
    shutil.copytree(KINDS, folder)
    shutil.copy(folder / "cooker.toml", folder / "stove.toml")
    with pytest.raises(ValueError, match=r"stove\.toml: name: 'cooker' is given twice"):
        read_kinds(folder)


def test_what_belongs_to_the_premises_is_marked_so(tmp_path: Path) -> None:
    boiler = {check.key: check for check in load_kinds()["condensing boiler"].checks}
    premises = {key for key, check in boiler.items() if check.scope == "premises"}
    assert premises == {"gas_tight", "standing_pressure", "co_alarm", "responsible_told"}
    (tmp_path / "stages").mkdir()
    (tmp_path / "stages" / "arrival.toml").write_text(f'{STAGE}scope = "street"\n', encoding="utf-8")
    with pytest.raises(ValueError, match="scope"):
        read_kinds(tmp_path)


@ALL
def test_no_test_of_the_day_can_be_taken_over_from_an_earlier_visit(kind: Kind) -> None:
    tested = {
        "gas_tight",
        "spillage",
        "working_pressure",
        "gas_rate",
        "draught",
        "readings_settled",
        "co_alarm",
    }
    for check in kind.checks:
        if check.stage in ("close-up", "sign-off") or check.key in tested:
            assert check.anew, check.key
