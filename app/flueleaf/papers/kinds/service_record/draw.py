"""Draws the service record."""

from __future__ import annotations

from flueleaf.papers.facts import Seals
from flueleaf.papers.record.draw import draw_record
from flueleaf.papers.record.facts import Record

TITLE = "Service record"
OPENING = "This record tells what was found and done at the visit."


def draw(facts: Record, seals: Seals) -> bytes:
    """Return the PDF of a service record.

    Raises:
        UserProblem: logo or signature is no readable PNG.
    """
    return draw_record(facts, seals, title=TITLE, opening=OPENING)
