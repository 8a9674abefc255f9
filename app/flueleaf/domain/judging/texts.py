"""What verdicts, next steps and limits are called, in one place: short, in the second person, no comfort.

A verdict says which side of which limit a reading is on, never that an appliance is safe.
"""

from __future__ import annotations

from collections.abc import Mapping

from flueleaf.domain.judging.assessment import Verdict, Whose
from flueleaf.domain.judging.rule_table import OWNERS, Sense
from flueleaf.domain.records.register import Rate
from flueleaf.domain.words import marked, said

WHOSE_LIMIT: Mapping[Whose, str] = {
    "maker": marked("the maker’s limit"),
    "table": marked("the table’s limit"),
    "none": marked("the limit"),
}
# A slot of a rule table that the owner filled; documents keep it under "table", the owner knows it as theirs.
OWN_LIMIT = marked("the limit you entered")
# Of a whole appliance: the worst of what is there.
OF_ALL: Mapping[Verdict, str] = {
    "within": marked("all that was judged is within its limit"),
    "near": marked("near a limit: closer than the instrument can tell"),
    "over": marked("over a limit"),
    "unjudged": marked("unjudged"),
}
_OF_ONE: Mapping[tuple[Verdict, Whose], str] = {
    ("within", "maker"): marked("within the maker’s limit"),
    ("within", "table"): marked("within the table’s limit"),
    ("near", "maker"): marked("near the maker’s limit"),
    ("near", "table"): marked("near the table’s limit"),
    ("over", "maker"): marked("over the maker’s limit"),
    ("over", "table"): marked("over the table’s limit"),
}
_TOO_LOW: Mapping[Whose, str] = {
    "maker": marked("over the maker’s limit: too low"),
    "table": marked("over the table’s limit: too low"),
}
# On a paper, which others read: whoever fills a slot is the engineer whose record it is.
_OF_OWN: Mapping[Verdict, str] = {
    "within": marked("within the limit the engineer entered"),
    "near": marked("near the limit the engineer entered"),
    "over": marked("over the limit the engineer entered"),
}
_OWN_TOO_LOW = marked("over the limit the engineer entered: too low")
UNJUDGED = marked("unjudged")

RATE_WORDS: dict[Rate, str] = {
    "max": said("high rate"),
    "min": said("low rate"),
    "mid": said("middle rate"),
}

INTEGRITY_OVER = said(
    "Flue integrity is beyond its limit: do not go on to combustion. Look for leaking flue joints, seals and "
    "recirculation, put right what you find, and measure the air inlet again."
)
COMBUSTION_OVER = marked(
    "Combustion at {rate} is beyond its limit: check the installation, the gas supply and the setting by the "
    "maker’s instructions, then measure again and enter it as the next attempt."
)
STILL_OVER = said(
    "If it is still beyond the limit after that, the appliance is not left in use: take it out of use and "
    "warn the responsible person."
)
WINDOW_OVER = marked(
    "{label} at {rate} is outside the maker’s window: adjust only what the maker allows, the way the maker "
    "says, and measure again at both rates."
)
SYMPTOMS = said("Symptoms, smell, staining or spillage outrank any reading.")
DOUBTED = said(
    "A reading is in doubt: look at the slip and the figures typed, measure again where they stand, and "
    "confirm a doubt only if you have checked it yourself."
)
NEAR = marked(
    "{label} at {point}, {rate}, is closer to its limit than the analyser can tell: compare with last time "
    "and with the maker’s instructions before you decide."
)
NO_LIMIT = marked(
    "No limit is known for {point} at {rate}: enter the maker’s limits, with document and page, from the "
    "instructions. Until then nothing there is judged."
)
NO_LIMIT_YET = marked(
    "No limit is known for {point} at {rate}: fill its place under Limits and fuels from your own copy of "
    "the standard, with edition. Until then nothing there is judged."
)
NO_LIMIT_ELSEWHERE = marked(
    "No limit applies to {point} at {rate}: the reading is kept and printed, and nothing is judged by it."
)
BASELINE = marked(
    "The air outdoors is what the room is held against: the reading is kept and printed, and nothing is "
    "judged by it."
)
NO_READING = marked("{label} at {point}, {rate}, is wanted before anything there can be judged.")
BEFORE_ADJUSTMENT = marked(
    "The slip of {point} at {rate} was taken before the adjustment: measure there again, and enter it as the "
    "next attempt."
)
BEYOND = said(
    "Readings were taken although the step before them was not clear: put that right first, and measure them "
    "again, or write down why you went on."
)
STOPPED = marked(
    "“{question}” is answered no: appliance off, room aired. Do not go on and do not leave it in use until "
    "that is put right and tried again."
)
WANTED = marked("Still wanted: {text}, or the reason why it could not be measured.")
CALIBRATION = said("Have the analyser calibrated; the record prints that its date had passed.")
DEFERENCE = said(
    "The maker’s instructions, the current standard and your own judgement as registered engineer decide."
)


def whose_limit(whose: Whose, status: str = "") -> str:
    """Return whose limit it is, as the window says it.

    Args:
        whose: the maker's or a rule table's.
        status: of the table's figure; one the owner entered is told as such.
    """
    return OWN_LIMIT if status == OWNERS else WHOSE_LIMIT[whose]


def verdict_text(verdict: Verdict, whose: Whose, sense: Sense = "at most", *, entered: bool = False) -> str:
    """Return the verdict on one value as a paper says it: whose limit, and for a lower one on which side.

    Whatever has no limit is unjudged.

    Args:
        verdict: on the value.
        whose: the maker's or a rule table's.
        sense: whether the limit is an upper or a lower one.
        entered: whether the engineer entered the table's figure from a document.
    """
    if entered and whose == "table":
        if verdict == "over" and sense == "at least":
            return _OWN_TOO_LOW
        return _OF_OWN.get(verdict, UNJUDGED)
    if verdict == "over" and sense == "at least" and whose in _TOO_LOW:
        return _TOO_LOW[whose]
    return _OF_ONE.get((verdict, whose), UNJUDGED)
