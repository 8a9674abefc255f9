"""Every text of the window goes through here into the language of its catalogue.

``_`` translates a text, ``_n`` one that depends on a count; both take the values of its braces:
``_("{name} is left out of this visit", name=work.name)``. Sentences of the layers below arrive as
``domain.words.Sentence`` and are translated by their pattern: ``_(fault.accepted)``. English is the language
of the source, so that a text without a translation is shown in English. The catalogues lie in
resources/words; packaging/catalogue.py keeps them.
"""

from __future__ import annotations

import gettext
import os
from typing import Any

from flueleaf.domain.words import Sentence
from flueleaf.paths import RESOURCES

DOMAIN = "flueleaf"
LANGUAGE_VARIABLE = "FLUELEAF_LANGUAGE"
FOLDER_VARIABLE = "FLUELEAF_WORDS"
USUAL_LANGUAGE = "en_GB"


def _catalogue() -> gettext.NullTranslations:
    """Return the catalogue asked for by FLUELEAF_LANGUAGE, else British English."""
    folder = os.environ.get(FOLDER_VARIABLE) or str(RESOURCES / "words")
    language = os.environ.get(LANGUAGE_VARIABLE) or USUAL_LANGUAGE
    return gettext.translation(DOMAIN, folder, [language, USUAL_LANGUAGE], fallback=True)


_words = _catalogue()


def _(text: str, /, **values: Any) -> str:
    """Return a text in the window's language.

    Args:
        text: as the source has it, or a sentence of a lower layer.
        values: what stands in its braces; a text without values is never formatted.
    """
    if isinstance(text, Sentence):
        inner = {
            key: _(value) if isinstance(value, Sentence) else value for key, value in text.values.items()
        }
        return _words.gettext(text.pattern).format(**inner)
    if not text:
        return ""  # the catalogue keeps its own head under the empty text
    translated = _words.gettext(text)
    return translated.format(**values) if values else translated


def _n(one: str, many: str, count: int, /, **values: Any) -> str:
    """Return a text for a count, which stands in its braces as ``{count}``."""
    return _words.ngettext(one, many, count).format(count=count, **values)
