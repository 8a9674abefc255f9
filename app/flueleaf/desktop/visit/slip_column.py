"""One slip of the readings grid: its fields, what stands beside them, and its verdict."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.section import label
from flueleaf.desktop.verdict_mark import VerdictWord
from flueleaf.desktop.visit.form import text_of
from flueleaf.desktop.visit.reading_field import ReadingField
from flueleaf.desktop.words import _
from flueleaf.domain.judging.assessment import SlipAssessment
from flueleaf.domain.quantities import ON_SLIP
from flueleaf.domain.records.register import Point, Rate
from flueleaf.domain.records.visits import Slip
from flueleaf.operations.facts.wording import RATE_NAMES, value_text
from flueleaf.operations.intake.log_columns import GASES


@dataclass(frozen=True, slots=True)
class Spot:
    """Where and how a slip was taken."""

    point: Point
    rate: Rate
    attempt: int = 1

    @property
    def words(self) -> str:
        """The spot in words: flue, high rate, attempt 2."""
        if self.point == "outdoors" and self.attempt == 1:
            return _(self.point)
        point, rate = _(self.point), _(RATE_NAMES[self.rate])
        if self.attempt > 1:
            return _("{point}, {rate}, attempt {number}", point=point, rate=rate, number=self.attempt)
        return _("{point}, {rate}", point=point, rate=rate)

    @property
    def taken(self) -> str:
        """The spot without its point: high rate, attempt 2; the air outdoors knows of no rate."""
        if self.point == "outdoors" and self.attempt == 1:
            return ""
        rate = _(RATE_NAMES[self.rate])
        return _("{rate}, attempt {number}", rate=rate, number=self.attempt) if self.attempt > 1 else rate


@dataclass(slots=True)
class Typed:
    """A slip as it stands in the document: texts by key, confirmed doubts, and what has no field."""

    spot: Spot
    texts: dict[str, str] = field(default_factory=dict)
    confirmed: list[str] = field(default_factory=list)
    rest: dict[str, Any] = field(default_factory=dict)
    reason: str = ""  # why it could not be measured

    def document(self) -> dict[str, Any]:
        """Return the slip as the document holds it."""
        spot: dict[str, Any] = {"point": self.spot.point, "rate": self.spot.rate}
        if self.spot.attempt > 1:
            spot["attempt"] = str(self.spot.attempt)
        texts = {key: text.strip() for key, text in self.texts.items() if text.strip()}
        confirmed = {"confirmed": list(self.confirmed)} if self.confirmed else {}
        return {**spot, **texts, **confirmed, **self.rest}


def typed_slip(entry: Mapping[str, Any]) -> Typed:
    """Return a slip of the document."""
    rest = dict(entry)
    spot = Spot(rest.pop("point"), rest.pop("rate"), int(rest.pop("attempt", 1)))
    texts = {key: text_of(rest.pop(key)) for key in ON_SLIP if key in rest}
    return Typed(spot, texts, list(rest.pop("confirmed", ())), rest)


class SlipColumn:
    """The widgets of one slip; the panel sets them into its grid."""

    def __init__(self, name: str, reason_name: str, typed: Typed, keys: Sequence[str]) -> None:
        self.typed = typed
        self.spot = typed.spot
        words = self.spot.words
        self.title = label(_(str(self.spot.point)), tone="strong")
        self.subtitle = label(self._taken(), role="small", tone="soft")
        self.fields: dict[str, ReadingField] = {}
        self.last: dict[str, QLabel] = {}
        for key in keys:
            made = ReadingField(f"{name}.{key}", ON_SLIP[key], words)
            made.set_text(typed.texts.get(key, ""))
            made.edited.connect(partial(self._on_edited, key))
            self.fields[key] = made
            self.last[key] = label("", role="small", tone="soft")
        self.ratio = label("")
        self.ratio.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.verdict = VerdictWord("unjudged")
        self.verdict.hide()
        self.reason = TextField(f"{reason_name}.reason", _("{slip}: not measured, because", slip=words))
        self.reason.set_text(typed.reason)
        self.reason_words = label(self.reason.label, tone="soft")
        self.wants_reason = bool(typed.reason)

    @property
    def empty(self) -> bool:
        """Whether no reading was typed."""
        return not any(one.text().strip() for one in self.fields.values())

    @property
    def adjusted(self) -> bool:
        """Whether it is said to have been taken after an adjustment."""
        return self.typed.rest.get("adjusted") is True

    def turn_adjusted(self) -> bool:
        """Say that it was taken after an adjustment, or take that back; returns which."""
        if self.adjusted:
            del self.typed.rest["adjusted"]
        else:
            self.typed.rest["adjusted"] = True
        self.subtitle.setText(self._taken())
        return self.adjusted

    def _taken(self) -> str:
        return _("{rate}, after adjusting", rate=self.spot.taken) if self.adjusted else self.spot.taken

    def read(self) -> dict[str, Any]:
        """Return the slip as the document holds it."""
        return self.snapshot().document()

    def snapshot(self) -> Typed:
        """Return what is typed, for a grid that is made anew."""
        texts = {key: one.text() for key, one in self.fields.items() if one.text().strip()}
        return Typed(self.spot, texts, self.typed.confirmed, self.typed.rest, self.reason.text())

    def refill(self, typed: Typed) -> bool:
        """Show another state of the same slip; returns False where it has no fields for it."""
        if typed.spot != self.spot or not set(typed.texts) <= set(self.fields):
            return False
        self.typed = typed
        self.subtitle.setText(self._taken())
        for key, made in self.fields.items():
            if made.text() != typed.texts.get(key, ""):
                made.set_text(typed.texts.get(key, ""))
        self.reason.set_text(typed.reason)
        self.wants_reason = self.wants_reason or bool(typed.reason)
        for one in (self.reason_words, self.reason):
            one.setVisible(self.wants_reason)
        return True

    def fill(self, texts: Mapping[str, str], *, settled: bool, over: bool) -> None:
        """Fill the fields that are empty with readings.

        Args:
            texts: by quantity key; what the slip has no field for is left out.
            settled: whether they were at rest; the document says so.
            over: what is typed already gives way.
        """
        for key, text in texts.items():
            made = self.fields.get(key)
            if made is not None and (over or not made.text().strip()):
                made.set_text(text)
        self.typed.confirmed.clear()
        self.typed.rest.pop("settled", None)
        there = {key: made.text().strip() for key, made in self.fields.items()}
        stays = any(there.get(key, text) != text for key, text in texts.items() if key in GASES)
        if not (settled and stays):  # what was typed otherwise is not told settled by a run it is not of
            self.typed.rest["settled"] = settled

    def ask_reason(self) -> TextField:
        """Show the line for the reason why this slip could not be measured; returns it."""
        self.wants_reason = True
        self.reason_words.show()
        self.reason.show()
        return self.reason

    def show_past(self, slip: Slip | None) -> None:
        """Put last time's values beside the fields."""
        for key, shown in self.last.items():
            value = slip.values.get(key) if slip is not None else None
            shown.setText(value_text(key, value) if value is not None else "")
            shown.setAccessibleName(_("last time {value}", value=shown.text()) if shown.text() else "")

    def show_assessment(self, assessment: SlipAssessment | None) -> None:
        """Show the computed ratio and the verdict word; nothing typed, nothing said."""
        shown = assessment is not None and not self.empty
        self.ratio.setText(assessment.ratio_text if assessment is not None and shown else "")
        spoken = _("{slip}: ratio {ratio}", slip=self.spot.words, ratio=self.ratio.text())
        self.ratio.setAccessibleName(spoken)
        self.verdict.setVisible(shown)
        if assessment is not None:
            note = _("· the room’s baseline") if assessment.baseline else ""
            self.verdict.set_verdict(assessment.verdict, note if assessment.decides else _("· superseded"))

    def _on_edited(self, key: str, _text: str) -> None:
        # A doubt was confirmed for the figures as they were; other figures have to be looked at again, and
        # nobody has seen other gases at rest. That a run had not settled stays until a settled one fills
        # the slip.
        self.typed.confirmed.clear()
        if key in GASES and self.typed.rest.get("settled") is True:
            del self.typed.rest["settled"]
