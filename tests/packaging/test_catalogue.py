"""The catalogues hold what the source says, and a translation cannot lose a value."""

from __future__ import annotations

import gettext
from pathlib import Path

import catalogue
import pytest
from catalogue import Words
from catalogue_sources import template

SOURCE = '''
from flueleaf.desktop.words import _, _n
HEAD = _("Owed to you")
PURPOSES: tuple[str, ...] = ("service", "breakdown")
OTHERS = ("never", "this")
def shown(count):
    """Not a text: _("never")."""
    note(_("{name} owes {sum}", name=str(_("somebody")), sum=1))
    said.emit(_n("{count} paper", "{count} papers", count))
    return said("oxygen {o2}"
                " is much", o2=marked("much"))
def _(text): ...
_(HEAD)
'''
STAGE = """
key = "gas supply"
lines = ["Tightness first.", "Then the pressure."]
[[check]]
key = "gas_tight"
question = "Did it hold?"
source = "the standard"
"""


@pytest.fixture
def top(tmp_path: Path) -> Path:
    """A small checkout."""
    module = tmp_path / "app" / "flueleaf" / "desktop" / "some.py"
    stage = tmp_path / "resources" / "kinds" / "stages" / "gas.toml"
    for path, text in ((module, SOURCE), (stage, STAGE)):
        path.parent.mkdir(parents=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def po_of(top: Path, language: str) -> Path:
    return top / "resources" / "words" / language / "LC_MESSAGES" / "flueleaf.po"


def read(top: Path, language: str, folder: Path | None = None) -> gettext.NullTranslations:
    return gettext.translation("flueleaf", folder or top / "resources" / "words", [language])


def test_every_text_is_found_and_nothing_else(top: Path) -> None:
    where = "app/flueleaf/desktop/some.py"
    found = list(template(top))
    assert {text for place, text in found if place == where} == {
        "Owed to you",
        "service",
        "breakdown",
        "{name} owes {sum}",
        "somebody",
        ("{count} paper", "{count} papers"),
        "oxygen {o2} is much",
        "much",
    }
    tables = {text for place, text in found if place != where}
    assert tables == {"gas supply", "Tightness first.", "Then the pressure.", "Did it hold?"}


def test_made_catalogues_are_current_until_a_text_changes(
    top: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert catalogue.main(["--check"], top) == 1
    assert catalogue.main([], top) == 0
    assert catalogue.main(["--check"], top) == 0
    module = top / "app" / "flueleaf" / "desktop" / "some.py"
    module.write_text(SOURCE.replace("Owed to you", "Owing to you"), encoding="utf-8")
    capsys.readouterr()
    assert catalogue.main(["--check"], top) == 1
    told = capsys.readouterr().out
    assert "resources/words/en_GB/LC_MESSAGES/flueleaf.mo is out of date" in told
    assert catalogue.main([], top) == 0
    assert "Owed to you" not in po_of(top, "en_GB").read_text(encoding="utf-8")


def test_a_text_that_only_moves_changes_no_file(top: Path) -> None:
    catalogue.main([], top)
    module = top / "app" / "flueleaf" / "desktop" / "some.py"
    module.write_text("\n\n\n" + SOURCE, encoding="utf-8")
    assert catalogue.stale(catalogue.files(top)[0]) == []


def test_no_file_names_a_day_or_the_tool(top: Path) -> None:
    catalogue.main([], top)
    for path in (top / "resources" / "words").rglob("flueleaf.*"):
        for word in (b"Date", b"Babel", b"202"):
            assert word not in path.read_bytes(), (path, word)


def test_british_english_is_the_source_itself(top: Path) -> None:
    catalogue.main([], top)
    words = read(top, "en_GB")
    assert words.gettext("Owed to you") == "Owed to you"
    assert [words.ngettext("{count} paper", "{count} papers", n) for n in (1, 2)] == [
        "{count} paper",
        "{count} papers",
    ]


def test_another_language_keeps_its_translations(top: Path) -> None:
    assert catalogue.main(["--new", "de"], top) == 0
    path = po_of(top, "de")
    text = path.read_text(encoding="utf-8")
    done = text.replace('msgid "Did it hold?"\nmsgstr ""', 'msgid "Did it hold?"\nmsgstr "Hat es gehalten?"')
    assert done != text
    path.write_text(done, encoding="utf-8")
    assert catalogue.main([], top) == 0
    assert read(top, "de").gettext("Did it hold?") == "Hat es gehalten?"
    assert read(top, "de").gettext("somebody") == "somebody"
    assert path.read_text(encoding="utf-8") == done


@pytest.mark.parametrize("wrong", ["{nam} schuldet {sum}", "jemand schuldet {sum}", "{name schuldet"])
def test_a_translation_with_other_values_is_refused(
    top: Path, capsys: pytest.CaptureFixture[str], wrong: str
) -> None:
    catalogue.main(["--new", "de"], top)
    path = po_of(top, "de")
    at = 'msgid "{name} owes {sum}"\nmsgstr "'
    path.write_text(path.read_text(encoding="utf-8").replace(at, at + wrong), encoding="utf-8")
    assert catalogue.main([], top) == 1
    assert "de: '{name} owes {sum}'" in capsys.readouterr().out


def test_a_count_without_its_plural_is_refused() -> None:
    made = Words("de")
    made.add(("{count} paper", "{count} papers"), ("{count} Blatt",))
    assert any("plural" in fault for fault in catalogue.faults(made))


def test_the_pseudo_language_says_every_text(top: Path, tmp_path: Path) -> None:
    folder = tmp_path / "made"
    assert catalogue.main(["--pseudo", str(folder)], top) == 0
    words = read(top, "en_XA", folder)
    for _place, text in template(top):
        for one in (text,) if isinstance(text, str) else text:
            many = text if isinstance(text, tuple) else (text, text)
            said = words.ngettext(*many, 1 if one == many[0] else 2) if len(text) == 2 else words.gettext(one)
            assert said.startswith("⟦")
            assert said.endswith("⟧")
    assert "{name}" in words.gettext("{name} owes {sum}")
    assert not (top / "resources" / "words").exists()


def test_the_catalogues_of_the_program_have_no_faults() -> None:
    _wanted, told = catalogue.files(catalogue.TOP)
    assert told == []
