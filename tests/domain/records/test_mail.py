from __future__ import annotations

import pytest

from flueleaf.domain.records.mail import may_be_mail


@pytest.mark.parametrize(
    "text", ["ines@dunnaker.example", " a@b ", "o'hara+gas@post.example.org", "björn@bücher.example"]
)
def test_an_address_has_something_on_both_sides_of_its_at(text: str) -> None:
    assert may_be_mail(text)


@pytest.mark.parametrize(
    "text", ["", "ines", "ines.example.org", "@example.org", "ines@", "a@b@c", "a b@c", "a@b c"]
)
def test_what_cannot_be_an_address_is_told(text: str) -> None:
    assert not may_be_mail(text)
