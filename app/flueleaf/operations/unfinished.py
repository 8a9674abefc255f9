"""What an unfinished visit or quote still lacks, in words for a list."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from typing import Any

from flueleaf.domain.judging.assessment import Missing
from flueleaf.domain.problems import Fault
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.words import said
from flueleaf.operations.drafting import Judgement, Past, judge
from flueleaf.operations.facts.wording import RATE_NAMES
from flueleaf.operations.quoting import QuoteJudgement

_PLACES = re.compile(r"\[\d+\]")
_WORDS = {
    "customer.name": said("the customer’s name"),
    "customer": said("the customer"),
    "premises": said("the premises"),
    "premises.address": said("the address"),
    "works": said("an appliance"),
    "works.appliance": said("the appliance"),
    "works.appliance.kind": said("the kind of appliance"),
    "works.appliance.fuel": said("the fuel"),
    "works.appliance.flue": said("the flue"),
    "works.outcome": said("the outcome"),
    "works.checks.note": said("the reason beside a check"),
    "sign_off": said("who signed"),
    "sign_off.customer": said("how it was signed"),
    "sign_off.customer_name": said("who signed"),
    "lines": said("a work line"),
}


def still_missing(document: Mapping[str, Any], *, today: dt.date) -> tuple[str, ...]:
    """Return what stands in the way of a draft's sign-off, each thing once; empty when nothing does."""
    judgement = judge(document, Past(), today=today)
    return tuple(dict.fromkeys(_words(judgement)))


def missing_of_quote(judgement: QuoteJudgement) -> tuple[str, ...]:
    """Return what stands in the way of sealing a quote, each thing once."""
    return tuple(dict.fromkeys(_of(fault) for fault in judgement.faults))


def _words(judgement: Judgement) -> Iterable[str]:
    slips = [_slip(missing) for assessment in judgement.assessments for missing in assessment.missing]
    unread = {fault.where for fault in judgement.faults}
    # What was not read cannot be blocked as well: the block would speak of a stand-in nobody typed.
    blocks = [block for block in judgement.blocks if block.where not in unread]
    for fault in (*judgement.faults, *blocks):
        if fault.where.endswith("].slips"):
            yield from slips
        else:
            yield _of(fault)


def _slip(missing: Missing) -> str:
    if missing.point == "outdoors":  # the air there knows of no rate
        return said("slip of the air outdoors")
    return said("slip of the {point}, {rate}", point=missing.point, rate=RATE_NAMES[missing.rate])


def _of(fault: Fault) -> str:
    plain = _PLACES.sub("", fault.where)
    if ".close_up." in plain:
        return said("{point} test point not confirmed refitted", point=plain.rpartition(".")[2])
    key = plain.rpartition(".")[2]
    words = _WORDS.get(plain) or (QUANTITIES[key].label if key in QUANTITIES else key.replace("_", " "))
    if fault.missing:
        return words
    return said("{words}: “{value}” cannot be used", words=words, value=fault.value[:24])
