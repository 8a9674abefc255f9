from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.desktop.history import LONGEST, History
from flueleaf.desktop.place import TONIGHT, Place

A, B, C = Place("premises", "1"), Place("appliance", "2"), Place("paper", "I-1")


def test_back_and_forward() -> None:
    history = History()
    assert history.here is None
    assert history.back() is None
    for place in (A, B, C):
        history.arrive(place)
    assert (history.back(), history.back(), history.back()) == (B, A, None)
    assert history.forward() == B
    history.arrive(TONIGHT)
    assert history.forward() is None
    assert history.back() == B


def test_the_same_place_twice_is_one_step() -> None:
    history = History()
    for place in (A, B, B):
        history.arrive(place)
    assert history.back() == A


def test_what_is_forgotten_is_not_come_back_to() -> None:
    history = History()
    for place in (A, B, C):
        history.arrive(place)
    history.back()
    history.forget(C)
    assert history.here == B
    assert history.forward() is None
    history.forget(A)
    history.forget(B)
    assert history.here is None
    history.arrive(C)
    assert history.here == C


@settings(max_examples=50)
@given(st.lists(st.integers(0, 300), max_size=250))
def test_it_never_grows_without_end(keys: list[int]) -> None:
    history = History()
    for key in keys:
        history.arrive(Place("premises", str(key)))
    steps = 0
    while history.back() is not None:
        steps += 1
    assert steps < LONGEST
