"""``assess`` against its contract: verdicts at their limits, doubts, attempts, what is missing.

Each case stands under the sentence of the contract it comes from. Expected verdicts are worked out beside the
case from u = a / sqrt 3 (JCGM 100) and a guard band of 1.645 u (JCGM 106), not by the program.
"""

from __future__ import annotations

from statistics import NormalDist
from typing import Any

import pytest
from tests.headless.contract import EXAMPLE, GONE, codes, edited, verdicts

Changes = dict[str, Any]
INLET, MAX, MIN = 0, 1, 2
# Room for CO2 and O2 to be anything: the maker's window away.
NO_WINDOW: Changes = {"appliance.limits.co2_pct": GONE}
# CO2 alone, so that nothing can disagree with it.
CO2_ONLY: Changes = {**NO_WINDOW, "slips.1.o2_pct": GONE}


def flue(**values: Any) -> Changes:
    """Return a flue slip at high rate of these values only, and no window."""
    return {**NO_WINDOW, "slips.1": {"point": "flue", "rate": "max", **values}}


def inlet(**values: Any) -> Changes:
    return {"slips.0": {"point": "air inlet", "rate": "max", **values}}


CO, RATIO, LOW, HIGH = "co_ppm at most", "ratio at most", "co2_pct at least", "co2_pct at most"
FRESH, SPENT = "o2_pct at least", "co2_pct at most"

