"""Small wrong changes of a source: comparisons turned, limits and other numbers moved by their last digit.

mutmut 3.8 (read in its source) changes what stands inside functions, and leaves out what stands at the top
of a module or under a decorator such as ``property``, and every table: the limits above all. These do not.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

COMPARED: dict[type[ast.cmpop], tuple[str, tuple[str, ...]]] = {
    ast.Lt: ("<", ("<=", ">=")),
    ast.LtE: ("<=", ("<", ">")),
    ast.Gt: (">", (">=", "<=")),
    ast.GtE: (">=", (">", "<")),
    ast.Eq: ("==", ("!=",)),
    ast.NotEq: ("!=", ("==",)),
    ast.In: ("in", ("not in",)),
    ast.NotIn: ("not in", ("in",)),
    ast.Is: ("is", ("is not",)),
    ast.IsNot: ("is not", ("is",)),
}
EXACT = ("Decimal", "Fraction")  # their numbers are written as texts
# A number of a rule table: a limit, a half-width, a tolerance, an interval. Not a date, not a text.
_ENTRY = re.compile(
    r"^(?:limit|half_width|months|days|window_months)\s*=\s*\"?(-?[0-9]+(?:\.[0-9]+)?)\"?\s*$", re.MULTILINE
)
_INLINE = re.compile(r"\b(?:abs|rel)\s*=\s*\"?([0-9]+(?:\.[0-9]+)?)\"?")


@dataclass(frozen=True, slots=True)
class Mutation:
    """One change of a text.

    Attributes:
        start, end: what is replaced, counted in characters of the text.
        new: what stands there instead.
        line: in which line, from 1.
        told: the change as a person reads it: ``< to <=``.
    """

    start: int
    end: int
    new: str
    line: int
    told: str

    def applied(self, text: str) -> str:
        """Return the changed text."""
        return text[: self.start] + self.new + text[self.end :]


def of_module(text: str) -> list[Mutation]:
    """Return the changes of a Python source, from top to bottom."""
    places = _Places(text)
    found: list[Mutation] = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Compare):
            found += _comparisons(node, places)
        elif isinstance(node, ast.BoolOp):
            found += _junctions(node, places)
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            start, end = places.of(node)[0], places.of(node.operand)[0]
            found.append(places.change(start, end, "", "not to nothing"))
        elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
            start, end = places.of(node)
            found += _moved(text[start:end], start, places)
        elif isinstance(node, ast.Call) and _exact_text(node) is not None:
            start, end = places.of(node.args[0])
            found += _moved(text[start + 1 : end - 1], start + 1, places)
    return sorted(found, key=lambda one: (one.start, one.new))


def of_table(text: str) -> list[Mutation]:
    """Return the changes of a rule table: each of its limits moved by its last digit, up and down."""
    places = _Places(text)
    hits = [hit for pattern in (_ENTRY, _INLINE) for hit in pattern.finditer(text)]
    found = [one for hit in hits for one in _moved(hit[1], hit.start(1), places)]
    return sorted(found, key=lambda one: (one.start, one.new))


class _Places:
    """Places of nodes in a text, in characters; the syntax tree counts bytes of each line."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._lines = text.splitlines(keepends=True)
        self._begins = [0]
        for line in self._lines:
            self._begins.append(self._begins[-1] + len(line))

    def of(self, node: ast.expr) -> tuple[int, int]:
        """Return where a node begins and ends."""
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        return self._place(node.lineno, node.col_offset), self._place(node.end_lineno, node.end_col_offset)

    def change(self, start: int, end: int, new: str, told: str) -> Mutation:
        """Return a change with its line."""
        return Mutation(start, end, new, self.text.count("\n", 0, start) + 1, told)

    def _place(self, line: int, column: int) -> int:
        before = self._lines[line - 1].encode()[:column].decode()
        return self._begins[line - 1] + len(before)


def _comparisons(node: ast.Compare, places: _Places) -> Iterator[Mutation]:
    sides = [node.left, *node.comparators]
    for n, op in enumerate(node.ops):
        sign, others = COMPARED[type(op)]
        begin, stop = places.of(sides[n])[1], places.of(sides[n + 1])[0]
        spaced = r"\s+".join(map(re.escape, sign.split()))
        hit = re.compile(spaced).search(places.text, begin, stop)
        assert hit is not None
        for other in others:
            yield places.change(hit.start(), hit.end(), other, f"{sign} to {other}")


def _junctions(node: ast.BoolOp, places: _Places) -> Iterator[Mutation]:
    sign, other = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
    for left, right in zip(node.values, node.values[1:], strict=False):
        hit = re.compile(rf"\b{sign}\b").search(places.text, places.of(left)[1], places.of(right)[0])
        assert hit is not None
        yield places.change(hit.start(), hit.end(), other, f"{sign} to {other}")


def _exact_text(node: ast.Call) -> str | None:
    """Return the number that is given as a text, None where a call has none."""
    first = node.args[0] if node.args else None
    if not (isinstance(node.func, ast.Name) and node.func.id in EXACT and isinstance(first, ast.Constant)):
        return None
    return first.value if isinstance(first.value, str) else None


def _moved(number: str, start: int, places: _Places) -> Iterator[Mutation]:
    """Move a number by one of its last digit, up and down."""
    plain = number.replace("_", "")
    if not re.fullmatch(r"-?[0-9]+(\.[0-9]+)?(e-?[0-9]+)?", plain):
        return
    exact = Decimal(plain)
    exponent = exact.as_tuple().exponent
    assert isinstance(exponent, int)
    for step in (1, -1):
        new = exact + Decimal(step).scaleb(exponent)
        yield places.change(start, start + len(number), f"{new:f}", f"{number} to {new:f}")
