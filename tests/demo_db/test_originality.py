from __future__ import annotations

import re

import pytest

from flueleaf.paths import DEMO_DB

FILES = sorted(path for path in DEMO_DB.iterdir() if path.suffix in (".toml", ".json", ".md"))
TEXTS = {path.name: path.read_text(encoding="utf-8") for path in FILES}


@pytest.mark.parametrize("name", TEXTS)
def test_telephone_numbers_come_from_the_ranges_kept_for_drama(name) -> None:
    # Ofcom, "Numbers for use in TV and radio drama": 07700 900xxx and 01632 960xxx (recalled).
    for number in re.findall(r"\b0\d{3,4} ?\d{6}\b", TEXTS[name]):
        assert re.fullmatch(r"07700 900\d{3}|01632 960\d{3}", number), number


@pytest.mark.parametrize("name", TEXTS)
def test_postcodes_are_of_an_area_that_is_not_assigned(name) -> None:
    for postcode in re.findall(r"\b[A-Z]{1,2}\d{1,2}[A-Z]? \d[A-Z]{2}\b", TEXTS[name]):
        assert postcode.startswith("QX"), postcode


@pytest.mark.parametrize("name", TEXTS)
def test_mail_goes_to_example_domains(name) -> None:
    # RFC 2606 reserves example.com, example.net and example.org.
    for mail in re.findall(r"[\w.+-]+@[\w.-]+", TEXTS[name]):
        assert re.fullmatch(r".+@example\.(com|net|org)", mail), mail


def test_the_samples_are_not_empty_of_what_is_checked() -> None:
    customers = TEXTS["customers.toml"]
    assert len(re.findall(r"07700 900\d{3}", customers)) >= 30
    assert len(re.findall(r"QX\d \d[A-Z]{2}", customers)) >= 40
    assert customers.count("@example.") >= 40
    assert "INVENTED" in TEXTS["business.toml"]