OF_ONE_QUANTITY: list[tuple[str, int, Changes, str, str]] = [
    # over if the value, unrounded, is beyond the limit; at the limit is not over
    ("CO at the limit", MAX, flue(co_ppm=350, co2_pct=9.1), CO, "near"),
    ("CO a hair over", MAX, flue(co_ppm="350.0001", co2_pct=9.1), CO, "over"),
    ("CO over in the 30th digit", MAX, flue(co_ppm="350." + "0" * 29 + "1", co2_pct=9.1), CO, "over"),
    ("ratio at the limit: 164 / 41000", MAX, flue(co_ppm=164, co2_pct=4.1), RATIO, "near"),
    ("ratio a hair over", MAX, flue(co_ppm="164.000001", co2_pct=4.1), RATIO, "over"),
    ("ratio over by CO2 a hair less", MAX, flue(co_ppm=164, co2_pct="4.09999999"), RATIO, "over"),
    ("ratio at the limit: 284 / 71000", MAX, flue(co_ppm=284, co2_pct=7.1), RATIO, "near"),
    ("ratio over in the 28th digit", MAX, flue(co_ppm="284." + "0" * 26 + "1", co2_pct=7.1), RATIO, "over"),
    ("typed ratio at the limit", MAX, flue(co_ppm=284, ratio="0.0040"), RATIO, "near"),
    ("typed ratio over", MAX, flue(co_ppm=284, ratio="0.0041"), RATIO, "over"),
    # near by less than the guard band; of abs and rel the larger, at the measured value, counts:
    # 5 % of 334.1 is 16.705, u 9.6446, band 15.8654, margin 15.9; of 334.2 band 15.8701, margin 15.8
    ("CO clear by the relative tolerance", MAX, flue(co_ppm="334.1", co2_pct=9.1), CO, "within"),
    ("CO near by the relative tolerance", MAX, flue(co_ppm="334.2", co2_pct=9.1), CO, "near"),
    # limit 70: 10 ppm is more than 5 % of 60, u 5.7735, band 9.4974
    (
        "CO clear by the absolute",
        MAX,
        {**flue(co_ppm="60.5", co2_pct=9.1), "appliance.limits.co_ppm": 70},
        CO,
        "within",
    ),
    (
        "CO near by the absolute",
        MAX,
        {**flue(co_ppm="60.51", co2_pct=9.1), "appliance.limits.co_ppm": 70},
        CO,
        "near",
    ),
    # ratio of CO 5 % and CO2 0.3 in 8 %: relative u 0.0360844, so near from 0.004 / 1.0593588 = 0.00377587
    ("ratio clear", MAX, flue(co_ppm="302.0", co2_pct="8.000"), RATIO, "within"),
    ("ratio near", MAX, flue(co_ppm="302.1", co2_pct="8.000"), RATIO, "near"),
    # the last digits, 0.1 each: relative u 0.036264, so near from 0.004 / 1.0596543 = 0.00377482
    ("ratio clear of the last digits", MAX, flue(co_ppm="301.9", co2_pct="8.0"), RATIO, "within"),
    ("ratio near by the last digits", MAX, flue(co_ppm="302.0", co2_pct="8.0"), RATIO, "near"),
    ("ratio, its noughts left off", MAX, flue(co_ppm="301.9", co2_pct="8"), RATIO, "within"),
    # the default tolerances where there is no instrument: CO 20 ppm, u 11.547, band 18.995; of a whole number
    # half of the last digit comes to it, 0.2887: u 11.5506, band 19.0008
    ("default CO clear", MAX, {**flue(co_ppm="331.00", co2_pct=9.1), "instrument": GONE}, CO, "within"),
    ("default CO near", MAX, {**flue(co_ppm="331.01", co2_pct=9.1), "instrument": GONE}, CO, "near"),
    ("default CO, whole", MAX, {**flue(co_ppm="330", co2_pct=9.1), "instrument": GONE}, CO, "within"),
    ("default CO, last digit", MAX, {**flue(co_ppm="331", co2_pct=9.1), "instrument": GONE}, CO, "near"),
    # a maker's window is judged as two limits; CO2 0.3: u 0.173205, band 0.284922
    ("window, lower end", MAX, {"slips.1.co2_pct": "8.8"} | {"slips.1.o2_pct": "5.6"}, LOW, "near"),
    ("window, beneath", MAX, {"slips.1.co2_pct": "8.7999", "slips.1.o2_pct": "5.6"}, LOW, "over"),
    ("window, near beneath", MAX, {"slips.1.co2_pct": "9.08"}, LOW, "near"),
    ("window, clear beneath", MAX, {"slips.1.co2_pct": "9.085"}, LOW, "within"),
    ("window, clear above", MAX, {"slips.1.co2_pct": "9.315"}, HIGH, "within"),
    ("window, near above", MAX, {"slips.1.co2_pct": "9.316"}, HIGH, "near"),
    ("window, upper end", MAX, {"slips.1.co2_pct": "9.6"}, HIGH, "near"),
    ("window, above", MAX, {"slips.1.co2_pct": "9.6001"}, HIGH, "over"),
    ("window of the other rate", MIN, {"slips.2.co2_pct": "8.5", "slips.2.o2_pct": "6.1"}, LOW, "near"),
    ("O2 window", MAX, {"appliance.limits.o2_pct": {"max": [4.8, 6]}}, "o2_pct at least", "near"),
    ("O2 window, beneath", MAX, {"appliance.limits.o2_pct": {"max": [4.81, 6]}}, "o2_pct at least", "over"),
    # flue integrity: the guard band comes from the display resolution of 0.1 alone
    ("inlet O2 clear", INLET, inlet(o2_pct=20.7, co2_pct=0), FRESH, "within"),
    ("inlet O2 at the limit", INLET, inlet(o2_pct=20.6, co2_pct=0), FRESH, "near"),
    ("inlet O2 under", INLET, inlet(o2_pct=20.59, co2_pct=0), FRESH, "over"),
    ("inlet O2 a hair under", INLET, inlet(o2_pct="20.5999999999", co2_pct=0), FRESH, "over"),
    ("inlet CO2 clear", INLET, inlet(o2_pct=20.9, co2_pct=0.1), SPENT, "within"),
    ("inlet CO2 at the limit", INLET, inlet(o2_pct=20.9, co2_pct=0.2), SPENT, "near"),
    ("inlet CO2 over", INLET, inlet(o2_pct=20.9, co2_pct=0.21), SPENT, "over"),
    ("inlet CO2 a hair over", INLET, inlet(o2_pct=20.9, co2_pct="0.2000000001"), SPENT, "over"),
    (
        "no instrument widens it",
        INLET,
        {**inlet(o2_pct=20.7, co2_pct=0.1), "instrument.tolerance.o2_pct.abs": 3},
        FRESH,
        "within",
    ),
    # nothing is derived at other points, and a missing value is never good
    ("inlet without CO2", INLET, inlet(o2_pct=20.9), SPENT, "unjudged"),
    ("inlet without O2", INLET, inlet(co2_pct=0), FRESH, "unjudged"),
    # a flue slip needs CO and a ratio to be judged
    ("flue without CO", MAX, flue(co2_pct=9.1), CO, "unjudged"),
    ("flue without ratio", MAX, flue(co_ppm=61), RATIO, "unjudged"),
    ("ratio by CO2 from O2", MAX, flue(co_ppm=61, o2_pct=4.8), RATIO, "within"),
    # a ratio both typed and computed: both are judged and the worse counts
    ("typed worse", MAX, flue(co_ppm=61, co2_pct=9.1, ratio="0.0041"), RATIO, "over"),
    ("computed worse", MAX, flue(co_ppm=420, co2_pct=9.1, ratio="0.0007"), RATIO, "over"),
    # smoke: of a range the worse end is judged; 1 either way is u 0.577, band 0.95
    ("smoke 0-1", MAX, {"appliance.limits.smoke": 1, "slips.1.smoke": "0-1"}, "smoke at most", "near"),
    ("smoke 0", MAX, {"appliance.limits.smoke": 1, "slips.1.smoke": 0}, "smoke at most", "within"),
    ("smoke 1-2", MAX, {"appliance.limits.smoke": 1, "slips.1.smoke": "1-2"}, "smoke at most", "over"),
]


