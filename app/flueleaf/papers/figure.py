"""Small drawings beside a verdict: the mark of the word, and the value on a line with its limit.

Both are told apart by shape alone, so that a black-and-white copy says the same.
"""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import Literal

from flueleaf.papers.page import Sheet

Verdict = Literal["within", "near", "over", "unjudged"]
Sense = Literal["at most", "at least"]
MARK_INDENT = 12.0
# The limit stands at this part of the line, so that there is room to be over it.
_LIMIT_AT = Decimal("0.72")


def draw_mark(sheet: Sheet, verdict: Verdict, x: float, y: float) -> None:
    """Draw a verdict's mark, its middle at (x, y): ring, ring half full, full square, dash."""
    if verdict == "within":
        sheet.ring(x, y, 2.6)
    elif verdict == "near":
        sheet.ring(x, y, 2.6)
        sheet.ring(x, y, 1.3, filled=True)
    elif verdict == "over":
        sheet.block(x - 3, y - 3, (6, 6))
    else:
        sheet.stroke((x - 2.8, y), (x + 2.8, y), weight=0.9)


def draw_gauge(
    sheet: Sheet, value: str, limit: str, sense: Sense, *, place: tuple[float, float], width: float
) -> None:
    """Draw where a value stands to its limit.

    The allowed side of the line is thick, the limit a stroke across it, the value a dot: full when it is
    beyond the limit. A value off the line is drawn as an arrow head at its end.

    Args:
        value, limit: decimals as printed. Nothing is drawn when either is no number.
        place: left end and height of the line.
    """
    position = _position(value, limit, sense)
    if position is None:
        return
    x, y = place
    mark = x + width * float(_LIMIT_AT if sense == "at most" else 1 - _LIMIT_AT)
    sheet.stroke((x, y), (x + width, y), weight=0.35, grey=120)
    allowed = (x, mark) if sense == "at most" else (mark, x + width)
    sheet.stroke((allowed[0], y), (allowed[1], y), weight=1.6, grey=170)
    sheet.stroke((mark, y - 4), (mark, y + 4), weight=0.8)
    at = x + width * min(max(position, 0.0), 1.0)
    beyond = position > float(_LIMIT_AT) if sense == "at most" else position < float(1 - _LIMIT_AT)
    if 0 <= position <= 1:
        sheet.ring(at, y, 2.1, filled=beyond)
    else:
        inwards = -4 if position > 1 else 4
        sheet.stroke((at + inwards, y - 3), (at, y), weight=1.1)
        sheet.stroke((at + inwards, y + 3), (at, y), weight=1.1)


def _position(value: str, limit: str, sense: Sense) -> float | None:
    """Return where the value stands on a line from 0 to 1 whose limit is at a fixed part."""
    try:
        reached, allowed = _decimal(value), _decimal(limit)
    except InvalidOperation:
        return None
    if sense == "at most":
        return float(reached / allowed * _LIMIT_AT) if allowed > 0 else None
    # A lower limit is not near nought: the line spans a tenth of it upwards.
    span = abs(allowed) / 10
    return float((reached - allowed) / span * _LIMIT_AT + 1 - _LIMIT_AT) if span else None


def _decimal(text: str) -> Decimal:
    found = Decimal(text.replace(",", "").replace("−", "-"))
    if not found.is_finite():
        raise InvalidOperation
    return found
