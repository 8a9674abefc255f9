"""What leaves by the flue and what stays: losses, efficiencies and condensate, each on its own basis."""

from __future__ import annotations

from flueleaf.domain.combustion.water import latent_kj_per_mol, liquid_kg_per_l
from flueleaf.domain.words import said
from flueleaf.operations.explaining.explanation import unrounded
from flueleaf.operations.explaining.flame_figure import Flame, FlameFigure, Steps, value_of

HEATS = said(
    "Heat capacities of the flue gases as polynomials, net heating value at 25 °C (ISO 6976:2016); recalled, "
    "the coefficients stand with the fuel’s table."
)
LOSS_CAUTION = said(
    "What leaves by the flue only: losses of the casing and of standing by are not in it, nor is the gain of "
    "condensing."
)
BOUND_CAUTION = said(
    "An upper bound: flue gas and condensate at equilibrium at flue temperature, dry air. No appliance does "
    "better; how near it comes depends on its heat exchanger and the return temperature."
)
BOUND_SOURCE = said(
    "Vapour left = dry gas · p_sat / (p − p_sat); vapour pressure by IAPWS Industrial Formulation 1997, "
    "region 4; heat capacities and latent heat as in the fuel’s table."
)
SIEGERT_SOURCE = said("1. BImSchV of 26 January 2010, Anlage 2 no. 3.4.1; checked against the source.")
SIEGERT_CAUTION = said(
    "The ordinance’s formula with 21 % oxygen, not first principles; on LPG it reads up to 0.45 points low."
)
BS845_SOURCE = said("In the style of BS 845-1:1987, formulas recalled; K1 = 255 · C% / Q of the fuel.")
BS845_CAUTION = said(
    "Net in this style leaves out the sensible heat of the water vapour: it reads higher than first "
    "principles, by 0.3 points at 60 °C and 1.5 at 200 °C."
)
WARM = ("o2_pct", "flue_c", "air_c")


def _loss_steps(flame: Flame) -> tuple[str, ...]:
    return (
        said("air factor = {factor}", factor=unrounded(value_of(flame.made, "air_factor"))),
        said("net heat of the fuel Q = {heat} kJ per unit", heat=unrounded(flame.fuel.net_kj)),
        said("loss = {loss} % of the net heat input", loss=unrounded(value_of(flame.made, "loss_net_pct"))),
    )


def _siegert_steps(flame: Flame) -> tuple[str, ...]:
    coefficients, values = flame.fuel.siegert, flame.slip.values
    if coefficients is None:
        return ()
    return (
        said(
            "({flue} − {air}) · ({a} / (21 − {o2}) + {b}) = {result}",
            flue=unrounded(values["flue_c"]),
            air=unrounded(values["air_c"]),
            a=unrounded(coefficients.a),
            o2=unrounded(flame.o2),
            b=unrounded(coefficients.b),
            result=unrounded(value_of(flame.made, "loss_siegert_pct")),
        ),
    )


def _net_steps(flame: Flame) -> tuple[str, ...]:
    loss, net = value_of(flame.made, "loss_net_pct"), value_of(flame.made, "efficiency_net_pct")
    return (said("100 − {loss} = {net}", loss=unrounded(loss), net=unrounded(net)),)


def _gross(net_key: str, key: str) -> Steps:
    def steps(flame: Flame) -> tuple[str, ...]:
        return (
            said(
                "{net} / {ratio} = {gross}",
                net=unrounded(value_of(flame.made, net_key)),
                ratio=unrounded(flame.fuel.gross_net_ratio),
                gross=unrounded(value_of(flame.made, key)),
            ),
        )

    return steps


def _bound_steps(flame: Flame) -> tuple[str, ...]:
    made, fuel = flame.made, flame.fuel
    plain, share = value_of(made, "efficiency_net_pct"), value_of(made, "condensed_fraction")
    bound = value_of(made, "efficiency_net_condensing_pct")
    if not share:
        return (said("nothing condenses: {net}", net=unrounded(bound)),)
    gain = 100.0 * share * fuel.h2o_mol * latent_kj_per_mol(float(flame.slip.values["flue_c"])) / fuel.net_kj
    return (
        said("condensed share of the water = {share}", share=unrounded(share)),
        said("its latent heat = {gain} % of the net heat input", gain=unrounded(gain)),
        said("{net} + {gain} = {bound}", net=unrounded(plain), gain=unrounded(gain), bound=unrounded(bound)),
    )


def _share_steps(flame: Flame) -> tuple[str, ...]:
    share = value_of(flame.made, "condensed_fraction")
    return (said("{share} of the water made, by its amount", share=unrounded(share)),)


def _bs845(key: str) -> Steps:
    def steps(flame: Flame) -> tuple[str, ...]:
        fuel, result = flame.fuel, value_of(flame.made, key)
        heat = fuel.gross_mj_per_kg if "gross" in key else fuel.net_mj_per_kg
        return (
            said("K1 = 255 · {c} / {q} kJ/kg", c=unrounded(fuel.carbon_mass_pct), q=unrounded(1000.0 * heat)),
            said("100 − losses = {result}", result=unrounded(result)),
        )

    return steps


