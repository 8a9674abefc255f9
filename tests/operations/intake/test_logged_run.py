from __future__ import annotations

from decimal import Decimal

import pytest

from flueleaf.domain.problems import Refused
from flueleaf.operations.intake import logged_run
from flueleaf.operations.intake.log_columns import KEYS
from flueleaf.operations.intake.logged_run import LoggedRun, read_run, read_sheet

WHERES = {key: key for key in KEYS}


def run(text: str, **named: str) -> LoggedRun:
    return read_run(read_sheet(text.encode(), "run.csv", named), named, WHERES)


def refusal(text: str, **named: str) -> list[str]:
    with pytest.raises(Refused) as caught:
        run(text, **named)
    return [fault.text for fault in caught.value.faults]


def read(text: str, key: str = "co_ppm") -> list[tuple[str, str]]:
    trace = run(text).traces[key]
    return [(str(t), str(v)) for t, v in zip(trace.times_s, trace.values, strict=True)]


def test_what_is_not_there_is_no_zero() -> None:
    text = "time,co,o2\n0,60,4.8\n1,,\n2,NaN,4.9\n3,---\n4,0,5.0\n,61,\n"
    assert read(text) == [("0", "60"), ("4", "0")]
    assert read(text, "o2_pct") == [("0", "4.8"), ("2", "4.9"), ("4", "5.0")]
    assert run("time,co\n").traces["co_ppm"].values == []


def test_a_cell_that_is_no_number_is_refused_with_its_line() -> None:
    assert refusal("time,co\n0,60\n\nx,61\n2,6I\n3,-1\n4,100001\n") == [
        "line 4, time: “x” is not accepted; accepted: a time written as in the lines above, or an empty cell",
        "line 5, co: “6I” is not accepted; accepted: a number from 0 to 100,000 ppm, or an empty cell",
        "line 6, co: “-1” is not accepted; accepted: a number from 0 to 100,000 ppm, or an empty cell",
        "line 7, co: “100001” is not accepted; accepted: a number from 0 to 100,000 ppm, or an empty cell",
    ]
    assert refusal("time,co\n14:03,60\n")[0].endswith("a header such as “Time [mm:ss]”")
    many = refusal("time,co\n" + "".join(f"{n},x\n" for n in range(99)))
    assert len(many) == logged_run.MOST_FAULTS
    both = refusal("time,co\n0,1\n" + "".join("x,x\n" for _ in range(99)))
    assert [one.split(":")[0] for one in both[:3]] == ["line 3, time", "line 3, co", "line 4, time"]


def test_more_cells_than_names_are_refused_and_fewer_are_empty() -> None:
    assert refusal("time,co\n0,5,60,3\n") == [
        "line 2: “0,5,60,3” is not accepted; accepted: 2 cells, as the header"
    ]
    assert read("time,co\n0,60,\n1\n2,61,,\n") == [("0", "60"), ("2", "61")]


def test_times_of_every_kind_become_seconds() -> None:
    assert read("Time [min],CO\n0.5,60\n1,61\n") == [("30.0", "60"), ("60", "61")]
    assert read("Time [mm:ss],CO\n1:05,60\n1:06,61\n") == [("65", "60"), ("66", "61")]
    assert read("Time,CO\n10:00:00,60\n10:00:02.5,61\n") == [("0", "60"), ("2.5", "61")]
    assert read("Time,CO\n23:59:58,60\n00:00:01,61\n") == [("0", "60"), ("3", "61")]
    assert read("Time,CO\n2026-11-20T23:59:58,60\n2026-11-21T00:00:01,61\n") == [("0", "60"), ("3", "61")]
    assert read("Time,CO\n2026-11-20T10:00:00Z,60\n2026-11-20T12:00:03+02:00,61\n") == [
        ("0", "60"),
        ("3", "61"),
    ]
    assert read("t,CO\n100,60\n101 s,61\n") == [("100", "60"), ("101", "61")], "as the analyser counts"


def test_a_run_with_the_newest_line_first_is_turned_round() -> None:
    assert read("t,CO\n2,62\n1,\n0,60\n") == [("0", "60"), ("2", "62")]
    assert read("t,CO\n00:00:01,61\n23:59:59,60\n") == [("0", "60"), ("2", "61")]


def test_a_run_that_goes_back_and_forth_is_refused() -> None:
    assert refusal("t,CO\n0,60\n5,60\n3,60\n") == [
        "line 4, t: “3” is not accepted; accepted: a time not before that of the line above"
    ]
    assert read("t,CO\n0,60\n0,61\n") == [("0", "60"), ("0", "61")]


def test_decimal_commas_are_read_where_they_are_meant() -> None:
    assert read("t;CO\n0,5;60,5\n1,0;1,234\n") == [("0.5", "60.5"), ("1.0", "1.234")]
    assert "“1,234” is not accepted" in refusal("t;CO\n0;1,234\n")[0]
    assert "“60,5” is not accepted" in refusal("t;CO\n0,5;60,5\n1.5;60.5\n")[1]


