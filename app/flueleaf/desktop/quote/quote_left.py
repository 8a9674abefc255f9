"""What is left before a quote can be sealed, each thing with the field it is put right in."""

from __future__ import annotations

from flueleaf.desktop.visit.left import Find, Left, once, plain, unnamed, without_rate
from flueleaf.desktop.visit.lines_part import LinesPart
from flueleaf.domain.records.business import Business
from flueleaf.operations.quoting import QuoteJudgement


def left_of_quote(judgement: QuoteJudgement, business: Business, lines: LinesPart, find: Find) -> list[Left]:
    """Return everything that sealing waits for, each field once."""
    found = [plain(fault, find(fault.where)) for fault in judgement.faults]
    return once([*found, *without_rate(lines), *unnamed(business)])
