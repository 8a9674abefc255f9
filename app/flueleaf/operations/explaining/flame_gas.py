"""What the gases of a flame tell: air, what O2 stands for, emissions free of dilution, the dew point."""

from __future__ import annotations

from flueleaf.domain.combustion.constants import STANDARD_PRESSURE_KPA
from flueleaf.domain.combustion.gas import air_moisture, co_mg_per_m3, dry_flue_mol, no2_mg_per_m3
from flueleaf.domain.combustion.slip_figures import REFERENCE_O2_PCT
from flueleaf.domain.words import said
from flueleaf.operations.explaining.explanation import unrounded
from flueleaf.operations.explaining.flame_figure import Flame, FlameFigure, Steps, value_of

BALANCE = said(
    "Balance of dry flue gas with air of 20.95 % oxygen (ISO 6976:2016, annex A, composition of dry air; "
    "recalled)."
)
DRY_CAUTION = said("Holds for dry, well-mixed gas. Air leaking in before the probe makes it look leaner.")
NOX_CAUTION = said("Measured NO counted as NO2; NO2 that the analyser does not measure is not in it.")
AT_3_SOURCE = said(
    "Reference of 3 % oxygen: 1. BImSchV of 26 January 2010, section 2, and EN 267; recalled. Molar volume "
    "of an ideal gas at 0 °C and 101.325 kPa."
)
PER_KWH_SOURCE = said(
    "Dry flue gas of the fuel’s composition for a kilowatt-hour; EN 15502-1 prints the same factors for "
    "methane (recalled)."
)
DEW_SOURCE = said(
    "Vapour pressure of water: IAPWS Industrial Formulation 1997, region 4, equations 30 and 31."
)
_O2 = ("o2_pct",)
_OF = {"co": said("CO"), "nox": said("NOx")}
_MEASURED = {"co": "co_ppm", "nox": "no_ppm"}


def _co2_steps(flame: Flame) -> tuple[str, ...]:
    return (
        said(
            "{highest} · (20.95 − {o2}) / 20.95 = {result}",
            highest=unrounded(flame.fuel.co2_max_pct),
            o2=unrounded(flame.o2),
            result=unrounded(value_of(flame.made, "co2_from_o2_pct")),
        ),
    )


def _air_steps(flame: Flame) -> tuple[str, ...]:
    k = unrounded(flame.fuel.k)
    return (
        said("k of {fuel} = {k} (dry flue gas over dry air, just enough air)", fuel=flame.fuel.name, k=k),
        said(
            "1 + {k} · {o2} / {remains} = {result}",
            k=k,
            o2=unrounded(flame.o2),
            remains=unrounded(flame.remains),
            result=unrounded(value_of(flame.made, "air_factor")),
        ),
    )


def _excess_steps(flame: Flame) -> tuple[str, ...]:
    made = flame.made
    return (
        said(
            "100 · ({factor} − 1) = {result}",
            factor=unrounded(value_of(made, "air_factor")),
            result=unrounded(value_of(made, "excess_air_pct")),
        ),
    )


def _short_steps(flame: Flame) -> tuple[str, ...]:
    return (
        said(
            "100 · {o2} / {remains} = {result}",
            o2=unrounded(flame.o2),
            remains=unrounded(flame.remains),
            result=unrounded(value_of(flame.made, "excess_air_short_pct")),
        ),
    )


def _to_oxygen(gas: str, key: str, reference: str) -> Steps:
    """Return the steps of a concentration brought to a reference oxygen, ``20.95 − reference`` as text."""

    def steps(flame: Flame) -> tuple[str, ...]:
        return (
            said(
                "{ppm} · {reference} / {remains} = {result}",
                ppm=unrounded(flame.slip.values[_MEASURED[gas]]),
                reference=reference,
                remains=unrounded(flame.remains),
                result=unrounded(value_of(flame.made, key)),
            ),
        )

    return steps


