from __future__ import annotations

import datetime as dt
import xml.etree.ElementTree as ET

from flueleaf.papers.metadata import xmp

AT = dt.datetime(2026, 7, 1, 9, 30, tzinfo=dt.timezone(dt.timedelta(hours=1)))


def test_names_with_special_characters_stay_well_formed() -> None:
    read = ET.fromstring(xmp(title="Quote <Q&1>", author="A\x00 & B\ud800\uffff", issued_at=AT))
    texts = [node.text for node in read.iter() if node.text and node.text.strip()]
    assert "Quote <Q&1>" in texts
    assert "A & B" in texts


def test_part_level_and_the_papers_own_time() -> None:
    said = xmp(title="Quote Q-1", author="A", issued_at=AT)
    assert "<pdfaid:part>3</pdfaid:part>" in said
    assert "<pdfaid:conformance>B</pdfaid:conformance>" in said
    assert said.count("2026-07-01T09:30:00+01:00") == 3
