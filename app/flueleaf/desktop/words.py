"""Every text of the window goes through here into the language of its catalogue.

``_`` translates a text, ``_n`` one that depends on a count; both take the values of its braces:
``_("{name} is left out of this visit", name=work.name)``. Sentences of the layers below arrive as
``domain.words.Sentence`` and are translated by their pattern: ``_(fault.accepted)``. English is the language
of the source, so that a text without a translation is shown in English. The catalogues lie in
resources/words; packaging/catalogue.py keeps them.
"""

from __future__ import annotations

import datetime as dt
import gettext
import os
from typing import Any

from flueleaf.desktop.calendar_words import LONG, MONTH, SHORT, SOURCE_LANGUAGE, day_words, month_name
from flueleaf.domain.words import Day, Month, Sentence
from flueleaf.paths import RESOURCES

DOMAIN = "flueleaf"
LANGUAGE_VARIABLE = "FLUELEAF_LANGUAGE"
FOLDER_VARIABLE = "FLUELEAF_WORDS"


def _catalogue() -> gettext.NullTranslations:
    """Return the catalogue asked for by FLUELEAF_LANGUAGE, else British English."""
    folder = os.environ.get(FOLDER_VARIABLE) or str(RESOURCES / "words")
    language = os.environ.get(LANGUAGE_VARIABLE) or SOURCE_LANGUAGE
    return gettext.translation(DOMAIN, folder, [language, SOURCE_LANGUAGE], fallback=True)


_words = _catalogue()
# What the catalogue says of itself, so that its texts and the names of months are of one language.
LANGUAGE = _words.info().get("language", SOURCE_LANGUAGE)


def _(text: str, /, **values: Any) -> str:
    """Return a text in the window's language.

    Args:
        text: as the source has it, or a sentence or a day of a lower layer.
        values: what stands in its braces; a text without values is never formatted.
    """
    if isinstance(text, Day):
        return shown_day(text.date, MONTH if isinstance(text, Month) else LONG)
    if isinstance(text, Sentence):
        return _words.gettext(text.pattern).format(**_told(text.values))
    if not text:
        return ""  # the catalogue keeps its own head under the empty text
    translated = _words.gettext(text)
    return translated.format(**_told(values)) if values else translated


def _n(one: str, many: str, count: int, /, **values: Any) -> str:
    """Return a text for a count, which stands in its braces as ``{count}``."""
    return _words.ngettext(one, many, count).format(count=count, **_told(values))


def shown_day(date: dt.date, parts: str = SHORT) -> str:
    """Return a date in the words of the window's language; ``parts`` as ``calendar_words`` names them."""
    return day_words(date, LANGUAGE, parts)


def short_month(month: int) -> str:
    """Return the short name of a month, 1 to 12, in the window's language."""
    return month_name(month, LANGUAGE)


def _told(values: dict[str, Any]) -> dict[str, Any]:
    """Return the values of a text with the sentences and days among them in the window's language."""
    return {key: _(value) if isinstance(value, Sentence | Day) else value for key, value in values.items()}
