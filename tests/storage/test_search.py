"""The finder finds what a person would look for, and any text is harmless."""

from __future__ import annotations

import datetime as dt
import sqlite3
import unicodedata
from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.storage.samples import RESULT, VISIT, registered, seal_papers

from flueleaf.domain.problems import BookProblem
from flueleaf.domain.records.register import Appliance, Customer, Instrument, Premises
from flueleaf.storage import papers, register, search, visits
from flueleaf.storage.book import Book
from flueleaf.storage.schema import finder


@pytest.fixture(scope="module")
def con(tmp_path_factory: pytest.TempPathFactory) -> Iterator[sqlite3.Connection]:
    """A book with a street, some of its people, and what stands in their houses."""
    with Book.create(tmp_path_factory.mktemp("find") / "find.book") as book:
        visit = registered(book)
        with book.writing() as tx:
            visits.add_visit(tx, visit, [RESULT])
            odd = register.add_customer(tx, Customer("Zoë Ångqvist-Brûlé", telephone="07700 900 321"))
            there = register.add_premises(tx, Premises(("2 Tarn Row", "Nether Oakby"), "QX9 1AA", "", odd))
            register.add_appliance(tx, Appliance("gas fire", premises_id=there, location="lounge"))
            for n in range(30):
                register.add_premises(tx, Premises((f"{n} Willow Bank",), f"QX5 {n % 10}AB"))
        seal_papers(book, 3)
        seal_papers(book, 1, series="I")
        yield book.con


def titles(con: sqlite3.Connection, text: str, most: int = 20) -> list[str]:
    return [hit.title for hit in search.find(con, text, most)]


HOUSE = "14 Cooper's Rise, Port Ellery QX3 7TC"
BOILER = "Halvard Sund 24"


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("ferrow", "Maud Ferrow"),
        ("FERR", "Maud Ferrow"),
        ("maud ferrow", "Maud Ferrow"),
        ("m", "Maud Ferrow"),
        ("cooper's rise", HOUSE),
        ("Cooper’s", HOUSE),
        ("coopers", HOUSE),
        ("14 cooper", HOUSE),
        ("QX3 7TC", HOUSE),
        ("qx37tc", HOUSE),
        ("Ibbet", HOUSE),
        ("halvard", BOILER),
        ("sund 24", BOILER),
        ("HV-4471 903", BOILER),
        ("hv4471903", BOILER),
        ("4471903", BOILER),
        ("71 903", BOILER),
        ("7190", BOILER),
        ("R-2026-0002", "R-2026-0002"),
        ("r20260002", "R-2026-0002"),
        ("I-2026-0001", "I-2026-0001"),
        ("01632 960 123", "Maud Ferrow"),
        ("01632960123", "Maud Ferrow"),
        ("01632-960123", "Maud Ferrow"),
        ("960123", "Maud Ferrow"),
        ("maud@example.org", "Maud Ferrow"),
        ("analyser", "analyser 1"),
        ("AN 0042", "analyser 1"),
        ("angqvist", "Zoë Ångqvist-Brûlé"),
        ("ZOË", "Zoë Ångqvist-Brûlé"),
        ("gas fire", "gas fire"),
    ],
)
def test_what_is_typed_is_found_first(con: sqlite3.Connection, text: str, first: str) -> None:
    assert titles(con, text)[0] == first


@pytest.mark.parametrize(
    ("kept", "typed"),
    [
        ("10½ Fern Row", "10½"),
        ("Flat 2²", "2²"),
        ("Weiß", "weiß"),
        ("Tŷ Gŵyn", "ty gwyn"),
        ("Łukasz Żółć", "Łukasz Żółć"),
        ("김", "김"),
        ("Cafe\u0301 Row", "café"),
        ("Café Row", "cafe\u0301"),
    ],
)
def test_a_name_typed_as_it_is_kept_is_found(book: Book, kept: str, typed: str) -> None:
    with book.writing() as tx:
        register.add_customer(tx, Customer(kept))
    assert titles(book.con, typed) == [kept]


def test_every_letter_of_the_latin_alphabets_is_found_as_it_is_kept(book: Book) -> None:
    """The finder folds a typed text no further than its index folds the kept one."""
    # Latin-1 and Extended-A, Extended Additional (with Welsh and Vietnamese), number forms, ligatures.
    ranges = (range(0x21, 0x180), range(0x1E00, 0x1F00), range(0x2150, 0x2190), range(0xFB00, 0xFB07))
    letters = [chr(code) for codes in ranges for code in codes]
    kept = [
        f"a{letter}{n:03d}" for n, letter in enumerate(letters) if unicodedata.category(letter)[0] in "LN"
    ]
    with book.writing() as tx:
        for name in kept:
            register.add_customer(tx, Customer(name))
    assert [name for name in kept if titles(book.con, name) != [name]] == []


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("ferow", "Maud Ferrow"),
        ("ferrrow", "Maud Ferrow"),
        ("ferqow", "Maud Ferrow"),
        ("ferorw", "Maud Ferrow"),
        ("verrow", "Maud Ferrow"),
        ("maid", "Maud Ferrow"),
        ("naud", "Maud Ferrow"),
        ("maud ferqow", "Maud Ferrow"),
        ("halvrd", BOILER),
        ("halvsrd sund", BOILER),
        ("cooqer", HOUSE),
        ("hv4481903", BOILER),
        ("HV-4481 903", BOILER),
        ("angqvits", "Zoë Ångqvist-Brûlé"),
    ],
)
def test_one_wrong_letter_still_finds(con: sqlite3.Connection, text: str, wanted: str) -> None:
    assert wanted in titles(con, text)


@pytest.mark.parametrize(
    "text", ["", " ", "'", '"', "*", "-", "—", "😀", "^()", "_", "xyzzyx", "qqq qqq", "zz", "\x00"]
)
def test_what_finds_nothing(con: sqlite3.Connection, text: str) -> None:
    assert search.find(con, text) == []


def test_signs_of_the_query_language_are_only_signs(con: sqlite3.Connection) -> None:
    for text in (
        '"ferrow',
        "ferrow*",
        "ferrow)",
        "title:ferrow",
        "NOT ferrow",
        "ferrow OR",
        "NEAR(ferrow",
        "ferrow -- x",
    ):
        search.find(con, text)
    assert titles(con, '"ferrow*') == titles(con, "ferrow")


def test_no_more_than_asked_and_nothing_twice(con: sqlite3.Connection) -> None:
    assert len(titles(con, "willow", 5)) == 5
    assert titles(con, "willow", 0) == []
    found = search.find(con, "willow bank", 100)
    assert len(found) == len(set(found)) == 30
    assert len(search.find(con, "w", 7)) == 7


def test_many_hits_are_not_ranked_and_still_found(
    con: sqlite3.Connection, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(search, "_RANK_UP_TO", 10)
    assert len(titles(con, "willow", 20)) == 20


def test_a_hit_tells_kind_and_row(con: sqlite3.Connection) -> None:
    hit = search.find(con, "hv4471903")[0]
    assert (hit.kind, hit.id) == ("appliance", 1)
    assert hit.subtitle == "condensing boiler, airing cupboard · 14 Cooper's Rise, Port Ellery QX3 7TC"
    kinds = {found.kind for word in ("maud", "analyser", "r-2026-0001") for found in search.find(con, word)}
    assert kinds == {"customer", "premises", "visit", "instrument", "paper"}


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=40) | st.text(st.sampled_from("ferow'\"*():-^ 4€é"), max_size=30))
@example("\ud800")
@example("a" * 5000)
@example(" ".join("abcdefghijkl"))
@example("\U0010ffff\U0010fffd")
def test_any_text_is_harmless(con: sqlite3.Connection, text: str) -> None:
    found = search.find(con, text, 3)
    assert len(found) <= 3


@settings(max_examples=80, deadline=None)
@given(
    st.text("abc", max_size=7),
    st.integers(0, 7),
    st.sampled_from("abcx"),
    st.sampled_from(["put", "cut", "swap", "change"]),
)
def test_one_change_is_one_letter_apart(word: str, at: int, letter: str, change: str) -> None:
    at = min(at, len(word))
    other = {
        "put": word[:at] + letter + word[at:],
        "cut": word[:at] + word[at + 1 :],
        "swap": word[:at] + word[at : at + 2][::-1] + word[at + 2 :],
        "change": word[:at] + letter + word[at + 1 :],
    }[change]
    assert search.one_letter_apart(word, other)
    assert search.one_letter_apart(other, word)


