"""Every text of the window goes through the catalogue: what the source shows, and how it asks for it."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.desktop.texts_in_source import misused, nameless, untranslated, values_of

import flueleaf
from flueleaf.desktop.words import _, _n
from flueleaf.domain.words import said

PROGRAM = Path(flueleaf.__file__).parent
MODULES = sorted(path.relative_to(PROGRAM).as_posix() for path in PROGRAM.rglob("*.py"))
OF_THE_WINDOW = [path for path in MODULES if path.startswith("desktop/")]
# Modules whose texts are still plain English. May only shrink.
NOT_YET: frozenset[str] = frozenset()


def source(path: str) -> str:
    return (PROGRAM / path).read_text(encoding="utf-8")


@pytest.mark.parametrize("path", sorted(set(OF_THE_WINDOW) - NOT_YET))
def test_no_text_is_shown_as_the_source_has_it(path: str) -> None:
    assert untranslated(source(path)) == []


def test_the_list_of_what_is_left_only_shrinks() -> None:
    assert {path for path in NOT_YET if not untranslated(source(path))} == set(), "take these out of the list"


@pytest.mark.parametrize("path", OF_THE_WINDOW)
def test_every_section_has_a_name_of_its_own(path: str) -> None:
    assert nameless(source(path)) == []


@pytest.mark.parametrize("line", ['Section(_("due"))', "section.MarginSection(title, lines)"])
def test_a_section_without_a_name_is_found(line: str) -> None:
    assert len(nameless(line)) == 1
    assert nameless(line[:-1] + ', name="due")') == []


@pytest.mark.parametrize("path", MODULES)
def test_the_catalogue_can_follow_every_call(path: str) -> None:
    assert misused(source(path)) == []


@pytest.mark.parametrize(
    "line",
    [
        'label("Owed to you")',
        'self.said.emit(f"{count} papers")',
        'button("Seal" if today else _("Keep"), "seal", self.seal)',
        'section.add_fact(_("kind"), "boiler " + kind)',
        'TextField("name", "name", wanted=True)',
        'TextField("name", _("name"), hint="as it stands")',
        'HEAD = "Owed"\nself.set_heading(HEAD)',
        'box.setToolTip("Wait {}".format(seconds))',
        'raise UserProblem("Gone.")',
    ],
)
def test_a_text_that_is_not_translated_is_found(line: str) -> None:
    assert len(untranslated(line)) == 1


@pytest.mark.parametrize(
    "line",
    [
        'label(_("Owed to you"))',
        'label(f"{price} · {count}")',
        'button(name, "seal", self.seal)',
        'HEAD = _("Owed")\nself.set_heading(HEAD)',
        'kept.emit("premises")',
        'ask.open_file(self, _("Open"), _("Pictures") + " (*.png)")',
    ],
)
def test_a_translated_text_and_data_pass(line: str) -> None:
    assert untranslated(line) == []


@pytest.mark.parametrize(
    "line",
    [
        '_(f"{name} is left out")',
        '_("left " + "out")',
        '_("one" if one else "many")',
        '_("{name} is left out")',
        '_("nothing is left out", name=name)',
        'said("{nam} is left out", name=name)',
        '_n("one paper", count)',
        '_n("{count} paper of {name}", "{count} papers of {name}", count)',
    ],
)
def test_a_call_that_the_catalogue_cannot_follow_is_found(line: str) -> None:
    assert misused(line)


@pytest.mark.parametrize(
    "line",
    [
        '_("{name} is left out", name=x)',
        '_n("one paper", "{count} papers", n)',
        "_(fault.accepted)",
        "_(NAME, x=1)",
    ],
)
def test_a_call_that_it_can_follow_passes(line: str) -> None:
    assert misused(line) == []


def test_a_text_says_its_values() -> None:
    assert _("{name} owes {sum}", name="{x}", sum=3) == "{x} owes 3"
    assert _("a {brace} without values") == "a {brace} without values"
    assert _("") == ""
    assert [_n("one paper", "{count} papers", n) for n in (1, 3)] == ["one paper", "3 papers"]


def test_a_sentence_is_said_with_the_sentences_in_it() -> None:
    inner = said("at most {most}", most=2)
    assert _(said("accepted: {accepted}", accepted=inner)) == "accepted: at most 2"


def test_the_values_of_a_pattern_are_found() -> None:
    assert values_of("{a} of {b:.2f} {{not this}}") == {"a", "b"}
