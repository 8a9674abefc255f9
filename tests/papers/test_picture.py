from __future__ import annotations

import base64
import io
from dataclasses import replace

import pytest
from PIL import Image
from tests.papers.reading import drawn

from flueleaf.domain.problems import UserProblem
from flueleaf.papers.picture import picture
from flueleaf.papers.registry import all_kinds
from flueleaf.papers.sample_facts import sample_business


def packed(image: Image.Image, form: str = "PNG") -> str:
    out = io.BytesIO()
    image.save(out, form)
    return base64.b64encode(out.getvalue()).decode()


def test_transparency_is_laid_on_white() -> None:
    flat = picture(packed(Image.new("RGBA", (4, 4), (255, 0, 0, 0))), "logo")
    assert flat.mode == "RGB"
    assert flat.getpixel((1, 1)) == (255, 255, 255)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
def test_every_kind_of_png_is_taken(mode: str) -> None:
    assert picture(packed(Image.new(mode, (3, 2))), "logo").mode in ("L", "RGB")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("no base64 at all!", "damaged"),
        (packed(Image.new("RGB", (4, 4)), "JPEG"), "no PNG"),
        (packed(Image.new("RGB", (40, 40)))[:80], "damaged"),
        (base64.b64encode(b"\x89PNG\r\n\x1a\n").decode(), "damaged"),
        (packed(Image.new("1", (2600, 2500))), "2600 × 2500"),
    ],
)
def test_a_bad_picture_is_named(text: str, said: str) -> None:
    with pytest.raises(UserProblem, match=f"The signature cannot be printed.*{said}"):
        picture(text, "signature")


@pytest.mark.parametrize("name", ["logo", "signature"])
def test_a_paper_with_a_bad_picture_is_not_drawn(name: str) -> None:
    facts = all_kinds()["service record"].sample()
    business = replace(sample_business(), **{f"{name}_png": "AAAA"})
    with pytest.raises(UserProblem, match=f"The {name} cannot be printed"):
        drawn(replace(facts, head=replace(facts.head, business=business)))