@pytest.mark.parametrize(
    ("index", "changes", "quantity", "verdict"),
    [pytest.param(*case[1:], id=case[0]) for case in OF_ONE_QUANTITY],
)
def test_verdict_of_one_quantity(ask: Any, index: int, changes: Changes, quantity: str, verdict: str) -> None:
    said = ask("assess", edited(EXAMPLE, changes))
    assert (said.code, said.error) == (0, "")
    assert verdicts(said.answer["slips"][index])[quantity] == verdict


SERIOUS = {"slips.1.co2_pct": "9.9"}  # CO2 from O2 4.8 is 9.28: 0.62 apart
OF_THE_WHOLE: list[tuple[str, Changes, str]] = [
    # the worst of over, unjudged, near, within, of what is present
    ("the example", {}, "within"),
    ("near", inlet(o2_pct=20.6, co2_pct=0), "near"),
    ("unjudged beats near", {**inlet(o2_pct=20.6, co2_pct=0), **flue(co2_pct=9.1)}, "unjudged"),
    ("over beats unjudged", {**inlet(o2_pct=20.5, co2_pct=0), **flue(co2_pct=9.1)}, "over"),
    ("CO over, ratio missing", flue(co_ppm=351), "over"),
    ("both conditions of integrity", inlet(o2_pct=20.9, co2_pct=0.3), "over"),
    ("a slip with nothing on it", flue(), "unjudged"),
    ("an absent minimum-rate slip is missing, not unjudged", {"slips.2": GONE}, "within"),
    # a serious doubt turns within or near into unjudged; over stays over; confirmed it does not
    ("within, doubted", {**NO_WINDOW, **SERIOUS}, "unjudged"),
    ("near, doubted", {**NO_WINDOW, **SERIOUS, "slips.1.co_ppm": 349}, "unjudged"),
    ("over, doubted", {**NO_WINDOW, **SERIOUS, "slips.1.co_ppm": 351}, "over"),
    ("confirmed", {**NO_WINDOW, **SERIOUS, "slips.1.confirmed": ["o2-co2-disagree"]}, "within"),
    ("another confirmed", {**NO_WINDOW, **SERIOUS, "slips.1.confirmed": ["beyond-physics"]}, "unjudged"),
    (
        "confirmed on another slip",
        {**NO_WINDOW, **SERIOUS, "slips.2.confirmed": ["o2-co2-disagree"]},
        "unjudged",
    ),
    ("typed ratio in doubt", {"slips.1.ratio": "0.0010"}, "unjudged"),
    (
        "typed ratio confirmed",
        {"slips.1.ratio": "0.0010", "slips.1.confirmed": ["ratio-disagrees"]},
        "within",
    ),
    ("O2 beyond air", inlet(o2_pct="21.31", co2_pct=0), "unjudged"),
    ("O2 beyond air, confirmed", inlet(o2_pct="21.31", co2_pct=0, confirmed=["beyond-physics"]), "within"),
    ("O2 beyond air, CO2 over", inlet(o2_pct="21.31", co2_pct=0.3), "over"),
    # other doubts leave the verdict as it is
    ("calibration expired", {"date": "2027-03-02"}, "within"),
    ("range exceeded", {"instrument.range": {"co_ppm": 60}}, "within"),
    # attempts: the last of a point and rate decides
    (
        "second attempt good",
        {"slips.3": {**EXAMPLE["slips"][1], "attempt": 2}, "slips.1.co_ppm": 900},
        "within",
    ),
    ("second attempt bad", {"slips.3": {**EXAMPLE["slips"][1], "attempt": 2, "co_ppm": 900}}, "over"),
    (
        "attempts in any order",
        {"slips.1.attempt": 2, "slips.3": {**EXAMPLE["slips"][1], "attempt": 1, "co_ppm": 900}},
        "within",
    ),
    # a limit without a table or a maker is no limit
    ("no limit at all", {"appliance": {"kind": "gas fire"}}, "unjudged"),
]


