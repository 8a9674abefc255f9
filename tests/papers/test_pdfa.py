from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest
from tests.papers.reading import drawn

from flueleaf.papers.registry import all_kinds

PACKAGING = Path(__file__).resolve().parents[2] / "packaging"


def load_pdfa() -> ModuleType:
    spec = importlib.util.spec_from_file_location("papers_pdfa", PACKAGING / "pdfa.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.verapdf
def test_every_kind_is_pdf_a_3b(tmp_path: Path) -> None:
    paths = []
    for kind in all_kinds().values():
        path = tmp_path / f"{kind.key}.pdf"
        path.write_bytes(drawn(kind.sample()))
        paths.append(path)
    assert load_pdfa().validate(paths) == {path: [] for path in paths}
