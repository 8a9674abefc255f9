"""An appliance: its plate, its maker's limits, its last readings, its years, its visits and papers."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.bullet import VerdictPanel
from flueleaf.desktop.buttons import button
from flueleaf.desktop.charts.combustion_chart import CombustionChart
from flueleaf.desktop.charts.history_chart import HistoryChart
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.leaves.lists import (
    DUE_COLUMNS,
    PAPER_COLUMNS,
    VISIT_COLUMNS,
    add_list,
    due_rows,
    paper_rows,
    visit_rows,
)
from flueleaf.desktop.leaves.verdicts import JUDGED_COLUMNS, bullets, judged_rows, values_table
from flueleaf.desktop.margin.margin_section import MarginSection
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.section import Section
from flueleaf.domain.records.register import Appliance, MakerLimits, Window
from flueleaf.operations import pages
from flueleaf.operations.changes import Topic
from flueleaf.operations.facts import wording
from flueleaf.operations.pages import AppliancePage

MOST_BULLETS = 8
RATE_WORDS = {"max": "at maximum rate", "min": "at minimum rate", "mid": "at middle rate"}


class ApplianceLeaf(Leaf):
    """One appliance over the years."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._shown = pages.appliance_page(desk.book, int(place.key))
        self.watch(Topic.REGISTER, Topic.VISITS, Topic.PAPERS, Topic.DUE)
        self.fill()

    def fill(self) -> None:
        """From the latest reading back to the plate, then everything that happened."""
        page = self._shown = pages.appliance_page(self.desk.book, int(self.place.key))
        self.set_heading(name_of(page.appliance), _where(page), page.appliance.location)
        self._add_last(page)
        years = self.add_section(Section("over the years"))
        years.add_widget(HistoryChart(page))
        oxygen = self.add_section(Section("combustion"))
        oxygen.add_widget(CombustionChart(page))
        self._add_plate(page.appliance)
        _add_limits(self.add_section(Section("maker’s limits")), page.appliance.limits)
        add_list(self, "due", DUE_COLUMNS, due_rows(page.due, self.desk.today()), empty="Nothing is due.")
        add_list(self, "visits", VISIT_COLUMNS, visit_rows(page.visits))
        add_list(self, "papers", PAPER_COLUMNS, paper_rows(page.papers))

    def margin_widgets(self) -> Sequence[QWidget]:
        """The last verdicts as graphs."""
        shown = bullets(self._shown.last)
        if not shown:
            return (MarginSection("verdicts", ("No readings yet: nothing is judged.",)),)
        block = MarginSection(f"verdicts of {long_date(self._shown.last[0].date)}")
        for facts in shown[:MOST_BULLETS]:
            block.add_widget(VerdictPanel(facts))
        return (block,)

    def premises_key(self) -> str:
        """The premises it stands in."""
        return str(self._shown.premises.id)

    def commands(self) -> tuple[Command, ...]:
        """Going on from here."""
        return (
            Command("Edit appliance", ("Ctrl+E",), self._edit),
            Command("To its premises", ("Ctrl+Shift+O",), self._to_premises),
        )

    def _add_last(self, page: AppliancePage) -> None:
        day = long_date(page.last[0].date) if page.last else "none yet"
        section = self.add_section(Section("last readings", day))
        if not page.last:
            section.add_fact("readings", "No slip has been entered for this appliance.")
        else:
            columns, rows = values_table(page.last)
            section.add_widget(RowsPanel("appliance.readings", "last readings", columns, rows))
            judged = judged_rows(page.last)
            section.add_widget(RowsPanel("appliance.judged", "verdicts", JUDGED_COLUMNS, judged))
        section.add_buttons(button("New visit", "appliance.new_visit", self._new_visit, primary=True))

    def _add_plate(self, appliance: Appliance) -> None:
        section = self.add_section(Section("plate"))
        for name, text in plate_facts(appliance):
            if text:
                section.add_fact(name, text)
        section.add_buttons(button("Edit appliance", "appliance.edit", self._edit))

    def _new_visit(self) -> None:
        self.place_wanted.emit(Place("visit", within=self.premises_key()))

    def _edit(self) -> None:
        self.place_wanted.emit(Place("appliance_form", self.place.key, str(self._shown.premises.id)))

    def _to_premises(self) -> None:
        self.place_wanted.emit(Place("premises", str(self._shown.premises.id)))


def name_of(appliance: Appliance) -> str:
    """Return what an appliance is called: its make and model, else its kind."""
    return f"{appliance.make} {appliance.model}".strip() or appliance.kind


def plate_facts(appliance: Appliance) -> tuple[tuple[str, str], ...]:
    """Return the plate as names and texts, "" where nothing is known."""
    rated = appliance.rated_input
    kw = ""
    if rated is not None and rated.max_kw is not None:
        low = f"{rated.min_kw:f} to " if rated.min_kw is not None else ""
        kw = f"{low}{rated.max_kw:f} kW {rated.basis}"
    return (
        ("kind", appliance.kind),
        ("make", appliance.make),
        ("model", appliance.model),
        ("serial", appliance.serial),
        ("fuel", appliance.fuel),
        ("flue", appliance.flue),
        ("rated input", kw),
        ("test points", ", ".join(appliance.test_points)),
        ("installed", long_date(appliance.installed) if appliance.installed else ""),
    )


def _where(page: AppliancePage) -> str:
    return f"{', '.join(page.premises.address)} {page.premises.postcode} · {page.customer.name}"


def _add_limits(section: Section, limits: MakerLimits | None) -> None:
    facts: list[tuple[str, str]] = []
    if limits is not None:
        facts += [("CO", f"at most {limits.co_ppm} ppm")] if limits.co_ppm is not None else []
        facts += (
            [("CO/CO2 ratio", f"at most {wording.value_text('ratio', limits.ratio)}")]
            if limits.ratio is not None
            else []
        )
        facts += [("smoke number", f"at most {limits.smoke}")] if limits.smoke is not None else []
        facts += [(f"CO2 {RATE_WORDS[rate]}", _span(window)) for rate, window in limits.co2_pct.items()]
        facts += [(f"O2 {RATE_WORDS[rate]}", _span(window)) for rate, window in limits.o2_pct.items()]
        facts += [("source", limits.source)] if limits.source else []
    if not facts:
        section.set_caution(
            "None entered: the rule table’s limits stand. The maker’s instructions come first."
        )
    for name, text in facts:
        section.add_fact(name, text)


def _span(window: Window) -> str:
    return f"{window.low} to {window.high} %"


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of the appliance with the id ``place.key``."""
    return ApplianceLeaf(desk, place)