@pytest.mark.parametrize(
    ("changes", "verdict"), [pytest.param(*case[1:], id=case[0]) for case in OF_THE_WHOLE]
)
def test_verdict_of_the_whole(ask: Any, changes: Changes, verdict: str) -> None:
    said = ask("assess", edited(EXAMPLE, changes))
    assert (said.code, said.error) == (0, "")
    assert said.answer["verdict"] == verdict


def test_every_attempt_is_kept(ask: Any) -> None:
    second = {**EXAMPLE["slips"][1], "attempt": 2}
    answer = ask("assess", edited(EXAMPLE, {"slips.1.co_ppm": 900, "slips.3": second})).answer
    assert len(answer["slips"]) == 4
    assert verdicts(answer["slips"][1])[CO] == "over"
    assert answer["verdict"] == "within"


@pytest.mark.parametrize(
    ("gone", "wanted"), [(0, ("air inlet", "max")), (1, ("flue", "max")), (2, ("flue", "min"))]
)
def test_missing_lists_what_the_procedure_still_wants(ask: Any, gone: int, wanted: tuple[str, str]) -> None:
    missing = ask("assess", edited(EXAMPLE, {f"slips.{gone}": GONE})).answer["missing"]
    assert [(entry["point"], entry["rate"]) for entry in missing] == [wanted]


def _previous(date: str = "2025-11-20", rate: str = "max", **values: Any) -> dict[str, Any]:
    return {"date": date, "slips": [{"point": "flue", "rate": rate, **values}]}


