"""A file takes its name only when it is whole, and never that of another file."""

from __future__ import annotations

from pathlib import Path

import pytest

from flueleaf.domain.problems import BookProblem
from flueleaf.storage.new_file import new_file, take_name


def test_a_book_made_elsewhere_meanwhile_wins(tmp_path: Path) -> None:
    made, name = tmp_path / "made", tmp_path / "name"
    made.write_text("ours")
    name.write_text("theirs")
    with pytest.raises(FileExistsError):
        take_name(made, name)
    assert name.read_text() == "theirs"


def test_a_file_that_appears_while_the_book_is_made_is_left(path: Path) -> None:
    with pytest.raises(BookProblem, match="already a file"), new_file(path) as made:  # noqa: PT012
        made.write_text("ours")
        path.write_text("theirs")
    assert path.read_text() == "theirs"
    assert list(path.parent.iterdir()) == [path]


def test_a_stick_without_hard_links_will_do(tmp_path: Path) -> None:
    def no_links(_made: Path, _path: Path) -> None:
        raise PermissionError

    made, name = tmp_path / "made", tmp_path / "name"
    made.write_text("ours")
    take_name(made, name, no_links)
    assert name.read_text() == "ours"
    made.write_text("second")
    with pytest.raises(FileExistsError):
        take_name(made, name, no_links)
    assert name.read_text() == "ours"


def test_a_name_that_could_not_be_taken_is_free_again(tmp_path: Path) -> None:
    def no_links(made: Path, _path: Path) -> None:
        made.unlink()  # so that it cannot be moved either: the stick was pulled out
        raise PermissionError

    made, name = tmp_path / "made", tmp_path / "name"
    made.write_text("ours")
    with pytest.raises(FileNotFoundError):
        take_name(made, name, no_links)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_takes_no_file_in_the_end_is_told_in_words(path: Path) -> None:
    with pytest.raises(BookProblem, match="No file can be made"), new_file(path) as made:
        made.unlink()
    assert list(path.parent.iterdir()) == []
