"""What an unfinished visit or quote still lacks, in words for a list."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from typing import Any

from flueleaf.domain.problems import Fault
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.operations.drafting import Judgement, Past, judge
from flueleaf.operations.facts.wording import RATE_NAMES
from flueleaf.operations.quoting import QuoteJudgement

_PLACES = re.compile(r"\[\d+\]")
_WORDS = {
    "customer.name": "the customer’s name",
    "customer": "the customer",
    "premises": "the premises",
    "premises.address": "the address",
    "works": "an appliance",
    "works.appliance": "the appliance",
    "works.appliance.kind": "the kind of appliance",
    "works.appliance.fuel": "the fuel",
    "works.appliance.flue": "the flue",
    "works.outcome": "the outcome",
    "sign_off": "who signed",
    "sign_off.customer": "how it was signed",
    "sign_off.customer_name": "who signed",
    "lines": "a work line",
}


def still_missing(document: Mapping[str, Any], *, today: dt.date) -> tuple[str, ...]:
    """Return what stands in the way of a draft's sign-off, each thing once; empty when nothing does."""
    judgement = judge(document, Past(), today=today)
    return tuple(dict.fromkeys(_words(judgement)))


def missing_of_quote(judgement: QuoteJudgement) -> tuple[str, ...]:
    """Return what stands in the way of sealing a quote, each thing once."""
    return tuple(dict.fromkeys(_of(fault) for fault in judgement.faults))


def _words(judgement: Judgement) -> Iterable[str]:
    slips = [
        f"slip of the {missing.point}, {RATE_NAMES[missing.rate]}"
        for assessment in judgement.assessments
        for missing in assessment.missing
    ]
    unread = {fault.where for fault in judgement.faults}
    # What was not read cannot be blocked as well: the block would speak of a stand-in nobody typed.
    blocks = [block for block in judgement.blocks if block.where not in unread]
    for fault in (*judgement.faults, *blocks):
        if fault.where.endswith("].slips"):
            yield from slips
        else:
            yield _of(fault)


def _of(fault: Fault) -> str:
    plain = _PLACES.sub("", fault.where)
    if ".close_up." in plain:
        return f"{plain.rpartition('.')[2]} test point not confirmed refitted"
    key = plain.rpartition(".")[2]
    words = _WORDS.get(plain) or (QUANTITIES[key].label if key in QUANTITIES else key.replace("_", " "))
    return f"{words}: “{fault.value[:24]}” cannot be used" if not fault.missing else words