# CO2max of the fuel table's mix is 12.0392 %, so O2 4.8 gives CO2 9.28078; the tolerances come to
# 0.3 + 0.3 x 12.0392 / 20.95 = 0.47240: from 8.80839 to 9.75318 nothing is amiss.
# CO 61 and CO2 9.1 may be 60.5 / 9.15 = 0.00066120 to 61.5 / 9.05 = 0.00067956.
WIDE = {"instrument.tolerance.co_ppm": {"abs": 30}}  # u 17.32 each, k = 2: 48.99
DOUBTS: list[tuple[str, Changes, set[str]]] = [
    ("the example", {}, set()),
    ("CO2 high, allowed", {**NO_WINDOW, "slips.1.co2_pct": "9.753"}, set()),
    ("CO2 high", {**NO_WINDOW, "slips.1.co2_pct": "9.754"}, {"o2-co2-disagree"}),
    ("CO2 low, allowed", {**NO_WINDOW, "slips.1.co2_pct": "8.809"}, set()),
    ("CO2 low", {**NO_WINDOW, "slips.1.co2_pct": "8.808"}, {"o2-co2-disagree"}),
    ("ratio rounded", {"slips.1.ratio": "0.0007"}, set()),
    ("ratio cut", {"slips.1.ratio": "0.0006"}, set()),
    ("ratio two off above", {"slips.1.ratio": "0.0008"}, {"ratio-disagrees"}),
    ("ratio two off beneath", {"slips.1.ratio": "0.0005"}, {"ratio-disagrees"}),
    ("ratio 0.000779", {"slips.1.ratio": "0.000779"}, set()),
    ("ratio 0.000780", {"slips.1.ratio": "0.000780"}, {"ratio-disagrees"}),
    ("ratio 0.000562", {"slips.1.ratio": "0.000562"}, set()),
    ("ratio 0.000561", {"slips.1.ratio": "0.000561"}, {"ratio-disagrees"}),
    ("CO2 at most its tolerance over the fuel's", flue(co_ppm=61, co2_pct="12.339"), set()),
    ("CO2 beyond the fuel", flue(co_ppm=61, co2_pct="12.340"), {"beyond-physics"}),
    ("O2 21.3", inlet(o2_pct="21.3", co2_pct=0), set()),
    ("O2 over 21.3", inlet(o2_pct="21.301", co2_pct=0), {"beyond-physics"}),
    ("fresh air may show 21.0", inlet(o2_pct="21.0", co2_pct=0), set()),
    ("a room-sealed flue with air in it", flue(co_ppm=10, o2_pct=15), {"air-leak-suspected"}),
    (
        "an open flue is diluted by design",
        {**flue(co_ppm=10, o2_pct=15), "appliance": {"kind": "back boiler"}},
        set(),
    ),
    ("on the day the calibration ends", {"date": "2027-03-01"}, set()),
    ("the day after", {"date": "2027-03-02"}, {"calibration-expired"}),
    ("at the end of the range", {"instrument.range": {"co_ppm": 61}}, set()),
    ("beyond the range", {"instrument.range": {"co_ppm": "60.9"}}, {"range-exceeded"}),
    # changed-since-last: beyond k = 2 and beyond a tenth of the limit (35 ppm; 0.0004), or 1.0 point
    ("CO 35 apart", {"previous": [_previous(co_ppm=96)]}, set()),
    ("CO more than 35 apart", {"previous": [_previous(co_ppm="96.1")]}, {"changed-since-last"}),
    (
        "CO less by more than 35",
        {"slips.1.co_ppm": 97, "previous": [_previous(co_ppm="61.9")]},
        {"changed-since-last"},
    ),
    (
        "CO 48.9 apart, blunt analysers",
        {
            **WIDE,
            "previous": [
                {
                    **_previous(co_ppm="109.9"),
                    "instrument": {**EXAMPLE["instrument"], "tolerance": {"co_ppm": {"abs": 30}}},
                }
            ],
        },
        set(),
    ),
    (
        "CO 49.1 apart, blunt analysers",
        {
            **WIDE,
            "previous": [
                {
                    **_previous(co_ppm="110.1"),
                    "instrument": {**EXAMPLE["instrument"], "tolerance": {"co_ppm": {"abs": 30}}},
                }
            ],
        },
        {"changed-since-last"},
    ),
    ("O2 1.0 apart", {"previous": [_previous(o2_pct="5.8")]}, set()),
    ("O2 more than 1.0 apart", {"previous": [_previous(o2_pct="5.81")]}, {"changed-since-last"}),
    (
        "ratio 0.0004 apart",
        {"slips.1.ratio": "0.0007", "previous": [_previous(co_ppm=61, ratio="0.0010")]},
        set(),
    ),
    ("another rate", {"previous": [_previous(rate="mid", co_ppm=900)]}, set()),
    ("the latest counts", {"previous": [_previous(co_ppm=61), _previous("2024-11-20", co_ppm=900)]}, set()),
    (
        "the latest counts, in any order",
        {"previous": [_previous("2024-11-20", co_ppm=61), _previous(co_ppm=300)]},
        {"changed-since-last"},
    ),
    # limits: laxer than the table's needs a source; stricter or equal does not
    ("laxer CO", {"appliance.limits.co_ppm": "350.1"}, {"limit-unsourced"}),
    ("laxer ratio", {"appliance.limits.ratio": "0.00401"}, {"limit-unsourced"}),
    ("laxer, sourced", {"appliance.limits.co_ppm": 400, "appliance.limits_source": "book 7, page 4"}, set()),
    ("equal", {"appliance.limits.co_ppm": 350}, set()),
    ("stricter", {"appliance.limits.co_ppm": 200}, set()),
]


@pytest.mark.parametrize(("changes", "wanted"), [pytest.param(*case[1:], id=case[0]) for case in DOUBTS])
def test_doubts(ask: Any, changes: Changes, wanted: set[str]) -> None:
    said = ask("assess", edited(EXAMPLE, changes))
    assert (said.code, said.error) == (0, "")
    assert codes(said.answer["doubts"]) == wanted
    assert all({"code", "quantity", "text"} <= doubt.keys() for doubt in said.answer["doubts"])


