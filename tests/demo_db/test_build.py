from __future__ import annotations

import json

from demo_db.build import main


def test_it_writes_the_book_and_says_what_is_in_it(tmp_path, capsys) -> None:
    book = tmp_path / "small.book"
    assert main([str(book), "--years", "0", "--today", "2026-11-25"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["book"] == str(book)
    assert book.stat().st_size > 0


def test_a_file_that_is_there_is_left_and_named(tmp_path, capsys) -> None:
    book = tmp_path / "there.book"
    book.write_bytes(b"mine")
    assert main([str(book)]) == 1
    assert "there.book" in capsys.readouterr().err
    assert book.read_bytes() == b"mine"
