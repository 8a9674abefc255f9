"""The evening on the command line: what it gives, and every refusal of the contract."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Document = dict[str, Any]


def _papers_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.glob("*")) if folder.exists() else []


def test_the_documented_evening(
    evening: Any, call: Any, book: Path, document: Document, tmp_path: Path
) -> None:
    said = evening(document)
    assert (said.code, said.error) == (0, "")
    answer = said.answer
    assert answer["visit_id"] == document["visit_id"]
    assert answer["verdict"] == "within"
    assert answer["doubts"] == []
    assert [(paper["number"], paper["kind"]) for paper in answer["papers"]] == [
        ("R-2026-0001", "commissioning record"),
        ("I-2026-0001", "invoice"),
    ]
    assert answer["due"] == [{"date": "2027-11-20", "rule": "yearly service"}]
    assert _papers_in(tmp_path / "out") == ["I-2026-0001.pdf", "R-2026-0001.pdf"]
    listed = call("papers", book).answer
    assert [row["fingerprint"] for row in listed] == [paper["fingerprint"] for paper in answer["papers"]]
    assert {row["customer"] for row in listed} == {document["customer"]["name"]}
    for paper in answer["papers"]:
        out = tmp_path / "again.pdf"
        assert call("paper", book, paper["number"], "--out", out).code == 0
        assert out.read_bytes() == Path(paper["file"]).read_bytes()
    assert call("verify", book).answer == {"ok": True, "papers": 2, "faults": []}


def test_equal_input_gives_equal_papers(
    call: Any, blank_book: Path, document: Document, tmp_path: Path
) -> None:
    made = []
    for name in ("one", "two"):
        folder = tmp_path / name
        folder.mkdir()
        (folder / "a.book").write_bytes(blank_book.read_bytes())
        (folder / "e.json").write_text(json.dumps(document), encoding="utf-8")
        assert call("evening", folder / "a.book", folder / "e.json", "--out", folder / "out").code == 0
        made.append({path.name: path.read_bytes() for path in (folder / "out").iterdir()})
    assert made[0] == made[1]


def test_the_same_visit_again_is_refused(evening: Any, document: Document, call: Any, book: Path) -> None:
    assert evening(document).code == 0
    said = evening(document)
    assert said.code == 2
    assert said.error.startswith("visit_id: ")
    assert len(call("papers", book).answer) == 2


def test_known_people_and_things_are_found_not_doubled(
    evening: Any, document: Document, call: Any, book: Path
) -> None:
    assert evening(document).code == 0
    document["visit_id"] = "00000000-0000-4000-8000-000000000001"
    document["customer"]["name"] = document["customer"]["name"].upper()
    assert evening(document).code == 0
    for word, kinds in (
        (document["customer"]["name"], {"customer"}),
        (document["works"][0]["appliance"]["serial"], {"appliance"}),
    ):
        hits = [hit for hit in call("find", book, word).answer if hit["kind"] in kinds]
        assert len(hits) == 1, hits


def _missing_name(d: Document) -> None:
    del d["customer"]["name"]


def _misspelt(d: Document) -> None:
    d["works"][0]["slips"][1]["co_pmm"] = 3


def _comma(d: Document) -> None:
    d["works"][0]["slips"][1]["o2_pct"] = "4,8"


def _unit(d: Document) -> None:
    d["works"][0]["slips"][1]["flue_c"] = "54 °C"


def _range(d: Document) -> None:
    d["works"][0]["slips"][1]["o2_pct"] = 25.1


def _future(d: Document) -> None:
    d["date"] = "2026-11-26"


def _not_closed(d: Document) -> None:
    d["works"][0]["close_up"]["flue"] = False


def _not_sure(d: Document) -> None:
    d["works"][0]["close_up"]["air inlet"] = "not sure"


def _no_close_up(d: Document) -> None:
    del d["works"][0]["close_up"]


def _over(d: Document) -> None:
    d["works"][0]["slips"][1]["co_ppm"] = 900
    d["works"][0]["slips"][1].pop("ratio", None)


def _unjudged(d: Document) -> None:
    d["works"][0]["slips"][2].pop("co_ppm")


def _slip_missing(d: Document) -> None:
    d["works"][0]["slips"].pop()


def _unknown_check(d: Document) -> None:
    d["works"][0]["checks"][0]["key"] = "no_such_check"


def _wrong_record(d: Document) -> None:
    d["papers"] = ["service record"]


def _no_such_paper(d: Document) -> None:
    d["papers"] = ["certificate of nothing"]


def _no_lines(d: Document) -> None:
    d["lines"] = []


def _nobody_signed(d: Document) -> None:
    del d["sign_off"]


def _no_uuid(d: Document) -> None:
    d["visit_id"] = "tonight"


def _no_vat_rate(d: Document) -> None:
    del d["lines"][0]["vat_pct"]


def _left_before_arrival(d: Document) -> None:
    d["left"] = "08:00"


def _nobody_to_classify(d: Document) -> None:
    d["works"][0]["defects"] = [{"text": "a worn seal"}]


REFUSED: list[tuple[Callable[[Document], None], str, str]] = [
    (_missing_name, "customer.name", "missing"),
    (_misspelt, "works[0].slips[1].co_pmm", "co_ppm"),
    (_comma, "works[0].slips[1].o2_pct", "4.8"),
    (_unit, "works[0].slips[1].flue_c", "54 °C"),
    (_range, "works[0].slips[1].o2_pct", "25"),
    (_future, "date", "2026-11-25"),
    (_not_closed, "works[0].close_up.flue", "refitted"),
    (_not_sure, "works[0].close_up.air inlet", "not sure"),
    (_no_close_up, "works[0].close_up.flue", "missing"),
    (_over, "works[0].outcome", "over its limit"),
    (_unjudged, "works[0].outcome", "unjudged"),
    (_slip_missing, "works[0].slips", "not_measured"),
    (_unknown_check, "works[0].checks[0].key", "no_such_check"),
    (_wrong_record, "papers", "service record"),
    (_no_such_paper, "papers", "commissioning record"),
    (_no_lines, "lines", "at least one line"),
    (_nobody_signed, "sign_off", "who signed"),
    (_no_uuid, "visit_id", "UUID"),
    (_no_vat_rate, "lines[0].vat_pct", "20"),
    (_left_before_arrival, "left", "09:10"),
    (_nobody_to_classify, "works[0].defects[0].class", "at risk"),
]


@pytest.mark.parametrize(
    ("spoil", "where", "says"), REFUSED, ids=[spoil.__name__[1:] for spoil, _, _ in REFUSED]
)
def test_refused_with_place_value_and_what_is_accepted(
    evening: Any,
    book: Path,
    document: Document,
    tmp_path: Path,
    spoil: Callable[[Document], None],
    where: str,
    says: str,
) -> None:
    before = book.read_bytes()
    spoil(document)
    said = evening(document)
    assert said.code == 2
    assert said.answer is None
    lines = [line for line in said.error.splitlines() if line.startswith(where + ":")]
    assert lines, said.error
    assert says in lines[0]
    assert "accepted:" in lines[0]
    assert book.read_bytes() == before
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("outcome", ["isolated", "made safe"])
def test_an_open_test_point_does_not_hold_up_an_appliance_with_the_gas_off(
    evening: Any, document: Document, outcome: str
) -> None:
    document["works"][0]["close_up"]["flue"] = "not sure"
    document["works"][0]["outcome"] = outcome
    assert evening(document).code == 0


def test_an_over_reading_may_be_left_in_use_only_with_notes(evening: Any, document: Document) -> None:
    _over(document)
    document["works"][0]["outcome"] = "left in use with notes"
    said = evening(document)
    assert (said.code, said.answer["verdict"]) == (0, "over")


def test_a_slip_that_could_not_be_had_is_named_with_its_reason(evening: Any, document: Document) -> None:
    slip = document["works"][0]["slips"].pop()
    document["works"][0]["not_measured"] = [
        {"point": slip["point"], "rate": slip["rate"], "reason": "no way to force the low rate"}
    ]
    assert evening(document).code == 0


def test_the_last_attempt_decides(evening: Any, document: Document) -> None:
    slips = document["works"][0]["slips"]
    failed = copy.deepcopy(slips[1])
    failed.update(co_ppm=1200, attempt=1)
    failed.pop("ratio", None)
    slips[1]["attempt"] = 2
    slips.insert(1, failed)
    assert evening(document).answer["verdict"] == "within"


def test_a_quote_and_the_invoice_it_becomes(evening: Any, document: Document) -> None:
    document["papers"] = ["invoice", "quote"]
    numbers = [paper["number"] for paper in evening(document).answer["papers"]]
    assert numbers == ["Q-2026-0001", "I-2026-0001"]


@pytest.mark.parametrize("text", ["", "{", "[]", '"evening"', "nul\x00", '{"visit_id": 1, "visit_id": 2}'])
def test_what_is_no_document_is_refused(evening: Any, text: str) -> None:
    said = evening(text)
    assert said.code == 2
    assert "Traceback" not in said.error


def test_a_document_that_is_not_there(call: Any, book: Path, tmp_path: Path) -> None:
    said = call("evening", book, tmp_path / "none.json", "--out", tmp_path / "out")
    assert said.code == 2
    assert "none.json" in said.error


def test_a_book_that_is_missing_or_no_book(call: Any, tmp_path: Path, document: Document) -> None:
    file = tmp_path / "e.json"
    file.write_text(json.dumps(document), encoding="utf-8")
    (tmp_path / "no.book").write_text("this is a shopping list", encoding="utf-8")
    for name in ("missing.book", "no.book"):
        said = call("evening", tmp_path / name, file, "--out", tmp_path / "out")
        assert said.code == 3
        assert name in said.error
    assert not (tmp_path / "missing.book").exists()
    assert (tmp_path / "no.book").read_text(encoding="utf-8") == "this is a shopping list"


def test_a_folder_that_takes_no_file_is_refused_before_anything_is_sealed(
    evening: Any, call: Any, book: Path, document: Document, tmp_path: Path
) -> None:
    (tmp_path / "out").write_text("a file in the way", encoding="utf-8")
    said = evening(document)
    assert said.code == 2
    assert said.error.startswith("--out: ")
    assert call("papers", book).answer == []


def test_a_refusal_takes_back_the_folders_it_made_and_no_others(
    call: Any, book: Path, document: Document, tmp_path: Path
) -> None:
    _over(document)
    file = tmp_path / "e.json"
    file.write_text(json.dumps(document), encoding="utf-8")
    (tmp_path / "there").mkdir()
    for folder in (tmp_path / "there" / "a" / "b", tmp_path / "there"):
        assert call("evening", book, file, "--out", folder).code == 2
    assert list((tmp_path / "there").iterdir()) == []
