from __future__ import annotations

import io
import os
import subprocess
import sys
import zlib
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from tests.papers.inflated import inflated
from tests.papers.reading import drawn, overlaps, page_texts, squeezed, strings, text_of

from flueleaf.papers.facts import Seals
from flueleaf.papers.registry import Kind, all_kinds
from flueleaf.papers.sample_facts import sample_seals

ROOT = Path(__file__).resolve().parents[2]
GOLDEN = ROOT / "tests" / "golden"
PACKED_BY = "1.2.13"  # the zlib that packed the golden papers
SAMPLE = all_kinds()["invoice"].sample()
KINDS = list(all_kinds().values())
# The sign-off is printed as a sentence of its own.
REWORDED = {"signed on paper": "has signed, on paper"}

each_kind = pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.key)


def test_there_are_the_four_kinds() -> None:
    assert list(all_kinds()) == ["commissioning record", "invoice", "quote", "service record"]


@each_kind
def test_sample_is_the_golden_paper(kind: Kind, request: pytest.FixtureRequest) -> None:
    made = drawn(kind.sample())
    path = GOLDEN / f"{kind.key}.pdf"
    if request.config.getoption("--accept-golden", default=False):
        path.write_bytes(made)
    golden = path.read_bytes()
    # Another build of zlib packs the same pages into other bytes.
    same = made == golden or (zlib.ZLIB_RUNTIME_VERSION != PACKED_BY and inflated(made) == inflated(golden))
    assert same, "look at the new paper, then run again with --accept-golden"


def test_a_changed_paper_is_told_whatever_packed_it() -> None:
    golden = (GOLDEN / "invoice.pdf").read_bytes()
    streams = inflated(golden)
    assert len(streams) > 2 * len(golden)
    one, other = (drawn(replace(SAMPLE, payable=amount)) for amount in ("1.00", "2.00"))
    assert inflated(one) != inflated(other)


@each_kind
def test_everything_in_the_facts_is_printed(kind: Kind) -> None:
    facts = kind.sample()
    printed = squeezed(" ".join(page_texts(drawn(facts))))
    said = [REWORDED.get(text, text) for text in strings(facts)]
    assert len(said) > 30
    assert [text for text in said if squeezed(text) not in printed] == []


@each_kind
def test_nothing_is_printed_over_anything(kind: Kind) -> None:
    assert overlaps(drawn(kind.sample())) == []


@each_kind
def test_every_page_tells_number_fingerprints_and_place(kind: Kind) -> None:
    facts = kind.sample()
    seals = sample_seals(facts.head.number)
    pages = page_texts(drawn(facts))
    for number, page in enumerate(pages, start=1):
        text = squeezed(page)
        assert squeezed(f"{kind.title} {seals.number}") in text
        assert squeezed(f"page {number} of {len(pages)}") in text
        assert f"fingerprint{seals.fingerprint}" in text
        assert f"beforeit{seals.previous_fingerprint}" in text


@each_kind
def test_fonts_are_embedded_and_metadata_is_the_papers_own(kind: Kind) -> None:
    facts = kind.sample()
    read = pypdf.PdfReader(io.BytesIO(drawn(facts)))
    for page in read.pages:
        for font in page["/Resources"]["/Font"].values():
            descriptor = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            assert "/FontFile2" in descriptor
            assert "InterPaper" in descriptor["/FontName"]
    assert read.xmp_metadata is not None
    assert read.xmp_metadata.dc_title == {"x-default": f"{kind.title} {facts.head.number}"}
    assert read.xmp_metadata.xmp_create_date == facts.head.issued_at.replace(tzinfo=None)
    assert read.xmp_metadata.xmp_modify_date == facts.head.issued_at.replace(tzinfo=None)


@each_kind
def test_first_paper_of_a_book_says_so(kind: Kind) -> None:
    facts = kind.sample()
    text = text_of(kind.draw(facts, Seals(facts.head.number, "ab" * 32)))
    assert "there is no fingerprint before it" in text


@each_kind
def test_foreign_facts_and_seals_are_refused(kind: Kind) -> None:
    facts = kind.sample()
    with pytest.raises(ValueError, match="is not"):
        kind.draw(facts, Seals("X-1", "ab"))
    other = next(each for each in KINDS if each is not kind)
    with pytest.raises(ValueError, match="is not"):
        other.draw(facts, sample_seals(facts.head.number))


def test_equal_facts_give_equal_bytes_in_another_process() -> None:
    program = (
        "import hashlib\n"
        "from flueleaf.papers.registry import all_kinds\n"
        "from flueleaf.papers.sample_facts import sample_seals\n"
        "for kind in all_kinds().values():\n"
        "    facts = kind.sample()\n"
        "    print(hashlib.sha256(kind.draw(facts, sample_seals(facts.head.number))).hexdigest())\n"
    )
    said = set()
    for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo")):
        env = {**os.environ, "PYTHONPATH": str(ROOT / "app"), "PYTHONHASHSEED": seed, "TZ": zone}
        run = subprocess.run(
            [sys.executable, "-c", program], env=env, capture_output=True, text=True, check=True
        )
        said.add(run.stdout)
    assert len(said) == 1
    assert len(said.pop().split()) == len(KINDS)


def test_listing_the_kinds_loads_no_drawing_library() -> None:
    program = (
        "import sys\n"
        "from flueleaf.papers.registry import all_kinds\n"
        "all_kinds()\n"
        "loaded = {name.partition('.')[0] for name in sys.modules}\n"
        "print(sorted(loaded & {'fpdf', 'PIL', 'fontTools', 'numpy'}))\n"
    )
    env = {**os.environ, "PYTHONPATH": str(ROOT / "app")}
    run = subprocess.run([sys.executable, "-c", program], env=env, capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_a_replaced_paper_is_named() -> None:
    facts = all_kinds()["commissioning record"].sample()
    assert "replaces R-2026-0411" in text_of(drawn(facts))
    first = replace(facts, head=replace(facts.head, replaces=""))
    assert "replaces" not in text_of(drawn(first))
