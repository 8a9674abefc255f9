"""Invented records for the tests of the book."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal
from typing import Any

from flueleaf.domain.money.lines import Line
from flueleaf.domain.records.register import (
    Appliance,
    Customer,
    Instrument,
    MakerLimits,
    Premises,
    RatedInput,
    Tolerance,
    Window,
)
from flueleaf.domain.records.visits import (
    CheckAnswer,
    Defect,
    NotMeasured,
    Override,
    SignOff,
    Slip,
    Supply,
    Visit,
    Work,
)
from flueleaf.storage import papers, register
from flueleaf.storage.book import Book

UTC = dt.UTC
D = Decimal

CUSTOMER = Customer(
    "Maud Ferrow", "landlord", ("3 Quay Lane", "Port Ellery"), "QX3 7TB", "01632 960 123", "maud@example.org"
)
PREMISES = Premises(("14 Cooper's Rise", "Port Ellery"), "QX3 7TC", "Jonas Ibbet")
APPLIANCE = Appliance(
    kind="condensing boiler",
    make="Halvard",
    model="Sund 24",
    serial="HV-4471 903",
    location="airing cupboard",
    rated_input=RatedInput("net", D("24.0"), D("6.0")),
    limits=MakerLimits(
        D("350"),
        D("0.0040"),
        {"max": Window(D("8.8"), D("9.60"))},
        {"min": Window(D("4.1"), D("5.9"))},
        "p. 41",
    ),
    test_points=("air inlet", "flue"),
    installed=dt.date(2026, 11, 20),
)
INSTRUMENT = Instrument(
    "analyser 1",
    "AN 0042",
    dt.date(2027, 3, 1),
    {"co_ppm": Tolerance(D("10"), D("0.05")), "o2_pct": Tolerance(D("0.3"))},
    {"co_ppm": D("4000")},
    ("o2_pct", "co_ppm"),
    {"time": "Time", "co_ppm": "CO [ppm]"},
    co2_calculated=True,
)
LINES = (
    Line("Service", D("1"), "each", D("78.00"), vat_pct=D("20"), labour=True),
    Line("Seal kit", D("1.50"), "each", D("12.40"), discount_pct=D("10"), vat_category="S"),
)
RESULT: dict[str, Any] = {
    "verdict": "over",
    "next_steps": ["measure again"],
    "doubts": [{"code": "calibration-expired", "quantity": "", "text": "expired"}],
    "slips": [
        {
            "point": "flue",
            "rate": "max",
            "ratio": 0.00667,
            "co_undiluted_ppm": 79.1,
            "efficiency_gross_pct": None,
            "judged": [
                {
                    "quantity": "co_ppm",
                    "value": 610,
                    "limit": 350,
                    "sense": "at most",
                    "source": "maker",
                    "verdict": "over",
                    "margin": -260.5,
                    "standard_uncertainty": 5.8,
                    "chance_beyond": 1.0,
                    "clause": None,
                    "status": "read",
                },
                {"quantity": "ratio", "value": 0.00067, "limit": 0.004, "verdict": "within", "table": "t"},
            ],
            "doubts": [{"code": "o2-co2-disagree", "quantity": "co2_pct", "text": "look again"}],
        },
        {"point": "flue", "rate": "max", "judged": [], "doubts": [], "verdict": "near", "ratio": None},
    ],
}
WORK = Work(
    APPLIANCE,
    INSTRUMENT,
    Supply(D("21.4"), D("20.10"), None, {"meter": {"unit": "m3", "volume": "0.100"}}, {"drop_mbar": 0}),
    (
        Slip(
            "flue",
            "max",
            {"o2_pct": D("4.80"), "co_ppm": D("610")},
            {"o2_pct": "4.80 %", "smoke": "0-?"},
            confirmed=frozenset({"o2-co2-disagree", "a"}),
            air_humidity_pct=D("60"),
        ),
        Slip("flue", "max", {"co_ppm": D("61")}, attempt=2, adjusted=True, settled=False),
    ),
    (CheckAnswer("flue sound", "yes"), CheckAnswer("condensate", "no", "trap cleaned")),
    {"flue": True, "air inlet": "not sure", "room": False},
    (Defect("no label", "advice", "told"),),
    (NotMeasured("flue", "min", "no load"),),
    "isolated",
    (Override("integrity", "no test point"),),
    {"flow_c": "60.0", "as_left": "running"},
)
VISIT = Visit(
    visit_id="1c0de000-0000-4000-8000-000000000001",
    purpose="service",
    date=dt.date(2026, 11, 20),
    customer=CUSTOMER,
    premises=PREMISES,
    works=(WORK,),
    lines=LINES,
    arrived=dt.time(9, 10),
    left=dt.time(11, 40),
    sign_off=SignOff("M. Ferrow", "signed"),
    papers=("service record", "invoice"),
    issued_at=dt.datetime(2026, 11, 20, 20, 15, tzinfo=UTC),
)


def registered(book: Book, visit: Visit = VISIT) -> Visit:
    """Return a visit whose records were put into the register."""
    with book.writing() as tx:
        customer = replace(visit.customer, id=register.add_customer(tx, visit.customer))
        premises = replace(visit.premises, customer_id=customer.id)
        premises = replace(premises, id=register.add_premises(tx, premises))
        works = []
        for work in visit.works:
            appliance = replace(work.appliance, premises_id=premises.id)
            appliance = replace(appliance, id=register.add_appliance(tx, appliance))
            instrument = work.instrument
            if instrument is not None:
                instrument = replace(instrument, id=register.add_instrument(tx, instrument))
            works.append(replace(work, appliance=appliance, instrument=instrument))
    return replace(visit, customer=customer, premises=premises, works=tuple(works))


def seal_papers(book: Book, count: int, *, series: str = "R", year: int = 2026) -> list[str]:
    """Seal that many papers, one transaction each."""
    numbers = []
    for n in range(count):
        with book.writing() as tx:
            number = papers.next_number(tx, series, year)
            papers.add_sealed(
                tx,
                number=number,
                kind="service record",
                date=dt.date(year, 11, 20),
                issued_at=dt.datetime(year, 11, 20, 20, 15, tzinfo=UTC),
                facts=f'{{"number":"{number}","text":"paper {n}"}}',
                pdf=b"%PDF-" + number.encode(),
            )
        numbers.append(number)
    return numbers
