from __future__ import annotations

import datetime as dt

import pytest

from flueleaf.domain.combustion.gas import co2_from_o2_pct
from flueleaf.operations.demo.dice import Dice
from flueleaf.operations.demo.planning import Span
from flueleaf.operations.demo.readings import Spell, air_inlet_slip, drifted, flue_slip, supply
from flueleaf.storage.tables.fuels import load_fuels

FUELS = load_fuels()


def _fitted(scenario):
    return [one for place in scenario.places for one in place.fitted]


def test_every_flue_slip_agrees_with_the_physics_of_its_fuel(whole_story) -> None:
    seen = 0
    for _, document in whole_story:
        for work in document["works"]:
            fuel = FUELS[work["appliance"]["fuel"]]
            for slip in work.get("slips", ()):
                o2, co2 = float(slip["o2_pct"]), float(slip["co2_pct"])
                if slip["point"] == "flue":
                    # Both are printed to 0.1, and the analyser works CO2 out from its oxygen cell.
                    assert co2 == pytest.approx(co2_from_o2_pct(fuel, o2), abs=0.09)
                    ratio = float(slip["co_ppm"]) / (10_000 * co2)
                    digits = 0.00006 + ratio * 0.055 / co2  # of the ratio and of the CO2 it is taken over
                    assert float(slip["ratio"]) == pytest.approx(ratio, abs=digits)
                    seen += 1
    assert seen > 700


def test_a_slip_keeps_the_digits_of_the_analyser(scenario) -> None:
    fitted = _fitted(scenario)[0]
    slip = flue_slip(fitted, FUELS["natural gas"], "max", Spell(0.0), Dice("digits"))
    assert [len(slip[key].partition(".")[2]) for key in ("o2_pct", "co2_pct", "co_ppm", "ratio")] == [
        1,
        1,
        0,
        4,
    ]


def test_settings_keep_inside_the_makers_window(scenario) -> None:
    for fitted in _fitted(scenario):
        for rate, ends in fitted.model.limits.get("co2_pct", {}).items():
            low, high = (float(end) for end in ends)
            for n in range(20):
                slip = flue_slip(fitted, FUELS[fitted.model.fuel], rate, Spell(0.0), Dice("window", n))
                assert low < float(slip["co2_pct"]) < high


def test_drift_raises_co_by_what_the_scenario_says(scenario) -> None:
    fitted = next(one for one in _fitted(scenario) if one.drift_ppm_per_year >= 30)
    fuel = FUELS["natural gas"]
    rises = [
        float(flue_slip(fitted, fuel, "max", Spell(4.0), Dice("drift", n))["co_ppm"])
        - float(flue_slip(fitted, fuel, "max", Spell(0.0), Dice("drift", n))["co_ppm"])
        for n in range(60)
    ]
    assert sum(rises) / 60 == pytest.approx(4 * fitted.drift_ppm_per_year, rel=0.1)


def test_drift_begins_anew_after_a_correction(scenario, today) -> None:
    span = Span.of(6, today, dt.date.min)
    fitted = next(one for one in _fitted(scenario) if one.corrected_years_ago == (3,))
    corrected = today - dt.timedelta(days=100 + 3 * 365)
    assert drifted(fitted, corrected - dt.timedelta(days=1), span, 100).years > 1.9
    assert drifted(fitted, corrected + dt.timedelta(days=365), span, 100).years == pytest.approx(1.0)


def test_the_air_inlet_shows_fresh_air_unless_the_flue_leaks() -> None:
    fuel = FUELS["natural gas"]
    for n in range(200):
        slip = air_inlet_slip(fuel, "max", Dice("fresh", n))
        assert 20.7 <= float(slip["o2_pct"]) <= 21.0
        assert float(slip["co2_pct"]) <= 0.1
    leak = air_inlet_slip(fuel, "max", Dice("leak"), {"o2_pct": 19.6, "co2_pct": 0.7})
    assert float(leak["o2_pct"]) < 20.6
    assert float(leak["co2_pct"]) > 0.2


def test_the_meter_run_comes_to_the_plate(scenario) -> None:
    for fitted in _fitted(scenario):
        fuel = FUELS[fitted.model.fuel]
        rate = supply(fitted, fuel, full=True, dice=Dice("meter", fitted.serial)).get("gas_rate")
        if fitted.model.fuel == "propane":
            assert rate is None
            continue
        meter = rate["meter"]
        gross = float(meter["volume"]) * float(rate["calorific_value_mj_m3"]) * 1000 / float(meter["seconds"])
        plate = fitted.model.rated_input
        ratio = fuel.gross_net_ratio if plate["basis"] == "net" else 1.0
        assert gross / ratio == pytest.approx(float(plate["max_kw"]), rel=0.08)


def test_pressures_fall_along_the_pipe(scenario) -> None:
    for fitted in _fitted(scenario):
        found = supply(fitted, FUELS[fitted.model.fuel], full=False, dice=Dice("p", fitted.serial))
        assert float(found["standing_mbar"]) > float(found["working_mbar"]) > float(found["inlet_mbar"])
