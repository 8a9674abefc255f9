"""Whether a window can open, and what is said of an evening that ran without one."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import demo_evening
import pytest


@pytest.mark.parametrize(
    ("platform", "environment", "expected"),
    [
        ("linux", {}, False),
        ("linux", {"DISPLAY": ""}, False),
        ("linux", {"DISPLAY": ":0"}, True),
        ("linux", {"WAYLAND_DISPLAY": "wayland-0"}, True),
        ("win32", {}, True),
        ("darwin", {}, True),
    ],
)
def test_has_display(platform: str, environment: dict[str, str], expected: bool) -> None:
    assert demo_evening.has_display(platform, environment) is expected


def test_summary_names_each_paper_and_the_book() -> None:
    evening = {
        "papers": [{"kind": "invoice", "number": "INV-7", "file": "out/INV-7.pdf", "fingerprint": "0"}]
    }
    text = demo_evening.summary(evening, {"ok": True, "papers": 12, "faults": []}, "out/demo.book")
    assert "invoice INV-7: out/INV-7.pdf" in text
    assert "whole, with 12 sealed papers: out/demo.book" in text
    broken = demo_evening.summary(evening, {"ok": False, "papers": 12, "faults": []}, "out/demo.book")
    assert "NOT WHOLE" in broken


def test_a_kept_demo_book_counts_only_for_the_same_program_data_and_month(tmp_path: Path) -> None:
    for folder in ("app/flueleaf", "resources", "demo_db"):
        (tmp_path / folder).mkdir(parents=True)
        (tmp_path / folder / "one").write_text("1", encoding="utf-8")
    may = dt.date(2026, 5, 3)
    keys = [demo_evening.sources_key(tmp_path, may)]
    assert demo_evening.sources_key(tmp_path, dt.date(2026, 5, 30)) == keys[0]
    keys.append(demo_evening.sources_key(tmp_path, dt.date(2026, 6, 1)))
    for folder in ("app/flueleaf", "resources", "demo_db"):
        (tmp_path / folder / "one").write_text("2", encoding="utf-8")
        keys.append(demo_evening.sources_key(tmp_path, may))
    (tmp_path / "resources" / "one").rename(tmp_path / "resources" / "two")
    keys.append(demo_evening.sources_key(tmp_path, may))
    assert len(set(keys)) == len(keys)
