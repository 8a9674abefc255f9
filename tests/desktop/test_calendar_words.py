"""Days in other languages than the source's: names by CLDR, English where nothing is known."""

from __future__ import annotations

import datetime as dt

import pytest

from flueleaf.desktop.calendar_words import LONG, MONTH, SHORT, WITH_WEEKDAY, day_words, month_of

DAY = dt.date(2026, 11, 26)


@pytest.mark.parametrize(
    ("language", "parts", "words"),
    [
        ("en_GB", SHORT, "26 Nov 2026"),
        ("en_GB", WITH_WEEKDAY, "Thu 26 Nov 2026"),
        ("en_GB", LONG, "26 November 2026"),
        # CLDR 47, as Babel 2.18 has it (read): gregorian calendar, availableFormats and dateFormats/long
        ("de", SHORT, "26. Nov. 2026"),
        ("de", WITH_WEEKDAY, "Do., 26. Nov. 2026"),
        ("de", LONG, "26. November 2026"),
        ("en_GB", MONTH, "November 2026"),
        ("de", MONTH, "November 2026"),
        ("fr_CA", MONTH, "novembre 2026"),
        ("cy", SHORT, "26 Tach 2026"),
        ("fr_CA", LONG, "26 novembre 2026"),
        ("en_XA", SHORT, "26 Nov 2026"),
        ("nonsense", WITH_WEEKDAY, "Thu 26 Nov 2026"),
    ],
)
def test_a_day_in_words(language: str, parts: str, words: str) -> None:
    assert day_words(DAY, language, parts) == words


def test_a_short_month_is_three_letters_of_english_all_year_round() -> None:
    shown = [day_words(dt.date(2026, month, 1), "en_GB") for month in range(1, 13)]
    assert {len(words) for words in shown} == {len("1 Sep 2026")}
    assert len(set(shown)) == 12


@pytest.mark.parametrize(
    ("word", "language", "month"),
    [
        ("nov", "en_GB", 11),
        ("November", "en_GB", 11),
        ("sept", "en_GB", 9),
        ("ju", "en_GB", None),
        ("Tach", "cy", 11),
        ("Dez.", "de", 12),
        ("Dec", "de", 12),  # English is understood beside the window's language
        ("mar", "fi", 11),  # marraskuu: the window's language comes first
        ("sometime", "de", None),
        (".", "de", None),
    ],
)
def test_the_month_of_a_word(word: str, language: str, month: int | None) -> None:
    assert month_of(word, language) == month


@pytest.mark.parametrize("language", ["cy", "de", "es", "fi", "fr", "it", "nl", "pl", "tr"])
def test_the_names_of_a_language_mean_their_own_months(language: str) -> None:
    from babel import Locale

    for month, name in Locale.parse(language).months["format"]["wide"].items():
        assert month_of(name, language) == month
