from __future__ import annotations

from typing import Any, cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.papers.figure import Sense, draw_gauge, draw_mark
from flueleaf.papers.page import Sheet


class FakeSheet:
    """Keeps what was drawn."""

    def __init__(self) -> None:
        self.drawn: list[tuple[str, Any]] = []

    def stroke(self, start: tuple[float, float], end: tuple[float, float], **how: Any) -> None:
        self.drawn.append(("stroke", (start, end, how)))

    def ring(self, x: float, y: float, radius: float, *, filled: bool = False) -> None:
        self.drawn.append(("ring", (x, filled, (y, radius))))

    def block(self, x: float, y: float, size: tuple[float, float]) -> None:
        self.drawn.append(("block", (x, y, size)))


def gauge(value: str, limit: str, sense: Sense = "at most") -> list[tuple[str, Any]]:
    sheet = FakeSheet()
    draw_gauge(cast(Sheet, sheet), value, limit, sense, place=(0, 0), width=100)
    return sheet.drawn


def dots(drawn: list[tuple[str, Any]]) -> list[tuple[float, bool]]:
    return [(what[0], what[1]) for name, what in drawn if name == "ring"]


def test_each_verdict_has_a_shape_of_its_own() -> None:
    shapes = []
    for verdict in ("within", "near", "over", "unjudged"):
        sheet = FakeSheet()
        draw_mark(cast(Sheet, sheet), verdict, 0, 0)
        shapes.append(tuple((name, what[1] if name == "ring" else None) for name, what in sheet.drawn))
    assert len(set(shapes)) == 4


@pytest.mark.parametrize(
    ("value", "limit", "sense", "beyond"),
    [
        ("350", "350", "at most", False),
        ("351", "350", "at most", True),
        ("0.00401", "0.004", "at most", True),
        ("20.6", "20.6", "at least", False),
        ("20.5", "20.6", "at least", True),
        ("1,000", "1,200", "at most", False),
    ],
)
def test_the_dot_is_full_only_beyond_the_limit(value: str, limit: str, sense: Sense, beyond: bool) -> None:
    ((place, filled),) = dots(gauge(value, limit, sense))
    assert filled is beyond
    assert 0 <= place <= 100


def test_a_value_off_the_line_gets_an_arrow_head_and_no_dot() -> None:
    far = gauge("9000", "350")
    assert dots(far) == []
    assert len(far) == 5


@pytest.mark.parametrize(
    ("value", "limit"), [("", "350"), ("61", ""), ("—", "4"), ("NaN", "4"), ("1", "0"), ("1", "−2")]
)
def test_no_gauge_without_numbers(value: str, limit: str) -> None:
    assert gauge(value, limit) == []


@settings(max_examples=60)
@given(st.integers(0, 480), st.integers(0, 480))
def test_more_is_never_further_left(one: int, other: int) -> None:
    low, high = sorted((one, other))
    ((left, _),) = dots(gauge(str(low), "350"))
    ((right, _),) = dots(gauge(str(high), "350"))
    assert left <= right
