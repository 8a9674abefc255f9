from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flueleaf.domain.problems import Refused
from flueleaf.operations.intake import delimited
from flueleaf.operations.intake.delimited import decoded, sheet_of


def never(_cells: Sequence[str]) -> bool:
    return False


@pytest.mark.parametrize("delimiter", delimited.DELIMITERS)
def test_each_delimiter_is_found_beside_decimal_commas(delimiter: str) -> None:
    lines = [("t", "co", "o2"), ("0", "60", "4.8"), ("1", "61", "4.9")]
    text = "\n".join(delimiter.join(cells) for cells in lines)
    sheet = sheet_of(text if delimiter == "," else text.replace(".", ","), "run.csv", never)
    assert (sheet.delimiter, sheet.header) == (delimiter, ("t", "co", "o2"))
    assert [line for line, _ in sheet.rows] == [2, 3]
    assert sheet.rows[0][1][:2] == ("0", "60")


def test_a_preamble_blank_lines_and_quotes_are_no_obstacle() -> None:
    text = 'Analyser;7\r\nmade;here\r\n\r\n"t; s"; co ;"o2 ""dry"""\r\n0;60;4,8\r\n\r\n1; 61 ;\r\n'
    sheet = sheet_of(text, "run.csv", never)
    assert sheet.header == ("t; s", "co", 'o2 "dry"')
    assert sheet.rows == ((5, ("0", "60", "4,8")), (7, ("1", "61", "")))


def test_a_header_that_is_looked_for_wins_over_a_wider_line() -> None:
    text = "a,b,c,d\n1,2,3,4\ntime,co\n0,60\n"
    assert sheet_of(text, "run.csv", never).header == ("a", "b", "c", "d")
    assert sheet_of(text, "run.csv", lambda cells: "co" in cells).header == ("time", "co")


def test_a_line_of_units_may_stand_below() -> None:
    assert sheet_of("t,co\ns,ppm\n0,60\n", "run.csv", never).header == ("t", "co")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_every_usual_encoding_is_read(encoding: str) -> None:
    text = "Zeit;CO;Wärme °C\n0;60;54\n"
    assert decoded(text.encode(encoding), "run.csv") == text


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\n\n",
        b"only words",
        b"a,b\n",
        b"a,b\nc,d\ne,f\n",
        b"1,2\n3,4\n",
        bytes(range(256)) * 4,
        b"\x89PNG\0\0",
    ],
)
def test_what_is_no_table_is_refused_by_its_name(data: bytes) -> None:
    with pytest.raises(Refused, match=r"run\.csv: missing; accepted: a text file with a header"):
        sheet_of(decoded(data, "run.csv"), "run.csv", never)


def test_too_much_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(delimited, "MOST_ROWS", 2)
    sheet_of("t,co\n0,1\n1,1\n", "run.csv", never)
    with pytest.raises(Refused, match=r"“3” is not accepted; accepted: at most 2 lines"):
        sheet_of("t,co\n0,1\n1,1\n2,1\n", "run.csv", never)
    monkeypatch.setattr(delimited, "MOST_BYTES", 3)
    with pytest.raises(Refused, match="at most 3 bytes"):
        decoded(b"0123", "run.csv")


def test_a_cell_beyond_all_measure_is_refused() -> None:
    long = "x" * 140_000
    with pytest.raises(Refused, match=r"run\.csv"):
        sheet_of(f"t,co\n0,1\n{long},2\n", "run.csv", never)


@given(st.text(max_size=200) | st.binary(max_size=200))
def test_anything_is_read_or_refused(given_: str | bytes) -> None:
    data = given_ if isinstance(given_, bytes) else given_.encode("utf-8", "surrogatepass")
    try:
        sheet = sheet_of(decoded(data, "run.csv"), "run.csv", never)
    except Refused:
        return
    assert len(sheet.header) >= 2
