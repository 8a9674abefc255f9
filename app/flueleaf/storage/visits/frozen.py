"""The verdicts frozen at sign-off, of every slip of one appliance."""

from __future__ import annotations

import sqlite3
from collections import defaultdict
from typing import Any

from flueleaf.domain.records.register import ApplianceId
from flueleaf.storage.visits.results import judged_of

# visit_id, point, rate, attempt
SlipKey = tuple[str, str, str, int]

_JUDGED = """
SELECT v.visit_id, s.point, s.rate, s.attempt, j.*
FROM work w
JOIN visit v ON v.id = w.visit_ref
JOIN slip s ON s.work_id = w.id
JOIN judged j ON j.slip_id = s.id
WHERE w.appliance_id = ?
ORDER BY j.slip_id, j.position
"""


def judged_of_appliance(
    con: sqlite3.Connection, appliance_id: ApplianceId
) -> dict[SlipKey, list[dict[str, Any]]]:
    """Return what was judged of each slip, in the shape of ``assess``, in one join."""
    found: dict[SlipKey, list[dict[str, Any]]] = defaultdict(list)
    for row in con.execute(_JUDGED, (appliance_id,)):
        key = row["visit_id"], row["point"], row["rate"], row["attempt"]
        found[key].append(judged_of(row))
    return dict(found)
