"""What the sections of a visit or a quote are for that no kind table speaks of: two lines each.

The stages of a kind bring their own lines and caution, from the kind's table.
"""

from __future__ import annotations

from flueleaf.desktop.words import _

# By the end of the section's object name.
LINES = {
    "premises_and_customer": _(
        "Where the appliance stands, and who is charged. A few letters find what the book knows.\n"
        "An address typed wrongly makes new premises, and what is due there stays with the old ones."
    ),
    "arrival": _(
        "The purpose decides which checks and readings are asked for.\n"
        "Limits and due dates go by the day of the work, not by the day of typing."
    ),
    "plate": _(
        "As the data plate says it, with the maker’s limits and their page: they come before any table.\n"
        "Net or gross as the plate states it; a rated input on the wrong basis is out by a tenth."
    ),
    "analyser": _(
        "The analyser the slips come from; its tolerance decides what counts as near.\n"
        "A calibration out of date is printed as a doubt about the readings; the verdicts stand."
    ),
    "work_lines": _("A line for each thing done or fitted. The next empty line comes by itself."),
    "sign-off": _(
        "Signing off seals the papers: each gets its number and stays as it is for good.\n"
        "They say what was measured and against which limit; you judge."
    ),
    "seal": _("A sealed quote stays as it is; the customer holds you to it until its last day."),
}


def help_of(section: str) -> str:
    """Return the lines of a section by its object name, "" where it has none of its own."""
    return LINES.get(section.removeprefix("section."), "")
