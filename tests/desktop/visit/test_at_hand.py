"""The margin says whose limit a reading stands against, the owner's own among them."""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.domain.judging.bench import DAY, RULES, case, flue, limits, slip
from tests.domain.judging.test_own_limits import AT

from flueleaf.desktop.visit.at_hand import graphs
from flueleaf.domain.judging.assess import assess
from flueleaf.domain.judging.assessment import SlipAssessment
from flueleaf.domain.judging.own_limits import with_own
from flueleaf.domain.records.owned import OwnLimit
from flueleaf.domain.records.register import MakerLimits
from flueleaf.domain.records.visits import Slip
from flueleaf.storage.tables.kinds import load_kinds


def entered(slot: str, limit: str) -> OwnLimit:
    return OwnLimit(slot, Decimal(limit), DAY, AT, edition="Edition 4", source="own copy", clause="6.1")


def judged(kind: str, one: Slip, *own: OwnLimit, of_maker: MakerLimits | None = None) -> SlipAssessment:
    known = with_own(RULES, own)
    return assess(case(one, kind=load_kinds()[kind], limits=of_maker), known).slips[0]


def test_above_a_hob_the_ratio_worked_out_stands_against_the_limit_the_owner_entered() -> None:
    found = judged("hob", slip("hob", co_ppm=44, co2_pct="1.6"), entered("action_levels.hob_ratio", "0.011"))
    (graph,) = graphs(found, "co_ppm")
    assert graph.title == "CO/CO2 ratio, computed, high rate"
    assert (graph.value_text, graph.verdict) == ("0.0028 of 0.011", "within")
    assert graph.source == "the limit you entered"
    assert "own copy, valid from 26 November 2026, Edition 4, 6.1" in graph.detail.replace("\xa0", " ")


def test_above_a_hob_without_a_limit_the_ratio_is_there_and_unjudged() -> None:
    (graph,) = graphs(judged("hob", slip("hob", co_ppm=44, co2_pct="1.6")), "co_ppm")
    assert (graph.value_text, graph.verdict, graph.source) == ("0.0028", "unjudged", "no limit is known")


def test_a_limit_of_the_table_and_one_of_the_makers_are_still_told_as_theirs() -> None:
    (co, ratio) = graphs(judged("condensing boiler", flue(), of_maker=limits(co_ppm="200")), "co_ppm")
    assert ratio.source == "the table’s limit"
    assert co.source == "the maker’s limit"


def test_the_owners_limit_that_does_not_count_is_told_as_the_owners() -> None:
    own = entered("action_levels.gas_fire_ratio", "0.02")
    fire = judged("gas fire", flue(), own, of_maker=limits(ratio="0.01"))
    ratio = next(one for one in graphs(fire, "ratio") if one.key == "ratio")
    assert ratio.source == "the maker’s limit"
    assert "the one you entered would be at most 0.0200" in ratio.detail.replace("\xa0", " ")


@pytest.mark.parametrize(
    ("co2", "told"),
    [
        ("9.1", "margin 0.4 %, chance beyond 1.1 %"),
        ("8.9", "margin 0.4 %, chance beyond 1.1 %"),
        ("9.7", "margin −0.2 %, chance beyond 87.3 %"),
        ("8.4", "margin −0.1 %, chance beyond 71.5 %"),
    ],
)
def test_a_window_tells_of_the_end_that_is_nearer(co2: str, told: str) -> None:
    of_maker = limits(co2_pct={"max": ("8.5", "9.5")})
    found = judged("condensing boiler", flue(co2_pct=co2, o2_pct=None), of_maker=of_maker)
    graph = next(one for one in graphs(found, "co2_pct") if one.key == "co2_pct")
    assert graph.value_text == f"{co2} %, window 8.5 to 9.5"
    assert graph.detail.splitlines()[0].replace("\xa0", " ") == told
