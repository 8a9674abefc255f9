"""Invented lines for the sample quote and invoice."""

from __future__ import annotations

from flueleaf.papers.bill.facts import Bill, Line, Vat, VatRow
from flueleaf.papers.sample_facts import sample_head

LINES = (
    Line(
        "Fit and commission Halvard Ember 24 Combi, flue through the kitchen wall",
        "1",
        "job",
        "640.00",
        "640.00",
        "20 %",
    ),
    Line(
        "Halvard Ember 24 Combi with horizontal flue kit",
        "1",
        "each",
        "1,015.00",
        "964.25",
        "20 %",
        ("less 5 %: −50.75",),
    ),
    Line("Copper pipe 22 mm", "7.5", "m", "9.86", "73.95", "20 %"),
    Line("CO alarm, sealed cell", "2", "each", "21.50", "43.00", "20 %"),
    Line("Insulation of the loft pipes", "2.25", "h", "52.00", "117.00", "0 %"),
)


def sample_bill(kind: str, number: str) -> Bill:
    """Return the lines and totals of an invented job, VAT registered."""
    return Bill(
        head=sample_head(kind, number),
        lines=LINES,
        net="1,838.20",
        vat=Vat(
            number="GB 999 9999 73",
            rows=(VatRow("20 %", "1,721.20", "344.24"), VatRow("0 %", "117.00", "0.00")),
            total="344.24",
        ),
        total="2,182.44",
        about="New condensing boiler at 14 Cooper’s Rise",
        texts=("Questions about this paper are welcome by telephone or e-mail.",),
    )
