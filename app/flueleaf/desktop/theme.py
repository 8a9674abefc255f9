"""Colours, type and spacing of the window, as one set of tokens.

The look is that of a page of a well-set book: paper tone, hairline rules, few sizes of one typeface, lining
figures of equal width. The three verdict colours are those of M. Okabe and K. Ito, "Color Universal Design"
(2008 palette; recalled); they never stand without a word and a bar.

The kit, as it is used by leaves (``current()`` is the theme in force):

- Type: five sizes, ``SIZES_PX``. title 25 for the heading of a leaf, lead 16 for the line that goes with it,
  body 14 for all that is read and typed, head 13 semibold for the head of a section, small 12 for cautions,
  messages and heads of columns. ``section.label(text, role=…)`` sets them; ``theme.font`` is for painters.
- Distances: multiples of ``GRID_PX``, by ``theme.space(steps)``: 1 inside a control, 1.5 between rows, 2
  between lines that belong together, 4 between a label and its field, 6 between sections, 7 and 9 round the
  page. Every other length goes through ``theme.px``, so that 200 % text makes all of it twice as large.
- Measure: a page is no wider than ``leaf.MEASURE_PX``, labels are ``section.LABEL_WIDTH_PX`` wide and stand
  above their fields below ``section.NARROW_PX``.
- Colours: the attributes of ``Palette``, each with what it is for and the contrast it keeps.
- Motion: none. Nothing fades, slides or bounces, so that there is nothing to be reduced.
"""

from __future__ import annotations

import math
import os
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QIcon, QPalette
from PySide6.QtWidgets import QApplication

from flueleaf.desktop.qt_words import speak
from flueleaf.desktop.style_sheet import style_sheet
from flueleaf.paths import RESOURCES

FAMILY = "Inter"
GRID_PX = 4
TEXT_SCALES = (1.0, 1.1, 1.25, 1.5, 1.75, 2.0)
TEXT_SCALE_VARIABLE = "FLUELEAF_TEXT_SCALE"

Role = Literal["small", "body", "lead", "head", "title"]
SIZES_PX: Mapping[Role, int] = {"small": 12, "body": 14, "lead": 16, "head": 13, "title": 25}