APPLIED: list[tuple[str, Changes, dict[str, tuple[float, str]]]] = [
    ("the maker's", {}, {"co_ppm": (350, "maker"), "ratio": (0.004, "maker")}),
    (
        "a ratio only",
        {"appliance.limits": {"ratio": 0.003}},
        {"co_ppm": (350, "table"), "ratio": (0.003, "maker")},
    ),
    ("none", {"appliance.limits": GONE}, {"co_ppm": (350, "table"), "ratio": (0.004, "table")}),
    ("laxer, unsourced", {"appliance.limits.co_ppm": 400}, {"co_ppm": (350, "table")}),
    (
        "laxer, sourced",
        {"appliance.limits.co_ppm": 400, "appliance.limits_source": "book 7, page 4"},
        {"co_ppm": (400, "maker")},
    ),
    ("stricter, unsourced", {"appliance.limits.co_ppm": 200}, {"co_ppm": (200, "maker")}),
]


@pytest.mark.parametrize(("changes", "wanted"), [pytest.param(*case[1:], id=case[0]) for case in APPLIED])
def test_whose_limit_counts(ask: Any, changes: Changes, wanted: dict[str, tuple[float, str]]) -> None:
    judged = ask("assess", edited(EXAMPLE, changes)).answer["slips"][MAX]["judged"]
    found = {one["quantity"]: (one["limit"], one["source"]) for one in judged}
    assert {key: found[key] for key in wanted} == wanted


# at least four decimals, and as many more as it takes that a value beyond the limit never reads as the limit
RATIO_TEXTS = [
    ("61", "9.1", "0.004", "0.0007"),
    ("284", "7.1", "0.004", "0.0040"),
    ("285", "7.1", "0.004", "0.00401"),  # 0.0040141
    ("284.0001", "7.1", "0.004", "0.004000001"),  # 0.00400000141
    ("249", "7.1", "0.0035", "0.00351"),  # 0.0035070
    ("639", "7.1", "0.004", "0.0090"),
    ("0", "7.1", "0.004", "0.0000"),
]


@pytest.mark.parametrize(("co", "co2", "limit", "text"), RATIO_TEXTS)
def test_ratio_text(ask: Any, co: str, co2: str, limit: str, text: str) -> None:
    changes = {**flue(co_ppm=co, co2_pct=co2), "appliance.limits.ratio": limit}
    assert ask("assess", edited(EXAMPLE, changes)).answer["slips"][MAX]["ratio_text"] == text


def test_what_a_judgement_says(ask: Any) -> None:
    """The contract's numbers of its first judged quantity; the chance beyond by the normal distribution."""
    first = ask("assess", EXAMPLE).answer["slips"][MAX]["judged"][0]
    # 10 ppm / sqrt 3 = 5.7735, and half of the last digit, 0.5 ppm / sqrt 3 = 0.2887: 5.7807 together
    assert first["standard_uncertainty"] == pytest.approx(5.7807, abs=1e-4)
    assert round(first["standard_uncertainty"], 1) == 5.8
    wanted = {
        "quantity": "co_ppm",
        "value": 61,
        "limit": 350,
        "sense": "at most",
        "source": "maker",
        "margin": 289,
    }
    assert wanted.items() <= first.items()
    near = ask("assess", edited(EXAMPLE, {"slips.1.co_ppm": 340})).answer["slips"][MAX]["judged"][0]
    # 5 % of 340 / sqrt 3 = 9.8150, and 0.2887 of the last digit: 9.8192; ten beneath the limit
    assert near["chance_beyond"] == pytest.approx(1 - NormalDist(0, 9.8192).cdf(10), abs=1e-5)
    at = ask("assess", edited(EXAMPLE, {"slips.1.co_ppm": 350})).answer["slips"][MAX]["judged"][0]
    assert at["chance_beyond"] == pytest.approx(0.5)


def test_default_tolerances_are_named_as_such(ask: Any) -> None:
    answer = ask("assess", edited(EXAMPLE, {"instrument": GONE})).answer
    assert "default" in answer["tolerance"].lower()
    assert "default" not in ask("assess", EXAMPLE).answer["tolerance"].lower()
