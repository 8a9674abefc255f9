"""Copies to print go with the window, and those of a killed window a day later; nothing else goes."""

from __future__ import annotations

import datetime as dt
import os
import tempfile
from typing import TYPE_CHECKING

import pytest

from flueleaf.desktop import print_copies

if TYPE_CHECKING:
    from pathlib import Path

NOW = dt.datetime(2026, 11, 20, 21, tzinfo=dt.UTC)


@pytest.fixture(autouse=True)
def _own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))


def _aged(folder: Path, hours: int) -> Path:
    folder.mkdir()
    (folder / "I-2026-0001.pdf").write_bytes(b"%PDF")
    moment = (NOW - dt.timedelta(hours=hours)).timestamp()
    os.utime(folder, (moment, moment))
    return folder


def test_copies_of_this_window_go_with_it() -> None:
    one, two = print_copies.new_folder(), print_copies.new_folder()
    (one / "I-2026-0001.pdf").write_bytes(b"%PDF")
    print_copies.forget()
    assert not one.exists()
    assert not two.exists()


def test_what_was_left_behind_goes_a_day_later(tmp_path: Path) -> None:
    old = _aged(tmp_path / f"{print_copies.PREFIX}old", 25)
    fresh = _aged(tmp_path / f"{print_copies.PREFIX}fresh", 23)
    other = _aged(tmp_path / "somebody-elses", 900)
    linked = tmp_path / f"{print_copies.PREFIX}linked"
    linked.symlink_to(other, target_is_directory=True)
    print_copies.forget_left_behind(NOW + dt.timedelta(days=0))
    assert not old.exists()
    assert fresh.exists()
    assert (other / "I-2026-0001.pdf").exists()
    assert linked.is_symlink()