@pytest.mark.parametrize(
    ("one", "other"),
    [("abcd", "badc"), ("abcd", "abxy"), ("abc", "abcde"), ("abc", "xaby"), ("ab", "cd"), ("abcx", "bayc")],
)
def test_two_changes_are_not(one: str, other: str) -> None:
    assert not search.one_letter_apart(one, other)
    assert not search.one_letter_apart(other, one)


def index_of(con: sqlite3.Connection) -> dict[str, list[tuple[object, ...]]]:
    return {
        table: [tuple(row) for row in con.execute(f"SELECT rowid, * FROM {table} ORDER BY rowid")]
        for table in ("finder", "finder_inner")
    }


def index_anew(con: sqlite3.Connection) -> dict[str, list[tuple[object, ...]]]:
    words, inner = [], []
    for kind, code in finder.CODES.items():
        for row in con.execute(f"SELECT * FROM finder_{kind}"):
            words.append((row["id"] * 8 + code, row["title"], row["subtitle"], row["text"]))
            if kind not in ("visit", "paper"):
                inner.append((row["id"] * 8 + code, f"{row['title']} {row['subtitle']} {row['text']}"))
    return {"finder": sorted(words), "finder_inner": sorted(inner)}


def test_the_index_follows_every_change(book: Book) -> None:
    visit = registered(book)
    with book.writing() as tx:
        visits.add_visit(tx, visit, [RESULT])
    assert index_of(book.con) == index_anew(book.con)
    work = visit.works[0]
    with book.writing() as tx:
        register.update_customer(tx, replace(visit.customer, name="Maud Tarrant"))
        register.update_premises(tx, replace(visit.premises, address=("9 Mole End",), postcode="QX8 8ZZ"))
        register.update_appliance(tx, replace(work.appliance, serial="NEW 777"))
        assert work.instrument is not None
        register.update_instrument(tx, replace(work.instrument, name="analyser 9"))
        tx.execute("UPDATE visit SET purpose = 'breakdown'")
        gone = register.add_customer(tx, Customer("Nobody"))
        tx.execute("DELETE FROM customer WHERE id = ?", (gone,))
    assert index_of(book.con) == index_anew(book.con)
    assert titles(book.con, "ferrow") == []
    assert titles(book.con, "tarrant") == ["Maud Tarrant", "9 Mole End QX8 8ZZ", "2026-11-20 breakdown"]
    assert titles(book.con, "qx88zz")[0] == "9 Mole End QX8 8ZZ"
    assert "Halvard Sund 24" in titles(book.con, "mole end")
    assert titles(book.con, "nobody") == []
    assert titles(book.con, "new777") == ["Halvard Sund 24"]
    for table in ("finder", "finder_inner"):
        book.con.execute(f"INSERT INTO {table} ({table}) VALUES ('integrity-check')")


def test_an_index_that_lost_a_row_is_told_as_damage(book: Book) -> None:
    with book.writing() as tx:
        register.add_customer(tx, Customer("Maud Ferrow"))
        tx.execute("DELETE FROM finder")
    with pytest.raises(BookProblem, match="finder of this book is damaged"):
        search.find(book.con, "errow")


def test_an_instrument_without_number_is_found(book: Book) -> None:
    with book.writing() as tx:
        register.add_instrument(tx, Instrument("spare"))
    assert [(hit.kind, hit.subtitle) for hit in search.find(book.con, "spare")] == [("instrument", "")]


def test_a_paper_names_its_premises(book: Book) -> None:
    visit = registered(book, VISIT)
    with book.writing() as tx:
        number = papers.next_number(tx, "R", 2026)
        at = dt.datetime(2026, 11, 20, tzinfo=dt.UTC)
        papers.add_sealed(
            tx, number=number, kind="service record", date=at.date(), issued_at=at, facts="{}", pdf=b"",
            premises_id=visit.premises.id, customer_id=visit.customer.id,
        )  # fmt: skip
    hit = next(hit for hit in search.find(book.con, "cooper") if hit.kind == "paper")
    assert hit.subtitle == f"service record · 2026-11-20 · {HOUSE}"
