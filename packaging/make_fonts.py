"""Make resources/fonts/ anew from the variable Inter of the registry package fontpkg-inter 4.1.post1.

Run by hand after `pip install fontpkg-inter==4.1.post1`. Two sets are made: InterPaper-*.ttf for PDFs (Latin
only, tabular figures in the place of the usual ones, no layout tables: the PDF library does not shape, and a
small file embeds fast) and Inter-*.ttf for the screen (Latin, Greek, Cyrillic, kerning, tabular figures as a
feature). Equal input gives equal files.
"""

# mypy: disable-error-code="import-untyped, import-not-found"
from __future__ import annotations

import shutil
from pathlib import Path

import fontpkg_inter
from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

SOURCE = Path(fontpkg_inter.__file__).parent
TARGET = Path(__file__).resolve().parent.parent / "resources" / "fonts"
# Inter's optical size axis runs from 14 (text) to 32 (display); everything here is text.
TEXT_SIZE = 14
STYLES = {
    "Regular": ("Inter", 400),
    "SemiBold": ("Inter", 600),
    "Bold": ("Inter", 700),
    "Italic": ("Inter-Italic", 400),
}

SIGNS = "–—‘’‚“”„•…‰′″₂₃₄€™←↑→↓−≈≠≤≥✓✗□†‡Ωμ"
LATIN = [
    *range(0x20, 0x7F),
    *range(0xA0, 0x180),
    *range(0x218, 0x21C),
    *range(0x1E80, 0x1E86),
    0x1E9E,
    0x1EF2,
    0x1EF3,
]
# The Latin letters of Vietnamese and African names, Greek, Cyrillic; arrows and shapes for labels.
WIDE = [
    *range(0x180, 0x250),
    *range(0x1E00, 0x1F00),
    *range(0x370, 0x530),
    *range(0x2000, 0x2070),
    *range(0x2190, 0x2200),
]


def main() -> None:
    """Write both sets and the licence."""
    for style, (family, weight) in STYLES.items():
        variable = TTFont(SOURCE / "files" / f"{family}[opsz,wght].ttf", recalcTimestamp=False)
        static = instancer.instantiateVariableFont(variable, {"opsz": TEXT_SIZE, "wght": weight})
        at = TARGET / f"Inter-{style}.ttf"
        static.save(at)
        if style != "Bold":
            _cut(at, TARGET / f"InterPaper-{style}.ttf", paper=True, style=style)
        if style == "Italic":
            at.unlink()
        else:
            _cut(at, at, paper=False, style=style)
    shutil.copy(SOURCE / "LICENSE", TARGET / "Inter-LICENSE.txt")


def _cut(source: Path, target: Path, *, paper: bool, style: str) -> None:
    font = TTFont(source, recalcTimestamp=False)
    options = subset.Options()
    options.notdef_outline = True
    options.hinting = False
    options.layout_features = (
        [] if paper else ["kern", "tnum", "mark", "ccmp", "locl", "calt", "case", "zero"]
    )
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14, 16, 17]
    if paper:
        _tabular_figures(font)
        options.drop_tables += ["GSUB", "GPOS", "GDEF", "STAT", "DSIG"]
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=[*LATIN, *map(ord, SIGNS), *([] if paper else WIDE)])
    cutter.subset(font)
    _name(font, "Inter Paper" if paper else "Inter", style)
    font.save(target)


def _tabular_figures(font: TTFont) -> None:
    """Let the usual code points of figures and signs name their tabular forms."""
    swap: dict[str, str] = {}
    for record in font["GSUB"].table.FeatureList.FeatureRecord:
        if record.FeatureTag == "tnum":
            for lookup in record.Feature.LookupListIndex:
                for part in font["GSUB"].table.LookupList.Lookup[lookup].SubTable:
                    swap.update(getattr(part, "ExtSubTable", part).mapping)
    for table in font["cmap"].tables:
        for code, glyph in table.cmap.items():
            if chr(code) in "0123456789":
                table.cmap[code] = swap.get(glyph, glyph)


def _name(font: TTFont, family: str, style: str) -> None:
    """Name the face; the four basic styles share a family, SemiBold is one of its own for old programs."""
    basic = style in ("Regular", "Bold", "Italic")
    names = {
        1: family if basic else f"{family} {style}",
        2: style if basic else "Regular",
        3: f"4.001;{family.replace(' ', '')}-{style}",
        4: f"{family} {style}",
        6: f"{family.replace(' ', '')}-{style}",
        16: family,
        17: style,
    }
    for name_id, text in names.items():
        font["name"].removeNames(nameID=name_id)
        font["name"].setName(text, name_id, 3, 1, 0x409)
    if style == "Bold":
        font["OS/2"].fsSelection = font["OS/2"].fsSelection & ~(1 << 6) | 1 << 5
        font["head"].macStyle |= 1


if __name__ == "__main__":
    main()
