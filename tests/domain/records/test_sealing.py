"""The chain's hashes, recomputed the way an outsider would."""

from __future__ import annotations

import hashlib
import json
import shutil
import subprocess

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flueleaf.domain.records import sealing

# FIPS 180-4 examples: SHA-256 of "abc" and of the empty message.
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
EMPTY = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"

json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


def test_the_hash_is_sha_256() -> None:
    assert sealing.sha256_of_bytes(b"abc") == ABC
    assert sealing.sha256_of_text("abc") == ABC
    assert sealing.sha256_of_text("") == EMPTY


def test_a_fingerprint_is_the_hash_of_five_lines() -> None:
    facts = {"b": [1, "ü"], "a": None}
    text = '{"a":null,"b":[1,"ü"]}'
    lines = [
        "flueleaf fingerprint 1",
        "R-2026-0001",
        "service record",
        hashlib.sha256(text.encode()).hexdigest(),
    ]
    lines.append("0" * 64)
    outside = hashlib.sha256("".join(line + "\n" for line in lines).encode()).hexdigest()
    assert sealing.fingerprint("R-2026-0001", "service record", facts, sealing.GENESIS) == outside
    assert sealing.fingerprint("R-2026-0001", "service record", text, sealing.GENESIS) == outside


def test_the_shell_line_of_the_documentation_gives_the_fingerprint() -> None:
    tool = shutil.which("sha256sum") or shutil.which("gsha256sum")
    line = "flueleaf fingerprint 1\nI-2026-0002\ninvoice\n" + ABC + "\n" + EMPTY + "\n"
    if tool:
        done = subprocess.run([tool], input=line.encode(), capture_output=True, check=True)
        outside = done.stdout.split()[0].decode()
    else:
        outside = hashlib.sha256(line.encode()).hexdigest()
    assert sealing.fingerprint_from_hash("I-2026-0002", "invoice", ABC, EMPTY) == outside


def test_a_seal_is_the_hash_of_four_lines() -> None:
    text = f"flueleaf seal 1\n{ABC}\n{EMPTY}\n{sealing.GENESIS}\n"
    assert sealing.seal(ABC, EMPTY, sealing.GENESIS) == hashlib.sha256(text.encode()).hexdigest()


def test_a_line_feed_cannot_move_from_one_line_to_the_next() -> None:
    with pytest.raises(ValueError, match="line feed"):
        sealing.fingerprint("R-1\nx", "record", {}, sealing.GENESIS)


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_json_cannot_say_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="JSON"):
        sealing.canonical_json({"a": value})
    with pytest.raises(TypeError):
        sealing.canonical_json({"a": b"bytes"})


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.text(), json_values, max_size=4))
def test_canonical_text_has_one_form_and_loses_nothing(facts: dict[str, object]) -> None:
    text = sealing.canonical_json(facts)
    shuffled = dict(reversed(list(facts.items())))
    assert sealing.canonical_json(shuffled) == text
    assert json.loads(text) == facts


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.text(st.characters(exclude_characters="\n", exclude_categories=["Cs"]), max_size=4),
        min_size=8,
        max_size=8,
    )
)
def test_any_difference_gives_another_fingerprint(parts: list[str]) -> None:
    one, other = parts[:4], parts[4:]
    same = sealing.fingerprint_from_hash(*one) == sealing.fingerprint_from_hash(*other)
    assert same == (one == other)