def _mg_per_m3(gas: str, key: str) -> Steps:
    def steps(flame: Flame) -> tuple[str, ...]:
        of_one = co_mg_per_m3(1.0) if gas == "co" else no2_mg_per_m3(1.0)
        return (
            said(
                "{ppm} · {factor} = {result}",
                ppm=unrounded(value_of(flame.made, f"{gas}_at_3_o2_ppm")),
                factor=unrounded(of_one),
                result=unrounded(value_of(flame.made, key)),
            ),
        )

    return steps


def _per_kwh(gas: str, key: str) -> Steps:
    def steps(flame: Flame) -> tuple[str, ...]:
        fuel = flame.fuel
        of_one = fuel.co_mg_per_kwh_net_per_ppm if gas == "co" else fuel.nox_mg_per_kwh_net_per_ppm
        return (
            said(
                "1 ppm, air-free, in {fuel} = {factor} mg/kWh net", fuel=fuel.name, factor=unrounded(of_one)
            ),
            said(
                "{ppm} · {factor} = {result}",
                ppm=unrounded(value_of(flame.made, f"{gas}_undiluted_ppm")),
                factor=unrounded(of_one),
                result=unrounded(value_of(flame.made, key)),
            ),
        )

    return steps


def _per_kwh_gross(gas: str, key: str) -> Steps:
    def steps(flame: Flame) -> tuple[str, ...]:
        return (
            said(
                "{net} / {ratio} = {gross}",
                net=unrounded(value_of(flame.made, f"{gas}_mg_per_kwh")),
                ratio=unrounded(flame.fuel.gross_net_ratio),
                gross=unrounded(value_of(flame.made, key)),
            ),
        )

    return steps


def _dew_steps(flame: Flame) -> tuple[str, ...]:
    return _dew(flame, 0.0, "dew_point_c")


def _humid_steps(flame: Flame) -> tuple[str, ...]:
    air_c, humidity = flame.slip.values.get("air_c"), flame.air_humidity_pct
    if air_c is None or humidity is None:
        return ()
    factor = value_of(flame.made, "air_factor")
    brought = factor * flame.fuel.air_mol * air_moisture(float(air_c), float(humidity))
    return _dew(flame, brought, "dew_point_humid_c")


def _dew(flame: Flame, brought: float, key: str) -> tuple[str, ...]:
    """Return the steps to a dew point; ``brought``: moles of vapour that come with the air."""
    factor = value_of(flame.made, "air_factor")
    dry, made = dry_flue_mol(flame.fuel, factor), flame.fuel.h2o_mol
    pressure = STANDARD_PRESSURE_KPA * (made + brought) / (dry + made + brought)
    return (
        said(
            "per mole of fuel: dry gas {dry}, water made {water}", dry=unrounded(dry), water=unrounded(made)
        ),
        *((said("water brought by the air {water}", water=unrounded(brought)),) if brought else ()),
        said("p(water) = 101.325 kPa · water / (dry gas + water) = {p} kPa", p=unrounded(pressure)),
        said("saturated at {t} °C", t=unrounded(value_of(flame.made, key))),
    )


def _concentration(gas: str, key: str, name: str, reference: str, formula: tuple[str, ...]) -> FlameFigure:
    steps, source = _to_oxygen(gas, key, reference), BALANCE
    caution = DRY_CAUTION if gas == "co" else NOX_CAUTION
    if key.endswith("at_3_o2_ppm"):
        source = AT_3_SOURCE
    return FlameFigure(key, name, "ppm", 0, formula, steps, source, caution, (_MEASURED[gas], *_O2))


def _emission(gas: str, key: str, name: str, formula: tuple[str, ...], steps: Steps) -> FlameFigure:
    by_volume = key.endswith("_m3")
    source, unit = (AT_3_SOURCE, "mg/m³") if by_volume else (PER_KWH_SOURCE, "mg/kWh")
    caution = DRY_CAUTION if gas == "co" else NOX_CAUTION
    return FlameFigure(key, name, unit, 1, formula, steps, source, caution, (_MEASURED[gas], *_O2))


