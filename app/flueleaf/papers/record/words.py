"""The words a record has for verdicts, limits and slips."""

from __future__ import annotations

from flueleaf.domain.judging.texts import verdict_text
from flueleaf.domain.words import sentence
from flueleaf.papers.record.facts import Judged, Slip, Work
from flueleaf.papers.text import chemical

_OTHER = {"maker": "the maker’s", "table": "the table’s", "none": "another"}
_ENTERED = "the engineer’s"


def verdict_words(judged: Judged) -> str:
    """Return the verdict as printed: the word, whose limit, and for a lower limit on which side."""
    return verdict_text(judged.verdict, judged.whose, judged.sense, entered=judged.entered)


def limit_words(judged: Judged) -> str:
    """Return the limit with its sense and unit, "none" where no limit applies."""
    if not judged.limit:
        return "none"
    return with_unit(f"{judged.sense} {judged.limit}", judged.unit)


def also_words(judged: Judged) -> str:
    """Return the limit that does not count, whose it is, with its sense and unit; "" where there is none.

    Two of the rule tables differ where the owner entered one: the shipped one would count otherwise.
    """
    if not judged.also:
        return ""
    whose = "otherwise" if judged.also_whose == judged.whose else _OTHER[judged.also_whose]
    if judged.also_entered:
        whose = _ENTERED
    return f"{whose}: " + with_unit(f"{judged.sense} {judged.also}", judged.unit)


def with_unit(text: str, unit: str) -> str:
    """Return a value and its unit, kept on one line."""
    return f"{text}\xa0{unit}" if unit else text


def slip_words(slip: Slip, work: Work) -> str:
    """Return a slip's name: point, rate, and the attempt where there was more than one.

    The air outdoors has no rate.
    """
    attempts = [other for other in work.slips if (other.point, other.rate) == (slip.point, slip.rate)]
    name = sentence(slip.point) if slip.point == "outdoors" else f"{sentence(slip.point)}, {slip.rate}"
    if slip.adjusted:
        name += ", after adjusting"
    if len(attempts) == 1 and slip.attempt == 1 and slip.decides:
        return name
    return f"{name}, attempt {slip.attempt}, " + ("which counts" if slip.decides else "superseded")


def label_words(label: str) -> str:
    """Return a quantity's name with its chemical signs."""
    return chemical(label)
