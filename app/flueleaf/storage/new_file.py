"""A new file of a book, which appears under its name only when it is whole."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from flueleaf.domain.problems import BookProblem
from flueleaf.domain.words import said
from flueleaf.storage.problems import in_words


@contextlib.contextmanager
def new_file(path: Path) -> Iterator[Path]:
    """Give a temporary file in the same folder; it takes the name ``path`` when the block went well.

    Raises:
        BookProblem: something of that name is there, or the folder takes no file.
    """
    refused = BookProblem(said("There is already a file at {path}; it was left as it is.", path=path))
    no_room = BookProblem(said("No file can be made in the folder {parent}.", parent=path.parent))
    if os.path.lexists(path):
        raise refused
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.stem}-", suffix=".new")
    except OSError as error:
        raise no_room from error
    os.close(handle)
    made = Path(name)
    try:
        with in_words(path):
            yield made
        try:
            take_name(made, path)
        except FileExistsError as error:
            raise refused from error
        except OSError as error:
            raise no_room from error
    finally:
        made.unlink(missing_ok=True)


def take_name(made: Path, path: Path, link: Callable[[Path, Path], None] = os.link) -> None:
    """Give a file made whole its name.

    Raises:
        FileExistsError: another file has it by now.
    """
    try:
        link(made, path)
    except FileExistsError:
        raise
    except OSError:  # a stick without hard links: reserve the name, then put the file in its place
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY))
        try:
            made.replace(path)
        except BaseException:
            path.unlink(missing_ok=True)  # else the empty file would stand there and refuse the next try
            raise
