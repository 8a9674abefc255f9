"""Where the sample paper stands: beside its form, folded away where there is no room for both."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt

from flueleaf.desktop.command import Command
from flueleaf.desktop.leaf import Leaf
from flueleaf.desktop.sample.sample_panel import SamplePanel
from flueleaf.desktop.theme import current
from flueleaf.desktop.words import _

FOLD_UNDER_PX = 1100  # width of the window at 100 % text
KEY = "Ctrl+Shift+S"


class SampleBeside(QObject):
    """Folds the sample with the window; its key takes it away, or lets it take the place of the form."""

    def __init__(self, leaf: Leaf, panel: SamplePanel) -> None:
        """Set the panel beside the page of a leaf that is built."""
        super().__init__(leaf)
        self._leaf = leaf
        self._panel = panel
        self._wanted = True
        self._over = False
        leaf.stand_beside(panel)
        leaf.installEventFilter(self)
        self.fold()

    @property
    def narrow(self) -> bool:
        """Whether the window is too narrow for both."""
        return self._leaf.window().width() < current().px(FOLD_UNDER_PX)

    def command(self) -> Command:
        """Return the action that shows the sample or takes it away."""
        return Command(_("Sample paper"), (KEY,), self.toggle)

    def toggle(self) -> None:
        """Show the sample, or take it away; the cursor goes where something is to be seen."""
        if self.narrow:
            self._over = not self._over
        else:
            self._wanted = not self._wanted
        self.fold()
        shown = self._panel.which.control() if self._panel.isVisible() else self._leaf.first_focus()
        if shown is not None and (self._over or not self._panel.isVisible()):
            shown.setFocus(Qt.FocusReason.OtherFocusReason)

    def fold(self) -> None:
        """Show what there is room for."""
        if not self.narrow:
            self._over = False
        self._leaf.scroll_area.setVisible(not self._over)
        self._panel.stand_alone(self._over)
        self._panel.setVisible(self._over or (self._wanted and not self.narrow))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802
        """Fold when the leaf gets another size."""
        if watched is self._leaf and event.type() in {QEvent.Type.Resize, QEvent.Type.Show}:
            self.fold()
        return super().eventFilter(watched, event)
