"""A form's texts by path and the document they stand for."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.desktop.form_documents import assembled, flattened

names = st.text(st.characters(codec="ascii", categories=["L"]), min_size=1, max_size=6)
texts = st.text(min_size=1, max_size=10)
documents = st.recursive(
    texts,
    lambda inner: (
        st.lists(inner, min_size=1, max_size=12) | st.dictionaries(names, inner, min_size=1, max_size=4)
    ),
    max_leaves=20,
)


@settings(max_examples=100)
@given(st.dictionaries(names, documents, min_size=1, max_size=5))
def test_a_document_comes_back_from_its_paths(document: dict[str, Any]) -> None:
    assert assembled(flattened(document)) == document


def test_empty_texts_are_left_out() -> None:
    assert assembled({"name": "Ines", "address.0": "", "address.1": "Port Ellery"}) == {
        "name": "Ines",
        "address": ["Port Ellery"],
    }