def _kg_steps(flame: Flame) -> tuple[str, ...]:
    return (
        said(
            "{share} · {water} kg/kWh = {result}",
            share=unrounded(value_of(flame.made, "condensed_fraction")),
            water=unrounded(flame.fuel.h2o_kg_per_kwh_net),
            result=unrounded(value_of(flame.made, "condensate_kg_per_kwh_net")),
        ),
    )


def _litre_steps(flame: Flame) -> tuple[str, ...]:
    kg, heat = value_of(flame.made, "condensate_kg_per_kwh_net"), flame.input_net_kw
    litres = value_of(flame.made, "condensate_l_per_h")
    if heat is None or not kg:
        return (said("nothing condenses: {net}", net=unrounded(litres)),)
    return (
        said(
            "{kg} · {kw} / {density} kg/l = {result}",
            kg=unrounded(kg),
            kw=unrounded(heat),
            density=unrounded(liquid_kg_per_l(float(flame.slip.values["flue_c"]))),
            result=unrounded(litres),
        ),
    )


LOSSES = (
    FlameFigure(
        "loss_net_pct", said("flue loss, net"), "%", 1,
        (
            said("Heat the wet flue gas would give up on cooling to the air, over the net heat."),
            said("loss = 100 · (H(flue) − H(air)) / Q"),
        ),
        _loss_steps, HEATS, LOSS_CAUTION, WARM,
    ),
    FlameFigure(
        "efficiency_net_pct", said("efficiency, net"), "%", 1,
        (said("What the flue loss leaves of the net heat input."), said("η net = 100 − loss")),
        _net_steps, HEATS, LOSS_CAUTION, WARM,
    ),
    FlameFigure(
        "efficiency_gross_pct", said("efficiency, gross"), "%", 1,
        (
            said("The same heat against the gross heat input."),
            said("η gross = η net / (gross heating value / net heating value)"),
        ),
        _gross("efficiency_net_pct", "efficiency_gross_pct"), HEATS, LOSS_CAUTION, WARM,
    ),
)  # fmt: skip
CONDENSING = (
    FlameFigure(
        "efficiency_net_condensing_pct", said("efficiency, net, upper bound"), "%", 1,
        (
            said("With the latent heat of the water that condenses at equilibrium."),
            said("η net, at most = η net + latent heat of the condensate"),
        ),
        _bound_steps, BOUND_SOURCE, BOUND_CAUTION, WARM,
    ),
    FlameFigure(
        "efficiency_gross_condensing_pct", said("efficiency, gross, upper bound"), "%", 1,
        (
            said("The same heat against the gross heat input; never above 100 %."),
            said("η gross, at most = η net, at most / (gross heating value / net heating value)"),
        ),
        _gross("efficiency_net_condensing_pct", "efficiency_gross_condensing_pct"),
        BOUND_SOURCE, BOUND_CAUTION, WARM,
    ),
    FlameFigure(
        "condensed_fraction", said("condensed share of the water, upper bound"), "%", 1,
        (
            said("What does not stay vapour in saturated flue gas, over the water made."),
            said("share = 1 − dry gas · p_sat / (p − p_sat) / water made"),
        ),
        _share_steps, BOUND_SOURCE, BOUND_CAUTION, WARM,
    ),
    FlameFigure(
        "condensate_kg_per_kwh_net", said("condensate per kilowatt-hour, upper bound"), "kg/kWh", 3,
        (
            said("Water condensed for a kilowatt-hour of net heat input."),
            said("condensate = condensed share · water made per kWh net"),
        ),
        _kg_steps, BOUND_SOURCE, BOUND_CAUTION, WARM,
    ),
    FlameFigure(
        "condensate_l_per_h", said("condensate, upper bound"), "l/h", 2,
        (
            said("The same in an hour, at the heat input by the meter."),
            said("condensate = kg/kWh · net heat input / density at flue temperature"),
        ),
        _litre_steps, BOUND_SOURCE, BOUND_CAUTION, WARM, ("input_net_kw",),
    ),
)  # fmt: skip
OTHER_WAYS = (
    FlameFigure(
        "loss_siegert_pct", said("flue loss, Siegert, net"), "%", 1,
        (
            said("Siegert’s formula with the coefficients of the fuel’s class."),
            said("loss = (flue − air) · (A / (21 − O2) + B)"),
        ),
        _siegert_steps, SIEGERT_SOURCE, SIEGERT_CAUTION, ("o2_pct", "flue_c", "air_c"),
    ),
    FlameFigure(
        "efficiency_net_bs845_pct", said("efficiency, net, BS 845 style"), "%", 1,
        (
            said("From CO2: the dry loss by K1, against the net heat."),
            said("η net = 100 − K1 · (flue − air) / CO2"),
        ),
        _bs845("efficiency_net_bs845_pct"), BS845_SOURCE, BS845_CAUTION, ("co2_pct", "flue_c", "air_c"),
    ),
    FlameFigure(
        "efficiency_gross_bs845_pct", said("efficiency, gross, BS 845 style"), "%", 1,
        (
            said("From CO2: the dry loss by K1 and the wet loss, against the gross heat."),
            said(
                "η gross = 100 − K1 · (flue − air) / CO2 − 9 · H% · (2488 + 2.1 · flue − 4.2 · air) / Q"
            ),
        ),
        _bs845("efficiency_gross_bs845_pct"), BS845_SOURCE, BS845_CAUTION, ("co2_pct", "flue_c", "air_c"),
    ),
)  # fmt: skip
