"""Lines of what is left name the appliance they mean, also where two are of one make and model."""

from __future__ import annotations

from types import SimpleNamespace
from typing import TYPE_CHECKING, cast

from flueleaf.desktop.visit.left import names_of

if TYPE_CHECKING:
    from flueleaf.desktop.visit.work_panel import WorkPanel


def work(name: str, place: str) -> WorkPanel:
    return cast("WorkPanel", SimpleNamespace(name=name, full_name=f"{name}, {place}"))


def test_the_only_appliance_needs_no_name() -> None:
    assert names_of([work("Corvel 24", "loft")]) == [""]


def test_different_appliances_go_by_their_names() -> None:
    assert names_of([work("Corvel 24", "loft"), work("Emberlow", "parlour")]) == ["Corvel 24", "Emberlow"]


def test_two_of_one_name_are_told_apart_by_where_they_stand() -> None:
    three = [work("Corvel 24", "loft"), work("Emberlow", "parlour"), work("Corvel 24", "cupboard")]
    assert names_of(three) == ["Corvel 24, loft", "Emberlow", "Corvel 24, cupboard"]