def _emissions(gas: str) -> tuple[FlameFigure, ...]:
    """Return the figures of CO, or of NOx, in the order of the slip's figures."""
    of, read = _OF[gas], {"co": said("CO"), "nox": said("NO")}[gas]
    free, at_3, m3 = f"{gas}_undiluted_ppm", f"{gas}_at_3_o2_ppm", f"{gas}_at_3_o2_mg_per_m3"
    net, gross = f"{gas}_mg_per_kwh", f"{gas}_mg_per_kwh_gross"
    return (
        _concentration(gas, free, said("air-free {gas}", gas=of), "20.95", (
            said("{gas} as it would read without excess air.", gas=of),
            said("{gas}, air-free = {read} · 20.95 / (20.95 − O2)", gas=of, read=read),
        )),
        _emission(gas, net, said("{gas} per kilowatt-hour, net", gas=of), (
            said("Mass of {gas} for a kilowatt-hour of net heat input.", gas=of),
            said("{gas} = air-free ppm · (mg/kWh for 1 ppm)", gas=of),
        ), _per_kwh(gas, net)),
        _emission(gas, gross, said("{gas} per kilowatt-hour, gross", gas=of), (
            said("The same for a kilowatt-hour of gross heat input."),
            said("gross = net / (gross heating value / net heating value)"),
        ), _per_kwh_gross(gas, gross)),
        _concentration(gas, at_3, said("{gas} at 3 % O2", gas=of), f"{20.95 - REFERENCE_O2_PCT:.2f}", (
            said("{gas} as it would read at 3 % oxygen.", gas=of),
            said("{gas} = {read} · (20.95 − 3) / (20.95 − O2)", gas=of, read=read),
        )),
        _emission(gas, m3, said("{gas} at 3 % O2, by mass", gas=of), (
            said("Mass in a cubic metre of dry gas at 0 °C and 101.325 kPa."),
            said("mg/m³ = ppm at 3 % O2 · molar mass / molar volume"),
        ), _mg_per_m3(gas, m3)),
    )  # fmt: skip


AIR = (
    FlameFigure(
        "air_factor", said("air factor"), "", 2,
        (
            said("Air supplied over the air needed; 1 is just enough."),
            said("λ = 1 + k · O2 / (20.95 − O2)"),
        ),
        _air_steps, BALANCE, DRY_CAUTION, _O2,
    ),
    FlameFigure(
        "excess_air_pct", said("excess air"), "%", 1,
        (said("Air beyond the air needed."), said("excess air = 100 · (λ − 1)")),
        _excess_steps, BALANCE, DRY_CAUTION, _O2,
    ),
    FlameFigure(
        "excess_air_short_pct", said("excess air, short form"), "%", 1,
        (
            said("The same with k taken as 1, as the trade does by hand."),
            said("excess air = 100 · O2 / (20.95 − O2)"),
        ),
        _short_steps, BALANCE, said("It overstates: dry flue gas is less than the air it is made of."), _O2,
    ),
    FlameFigure(
        "co2_from_o2_pct", said("CO2 that O2 stands for"), "%", 1,
        (
            said("On the fuel’s line of complete combustion O2 and CO2 belong together."),
            said("CO2 = CO2max · (20.95 − O2) / 20.95"),
        ),
        _co2_steps, BALANCE, DRY_CAUTION, _O2,
    ),
)  # fmt: skip
EMISSIONS = (*_emissions("co"), *_emissions("nox"))
_DEW = said("Where the vapour in the flue gas begins to condense, at 101.325 kPa.")
DEW = (
    FlameFigure(
        "dew_point_c", said("water dew point, dry air"), "°C", 1,
        (_DEW, said("p_sat(dew point) = p(water)")),
        _dew_steps, DEW_SOURCE, said("Water only: acids of sulphur condense above it."), _O2,
    ),
    FlameFigure(
        "dew_point_humid_c", said("water dew point, humid air"), "°C", 1,
        (_DEW, said("p_sat(dew point) = p(water), with the vapour of the air")),
        _humid_steps, DEW_SOURCE, said("Water only: acids of sulphur condense above it."),
        ("o2_pct", "air_c"), ("air_humidity_pct",),
    ),
)  # fmt: skip
