from __future__ import annotations

import dataclasses
import datetime as dt

import pytest

from flueleaf.domain.problems import BookProblem
from flueleaf.operations import book as books
from flueleaf.operations import evening, finding, issued, schedule
from flueleaf.operations.demo.make import make_demo
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

TODAY = dt.date(2026, 11, 25)


def _few(scenario):
    """A street of the town: two landlords' premises, one fitted and quoted lately, a fire."""
    quoted = [place for place in scenario.places if any(f.quoted for f in place.fitted)]
    lately = [p for p in quoted if all(f.installed_days_before < 720 for f in p.fitted if f.quoted)]
    return dataclasses.replace(scenario, places=(*scenario.places[:3], *lately[:1], scenario.places[40]))


@pytest.fixture(scope="module")
def made(scenario, tmp_path_factory):
    path = tmp_path_factory.mktemp("demo") / "demo.book"
    return path, make_demo(path, years=2, today=TODAY, scenario=_few(scenario))


def test_the_book_is_whole_and_holds_what_the_summary_says(made) -> None:
    path, summary = made
    with books.reading(path) as book:
        assert books.verify(book) == {"ok": True, "papers": summary.papers, "faults": []}
        assert len(issued.papers(book)) == summary.papers
        assert books.business(book).trading_name == "Quillfeather Warmth"
    assert summary.premises == 5
    assert summary.visits >= 9
    assert summary.payments >= 5
    assert summary.as_json()["book"] == str(path)


def test_nothing_else_is_left_beside_it(made) -> None:
    path, _ = made
    assert [entry.name for entry in path.parent.iterdir()] == ["demo.book"]


def test_an_existing_file_is_left_alone(tmp_path, scenario) -> None:
    path = tmp_path / "there.book"
    path.write_bytes(b"mine")
    with pytest.raises(BookProblem, match=r"there\.book"):
        make_demo(path, years=1, today=TODAY, scenario=_few(scenario))
    assert path.read_bytes() == b"mine"


def test_equal_arguments_give_equal_papers(made, tmp_path, scenario) -> None:
    again = tmp_path / "again.book"
    make_demo(again, years=2, today=TODAY, scenario=_few(scenario))
    with books.reading(made[0]) as one, books.reading(again) as other:
        fingerprints = [row["fingerprint"] for row in issued.as_json(issued.papers(one))]
        assert fingerprints == [row["fingerprint"] for row in issued.as_json(issued.papers(other))]


def test_an_accepted_quote_became_the_invoice_of_its_visit(made) -> None:
    path, _ = made
    with books.reading(path) as book:
        accepted = book.con.execute(
            "SELECT quote.total_pence, invoice.total_pence, quote.date, invoice.date FROM quote"
            " JOIN invoice ON invoice.quote_ref = quote.id"
        ).fetchall()
    assert accepted
    for quoted, invoiced, quoted_on, invoiced_on in accepted:
        assert quoted == invoiced > 0
        assert quoted_on < invoiced_on


def test_the_finder_and_the_due_list_know_the_story(made) -> None:
    path, _ = made
    with books.reading(path) as book:
        assert finding.find(book, "Tollhouse", most=5)
        assert schedule.due(book, until=TODAY + dt.timedelta(days=365), today=TODAY)


def test_no_years_is_a_book_with_a_business_only(tmp_path) -> None:
    summary = make_demo(tmp_path / "empty.book", years=0, today=TODAY)
    assert (summary.visits, summary.papers, summary.payments) == (0, 0, 0)
    with books.reading(tmp_path / "empty.book") as book:
        assert books.business(book).name == "Jory Quillfeather"


def test_the_worked_evening_goes_into_the_demo_book(made, tmp_path) -> None:
    path = tmp_path / "tonight.book"
    path.write_bytes(made[0].read_bytes())
    document = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    with books.writing_book(path) as book:
        result = evening.run(book, document, out=tmp_path / "papers", today=TODAY)
        assert books.verify(book)["ok"]
    assert result["verdict"] == "within"
    assert [paper["kind"] for paper in result["papers"]] == ["commissioning record", "invoice"]
    for paper in result["papers"]:
        assert (tmp_path / "papers" / f"{paper['number']}.pdf").read_bytes().startswith(b"%PDF-")
