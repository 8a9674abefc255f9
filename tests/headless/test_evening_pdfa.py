"""The evening's papers, with logo and signature, are archive PDFs by the judgement of veraPDF."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pdfa
import pytest

from flueleaf.paths import DEMO_DB


@pytest.mark.verapdf
def test_the_papers_of_the_documented_evening_are_pdf_a_3b(call: Any, tmp_path: Path) -> None:
    book, out = tmp_path / "demo.book", tmp_path / "out"
    assert call("make-demo", book, "--years", 0, "--today", "2026-11-25").code == 0
    said = call("evening", book, DEMO_DB / "evening.json", "--out", out, "--today", "2026-11-25")
    assert said.code == 0
    papers = sorted(out.glob("*.pdf"))
    assert len(papers) == len(said.answer["papers"]) == 2
    assert pdfa.validate(papers) == {path: [] for path in papers}
