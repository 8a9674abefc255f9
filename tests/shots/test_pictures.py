"""The program looks as it was accepted: every leaf and dialog, light and dark, 100 and 200 %."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import picture_set
import pytest
from PIL import Image, ImageDraw, ImageEnhance
from PySide6.QtWidgets import QApplication
from tests.shots.comparing import changed, different_pct, keep, kept, small

if TYPE_CHECKING:
    from collections.abc import Iterator

REFERENCES = Path(__file__).parent / "references"
MOST_BYTES = 3_000_000
SAMPLE = "premises-light-100"


@pytest.fixture
def flashing(qapp: QApplication) -> Iterator[None]:
    """The cursor of other tests' fields flashes again afterwards."""
    before = qapp.cursorFlashTime()
    yield
    qapp.setCursorFlashTime(before)


@pytest.mark.slow
@pytest.mark.usefixtures("flashing")
def test_everything_looks_as_it_was_accepted(
    qapp: QApplication, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    accept = bool(request.config.getoption("--accept-shots"))
    seen: set[str] = set()
    faults: list[str] = []
    with picture_set.demo_book(tmp_path) as book:
        for name, image in picture_set.picture_set(book, qapp):
            seen.add(name)
            picture, path = small(image), REFERENCES / f"{name}.png"
            if accept and (not path.exists() or changed(picture, kept(path))):
                keep(picture, path)
            if not path.exists() or changed(picture, kept(path)):
                image.save(str(tmp_path / f"{name}.png"))
                faults.append(name)
    for path in REFERENCES.glob("*.png"):
        if path.stem not in seen:
            faults.append(path.stem)
            if accept:
                path.unlink()
    assert accept or faults == [], f"look at them in {tmp_path}, then accept with --accept-shots"


def test_every_leaf_is_pictured_in_every_look() -> None:
    names = {path.stem for path in REFERENCES.glob("*.png")}
    for look in ("light-100", "light-200", "dark-100", "dark-200"):
        for leaf in (*picture_set.leaf_names(), *picture_set.DIALOGS):
            assert f"{leaf}-{look}" in names


def test_the_pictures_stay_small() -> None:
    assert 0 < sum(path.stat().st_size for path in REFERENCES.glob("*.png")) < MOST_BYTES


@pytest.fixture
def sample() -> Image.Image:
    return kept(REFERENCES / f"{SAMPLE}.png")


def test_a_picture_is_kept_as_it_is(sample: Image.Image, tmp_path: Path) -> None:
    keep(sample, tmp_path / "again.png")
    assert different_pct(sample, kept(tmp_path / "again.png")) == 0


def test_a_picture_that_shows_something_else_is_changed(sample: Image.Image) -> None:
    assert changed(sample, kept(REFERENCES / "tonight-light-100.png"))
    assert changed(sample, kept(REFERENCES / "premises-dark-100.png"))
    assert changed(sample, sample.resize((sample.width, sample.height - 2)))


def test_a_section_moved_by_half_a_line_is_changed(sample: Image.Image) -> None:
    wide, high = sample.size
    section = sample.crop((wide // 4, high // 3, 3 * wide // 4, high - 20))
    sample_moved = sample.copy()
    sample_moved.paste(section, (wide // 4, high // 3 + 5))
    assert changed(sample, sample_moved)


def test_a_line_that_is_gone_is_changed(sample: Image.Image) -> None:
    gone = sample.copy()
    wide = sample.width
    ImageDraw.Draw(gone).rectangle((wide // 4, 10, 3 * wide // 4, 45), fill=14)
    assert changed(sample, gone)


def test_letters_drawn_a_little_stronger_are_not_changed(sample: Image.Image) -> None:
    stronger = ImageEnhance.Brightness(sample).enhance(0.96)
    assert not changed(sample, stronger)
    shifted = sample.transform(
        sample.size, Image.Transform.AFFINE, (1, 0, 0.25, 0, 1, 0), Image.Resampling.BILINEAR
    )
    assert not changed(sample, shifted)
