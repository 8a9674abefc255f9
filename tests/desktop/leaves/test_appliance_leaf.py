from __future__ import annotations

import uuid
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton

from flueleaf.desktop.bullet import VerdictPanel
from flueleaf.desktop.charts.chart_panel import ChartPanel
from flueleaf.desktop.leaves.appliance_leaf import drift_name
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.operations import drafting, pages
from flueleaf.operations.intake.reader import load_json
from flueleaf.paths import DEMO_DB

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from flueleaf.desktop.leaf import Leaf
    from flueleaf.desktop.window import MainWindow

PLACE = Place("appliance", "1")


def test_it_shows_the_last_readings_as_the_book_has_them(window: MainWindow) -> None:
    window.go(PLACE)
    assert window.leaf is not None
    page = pages.appliance_page(window.desk.book, 1)
    table = window.leaf.findChild(RowsPanel, "appliance.readings")
    assert table is not None
    cells = {row.cells[0]: row.cells[1:] for row in table.rows_model.rows}
    for at, slip in enumerate(page.last):
        if "co_ppm" in slip.values:
            assert cells["CO, ppm"][at] == str(slip.values["co_ppm"])
    judged = window.leaf.findChild(RowsPanel, "appliance.judged")
    assert judged is not None
    assert {row.cells[-1] for row in judged.rows_model.rows} <= {"within", "near", "over", "unjudged"}


def test_every_button_is_there_once(window: MainWindow) -> None:
    window.go(PLACE)
    assert window.leaf is not None
    names = [made.objectName() for made in window.leaf.findChildren(QPushButton)]
    assert sorted(names) == sorted(set(names))
    assert "appliance.new_visit" in names


def test_the_margin_has_a_graph_per_verdict(window: MainWindow) -> None:
    window.go(PLACE)
    panels = window.margin.findChildren(VerdictPanel)
    assert panels
    assert all(panel.accessibleName() for panel in panels)


def test_the_charts_are_drawn_after_their_library_came(qtbot: QtBot, window: MainWindow) -> None:
    window.go(PLACE)
    assert window.leaf is not None
    charts = window.leaf.findChildren(ChartPanel)
    assert [chart.objectName() for chart in charts] == ["chart.history", "chart.combustion"]
    qtbot.waitUntil(lambda: all(chart.is_drawn for chart in charts), timeout=60_000)
    for chart in charts:
        words = [text.text() for text in chart.findChildren(QLabel)]
        assert chart.accessibleName() in words
    light = charts[0].grab().toImage()
    window.keeper.set_dark(True)
    assert charts[0].grab().toImage() != light


def flueless(window: MainWindow, *, slips: list[dict[str, str]]) -> MainWindow:
    """Sign a visit to a hob off and open the leaf of that hob."""
    document = load_json((DEMO_DB / "evening.json").read_text(encoding="utf-8"))
    work = document["works"][0]
    appliance = {"kind": "hob", "make": "Marlpit", "model": "Flat 4", "location": "kitchen",
                 "fuel": "natural gas", "flue": "none"}  # fmt: skip
    document["works"] = [
        {"appliance": appliance, "instrument": work["instrument"], "slips": slips,
         "outcome": "left in use with notes"}
    ]  # fmt: skip
    document |= {"visit_id": str(uuid.uuid4()), "purpose": "service", "papers": [], "lines": []}
    book = window.desk.book
    drafting.sign_off(book, document, issued_at=window.desk.now(), today=window.desk.today())
    hob = book.con.execute("SELECT id FROM appliance WHERE kind = 'hob'").fetchone()["id"]
    window.go(Place("appliance", str(hob)))
    return window


def test_without_a_flue_what_was_measured_above_the_hob_is_drawn(window: MainWindow) -> None:
    leaf = flueless(window, slips=[{"point": "hob", "rate": "max", "co_ppm": "44", "co2_pct": "1.6"}]).leaf
    assert leaf is not None
    (chart,) = leaf.findChildren(ChartPanel)
    assert chart.accessibleName().startswith("CO/CO2 ratio, hob: at high rate 1 reading, 0.0028; last")
    assert chart.accessibleName().endswith("unjudged; no limit is known.")
    assert "Without a flue O2 is not held against CO2: there is nothing to draw." in words(leaf)


def test_a_slip_that_nothing_judges_is_told_as_that(window: MainWindow) -> None:
    slips = [{"point": "room", "rate": "max", "co_ppm": "2"}]
    leaf = flueless(window, slips=slips).leaf
    assert leaf is not None
    assert leaf.findChild(RowsPanel, "appliance.readings") is not None
    assert leaf.findChild(RowsPanel, "appliance.judged") is None
    told = {label.text() for label in window.margin.findChildren(QLabel)}
    assert "No limit is known: nothing is judged." in told


def test_without_a_flue_and_a_slip_it_is_said_that_there_is_nothing_to_draw(window: MainWindow) -> None:
    leaf = flueless(window, slips=[]).leaf
    assert leaf is not None
    assert leaf.findChildren(ChartPanel) == []
    assert "Nothing was measured at its points yet: there is nothing to draw." in words(leaf)


def words(leaf: Leaf) -> set[str]:
    return {label.text() for label in leaf.findChildren(QLabel)}


def test_each_drift_is_a_sentence_under_the_chart(window: MainWindow) -> None:
    window.go(PLACE)
    assert window.leaf is not None
    page = pages.appliance_page(window.desk.book, 1)
    assert page.drifts
    names = {label.accessibleName() for label in window.leaf.findChildren(QLabel)}
    for row in page.drifts:
        name = drift_name(row)
        assert f"{name}: no drift can be claimed from 1 reading" in names
    assert "CO, high rate" in {drift_name(row) for row in page.drifts}


def test_going_on_by_keyboard(qtbot: QtBot, window: MainWindow) -> None:
    window.go(PLACE)
    assert window.leaf is not None
    edit = window.leaf.findChild(QPushButton, "appliance.edit")
    assert edit is not None
    edit.setFocus()
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert window.leaf.place.leaf == "appliance_form"
    assert window.leaf.title == pages.appliance_page(window.desk.book, 1).appliance.make + " " + (
        pages.appliance_page(window.desk.book, 1).appliance.model
    )
