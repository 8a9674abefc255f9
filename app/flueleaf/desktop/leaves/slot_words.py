"""How the slots of the rule tables read: their limit, where they apply, and how they came about."""

from __future__ import annotations

from decimal import Decimal

from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.leaves.verdicts import RATE_WORDS
from flueleaf.desktop.words import _
from flueleaf.domain.judging.rule_table import Rule
from flueleaf.domain.quantities import MINUS
from flueleaf.domain.records.owned import OwnLimit
from flueleaf.domain.records.register import RATES
from flueleaf.operations.owned import Slot

CAUTION = _(
    "Enter only what you read in your own copy of the standard. It counts from its first day on, by the date "
    "of the work, and every record names your document and edition. The maker’s limit of an appliance still "
    "comes first; a verdict says nothing more than which side of a limit a reading is on."
)
IN_SHORT = _("Only what you read in your own copy. Records name its document and edition.")


def limit_words(rule: Rule, limit: Decimal | None) -> str:
    """Return a limit with its sense, unit and time, "" where there is none."""
    if limit is None:
        return ""
    figure = f"{limit:f} {rule.unit}".strip().replace("-", MINUS)
    words = _("{sense} {limit}", sense=_(rule.sense), limit=figure)
    return _("{limit} over {time}", limit=words, time=_(rule.over)) if rule.over else words


def status_words(slot: Slot) -> str:
    """Return how a slot stands, in words, and whether it judges."""
    rule = slot.rule
    if rule.status == "empty":
        return _("empty: fill it from your own copy")
    if rule.status == "owner":
        begins = long_date(_counting(slot).valid_from)
        return (
            _("yours, for information") if rule.information else _("yours, judges from {date}", date=begins)
        )
    if rule.information:
        return {
            "read": _("checked, for information"),
            "recalled": _("recalled, for information"),
            "common practice": _("common practice, for information"),
        }[rule.status]
    return {
        "read": _("checked, judges"),
        "recalled": _("recalled: check it in your own copy"),
        "common practice": _("common practice, judges"),
    }[rule.status]


def document_words(slot: Slot) -> str:
    """Return the document behind what counts; of an empty slot where it is to be read."""
    rule = slot.rule
    if rule.status == "owner":
        entry = _counting(slot)
        parts: tuple[str, ...] = (entry.source, entry.edition, entry.clause)
    elif rule.status in ("empty", "recalled") and not rule.information:
        parts = (slot.source,)
    else:
        parts = (slot.source, slot.edition, rule.clause)
    return ", ".join(dict.fromkeys(part for part in parts if part))


def _counting(slot: Slot) -> OwnLimit:
    """Return the owner's entry that counts: the newest of those that say what the rule says."""
    rule = slot.rule
    told = [entry for entry in slot.entries if (entry.limit, entry.edition) == (rule.limit, rule.edition)]
    return told[0]


def where_words(rule: Rule) -> str:
    """Return the points and rates a slot is for, "" where it is for none."""
    if not rule.points:
        return ""
    points = ", ".join(_(point) for point in rule.points)
    if not rule.rates:
        return points
    rates = _("every rate") if set(rule.rates) == set(RATES) else ", ".join(RATE_WORDS[r] for r in rule.rates)
    return _("{point}, {rate}", point=points, rate=rates)


def entry_words(slot: Slot, entry: OwnLimit) -> str:
    """Return one entry of the owner's in a line: limit, document, edition, clause."""
    if entry.limit is None:
        return _("taken back: what you entered before does not count from then on")
    parts = (limit_words(slot.rule, entry.limit), entry.source, entry.edition, entry.clause)
    return ", ".join(part for part in parts if part)
