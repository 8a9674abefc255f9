"""UK bank details as a paper may print them: a sort code of six figures, an account number of eight.

Sources: Pay.UK, "Vocalink modulus checking: validating account numbers", which takes a sort code of six
and an account number of eight figures, shorter numbers filled up with noughts in front (recalled).
Whether the two belong together is not checked.
"""

from __future__ import annotations

import re

from flueleaf.domain.words import marked

SORT_CODE_ACCEPTED = marked("a sort code of six figures, such as 00-00-42")
ACCOUNT_NUMBER_ACCEPTED = marked("eight figures; put noughts before a shorter number")
_SORT_CODE = re.compile(r"([0-9]{2})[ \-–]?([0-9]{2})[ \-–]?([0-9]{2})\Z")
_ACCOUNT_NUMBER = re.compile(r"[0-9]{8}\Z")


def sort_code(text: str) -> str:
    """Return a sort code as it is printed, 00-00-42; "" where the text is none."""
    found = _SORT_CODE.match(text.strip())
    return "-".join(found.groups()) if found else ""


def account_number(text: str) -> str:
    """Return an account number as it is printed, 00004242; "" where the text is none."""
    bare = text.replace(" ", "")
    return bare if _ACCOUNT_NUMBER.match(bare) else ""
