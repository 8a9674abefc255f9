"""Where the shipped data and the owner's book lie, on each system."""

from __future__ import annotations

import os
import sys
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_CHECKOUT = _PACKAGE.parent.parent


def _shipped(name: str) -> Path:
    """Return a shipped folder: inside the installed package, or at the top of a checkout."""
    installed = _PACKAGE / name
    return installed if installed.is_dir() else _CHECKOUT / name


RESOURCES = _shipped("resources")
DEMO_DB = _shipped("demo_db")


def owner_folder() -> Path:
    """Return the folder in which a new book is put: FLUELEAF_HOME, else the system's place for data."""
    if home := os.environ.get("FLUELEAF_HOME"):
        return Path(home)
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA", Path.home() / "AppData" / "Roaming")) / "Flueleaf"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "Flueleaf"
    return Path(os.environ.get("XDG_DATA_HOME", Path.home() / ".local" / "share")) / "flueleaf"
