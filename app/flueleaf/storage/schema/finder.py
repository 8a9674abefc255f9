"""The finder's index: what can be found is a view per kind; triggers carry every change into two FTS5 tables.

``finder`` finds words and their beginnings, ``finder_inner`` (three letters at a time) finds inner pieces and
words with a wrong letter. A row's number is ``id * 8 + code`` of its kind, so a change touches single rows.
"""

from __future__ import annotations

from typing import Literal

Kind = Literal["customer", "premises", "appliance", "instrument", "visit", "paper"]

CODES: dict[Kind, int] = {
    "customer": 1,
    "premises": 2,
    "appliance": 3,
    "instrument": 4,
    "visit": 5,
    "paper": 6,
}
KINDS = {code: kind for kind, code in CODES.items()}
TABLES = {kind: "sealed_paper" if kind == "paper" else kind for kind in CODES}

_VIEWS = """
CREATE VIEW finder_customer AS
SELECT c.id, c.name AS title, trim(replace(c.address, char(10), ', ') || ' ' || c.postcode) AS subtitle,
       c.telephone || ' ' || replace(c.telephone, ' ', '') || ' ' || c.email
       || ' ' || replace(c.postcode, ' ', '') AS text
FROM customer c;

CREATE VIEW finder_premises AS
SELECT p.id, trim(replace(p.address, char(10), ', ') || ' ' || p.postcode) AS title,
       ifnull(c.name, '') AS subtitle,
       p.responsible || ' ' || replace(p.postcode, ' ', '') AS text
FROM premises p LEFT JOIN customer c ON c.id = p.customer_id;

CREATE VIEW finder_appliance AS
SELECT a.id, CASE WHEN a.make || a.model = '' THEN a.kind ELSE trim(a.make || ' ' || a.model) END AS title,
       a.kind || iif(a.location = '', '', ', ' || a.location) || ' · ' || replace(p.address, char(10), ', ')
       || ' ' || p.postcode AS subtitle,
       a.serial || ' ' || replace(replace(a.serial, ' ', ''), '-', '')
       || ' ' || replace(p.postcode, ' ', '') AS text
FROM appliance a JOIN premises p ON p.id = a.premises_id;

CREATE VIEW finder_instrument AS
SELECT i.id, i.name AS title, i.serial AS subtitle, replace(replace(i.serial, ' ', ''), '-', '') AS text
FROM instrument i;

CREATE VIEW finder_visit AS
SELECT v.id, v.date || ' ' || v.purpose AS title,
       replace(p.address, char(10), ', ') || ' ' || p.postcode AS subtitle,
       c.name || ' ' || replace(p.postcode, ' ', '') AS text
FROM visit v JOIN premises p ON p.id = v.premises_id JOIN customer c ON c.id = v.customer_id;

CREATE VIEW finder_paper AS
SELECT s.id, s.number AS title,
       s.kind || ' · ' || s.date
       || ifnull(' · ' || replace(p.address, char(10), ', ') || ' ' || p.postcode, '') AS subtitle,
       ifnull(c.name, '') || ' ' || replace(s.number, '-', '')
       || ' ' || ifnull(replace(p.postcode, ' ', ''), '') AS text
FROM sealed_paper s LEFT JOIN premises p ON p.id = s.premises_id LEFT JOIN customer c ON c.id = s.customer_id;

CREATE VIRTUAL TABLE finder USING fts5 (
    title, subtitle, text, tokenize = "unicode61 remove_diacritics 2", prefix = '1 2 3');
CREATE VIRTUAL TABLE finder_words USING fts5vocab (finder, row);
CREATE VIRTUAL TABLE finder_inner USING fts5 (text, tokenize = 'trigram');
"""

# Visits and papers only repeat the text of others: three letters at a time they would fill half the book.
_INNER: tuple[Kind, ...] = ("customer", "premises", "appliance", "instrument")

# What else must be indexed anew when a row changes: the rows that show its text.
_SHOWN_IN: dict[Kind, tuple[tuple[Kind, str], ...]] = {
    "customer": (
        ("premises", "SELECT id FROM premises WHERE customer_id = NEW.id"),
        ("visit", "SELECT id FROM visit WHERE customer_id = NEW.id"),
        ("paper", "SELECT id FROM sealed_paper WHERE customer_id = NEW.id"),
    ),
    "premises": (
        ("appliance", "SELECT id FROM appliance WHERE premises_id = NEW.id"),
        ("visit", "SELECT id FROM visit WHERE premises_id = NEW.id"),
        ("paper", "SELECT id FROM sealed_paper WHERE premises_id = NEW.id"),
    ),
}


def _put(kind: Kind, ids: str) -> str:
    number = f"id * 8 + {CODES[kind]}"
    words = (
        f"INSERT INTO finder (rowid, title, subtitle, text)\n"
        f"    SELECT {number}, title, subtitle, text FROM finder_{kind} WHERE id IN ({ids});\n"
    )
    inner = (
        f"INSERT INTO finder_inner (rowid, text)\n"
        f"    SELECT {number}, title || ' ' || subtitle || ' ' || text\n"
        f"    FROM finder_{kind} WHERE id IN ({ids});\n"
    )
    return words + inner if kind in _INNER else words


def _take(kind: Kind, ids: str) -> str:
    numbers = f"SELECT id * 8 + {CODES[kind]} FROM ({ids})"
    tables = ("finder", "finder_inner") if kind in _INNER else ("finder",)
    return "".join(f"DELETE FROM {table} WHERE rowid IN ({numbers});\n" for table in tables)


def _triggers(kind: Kind) -> str:
    table = TABLES[kind]
    shown_in = "".join(_take(other, ids) + _put(other, ids) for other, ids in _SHOWN_IN.get(kind, ()))
    old, new = "SELECT OLD.id AS id", "SELECT NEW.id AS id"
    return (
        f"CREATE TRIGGER finder_{kind}_added AFTER INSERT ON {table} BEGIN\n{_put(kind, new)}END;\n"
        f"CREATE TRIGGER finder_{kind}_changed AFTER UPDATE ON {table} BEGIN\n"
        f"{_take(kind, old)}{_put(kind, new)}{shown_in}END;\n"
        f"CREATE TRIGGER finder_{kind}_removed AFTER DELETE ON {table} BEGIN\n{_take(kind, old)}END;\n"
    )


SQL = _VIEWS + "".join(_triggers(kind) for kind in CODES)
