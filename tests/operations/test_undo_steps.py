"""The steps kept beside a draft: what comes back is what went in, within bounds."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.operations import undo_steps
from flueleaf.operations.differences import changed, difference
from flueleaf.storage import drafts

if TYPE_CHECKING:
    from flueleaf.storage.book import Book

VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-3, 3) | st.text("ab", max_size=3),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("xyz"), inner, max_size=3),
    max_leaves=12,
)


@settings(max_examples=100)
@given(old=VALUES, new=VALUES)
def test_a_difference_makes_the_new_of_the_old(old: Any, new: Any) -> None:
    before = repr(old)
    assert repr_sorted(changed(old, difference(old, new))) == repr_sorted(new)
    assert repr(old) == before


def repr_sorted(value: Any) -> str:
    """Tell True from 1, and nothing by the order of keys."""
    if isinstance(value, dict):
        return str({key: repr_sorted(value[key]) for key in sorted(value)})
    return str([repr_sorted(one) for one in value]) if isinstance(value, list) else repr(value)


def test_steps_come_back_as_they_were(book: Book) -> None:
    back: undo_steps.Steps = [({"works": [{}]}, "a"), ({"works": [{"co": "7"}]}, "b")]
    ahead: undo_steps.Steps = [({"works": []}, "c")]
    undo_steps.keep(book, "v", {"works": [{"co": "70"}]}, back, ahead)
    assert undo_steps.load(book, "v") == ({"works": [{"co": "70"}]}, back, ahead)
    assert undo_steps.load(book, "w") is None


def test_only_the_latest_steps_are_kept(book: Book) -> None:
    back = [({"co": str(n)}, "co") for n in range(120)]
    undo_steps.keep(book, "v", {"co": "120"}, back, [])
    kept = undo_steps.load(book, "v")
    assert kept is not None
    assert kept[1] == back[-undo_steps.MOST_KEPT :]


def test_long_steps_give_way(book: Book) -> None:
    back = [({"note": f"{n}" * 20_000}, "note") for n in range(20, 60)]
    undo_steps.keep(book, "v", {"note": ""}, back, [])
    found = drafts.draft(book.con, "undo", "v")
    assert found is not None
    assert len(found.payload) <= undo_steps.LONGEST_CHARACTERS
    kept = undo_steps.load(book, "v")
    assert kept is not None
    assert 0 < len(kept[1]) < len(back)
    assert kept[1] == back[-len(kept[1]) :]
