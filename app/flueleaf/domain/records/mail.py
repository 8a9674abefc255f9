"""Whether a text can be a mail address, as far as a slip of the pen shows.

Lenient on purpose: one “@” with something on both sides and no blank. Whether anybody reads mail there is not
known. RFC 5322 section 3.4.1 (addr-spec, recalled) allows far more than anybody has.
"""

from __future__ import annotations

import re

from flueleaf.domain.words import marked

MAIL_ACCEPTED = marked("a mail address, such as name@example.org, or nothing")
_ADDRESS = re.compile(r"[^@\s]+@[^@\s]+\Z")


def may_be_mail(text: str) -> bool:
    """Tell whether a text, without the blanks around it, can be a mail address."""
    return bool(_ADDRESS.match(text.strip()))
