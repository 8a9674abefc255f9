"""An appliance: its plate, its maker's limits, its last readings, its years, its visits and papers."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QWidget

from flueleaf.desktop.bullet import VerdictPanel
from flueleaf.desktop.buttons import button
from flueleaf.desktop.charts.combustion_chart import CombustionChart, both_gases
from flueleaf.desktop.charts.flueless_chart import FluelessChart, measured_at
from flueleaf.desktop.charts.history_chart import HistoryChart
from flueleaf.desktop.command import Command
from flueleaf.desktop.desk import Desk
from flueleaf.desktop.fields.dates import long_date
from flueleaf.desktop.help.worked_out import due_at_hand, show_worked_out, worked_out_command
from flueleaf.desktop.help.worked_out_dialog import KEY
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
from flueleaf.desktop.noted_words import noted_groups
from flueleaf.desktop.photo.looking import Looking
from flueleaf.desktop.place import Place
from flueleaf.desktop.rows_panel import RowsPanel
from flueleaf.desktop.section import Section
from flueleaf.desktop.words import _
from flueleaf.domain.records.register import Appliance, MakerLimits, Window
from flueleaf.operations import explaining, pages, photos, tables
from flueleaf.operations.changes import Topic
from flueleaf.operations.drifts import told
from flueleaf.operations.explaining import Explanation
from flueleaf.operations.facts import wording
from flueleaf.operations.pages import AppliancePage, DriftRow

MOST_BULLETS = 8
RATE_WORDS = {"max": _("at high rate"), "min": _("at low rate"), "mid": _("at middle rate")}


class ApplianceLeaf(Leaf):
    """One appliance over the years."""

    def __init__(self, desk: Desk, place: Place) -> None:
        super().__init__(desk, place)
        self._shown = pages.appliance_page(desk.book, int(place.key))
        self._looking = Looking(self, lambda: photos.of_appliance(desk.book, int(place.key)))
        self.watch(Topic.REGISTER, Topic.VISITS, Topic.PAPERS, Topic.DUE)
        self.fill()

    def fill(self) -> None:
        """What is next, the latest readings, the years, the plate, then everything that happened."""
        page = self._shown = pages.appliance_page(self.desk.book, int(self.place.key))
        self.set_heading(name_of(page.appliance), _where(page), page.appliance.location)
        due = due_rows(page.due, self.desk.today())
        coming = add_list(self, "due", DUE_COLUMNS, due, title=_("due"), empty=_("Nothing is due."))
        coming.add_buttons(
            button(_("New visit"), "appliance.new_visit", self._new_visit, primary=True),
            *self._looking.buttons("appliance.photographs"),
        )
        self._add_last(page)
        self._add_years(page)
        self._add_combustion(page)
        self._add_plate(page.appliance)
        self._add_noted(page)
        _add_limits(self._section(_("maker’s limits"), "makers_limits"), page.appliance.limits)
        add_list(self, "visits", VISIT_COLUMNS, visit_rows(page.visits), title=_("visits"))
        add_list(self, "papers", PAPER_COLUMNS, paper_rows(page.papers), title=_("papers"))

    def margin_widgets(self) -> Sequence[QWidget]:
        """The last verdicts as graphs."""
        shown = bullets(self._shown.last)
        if not shown:
            why = _("No limit is known: nothing is judged.")
            if not self._shown.last:
                why = _("No readings yet: nothing is judged.")
            return (MarginSection(_("verdicts"), (why,), name="verdicts"),)
        block = MarginSection(
            _("verdicts of {date}", date=long_date(self._shown.last[0].date)), name="verdicts"
        )
        for facts in shown[:MOST_BULLETS]:
            panel = VerdictPanel(facts)
            panel.pressed.connect(lambda key: show_worked_out(self, self._explanations(), key))
            block.add_widget(panel)
        block.add_line(_("How this was worked out: {key}", key=KEY), "soft")
        return (block,)

    def premises_key(self) -> str:
        """The premises it stands in."""
        return str(self._shown.premises.id)

    def commands(self) -> tuple[Command, ...]:
        """Going on from here."""
        return (
            Command(_("Edit appliance"), ("Ctrl+E",), self._edit),
            Command(_("To its premises"), ("Ctrl+Shift+O",), self._to_premises),
            worked_out_command(self, self._explanations, lambda: due_at_hand(self, self._shown.due)),
            *self._looking.commands,
        )

    def _explanations(self) -> Sequence[Explanation]:
        return explaining.explain_appliance(self.desk.book, self._shown)

    def _section(self, title: str, name: str) -> Section:
        return self.add_section(Section(title, name=name))

    def _add_last(self, page: AppliancePage) -> None:
        section = self._section(_("last readings"), "last_readings")
        section.set_state(long_date(page.last[0].date) if page.last else _("none yet"))
        if not page.last:
            section.add_fact(_("readings"), _("No slip has been entered for this appliance."))
        else:
            columns, rows = values_table(page.last)
            section.add_widget(RowsPanel("appliance.readings", _("last readings"), columns, rows))
            if judged := judged_rows(page.last):
                section.add_widget(RowsPanel("appliance.judged", _("verdicts"), JUDGED_COLUMNS, judged))

    def _add_years(self, page: AppliancePage) -> None:
        """Draw what was measured over the years, or say that nothing was; then tell the drifts."""
        section = self._section(_("over the years"), "over_the_years")
        caution = _("Each slip against the limit; what the analyser of the day could not tell is shaded.")
        if any(row.drift.significant for row in page.drifts):
            caution += " " + _("A thin line is a drift, the thinner ones are the ends of its interval.")
        if page.appliance.flue != "none":
            section.add_widget(HistoryChart(page))
        elif measured_at(page):
            section.add_widget(FluelessChart(page))
        else:
            caution = _("Nothing was measured at its points yet: there is nothing to draw.")
        section.set_caution(caution)
        for row in page.drifts:
            section.add_fact(drift_name(row), _(told(row, self.desk.today())))

    def _add_combustion(self, page: AppliancePage) -> None:
        """Draw O2 against CO2, or say why there is nothing to draw."""
        section = self._section(_("combustion"), "combustion")
        if page.appliance.flue == "none" and not both_gases(page):
            section.set_caution(_("Without a flue O2 is not held against CO2: there is nothing to draw."))
            return
        section.set_caution(
            _("On the line O2 and CO2 belong together; a point beside it is diluted, or a reading is wrong.")
        )
        section.add_widget(CombustionChart(page))

    def _add_plate(self, appliance: Appliance) -> None:
        section = self._section(_("plate"), "plate")
        for name, text in plate_facts(appliance):
            if text:
                section.add_fact(name, text)
        section.add_buttons(button(_("Edit appliance"), "appliance.edit", self._edit))

    def _add_noted(self, page: AppliancePage) -> None:
        """Say what is built in, as it was written down last; what was found or done stands at its visit."""
        kind = tables.shipped().kinds[page.appliance.kind]
        lines = noted_groups(kind, page.noted, built_in=True)
        if lines and page.noted_on is not None:
            section = self._section(_("written down"), "written_down")
            section.set_state(long_date(page.noted_on))
            for group, line in lines.items():
                section.add_fact(group, line)

    def _new_visit(self) -> None:
        self.place_wanted.emit(Place("visit", within=self.premises_key()))

    def _edit(self) -> None:
        self.place_wanted.emit(Place("appliance_form", self.place.key, str(self._shown.premises.id)))

    def _to_premises(self) -> None:
        self.place_wanted.emit(Place("premises", str(self._shown.premises.id)))


def name_of(appliance: Appliance) -> str:
    """Return what an appliance is called: its make and model, else its kind."""
    return f"{appliance.make} {appliance.model}".strip() or _(appliance.kind)


def drift_name(row: DriftRow) -> str:
    """Return what a drift is of: CO, high rate."""
    return _(
        "{quantity}, {rate}", quantity=_(wording.label(row.quantity)), rate=_(wording.RATE_NAMES[row.rate])
    )


def plate_facts(appliance: Appliance) -> tuple[tuple[str, str], ...]:
    """Return the plate as names and texts, "" where nothing is known."""
    rated = appliance.rated_input
    kw = ""
    if rated is not None and rated.max_kw is not None:
        kw = _("{kw} kW {basis}", kw=f"{rated.max_kw:f}", basis=_(rated.basis))
        if rated.min_kw is not None:
            kw = _("{low} to {high}", low=f"{rated.min_kw:f}", high=kw)
    return (
        (_("kind"), _(appliance.kind)),
        (_("make"), appliance.make),
        (_("model"), appliance.model),
        (_("serial"), appliance.serial),
        (_("fuel"), _(appliance.fuel)),
        (_("flue"), _(appliance.flue)),
        (_("rated input"), kw),
        (_("test points"), ", ".join(_(point) for point in appliance.test_points)),
        (_("installed"), long_date(appliance.installed) if appliance.installed else ""),
    )


def _where(page: AppliancePage) -> str:
    return f"{', '.join(page.premises.address)} {page.premises.postcode} · {page.customer.name}"


def _add_limits(section: Section, limits: MakerLimits | None) -> None:
    facts = _limit_facts(limits) if limits is not None else []
    if not facts:
        section.set_caution(
            _("None entered: the rule table’s limits stand. The maker’s instructions come first.")
        )
    for name, text in facts:
        section.add_fact(name, text)


def _limit_facts(limits: MakerLimits) -> list[tuple[str, str]]:
    facts: list[tuple[str, str]] = []
    for key, limit in (("co_ppm", limits.co_ppm), ("ratio", limits.ratio), ("smoke", limits.smoke)):
        if limit is not None:
            value = f"{wording.value_text(key, limit)} {wording.unit(key)}".strip()
            facts.append((_(wording.label(key)), _("at most {limit}", limit=value)))
    for key, windows in (("co2_pct", limits.co2_pct), ("o2_pct", limits.o2_pct)):
        for rate, window in windows.items():
            name = _("{quantity} {rate}", quantity=_(wording.label(key)), rate=RATE_WORDS[rate])
            facts.append((name, _span(window)))
    return [*facts, *([(_("source"), limits.source)] if limits.source else [])]


def _span(window: Window) -> str:
    return _("{low} to {high} %", low=window.low, high=window.high)


def open_leaf(desk: Desk, place: Place) -> Leaf:
    """Return the leaf of the appliance with the id ``place.key``."""
    return ApplianceLeaf(desk, place)
