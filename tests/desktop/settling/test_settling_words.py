from __future__ import annotations

from decimal import Decimal

import pytest

from flueleaf.desktop.settling.settling_words import duration, live_words, run_words
from flueleaf.domain.judging.settling import Settling, Trace, settle

TENTH = Decimal("0.1")


def found(co: list[str], o2: list[str] | None = None, every: int = 1) -> Settling:
    times = [Decimal(n * every) for n in range(len(co))]
    traces = {"co_ppm": Trace(times, [Decimal(one) for one in co], Decimal(1))}
    if o2 is not None:
        traces["o2_pct"] = Trace(times, [Decimal(one) for one in o2], TENTH)
    return settle(traces)


@pytest.mark.parametrize(
    ("seconds", "words"), [("0", "0 s"), ("59.9", "59 s"), ("60", "1 min"), ("156", "2 min 36 s")]
)
def test_a_duration_in_words(seconds: str, words: str) -> None:
    assert duration(Decimal(seconds)) == words


def test_what_settled_is_said_with_its_window_and_medians() -> None:
    assert run_words(found(["60"] * 70, ["4.8"] * 70)).replace("\u00a0", " ") == (
        "Settled from 0 s to 1 min of the run. Medians: CO 60 ppm, O2 4.8 %."
    )
    assert live_words(found(["60"] * 70)) == "Settled since 1 min: median 60 ppm."


def test_what_moves_is_said_with_how_fast_and_never_as_settled() -> None:
    rising = run_words(found([str(60 + t // 15) for t in range(200)]))
    assert rising.startswith("Not settled. CO still rises by 4 ppm a minute.")
    falling = live_words(found([str(90 - t // 15) for t in range(200)]))
    assert falling == "Not settled. CO still falls by 4 ppm a minute."
    o2 = run_words(found(["60"] * 200, [f"{4 + t / 100:.1f}" for t in range(200)]))
    assert o2.startswith("Not settled. O2 still rises by 0.6 % a minute.")


def test_what_is_too_short_or_scatters_is_said() -> None:
    assert "is 29 s long; 1 min are wanted" in run_words(found(["60"] * 30))
    few = live_words(found(["64", "63", "62"], every=2))
    assert few == "Not settled. The last unbroken stretch is 4 s long; 1 min are wanted."
    assert "scatter too widely" in run_words(found(["50", "70"] * 50))
    assert run_words(Settling(settled=False)) == "Not settled: there is no CO reading in this run."
    assert live_words(Settling(settled=False)).startswith("Type what the analyser shows")
