"""How sealed papers are chained, so that anybody can recompute the chain with a SHA-256 tool alone.

All hashes are SHA-256, written as 64 lower-case hexadecimal digits. Each hash below is taken over UTF-8 text
of lines, every line ended by one line feed (U+000A), the last one too:

* facts hash: over the facts text exactly as kept in the book (canonical JSON, no line feed added);
* PDF hash: over the bytes of the PDF;
* fingerprint: ``flueleaf fingerprint 1``, number, kind, facts hash, previous fingerprint;
* seal: ``flueleaf seal 1``, fingerprint, PDF hash, previous seal.

The first paper of a book has ``GENESIS`` as previous fingerprint and as previous seal. In a shell::

    printf 'flueleaf fingerprint 1\\n%s\\n%s\\n%s\\n%s\\n' NUMBER KIND FACTS_HASH PREVIOUS | sha256sum

The fingerprint is known before the PDF is drawn, so it is printed in the footer beside the previous one;
the seal covers the finished PDF and is not printed. The facts enter by their hash, so the chain of numbers,
kinds and hashes still verifies after the facts of one paper were erased for privacy. The chain has no key:
whoever recomputes all of it makes a chain that verifies, and only the fingerprints on papers already handed
out contradict it.

Source: own design; SHA-256 is FIPS 180-4.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any

GENESIS = "0" * 64
"""Stands for the fingerprint and the seal before the first paper."""


def canonical_json(obj: Any) -> str:
    """Return the one JSON text of an object: keys sorted, no blanks, no escapes but the needed ones.

    Args:
        obj: mappings with text keys, sequences, text, whole numbers, finite floats, booleans, None. Exact
            decimals and dates are given as text by the caller.

    Raises:
        ValueError: a number that is not finite.
        TypeError: anything JSON does not know.
    """
    return json.dumps(obj, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def sha256_of_text(text: str) -> str:
    """Return the hash of a text's UTF-8 bytes."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def sha256_of_bytes(data: bytes) -> str:
    """Return the hash of bytes."""
    return hashlib.sha256(data).hexdigest()


def fingerprint(number: str, kind: str, facts: Mapping[str, Any] | str, previous: str) -> str:
    """Return the fingerprint of a paper.

    Args:
        number: the paper's number, as in ``R-2026-0001``.
        kind: the paper kind, as in ``commissioning record``.
        facts: the facts the paper is drawn from, or their canonical text.
        previous: fingerprint of the paper before, ``GENESIS`` for the first.
    """
    text = facts if isinstance(facts, str) else canonical_json(facts)
    return fingerprint_from_hash(number, kind, sha256_of_text(text), previous)


def fingerprint_from_hash(number: str, kind: str, facts_sha256: str, previous: str) -> str:
    """Return the fingerprint of a paper whose facts are known by their hash only."""
    return _hash_lines("flueleaf fingerprint 1", number, kind, facts_sha256, previous)


def seal(fingerprint: str, pdf_sha256: str, previous_seal: str) -> str:
    """Return the seal that binds a fingerprint to the PDF's bytes and to the seal before."""
    return _hash_lines("flueleaf seal 1", fingerprint, pdf_sha256, previous_seal)


def _hash_lines(*lines: str) -> str:
    if any("\n" in line for line in lines):
        raise ValueError("a line feed inside a hashed line would make two papers look alike")
    return sha256_of_text("".join(f"{line}\n" for line in lines))
