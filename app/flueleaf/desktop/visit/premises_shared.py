"""What belongs to the premises: asked at the first appliance of a visit that has it, held by every one.

The document keeps the entry at each work. An appliance that follows shows a quiet line in place of its
fields, whose texts are kept the same as those of the first; one answered differently keeps its own.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import shiboken6
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from flueleaf.desktop.buttons import button
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.section import label
from flueleaf.desktop.spacing import set_gap, set_margins
from flueleaf.desktop.words import _, _n

if TYPE_CHECKING:
    from flueleaf.desktop.visit.stage_part import StagePart
    from flueleaf.desktop.visit.work_panel import WorkPanel

Entry = dict[str, Any]


class Shared:
    """One entry of the premises at one appliance."""

    def __init__(
        self,
        key: str,
        fields: Sequence[Field],
        ways: tuple[Callable[[], Entry], Callable[[Entry], None]],
        show: Callable[[bool], None],
    ) -> None:
        """Make it stand alone.

        Args:
            key: the same at every appliance.
            fields: it is typed in, the first one first; heard here before anybody else hears them.
            ways: reads it, {} while it is empty; fills it in without a signal.
            show: shows or hides its fields.
        """
        self.key = key
        self.fields = tuple(fields)
        self.read, self.fill = ways
        self.show = show
        self.leader: Shared | None = None  # the first appliance's, where there is one before this
        self.following = False
        self.apart = False  # answered for this appliance alone
        self._followers: list[Shared] = []
        for field in fields:
            field.edited.connect(self.tell)

    def add(self, field: Field) -> None:
        """Take a field in that was made later."""
        self.fields = (*self.fields, field)
        field.edited.connect(self.tell)

    def begin(self) -> None:
        """Forget who followed; links are made anew from the first appliance on."""
        self._followers = []

    def link(self, leader: Shared | None, *, fresh: bool) -> None:
        """Follow the first appliance's entry where the two are the same.

        Args:
            leader: of the first appliance that has it, None if that is this one.
            fresh: nothing was answered at this appliance yet, so that it takes over what is answered there.
        """
        self.leader = leader
        if leader is None:
            self.following = self.apart = False
        elif not self.apart:
            if fresh and not self.read():
                self.fill(leader.read())
            self.following = self.read() == leader.read()
            self.apart = not self.following
        if leader is not None and self.following:
            leader._followers.append(self)
        self.show(not self.following)

    def part(self) -> None:
        """Answer it for this appliance alone from now on."""
        self.following, self.apart = False, self.leader is not None
        self.show(True)

    def rejoin(self) -> None:
        """Take the first appliance's answer again."""
        if self.leader is not None:
            self.fill(self.leader.read())
            self.apart = False

    def seen(self, field: Field) -> Field:
        """Return the field in which a field of this entry is typed."""
        if self.leader is None or not self.following:
            return field
        at = self.fields.index(field)
        return self.leader.fields[at if at < len(self.leader.fields) else 0]

    def tell(self, _text: str = "") -> None:
        """Bring those that follow up to date."""
        for one in self._followers:
            if shiboken6.isValid(one.fields[0]):
                one.fill(self.read())


class PremisesLine(QWidget):
    """The quiet line of a stage, and the button that opens its entries or folds them again.

    The button is no stop of the keyboard, which types on through the answers; the command does the same.
    """

    def __init__(self, name: str, turn: Callable[[], None]) -> None:
        super().__init__()
        self._name, self._turn = name, turn
        self._made = False
        self.hide()

    def _make(self) -> None:
        """Make its parts, once there is something to say."""
        self._made = True
        self.words = label("", role="small", tone="soft", wrap=True)
        self.against = label("", role="small", wrap=True)  # what was answered “no”, louder than the rest
        self.turn = button(_("Answer differently here"), f"{self._name}.premises", self._turn)
        self.turn.setProperty("quiet", True)
        self.turn.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        across = QHBoxLayout(self)
        across.setContentsMargins(0, 0, 0, 0)
        set_gap(across, 4)
        told = QVBoxLayout()
        set_margins(told, 0, 1.5, 0, 0)
        set_gap(told, 0.5)
        told.addWidget(self.words)
        told.addWidget(self.against)
        across.addLayout(told, 1)
        across.addWidget(self.turn, 0, Qt.AlignmentFlag.AlignTop)

    def show_entries(self, entries: Sequence[Shared], first: str) -> None:
        """Say where entries are answered.

        Args:
            entries: of the stage, those another appliance has before.
            first: what that appliance is called.
        """
        if not entries:
            self.hide()
            return
        if not self._made:
            self._make()
        following = [one for one in entries if one.following]
        self.show()
        self.words.setText("\n".join(_lines(following, first)) if following else _apart(entries, first))
        self.against.setText("\n".join(_against(following)))
        self.against.setVisible(bool(self.against.text()))
        action = _("Answer differently here") if following else _("As there")
        self.turn.setText(action)
        self.turn.setAccessibleName(action)
        self.turn.setAccessibleDescription(f"{self.words.text()}\n{self.against.text()}".strip())


def share(works: Sequence[WorkPanel]) -> None:
    """Let every appliance follow the first one that has an entry, and say so at each."""
    leaders: dict[str, tuple[Shared, str]] = {}
    for work in works:
        for part in work.stages:
            for entry in part.shared:
                entry.begin()
    for work in works:
        fresh = work.fresh
        for part in work.stages:
            first = ""
            for entry in part.shared:
                leader, name = leaders.get(entry.key, (None, ""))
                entry.link(leader, fresh=fresh)
                leaders.setdefault(entry.key, (entry, work.full_name))
                first = first or name
            led = [entry for entry in part.shared if entry.leader is not None]
            part.premises.show_entries(led, first)


def turn(part: StagePart) -> Field | None:
    """Answer a stage's entries of the premises for its appliance alone, or as at the first one again.

    Returns:
        the first field that came into view, None where none did.
    """
    led = [entry for entry in part.shared if entry.leader is not None]
    following = [entry for entry in led if entry.following]
    for entry in following:
        entry.part()
    if not following:
        for entry in led:
            entry.rejoin()
    part.typing.ear.grown.emit()
    part.typing.ear.typed.emit()
    return following[0].fields[0] if following else None


def _lines(following: Sequence[Shared], first: str) -> list[str]:
    checks = [one for one in following if one.key != "supply"]
    open_count = sum(1 for one in checks if not one.read())
    lines = []
    if answered := len(checks) - open_count:
        lines.append(
            _n(
                "{count} check of the premises is answered at {name}",
                "{count} checks of the premises are answered at {name}",
                answered,
                name=first,
            )
        )
    if open_count:
        lines.append(
            _n(
                "{count} check of the premises is asked at {name}",
                "{count} checks of the premises are asked at {name}",
                open_count,
                name=first,
            )
        )
    if len(checks) < len(following):
        lines.append(_("tightness and standing pressure are typed at {name}", name=first))
    return lines


def _against(following: Sequence[Shared]) -> list[str]:
    return [
        _("answered “no” there: {question}", question=one.fields[0].label)
        for one in following
        if one.read().get("answer") == "no"
    ]


def _apart(entries: Sequence[Shared], first: str) -> str:
    if not entries:
        return ""
    return _("what belongs to the premises is answered here apart from {name}", name=first)
