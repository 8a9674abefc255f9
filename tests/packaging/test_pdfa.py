"""The PDF/A validator is asked rightly, and it can fail."""

from __future__ import annotations

from pathlib import Path

import pdfa
import pytest
from fpdf import FPDF

FONT = Path(__file__).resolve().parents[2] / "resources" / "fonts" / "InterPaper-Regular.ttf"


@pytest.mark.parametrize(
    ("said", "version"),
    [("javac 17.0.15\n", 17), ("javac 21\n", 21), ("javac 1.8.0_402\n", 1), ("command not found", 0)],
)
def test_java_version(said: str, version: int) -> None:
    assert pdfa.java_version(said) == version


def test_verdicts_are_given_file_by_file() -> None:
    said = "0\tdone\n1\tfault\trule 6.1-1: no\n1\tfault\trule 6.2-1: never\n1\tdone\n"
    assert pdfa.read_verdicts(said, 2) == [[], ["rule 6.1-1: no", "rule 6.2-1: never"]]


@pytest.mark.parametrize("said", ["", "0\tdone\n", "0\tdone\n1\tfault\trule 6.1-1: no\n"])
def test_a_file_without_a_verdict_is_not_good(said: str) -> None:
    assert pdfa.read_verdicts(said, 2) is None


def _page(path: Path, *, compliant: bool) -> Path:
    pdf = FPDF(enforce_compliance="PDF/A-3B") if compliant else FPDF()
    if compliant:
        pdf.add_font("Inter", fname=FONT)
    pdf.add_page()
    pdf.set_font("Inter" if compliant else "helvetica", size=12)
    pdf.cell(text="One page")
    pdf.output(str(path))
    return path


@pytest.mark.verapdf
def test_verapdf_tells_compliant_files_from_others(tmp_path: Path) -> None:
    good = _page(tmp_path / "good – ü.pdf", compliant=True)
    plain = _page(tmp_path / "plain.pdf", compliant=False)
    junk = tmp_path / "junk.pdf"
    junk.write_text("no PDF at all", encoding="utf-8")
    faults = pdfa.validate([plain, good, junk])
    assert faults is not None, pdfa.missing_part()
    assert faults[good] == []
    # ISO 19005-3:2012, 6.2.11.4.1 (fonts are embedded) and 6.6.2.1 (metadata is there).
    assert any(fault.startswith("rule 6.2.11.4.1-1:") for fault in faults[plain])
    assert any(fault.startswith("rule 6.6.2.1-1:") for fault in faults[plain])
    assert faults[junk] != []
