"""Undo and redo over the states of a leaf."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from flueleaf.desktop.undoing import MOST_STEPS, Undoing


class Page:
    """A leaf of two fields, without widgets."""

    def __init__(self) -> None:
        self.state = {"a": "", "b": ""}
        self.cursor = ""
        self.undoing = Undoing(lambda: dict(self.state), self.show)
        self.undoing.begin()

    def show(self, state: dict[str, str], field: str) -> None:
        self.state = dict(state)
        self.cursor = field

    def type(self, field: str, text: str) -> None:
        for letter in text:
            self.state[field] += letter
            self.undoing.note(field)


def test_typing_into_one_field_is_one_step() -> None:
    page = Page()
    page.type("a", "4.8")
    page.type("b", "9.1")
    assert page.undoing.undo()
    assert page.state == {"a": "4.8", "b": ""}
    assert page.cursor == "b"
    assert page.undoing.undo()
    assert page.state == {"a": "", "b": ""}
    assert page.cursor == "a"
    assert not page.undoing.undo()
    assert page.undoing.redo()
    assert page.state == {"a": "4.8", "b": ""}


def test_leaving_the_field_ends_the_step() -> None:
    page = Page()
    page.type("a", "4")
    page.undoing.part()
    page.type("a", "8")
    page.undoing.undo()
    assert page.state["a"] == "4"


def test_a_new_change_forgets_what_lay_ahead() -> None:
    page = Page()
    page.type("a", "4")
    page.undoing.undo()
    page.type("b", "9")
    assert not page.undoing.can_redo
    assert not page.undoing.redo()


def test_a_change_that_changes_nothing_is_no_step() -> None:
    page = Page()
    page.undoing.note("a")
    assert not page.undoing.can_undo


def test_the_oldest_steps_go() -> None:
    page = Page()
    for _ in range(MOST_STEPS + 10):
        page.type("a", "x")
        page.undoing.part()
    taken = 0
    while page.undoing.undo():
        taken += 1
    assert taken == MOST_STEPS


@given(st.lists(st.tuples(st.sampled_from("ab"), st.text("123", min_size=1, max_size=3)), max_size=12))
def test_all_the_way_back_and_forth(typed: list[tuple[str, str]]) -> None:
    page = Page()
    for field, text in typed:
        page.type(field, text)
        page.undoing.part()
    end = dict(page.state)
    while page.undoing.undo():
        pass
    assert page.state == {"a": "", "b": ""}
    while page.undoing.redo():
        pass
    assert page.state == end
