"""Visits: added whole, read back whole, and an appliance's history in one join."""

from __future__ import annotations

from flueleaf.storage.visits.adding import add_visit
from flueleaf.storage.visits.history import (
    HistoryReading,
    LastAnswers,
    LastHeat,
    history,
    last_answers,
    last_heat,
    last_slips,
)
from flueleaf.storage.visits.reading import (
    StoredVisit,
    VisitHead,
    recent_visits,
    stored_visit,
    visit_exists,
    visit_id,
    visit_ref,
    visits_of_premises,
)

__all__ = [
    "HistoryReading",
    "LastAnswers",
    "LastHeat",
    "StoredVisit",
    "VisitHead",
    "add_visit",
    "history",
    "last_answers",
    "last_heat",
    "last_slips",
    "recent_visits",
    "stored_visit",
    "visit_exists",
    "visit_id",
    "visit_ref",
    "visits_of_premises",
]
