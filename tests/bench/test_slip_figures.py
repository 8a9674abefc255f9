"""How long the figures, the verdict and the whole document of one slip take, beside a yardstick."""

from __future__ import annotations

import datetime as dt
import statistics
import time
import timeit
from collections.abc import Callable
from fractions import Fraction

import pytest

from flueleaf.domain.combustion.slip_figures import slip_figures
from flueleaf.domain.judging.assess import assess
from flueleaf.operations.assessing import assess_document
from flueleaf.operations.intake.case import read_case
from flueleaf.operations.intake.reader import load_json
from flueleaf.operations.tables import shipped

TODAY = dt.date(2026, 11, 26)
DOCUMENT = load_json("""
{"date": "2026-11-26", "fuel": "natural gas",
 "appliance": {"kind": "condensing boiler",
               "limits": {"co_ppm": 350, "ratio": 0.004, "co2_pct": {"max": [8.8, 9.6], "min": [8.4, 9.2]}},
               "rated_input": {"basis": "net", "max_kw": 24.0, "min_kw": 6.0}},
 "instrument": {"name": "analyser 1", "calibration_due": "2027-03-01",
                "tolerance": {"co_ppm": {"abs": 10, "rel": 0.05}, "o2_pct": {"abs": 0.3},
                              "co2_pct": {"abs": 0.3}}},
 "slips": [{"point": "flue", "rate": "max", "o2_pct": 4.8, "co2_pct": 9.1, "co_ppm": 61,
            "flue_c": 54, "air_c": 18}]}
""")


def figures() -> object:
    """Work out every figure of a slip."""
    return slip_figures(
        shipped().fuels["natural gas"],
        o2_pct=4.8,
        co2_pct=9.1,
        co_ppm=61.0,
        no_ppm=30.0,
        flue_c=54.0,
        air_c=18.0,
        air_humidity_pct=60.0,
        input_net_kw=24.0,
    )


def verdict() -> Callable[[], object]:
    """Return the judging of a case that has been read."""
    tables = shipped()
    case = read_case(
        DOCUMENT, kinds=tables.kinds, fuels=tables.fuels, procedures=tables.procedures, today=TODAY
    )
    return lambda: assess(case, tables.rules)


def document() -> object:
    """Read, judge and put into JSON, all but parsing the text."""
    return assess_document(DOCUMENT, today=TODAY)


def yardstick() -> object:
    """Add up fractions, as much interpreted work as a tenth of a millisecond is good for."""
    return sum((Fraction(n, 7) for n in range(60)), Fraction(1, 3))


def taken_us(*works: Callable[[], object]) -> list[list[float]]:
    """Return the times of some works, after the first call of each, taken turn by turn.

    Time of this process, whatever else runs; a busy machine slows down all of them alike.
    """
    for work in works:
        work()
    rounds = [[timeit.timeit(work, timer=time.process_time, number=50) for work in works] for _ in range(30)]
    return [[1e6 * each / 50 for each in times] for times in zip(*rounds, strict=True)]


# How many times the yardstick each may take; on the machine it was set on half of that.
@pytest.mark.bench
@pytest.mark.parametrize(
    ("name", "work", "at_most"),
    [("slip_figures", figures, 0.6), ("assess", verdict(), 4.0), ("the whole document", document, 6.0)],
)
def test_a_slip_takes_no_longer_than_adding_up_some_fractions(
    capsys: pytest.CaptureFixture[str], name: str, work: Callable[[], object], at_most: float
) -> None:
    ours, floor = taken_us(work, yardstick)
    ratio = min(ours) / min(floor)
    with capsys.disabled():
        print(f"\n{name}: median {statistics.median(ours):.0f} µs, best {min(ours):.0f} µs; ", end="")
        print(f"{ratio:.2f} yardsticks of {min(floor):.0f} µs")
    assert ratio < at_most
