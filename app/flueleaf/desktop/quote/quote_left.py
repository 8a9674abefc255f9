"""What is left before a quote can be sealed, each thing with the field it is put right in."""

from __future__ import annotations

from flueleaf.desktop.visit.left import Find, Left, once, plain, unnamed, without_rate
from flueleaf.desktop.visit.lines_part import LinesPart
from flueleaf.domain.records.business import Business
from flueleaf.operations.quoting import QuoteJudgement


def left_of_quote(judgement: QuoteJudgement, business: Business, lines: LinesPart, find: Find) -> list[Left]:
    """Return everything that sealing waits for, each field once, in the order of the leaf."""
    found = [plain(fault, find(fault.where)) for fault in judgement.faults]
    in_lines = [id(field) for field in lines.fields()]
    left = once([*without_rate(lines), *found, *unnamed(business)])
    return sorted(left, key=lambda one: in_lines.index(id(one.field)) if id(one.field) in in_lines else -1)
