"""How long the figures of one slip take, beside a yardstick of the same machine."""

from __future__ import annotations

import json
import statistics
import timeit

import pytest

from flueleaf.domain.combustion.slip_figures import slip_figures
from flueleaf.storage.tables.fuels import load_fuels


@pytest.mark.bench
def test_the_figures_of_a_slip_take_no_longer_than_a_few_small_json_documents(
    capsys: pytest.CaptureFixture[str],
) -> None:
    fuel = load_fuels()["natural gas"]
    document = json.dumps({f"key {n}": n for n in range(50)})

    def figures() -> object:
        return slip_figures(
            fuel,
            o2_pct=4.8,
            co2_pct=9.1,
            co_ppm=61.0,
            no_ppm=30.0,
            flue_c=54.0,
            air_c=18.0,
            air_humidity_pct=60.0,
        )

    def median_us(work: object) -> float:
        return statistics.median(timeit.repeat(work, number=100, repeat=25)) * 1e6 / 100  # type: ignore[arg-type]

    figures()
    ours, yardstick = median_us(figures), median_us(lambda: json.loads(document))
    with capsys.disabled():
        print(f"\nslip_figures: median {ours:.1f} µs; {ours / yardstick:.1f} small JSON documents")
    assert ours / yardstick < 20.0
