"""What the finder lists: heads of groups, and under each what was found."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from flueleaf.desktop.place import Place

Index = QModelIndex | QPersistentModelIndex
HEAD_ROLE = Qt.ItemDataRole.UserRole + 1
SUBTITLE_ROLE = Qt.ItemDataRole.UserRole + 2


@dataclass(frozen=True, slots=True)
class Found:
    """One line of the finder.

    Attributes:
        group: the head it stands under.
        title, subtitle: what is shown.
        place: where it leads; or run: what it does.
    """

    group: str
    title: str
    subtitle: str = ""
    place: Place | None = None
    run: Callable[[], None] | None = None


class FinderTableModel(QAbstractListModel):
    """Found things in groups; the heads are lines that cannot be chosen."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._lines: tuple[Found | str, ...] = ()

    def show_found(self, found: Sequence[Found]) -> None:
        """Show other things; groups stand in the order of their first member."""
        groups: dict[str, list[Found]] = {}
        for one in found:
            groups.setdefault(one.group, []).append(one)
        lines: list[Found | str] = []
        for group, members in groups.items():
            lines += [*([group] if group else []), *members]
        self.beginResetModel()
        self._lines = tuple(lines)
        self.endResetModel()

    def found(self, index: Index) -> Found | None:
        """Return what stands at a line, None for a head."""
        line = self._lines[index.row()] if index.isValid() else ""
        return line if isinstance(line, Found) else None

    def first_row(self) -> int:
        """Return the first line that can be chosen, -1 if there is none."""
        return next((row for row, line in enumerate(self._lines) if isinstance(line, Found)), -1)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        """Number of lines."""
        return 0 if parent.isValid() else len(self._lines)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Texts of a line."""
        if not index.isValid():
            return None
        line = self._lines[index.row()]
        if isinstance(line, str):
            texts: dict[int, Any] = {Qt.ItemDataRole.DisplayRole: line, HEAD_ROLE: True}
        else:
            spoken = ", ".join(part for part in (line.group, line.title, line.subtitle) if part)
            texts = {
                Qt.ItemDataRole.DisplayRole: line.title,
                Qt.ItemDataRole.AccessibleTextRole: spoken,
                SUBTITLE_ROLE: line.subtitle,
                HEAD_ROLE: False,
            }
        return texts.get(role)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Heads can be neither chosen nor reached."""
        if self.found(index) is None:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren
