"""Which column of a logged run holds what, by its header or by the name a person gave for it."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from flueleaf.domain.problems import Fault
from flueleaf.domain.words import quoted, said
from flueleaf.operations.intake import log_cells

TIME = "time"
GASES = ("co_ppm", "o2_pct", "co2_pct")
KEYS = (TIME, *GASES)
# Filled in as well where a run has them; they do not decide whether it settled, and never refuse it.
BESIDE = ("flue_c", "air_c")
NEEDED = (TIME, "co_ppm")

# Headers as they are written, in small letters, without blanks, dots, dashes and units; common practice.
_NAMES: dict[str, frozenset[str]] = {
    TIME: frozenset(
        {"time", "t", "timestamp", "datetime", "dateandtime", "date/time", "elapsed", "elapsedtime",
         "elapsedseconds", "seconds", "secs", "sec", "s", "clock", "clocktime", "timeofday", "logtime",
         "runtime", "zeit", "uhrzeit", "zeitpunkt", "sekunden", "temps", "heure", "tiempo", "hora", "tijd",
         "tempo", "ora"}
    ),
    "co_ppm": frozenset({"co", "carbonmonoxide", "comeasured", "codry", "kohlenmonoxid"}),
    "o2_pct": frozenset({"o2", "oxygen", "o2measured", "o2dry", "sauerstoff", "oxygène"}),
    "co2_pct": frozenset({"co2", "carbondioxide", "co2measured", "co2dry", "kohlendioxid"}),
    "flue_c": frozenset(
        {"flue", "fluegas", "fluetemp", "fluetemperature", "fluegastemp", "fluegastemperature", "tflue", "tf",
         "tg", "tempflue", "tstack", "stacktemp", "stacktemperature", "exhausttemp", "abgastemp",
         "abgastemperatur"}
    ),
    "air_c": frozenset(
        {"air", "airtemp", "airtemperature", "combustionair", "combustionairtemp", "combustionairtemperature",
         "inletair", "inlettemp", "inlettemperature", "ambient", "ambienttemp", "ambienttemperature", "tair",
         "tempair", "ta", "ti", "verbrennungsluft", "verbrennungslufttemperatur", "lufttemperatur"}
    ),
}  # fmt: skip
# Names that may mean a share or a draught as well: a temperature only where the unit says so.
_BARE_PLACES = {"flue", "fluegas", "air", "combustionair", "inletair", "ambient", "verbrennungsluft"}
_PPM = ("ppm", "ppmv")
_PERCENT = ("%", "vol%", "vol.%", "vol-%", "%vol", "%v/v", "pct", "percent")
_CELSIUS = ("°c", "c", "degc", "celsius")
_TIMES = {"s": "1", "sec": "1", "secs": "1", "second": "1", "seconds": "1", "min": "60", "mins": "60",
          "minutes": "60", "h": "3600", "hours": "3600", "ms": "0.001"}  # fmt: skip
CLOCK, MINUTES = "hh:mm:ss", "mm:ss"
_UNITS: dict[str, dict[str, Decimal]] = {
    TIME: {unit: Decimal(factor) for unit, factor in _TIMES.items()},
    "co_ppm": {**dict.fromkeys(_PPM, Decimal(1)), **dict.fromkeys(_PERCENT, Decimal(10_000))},
    "o2_pct": {**dict.fromkeys(_PERCENT, Decimal(1)), **dict.fromkeys(_PPM, Decimal("0.0001"))},
    "co2_pct": {**dict.fromkeys(_PERCENT, Decimal(1)), **dict.fromkeys(_PPM, Decimal("0.0001"))},
    "flue_c": dict.fromkeys(_CELSIUS, Decimal(1)),
    "air_c": dict.fromkeys(_CELSIUS, Decimal(1)),
}
_WRITINGS = {CLOCK: CLOCK, "h:mm:ss": CLOCK, "h:m:s": CLOCK, MINUTES: MINUTES, "m:ss": MINUTES,
             "min:s": MINUTES, "min:sec": MINUTES, "utc": "", "dry": "", "local": ""}  # fmt: skip

_BRACKETED = re.compile(r"(.*?)\s*[\[({<]\s*([^\])}>]*?)\s*[\])}>]\s*\Z")
_TAILED = re.compile(r"(.+?)(?:\s*[/,;:]\s*|[\s_]+|(?=%))([^\s/,;_]+)\Z")
_OTHER_UNIT = re.compile(r"mg|µg|°|/|\A(deg)?[fk]\Z")  # a unit, but none a reading can be taken in
_BETWEEN = re.compile(r"[\s._-]+")
_LOWERED = str.maketrans("₂", "2")


@dataclass(frozen=True, slots=True)
class Column:
    """A column that holds something.

    Attributes:
        at: its place, from 0.
        header: its name as it stands there.
        unit: as its header or the line below says, in small letters; "" for none.
    """

    at: int
    header: str
    unit: str = ""


def columns_of(
    header: Sequence[str], named: Mapping[str, str], wheres: Mapping[str, str]
) -> tuple[dict[str, Column], list[Fault]]:
    """Return the columns of a run, and what is wrong with them.

    Args:
        header: the names of the columns.
        named: by key, the header a person gave; what is not named is looked for by its usual names.
        wheres: by key, what to call the column in a message.
    """
    found: dict[str, Column] = {}
    faults: list[Fault] = []
    for key in KEYS:
        wanted = named.get(key, "").strip()
        hits = _named(header, wanted, key) if wanted else _usual(header, key)
        free = [hit for hit in hits if hit.at not in {column.at for column in found.values()}]
        if len(free) == 1 or (free and key == TIME and not wanted):
            found[key] = free[0]
        elif hits and not free and wanted:
            faults.append(Fault(wheres[key], wanted, said("a column of its own")))
        elif free or wanted or key in NEEDED:
            faults.append(Fault(wheres[key], wanted, _accepted(header, several=bool(free))))
    return found, faults


def beside(
    header: Sequence[str], named: Mapping[str, str], taken: Collection[Column], units_line: Sequence[str]
) -> dict[str, Column]:
    """Return the columns of what is filled in as well, those of which there is no doubt.

    Args:
        header: the names of the columns.
        named: by key, the header a person gave; what is not named is looked for by its usual names.
        taken: the columns that hold something else.
        units_line: the units under the header, () where there is no such line.
    """
    found: dict[str, Column] = {}
    for key in BESIDE:
        wanted = named.get(key, "").strip()
        hits = _named(header, wanted, key) if wanted else _usual(header, key)
        others = {column.at for column in (*taken, *found.values())}
        free = [_with_unit(hit, units_line) for hit in hits if hit.at not in others]
        if len(free) != 1 or factor_of(key, free[0].unit) is None:
            continue
        if wanted or free[0].unit or _parted(key, free[0].header)[0] not in _BARE_PLACES:
            found[key] = free[0]
    return found


def _with_unit(column: Column, units_line: Sequence[str]) -> Column:
    """Return a column with the unit of the line below the header, where the header has none."""
    told = units_line[column.at] if column.at < len(units_line) else ""
    if column.unit or log_cells.is_nothing(told):
        return column
    return Column(column.at, column.header, _plain_unit(told.strip("[](){}<> ")))


def known(header: Sequence[str], named: Mapping[str, str]) -> bool:
    """Tell whether a line names the columns that are needed."""
    return all(
        _named(header, wanted, key) if (wanted := named.get(key, "").strip()) else _usual(header, key)
        for key in NEEDED
    )


def unit_of(key: str, header: str) -> str:
    """Return the unit a header names, in small letters; "" for none: other words in brackets are names."""
    unit = _parted(key, header)[1]
    return unit if is_unit(key, unit) or _OTHER_UNIT.search(unit) else ""


def factor_of(key: str, unit: str) -> Decimal | None:
    """Return what a number in a unit is multiplied by, None for a unit that cannot be taken."""
    if not unit or unit in _WRITINGS:
        return Decimal(1)
    return _UNITS[key].get(unit)


def writing_of(unit: str) -> str:
    """Return how a header says that times are written: ``hh:mm:ss``, ``mm:ss``, or "" where it does not."""
    return _WRITINGS.get(unit, "")


def is_unit(key: str, cell: str) -> bool:
    """Tell whether a cell names a unit, as in the second line of some files."""
    bare = _plain_unit(cell.strip("[](){}<> "))
    return bare in _UNITS[key] or bare in _WRITINGS


def units(key: str) -> tuple[str, ...]:
    """Return the units that may follow a number."""
    return tuple(_UNITS[key]) if key != TIME else ("s",)


def unit_words(key: str) -> str:
    """Return which units a column may be in, for a message."""
    gas = ("ppm", "%") if key == "co_ppm" else ("%", "ppm")
    return said("a column in {units}", units=", ".join(("s", "min", "h", CLOCK) if key == TIME else gas))


def _named(header: Sequence[str], wanted: str, key: str) -> list[Column]:
    """Return the columns of a name, by the closest of three readings of it that fits any."""
    for alike in (str, str.casefold, _bare):
        hits = [at for at, name in enumerate(header) if alike(name) == alike(wanted)]
        if hits:
            return [Column(at, header[at], unit_of(key, header[at])) for at in hits]
    return []


def _usual(header: Sequence[str], key: str) -> list[Column]:
    """Return the columns whose name is a usual one; of several those in the usual unit, or in none."""
    hits = []
    for at, written in enumerate(header):
        name, unit = _parted(key, written)
        if name in _NAMES[key] and (unit == "" or is_unit(key, unit) or _OTHER_UNIT.search(unit)):
            hits.append(Column(at, written, unit))
    fitting = [hit for hit in hits if factor_of(key, hit.unit) is not None]
    usual = [hit for hit in fitting if key == TIME or hit.unit == "" or _UNITS[key].get(hit.unit) == 1]
    return usual or fitting or hits


def _parted(key: str, header: str) -> tuple[str, str]:
    """Return name and unit of a header, both plain."""
    if found := _BRACKETED.match(header):
        inside = _plain_unit(found[2].split(",")[0])
        return _parted(key, found[1]) if _WRITINGS.get(inside) == "" else (_bare(found[1]), inside)
    if (found := _TAILED.match(header)) and is_unit(key, found[2]):
        return _bare(found[1]), _plain_unit(found[2])
    return _bare(header), ""


def _bare(name: str) -> str:
    return _BETWEEN.sub("", name.casefold().translate(_LOWERED))


def _plain_unit(unit: str) -> str:
    return unit.casefold().replace(" ", "").translate(_LOWERED)


def _accepted(header: Sequence[str], *, several: bool) -> str:
    names = quoted(dict.fromkeys(name for name in header if name))
    if several:
        return said("one column: several would do; name one of {names}", names=names)
    return said("one of {names}", names=names)