@dataclass(frozen=True, slots=True)
class VerdictColour:
    """Fill of a verdict's bar and the line drawn round it, so that it stands out from the paper."""

    fill: str
    outline: str


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours of one scheme, as #rrggbb.

    Attributes:
        paper: the leaf; desk: the columns beside it; field: where one types.
        ink: text (>= 7:1 on paper); soft: secondary text (>= 4.5:1); mark: marks and field rules (>= 3:1).
        hairline: rules that only divide, and carry no meaning.
        accent: the one colour of things to press; on_accent: text on it; focus: the ring of the keyboard.
        chosen: ground of a selected row; selection: ground of selected text.
    """

    dark: bool
    paper: str
    desk: str
    field: str
    ink: str
    soft: str
    mark: str
    hairline: str
    accent: str
    on_accent: str
    focus: str
    chosen: str
    selection: str
    verdicts: Mapping[str, VerdictColour]

    def verdict(self, word: str) -> VerdictColour:
        """Return the colours of a verdict; a word that is none is shown as unjudged, never as good."""
        return self.verdicts.get(word, self.verdicts["unjudged"])


LIGHT = Palette(
    dark=False,
    paper="#fbf8f1",
    desk="#f3eee3",
    field="#fffefb",
    ink="#211d18",
    soft="#5f574b",
    mark="#857b6b",
    hairline="#ddd5c5",
    accent="#234f40",
    on_accent="#fbf8f1",
    focus="#1f6b52",
    chosen="#e4e7d8",
    selection="#c9dccb",
    verdicts={
        "within": VerdictColour("#0072b2", "#004a75"),
        "near": VerdictColour("#e69f00", "#4a3300"),
        "over": VerdictColour("#d55e00", "#7a2f00"),
        "unjudged": VerdictColour("#b9b2a5", "#5f574b"),
    },
)
DARK = Palette(
    dark=True,
    paper="#1e1d1a",
    desk="#181714",
    field="#272521",
    ink="#ece6da",
    soft="#b5ac9c",
    mark="#8f8676",
    hairline="#3b3831",
    accent="#9ccbb3",
    on_accent="#14211b",
    focus="#8fd0b0",
    chosen="#2e362f",
    selection="#354b3e",
    verdicts={
        "within": VerdictColour("#56b4e9", "#b5ddf5"),
        "near": VerdictColour("#e69f00", "#ffdd99"),
        "over": VerdictColour("#e8702a", "#ffc39a"),
        "unjudged": VerdictColour("#6f695e", "#b5ac9c"),
    },
)


@dataclass(frozen=True, slots=True)
class Theme:
    """A palette at a text scale; every length of the window goes through ``px``."""

    palette: Palette = LIGHT
    scale: float = 1.0

    def px(self, length: float) -> int:
        """Return a length in pixels at this text scale."""
        return round(length * self.scale)

    def space(self, steps: float) -> int:
        """Return a distance of so many steps of the spacing grid, in pixels."""
        return round(steps * GRID_PX * self.scale)

    def font(self, role: Role = "body", *, strong: bool = False, figures: bool = False) -> QFont:
        """Return the typeface at the size of a role; ``figures`` sets figures of equal width."""
        font = QFont(FAMILY)
        font.setPixelSize(self.px(SIZES_PX[role]))
        font.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
        return equal_figures().resolve(font) if figures else font

    def colour(self, name: str) -> QColor:
        """Return a colour of the palette by its attribute name."""
        return QColor(str(getattr(self.palette, name)))


def equal_figures() -> QFont:
    """Return a font that asks for figures of equal width and leaves size and typeface to where it is used."""
    font = QFont()
    font.setFeature(QFont.Tag("tnum"), 1)
    return font


_active = Theme()


def current() -> Theme:
    """Return the theme the window is drawn with (painted widgets ask at each paint)."""
    return _active


def load_fonts() -> tuple[str, ...]:
    """Register the shipped typeface; returns the families found."""
    families: list[str] = []
    for path in sorted((RESOURCES / "fonts").glob(f"{FAMILY}*.ttf")):
        number = QFontDatabase.addApplicationFont(str(path))
        families += QFontDatabase.applicationFontFamilies(number) if number >= 0 else []
    return tuple(families)


def scale_from_environment() -> float | None:
    """Return the text scale asked for by FLUELEAF_TEXT_SCALE (1 to 2, or 100 to 200), if one is."""
    try:
        asked = float(os.environ.get(TEXT_SCALE_VARIABLE, "").rstrip("%"))
    except ValueError:
        return None
    asked = asked / 100 if asked >= 50 else asked
    return min(max(asked, TEXT_SCALES[0]), TEXT_SCALES[-1]) if math.isfinite(asked) else None


class ThemeKeeper(QObject):
    """Applies the theme to the application and follows the system's light or dark scheme."""

    theme_changed = Signal()

    def __init__(self, app: QApplication, *, scale: float = 1.0, dark: bool | None = None) -> None:
        """Style the application.

        Args:
            app: the application.
            scale: text scale, 1.0 to 2.0; FLUELEAF_TEXT_SCALE wins over it.
            dark: a fixed scheme, or None to follow the system.
        """
        super().__init__(app)
        self._app = app
        self._fixed = dark
        self._scale = scale_from_environment() or scale
        app.setStyle("Fusion")
        speak(app)
        load_fonts()
        app.setWindowIcon(QIcon(str(RESOURCES / "icons" / "flueleaf.svg")))
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._on_scheme_changed)
        self._apply()

    @property
    def scale(self) -> float:
        """The text scale in force."""
        return self._scale

    def set_scale(self, scale: float) -> None:
        """Set the text scale, 1.0 to 2.0."""
        self._scale = min(max(scale, TEXT_SCALES[0]), TEXT_SCALES[-1])
        self._apply()

    def set_dark(self, dark: bool | None) -> None:
        """Fix the scheme, or follow the system again with None."""
        self._fixed = dark
        self._apply()

    def other_scheme(self) -> None:
        """Change from light to dark or back, whatever the system says."""
        self.set_dark(not _active.palette.dark)

    def larger(self) -> None:
        """One step up the text scales."""
        self.set_scale(next((s for s in TEXT_SCALES if s > self._scale + 1e-6), TEXT_SCALES[-1]))

    def smaller(self) -> None:
        """One step down the text scales."""
        self.set_scale(next((s for s in reversed(TEXT_SCALES) if s < self._scale - 1e-6), TEXT_SCALES[0]))

    def usual(self) -> None:
        """Back to 100 %."""
        self.set_scale(1.0)

    def _on_scheme_changed(self) -> None:
        self._apply()

    def _apply(self) -> None:
        global _active  # noqa: PLW0603 - one application has one look; painted widgets read it
        scheme = QGuiApplication.styleHints().colorScheme()
        dark = self._fixed if self._fixed is not None else scheme == Qt.ColorScheme.Dark
        _active = Theme(DARK if dark else LIGHT, self._scale)
        self._app.setPalette(_qt_palette(_active.palette))
        self._app.setFont(_active.font())
        self._app.setStyleSheet(style_sheet(_active))
        self.theme_changed.emit()


def _qt_palette(palette: Palette) -> QPalette:
    roles = {
        QPalette.ColorRole.Window: palette.paper,
        QPalette.ColorRole.WindowText: palette.ink,
        QPalette.ColorRole.Base: palette.field,
        QPalette.ColorRole.AlternateBase: palette.desk,
        QPalette.ColorRole.Text: palette.ink,
        QPalette.ColorRole.Button: palette.paper,
        QPalette.ColorRole.ButtonText: palette.ink,
        QPalette.ColorRole.ToolTipBase: palette.desk,
        QPalette.ColorRole.ToolTipText: palette.ink,
        QPalette.ColorRole.PlaceholderText: palette.soft,
        QPalette.ColorRole.Highlight: palette.selection,
        QPalette.ColorRole.HighlightedText: palette.ink,
        QPalette.ColorRole.Link: palette.accent,
        QPalette.ColorRole.Accent: palette.accent,
        QPalette.ColorRole.Mid: palette.hairline,
    }
    made = QPalette()
    for role, colour in roles.items():
        made.setColor(role, QColor(colour))
    return made
