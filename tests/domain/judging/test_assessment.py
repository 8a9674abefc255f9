from __future__ import annotations

import itertools

import pytest

from flueleaf.domain.judging.assessment import WORST_FIRST, Verdict, worst


def test_nothing_judged_is_nothing_good() -> None:
    assert worst([]) == "unjudged"


@pytest.mark.parametrize(("first", "second"), list(itertools.pairwise(WORST_FIRST)))
def test_the_worse_of_two_counts(first: Verdict, second: Verdict) -> None:
    assert worst([first, second]) == worst([second, first]) == first


def test_the_order_is_over_unjudged_near_within() -> None:
    assert WORST_FIRST == ("over", "unjudged", "near", "within")
