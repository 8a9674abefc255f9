from __future__ import annotations

from flueleaf.desktop.settling.run_chart import MOST_POINTS, thinned


def test_no_spike_is_lost_among_many_points() -> None:
    values = [60.0] * 100_000
    values[77_777] = 300.0
    times, kept = thinned([float(n) for n in range(len(values))], values)
    assert len(kept) <= MOST_POINTS
    assert max(kept) == 300.0
    assert times == sorted(times)
    assert times[kept.index(300.0)] == 77_777
    assert thinned([0.0, 1.0], [5.0, 6.0]) == ([0.0, 1.0], [5.0, 6.0])
