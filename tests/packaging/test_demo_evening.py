"""Whether a window can open, and what is said of an evening that ran without one."""

from __future__ import annotations

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
