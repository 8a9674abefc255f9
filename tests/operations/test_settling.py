from __future__ import annotations

import datetime as dt
from decimal import Decimal
from pathlib import Path

import pytest

from flueleaf.domain.problems import Refused, UserProblem
from flueleaf.domain.records.register import Instrument
from flueleaf.operations import book as books
from flueleaf.operations import register, settling
from flueleaf.operations.settling import settle_document
from flueleaf.storage import attachments

STILL = "".join(f"{t};60;4,{8 + t % 2}\n" for t in range(100)).encode()


def test_the_document_has_the_keys_of_the_contract_in_their_order() -> None:
    found = settle_document(b"Time [s];CO [ppm];O2 [%]\n" + STILL, name="run.csv", named={})
    assert list(found) == [
        "settled", "from_s", "to_s", "co_ppm", "o2_pct", "co2_pct", "slope_ppm_per_min", "spread_ppm",
    ]  # fmt: skip
    assert [found[key] for key in ("settled", "from_s", "to_s", "co_ppm", "co2_pct")] == [
        True,
        0,
        60,
        60,
        None,
    ]
    assert float(found["o2_pct"]) == 4.8


def test_what_never_settles_has_no_window_and_no_value() -> None:
    text = "t,co\n" + "".join(f"{t},{60 + t}\n" for t in range(100))
    found = settle_document(text.encode(), name="run.csv", named={})
    assert [found[key] for key in ("settled", "from_s", "to_s", "co_ppm", "o2_pct", "co2_pct")] == [
        False, None, None, None, None, None,
    ]  # fmt: skip
    assert found["slope_ppm_per_min"] == pytest.approx(60)
    assert found["spread_ppm"] == pytest.approx(0)


def test_columns_are_named_as_the_options_are() -> None:
    with pytest.raises(Refused, match=r"--time: missing.*\n--co: missing"):
        settle_document(b"a;b;c\n" + STILL, name="run.csv", named={})
    with pytest.raises(Refused, match="--o2: “z” is not accepted"):
        settle_document(b"a;b;c\n" + STILL, name="run.csv", named={"time": "a", "co_ppm": "b", "o2_pct": "z"})


NOON = dt.datetime(2026, 11, 26, 12, 0, tzinfo=dt.UTC)
WORDS = {"time": "time", "co_ppm": "CO", "o2_pct": "O2", "co2_pct": "CO2"}


def test_a_file_is_looked_at_whether_or_not_its_columns_are_known() -> None:
    page = settling.look(b"Zeit;CO;O2\n" + STILL, name="run.csv", named={"time": "gone"}, wheres=WORDS)
    assert page.header == ("Zeit", "CO", "O2")
    assert len(page.samples) == settling.SAMPLES
    assert page.columns == {"time": "Zeit", "co_ppm": "CO", "o2_pct": "O2"}
    assert page.settling is not None
    assert page.settling.settled
    assert settling.texts_of(page.settling) == {"co_ppm": "60", "o2_pct": "4.8"}
    unknown = settling.look(b"a;CO;c\n" + STILL, name="run.csv", named={}, wheres=WORDS)
    assert (unknown.columns, unknown.settling) == ({"co_ppm": "CO"}, None)
    assert unknown.problem.startswith("time: missing")
    chosen = settling.look(b"a;CO;c\n" + STILL, name="run.csv", named={"time": "a"}, wheres=WORDS)
    assert chosen.problem == ""


def test_medians_keep_their_digits() -> None:
    rows = "".join(f"{t},{'0.0060' if t % 2 else '0.0061'}\n" for t in range(62))
    page = settling.look(f"t,CO %\n{rows}".encode(), name="run.csv", named={}, wheres=WORDS)
    assert page.settling is not None
    assert settling.texts_of(page.settling)["co_ppm"] == "61"


def test_values_typed_at_intervals_settle() -> None:
    typed = [
        (NOON + dt.timedelta(seconds=15 * n), Decimal(value)) for n, value in enumerate([90, 75] + [61] * 6)
    ]
    assert not settling.typed_so_far(typed[:5]).settled
    found = settling.typed_so_far(typed)
    assert (found.settled, found.medians) == (True, {"co_ppm": Decimal(61)})
    assert not settling.typed_so_far([]).settled
    back = [*typed[:3], (NOON, Decimal(61))]  # the clock was set back
    assert settling.typed_so_far(back).to_s == 30


def test_an_analyser_remembers_its_columns(tmp_path: Path) -> None:
    with books.create(tmp_path / "a.book") as book:
        register.save_instrument(book, Instrument("analyser 1"))
        known = register.choices(book).instruments[0]
        assert known.id is not None
        for _ in range(2):
            settling.remember_columns(book, known.id, {"time": "Uhr", "co_ppm": "Wert"})
        assert settling.columns_known(book, known.id) == {"time": "Uhr", "co_ppm": "Wert"}


def test_a_run_is_kept_as_it_is_unless_it_is_too_long(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with books.create(tmp_path / "a.book") as book:
        assert settling.keep_run(book, "v", STILL, now=NOON)
        rows = attachments.of_visit(book.con, "v")
        assert [(row.kind, row.media_type) for row in rows] == [("other", "text/csv")]
        assert attachments.body(book.con, rows[0].id) == STILL
        monkeypatch.setattr(settling, "MOST_KEPT_BYTES", 10)
        assert not settling.keep_run(book, "v", STILL + b"x", now=NOON)
        assert len(attachments.of_visit(book.con, "v")) == 1


def test_a_kept_run_is_read_again_by_its_name(tmp_path: Path) -> None:
    with books.create(tmp_path / "a.book") as book:
        settling.keep_run(book, "v", STILL, name="run-7.csv, flue, high rate", now=NOON)
        settling.keep_run(book, "v", STILL + b"\n", name="x" * 500, now=NOON)
        settling.keep_run(book, "w", STILL, name="of another visit", now=NOON)
        first, second = settling.kept_runs(book, "v")
        assert first.name == "run-7.csv, flue, high rate"
        assert second.name == "x" * settling.LONGEST_NAME
        assert settling.run_of(book, first) == STILL
        assert settling.run_of(book, second) == STILL + b"\n"
        with pytest.raises(UserProblem, match="not in the book any more"):
            settling.run_of(book, settling.KeptRun(999, "gone"))


def test_a_file_that_is_gone_is_said(tmp_path: Path) -> None:
    with pytest.raises(UserProblem, match=r"gone\.csv cannot be read"):
        settling.read_file(tmp_path / "gone.csv")
