"""Keeps the message catalogues in resources/words: the template, a .po for each language, and its .mo.

    python packaging/catalogue.py                  # after a text of the window was added or changed
    python packaging/catalogue.py --new de         # a language more
    python packaging/catalogue.py --check          # fails if the catalogues are not what the source says
    python packaging/catalogue.py --pseudo FOLDER  # a made-up language that shows what is not translated

Neither dates nor line numbers are written, so that only a change of a text changes a file. British English
is the language of the source: its translations are the texts themselves. Any other language is somebody's
work in its .po file, with any editor for such files.
"""

from __future__ import annotations

import argparse
import io
import string
import sys
from collections.abc import Sequence
from pathlib import Path

from babel import Locale
from babel.messages.catalog import Catalog, Message
from babel.messages.mofile import write_mo
from babel.messages.pofile import PoFileParser, write_po
from catalogue_sources import collected
from pseudo import ITS_DAYS, PSEUDO, pseudo

TOP = Path(__file__).resolve().parents[1]
DOMAIN = "flueleaf"
SOURCE_LANGUAGE = "en_GB"
_ABOUT = "# The texts of Flueleaf's window. packaging/catalogue.py keeps this file."


class Words(Catalog):
    """A catalogue whose head names neither dates nor people nor the tool's version."""

    def __init__(self, language: str = "") -> None:
        """Make an empty catalogue; the template has no language."""
        pseudo_one = language == PSEUDO
        known = language if language and not pseudo_one else None
        super().__init__(locale=known, domain=DOMAIN, header_comment=_ABOUT, fuzzy=False)
        self._language = ITS_DAYS if pseudo_one else language

    def _get_mime_headers(self) -> list[tuple[str, str]]:
        language = [("Language", self._language)] if self._language else []
        return [
            *language,
            ("Content-Type", "text/plain; charset=utf-8"),
            ("Content-Transfer-Encoding", "8bit"),
            ("Plural-Forms", self.plural_forms),
        ]

    mime_headers = property(_get_mime_headers, Catalog._set_mime_headers)


def template(top: Path = TOP) -> Words:
    """Return the catalogue of the source's texts, without translations."""
    made = Words()
    collected(top, made)
    return made


def brought_up(text: bytes, language: str, texts: Words) -> Words:
    """Return a language's catalogue with today's texts; ``text`` is its .po file, empty for a new one."""
    made = Words(language)
    PoFileParser(made, abort_invalid=True).parse(io.StringIO(text.decode("utf-8")))
    made.header_comment = _ABOUT
    made.update(texts, no_fuzzy_matching=language == SOURCE_LANGUAGE)
    if language == SOURCE_LANGUAGE:
        made.obsolete.clear()
        for message in made:
            message.string = message.id
    return made


def faults(catalogue: Catalog) -> list[str]:
    """Return what is wrong with the translations: their plural forms and the values they name."""
    told = []
    for message in catalogue:
        if not message.id or not any(_strings(message)):
            continue
        told += [f"{_strings_of(message.id)[0]!r}: {error}" for error in _errors(catalogue, message)]
    return told


def po_bytes(catalogue: Catalog) -> bytes:
    """Return the .po (or .pot) file of a catalogue."""
    made = io.BytesIO()
    write_po(made, catalogue, width=110, sort_output=True, include_lineno=False)
    return made.getvalue()


def mo_bytes(catalogue: Catalog) -> bytes:
    """Return the .mo file of a catalogue, which the program reads."""
    made = io.BytesIO()
    write_mo(made, catalogue)
    return made.getvalue()


def files(top: Path, also: Sequence[str] = ()) -> tuple[dict[Path, bytes], list[str]]:
    """Return what the files of the catalogues have to hold, and what is wrong with translations."""
    words = top / "resources" / "words"
    texts = template(top)
    wanted = {words / f"{DOMAIN}.pot": po_bytes(texts)}
    told: list[str] = []
    there = [path.parents[1].name for path in words.glob(f"*/LC_MESSAGES/{DOMAIN}.po")]
    for language in sorted({SOURCE_LANGUAGE, *there, *also}):
        path = words / language / "LC_MESSAGES" / f"{DOMAIN}.po"
        catalogue = brought_up(path.read_bytes() if path.exists() else b"", language, texts)
        told += [f"{language}: {fault}" for fault in faults(catalogue)]
        wanted[path] = po_bytes(catalogue)
        wanted[path.with_suffix(".mo")] = mo_bytes(catalogue)
    return wanted, told


def stale(wanted: dict[Path, bytes]) -> list[Path]:
    """Return the files that do not hold what they have to."""
    return [path for path, made in wanted.items() if not path.exists() or path.read_bytes() != made]


def write_pseudo(folder: Path, top: Path = TOP) -> Path:
    """Write the pseudo language's .mo into a folder as gettext looks for it; returns the file."""
    catalogue = Words(PSEUDO)
    for message in template(top):
        if message.id:
            catalogue.add(message.id, pseudo(message.id))
    path = folder / PSEUDO / "LC_MESSAGES" / f"{DOMAIN}.mo"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(mo_bytes(catalogue))
    return path


def main(arguments: Sequence[str], top: Path = TOP) -> int:
    """Keep, check or make catalogues; return 0 only if all is as it should be."""
    parser = argparse.ArgumentParser(prog="catalogue.py", description="Keeps the texts of the window.")
    asked = parser.add_mutually_exclusive_group()
    asked.add_argument("--check", action="store_true", help="change nothing, fail if a file is out of date")
    asked.add_argument("--new", metavar="LANGUAGE", help="begin a language, such as de or fr_CA")
    asked.add_argument("--pseudo", metavar="FOLDER", type=Path, help="write the pseudo language there")
    given = parser.parse_args(arguments)
    if given.pseudo:
        print(write_pseudo(given.pseudo, top))
        return 0
    new = [str(Locale.parse(given.new))] if given.new else []
    wanted, told = files(top, new)
    behind = stale(wanted)
    print("\n".join(told), end="\n" if told else "")
    if given.check:
        return _judged(behind, told, top)
    for path in behind:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(wanted[path])
        print(f"wrote {path.relative_to(top).as_posix()}")
    return 1 if told else 0


def _judged(behind: Sequence[Path], told: Sequence[str], top: Path) -> int:
    for path in behind:
        print(f"{path.relative_to(top).as_posix()} is out of date: run python packaging/catalogue.py")
    if not behind and not told:
        print("the catalogues say what the source says")
    return 1 if behind or told else 0


def _errors(catalogue: Catalog, message: Message) -> list[str]:
    errors = [str(error) for error in message.check(catalogue)]
    allowed = [_values(text) for text in _strings_of(message.id)]
    for text in _strings(message):
        if _values(text) not in allowed:
            errors.append(f"its values are not those of the source in {text!r}")
    return errors


def _values(text: str) -> frozenset[str] | None:
    """Return the names in braces; None where the braces cannot be read."""
    try:
        return frozenset(name for _, name, _, _ in string.Formatter().parse(text) if name is not None)
    except ValueError:
        return None


def _strings(message: Message) -> tuple[str, ...]:
    return _strings_of(message.string)


def _strings_of(texts: object) -> tuple[str, ...]:
    if isinstance(texts, str):
        return (texts,)
    return tuple(texts) if isinstance(texts, tuple | list) else ()  # None: not translated


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
