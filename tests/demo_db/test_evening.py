from __future__ import annotations

import datetime as dt
import re

import pytest

from flueleaf.domain.money.document import Document
from flueleaf.domain.money.tally import tally
from flueleaf.operations.assessing import assess_work
from flueleaf.operations.intake.reader import load_json
from flueleaf.operations.intake.visit import read_visit
from flueleaf.operations.tables import choices, shipped
from flueleaf.operations.visits import blocks
from flueleaf.paths import DEMO_DB
from flueleaf.storage.tables.money import money_rules

README = (DEMO_DB / "README.md").read_text(encoding="utf-8")
TODAY = dt.date(2026, 11, 25)


@pytest.fixture
def document():
    return load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))


@pytest.fixture
def visit(document):
    return read_visit(document, choices=choices(), today=TODAY)


def _keys(value, found):
    if isinstance(value, dict):
        for key, inner in value.items():
            found.add(key)
            _keys(inner, found)
    elif isinstance(value, list):
        for inner in value:
            _keys(inner, found)
    return found


def test_nothing_stands_against_its_sign_off(visit) -> None:
    assessments = [assess_work(visit, work, ()) for work in visit.works]
    assert [(one.verdict, one.doubts, one.missing) for one in assessments] == [("within", (), ())]
    assert list(blocks(visit, assessments)) == []


def test_it_answers_every_check_of_a_commissioning(visit) -> None:
    kind = shipped().kinds["condensing boiler"]
    assert [check.key for check in visit.works[0].checks] == [
        check.key for check in kind.checks_for("commissioning")
    ]


def test_it_shows_every_stage_and_both_rates(visit) -> None:
    work = visit.works[0]
    assert [(slip.point, slip.rate) for slip in work.slips] == [
        ("air inlet", "max"),
        ("flue", "max"),
        ("flue", "min"),
    ]
    assert dict(work.close_up) == {"air inlet": True, "flue": True}
    assert work.supply.gas_rate
    assert work.supply.tightness
    assert any(line.discount_pct for line in visit.lines)


def test_the_readme_explains_every_key_of_it(document) -> None:
    explained = set(re.findall(r"[a-z0-9_]+", " ".join(re.findall(r"`([^`]+)`", README))))
    named = _keys(document, set()) - {check["key"] for work in document["works"] for check in work["checks"]}
    own_words = {"air inlet", "let-by", "test mbar", "movement", "duration minutes"}
    rates_and_ends = {"max", "min", "max_kw", "min_kw", "kw", "plus", "minus"}
    missing = {key for key in named - own_words - rates_and_ends if key not in explained}
    assert missing == set()


def test_the_sums_of_the_readme_are_those_of_the_sample(visit) -> None:
    sums = tally(Document(kind="invoice", vat="standard", lines=visit.lines, date=visit.date), money_rules())
    for amount in (sums.net, sums.vat_total, sums.total):
        assert f"{amount.pounds.numerator / amount.pounds.denominator:,.2f}" in README
