"""Copies of papers that are opened to be printed: each in a folder of its own, none left for good.

The program that shows a copy may read it again when it prints, so that a copy stays while the window is open.
It goes when the window is closed; one left behind by a window that was killed goes a day later.
"""

from __future__ import annotations

import datetime as dt
import os
import shutil
import tempfile
from pathlib import Path

PREFIX = "flueleaf-print-"
LEFT_BEHIND_AFTER = dt.timedelta(days=1)  # another window may still show a newer one

_ours: list[Path] = []


def new_folder() -> Path:
    """Return a new, empty folder for one copy.

    Raises:
        OSError: there is no room for it.
    """
    folder = Path(tempfile.mkdtemp(prefix=PREFIX))
    _ours.append(folder)
    return folder


def forget() -> None:
    """Remove the copies made since the program began."""
    while _ours:
        shutil.rmtree(_ours.pop(), ignore_errors=True)


def forget_left_behind(now: dt.datetime) -> None:
    """Remove copies of this person's that no window can show any more.

    Args:
        now: the moment, with its zone.
    """
    for folder in Path(tempfile.gettempdir()).glob(f"{PREFIX}*"):
        if folder not in _ours and _is_left_behind(folder, now):
            shutil.rmtree(folder, ignore_errors=True)


def _is_left_behind(folder: Path, now: dt.datetime) -> bool:
    try:
        about = folder.lstat()
    except OSError:  # another window was faster
        return False
    if not folder.is_dir() or folder.is_symlink() or about.st_uid != _own_uid(about.st_uid):
        return False
    return now - dt.datetime.fromtimestamp(about.st_mtime, dt.UTC) > LEFT_BEHIND_AFTER


def _own_uid(where_there_is_none: int) -> int:
    return os.getuid() if hasattr(os, "getuid") else where_there_is_none