def test_a_line_of_units_counts() -> None:
    assert read("t;CO\nmin;%\n1;0,006\n") == [("60", "60.000")]
    assert read("t;CO\n-;ppm\n1;6\n") == [("1", "6")]
    assert refusal("t;CO [mg/m3]\n1;0,006\n") == [
        "co_ppm: “CO [mg/m3]” is not accepted; accepted: a column in ppm, %"
    ]
    assert refusal("t;CO %\n1;11\n") == [
        "line 2, CO %: “11” is not accepted; accepted: a number from 0 to 10 %, or an empty cell"
    ]


@pytest.mark.parametrize(
    ("text", "key", "digit"),
    [
        ("t,co\n0,60\n", "co_ppm", "1"),
        ("t,co\n0,60.25\n", "co_ppm", "1"),  # finer than a display shows
        ("t,co,o2\n0,60,4.8\n1,60,5\n", "o2_pct", "0.1"),
        ("t,co,o2\n0,60,4.82\n", "o2_pct", "0.1"),
        ("t,co,o2\n0,60,5\n", "o2_pct", "1"),
        ("t,co %\n0,0.006\n", "co_ppm", "10"),
        ("t,co %\n0,0.0061\n", "co_ppm", "1"),
        ("t,co\n", "co_ppm", "1"),
    ],
)
def test_the_last_digit_is_that_of_the_column_but_no_finer_than_usual(
    text: str, key: str, digit: str
) -> None:
    assert run(text).traces[key].digit == Decimal(digit)


def test_columns_are_told_for_the_next_time() -> None:
    found = run("Uhr;A;Time\n0;60;x\n1;61;\n", time="uhr", co_ppm="A")
    assert found.columns == {"time": "Uhr", "co_ppm": "A"}
    with pytest.raises(Refused, match="co_ppm: missing"):
        run("Uhr;A\n0;60\n", time="uhr")


def beside(text: str, **named: str) -> dict[str, list[str]]:
    return {key: [str(v) for v in trace.values] for key, trace in run(text, **named).beside.items()}


@pytest.mark.parametrize(
    "header",
    [
        "Flue temp [°C],Air temp [°C]",
        "T flue,T air",
        "Flue (°C),Ambient (°C)",
        "Flue gas temperature C,Combustion air temp.",
        "Abgastemperatur,Verbrennungsluft [°C]",
    ],
)
def test_temperatures_are_read_along(header: str) -> None:
    found = run(f"time,co,{header}\n0,60,58.5,13.3\n1,61,58.6,-1.5\n")
    assert [found.columns["flue_c"], found.columns["air_c"]] == header.split(",")
    assert [str(v) for v in found.beside["flue_c"].values] == ["58.5", "58.6"]
    assert [str(v) for v in found.beside["air_c"].values] == ["13.3", "-1.5"]


def test_a_temperature_of_which_there_is_doubt_is_left_out() -> None:
    assert beside("time,co,Flue temp [°F],Air temp (F)\n0,60,137,55\n") == {}
    assert beside("time,co,Flue,Air\n0,60,1.3,58\n") == {}  # a share, a draught or an air factor as well
    assert beside("time,co,flue temp,air temp\ns,ppm,°F,°C\n0,60,137,13\n") == {"air_c": ["13"]}
    assert beside("time,co,flue temp,air temp\ns,ppm,-,\n0,60,57,13\n") == {
        "flue_c": ["57"], "air_c": ["13"],
    }  # fmt: skip
    assert beside("time,co,flue temp,flue gas temp\n0,60,57,58\n") == {}
    assert beside("time,co,Exhaust (F)\n0,60,137\n", flue_c="Exhaust (F)") == {}


def test_a_temperature_never_refuses_a_run() -> None:
    text = "time,co,T flue\n0,60,58\n1,61,ERR\n2,60,\n3,60,58 °C\n4,60,2000\n,60,57\n"
    assert beside(text) == {"flue_c": ["58", "58"]}
    assert [str(t) for t in run(text).beside["flue_c"].times_s] == ["0", "3"]
    assert beside("time,co,Probe 1\n0,60,58\n", flue_c="Probe 1") == {"flue_c": ["58"]}
    assert beside("time,co,T1\n0,60,58\n", flue_c="not there") == {}
    assert beside("time,co,T flue\n0,60,58\n", air_c="co") == {"flue_c": ["58"]}


def test_temperatures_of_a_run_with_the_newest_line_first_are_turned_round_as_well() -> None:
    found = run("time,co,T flue\n2,60,58\n1,61,57\n0,60,56\n").beside["flue_c"]
    assert [(str(t), str(v)) for t, v in zip(found.times_s, found.values, strict=True)] == [
        ("0", "56"), ("1", "57"), ("2", "58"),
    ]  # fmt: skip
