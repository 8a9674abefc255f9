"""The lock files fit pyproject.toml and hold nothing they should not."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
import setup_env
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

SETTINGS = tomllib.loads((setup_env.TOP / "pyproject.toml").read_text(encoding="utf-8"))
PYTHONS = ("3.11", "3.12", "3.13")
SYSTEMS = (("linux", "Linux", "x86_64"), ("win32", "Windows", "AMD64"), ("darwin", "Darwin", "arm64"))
PLACES = [
    {"python_version": python, "python_full_version": f"{python}.1", "sys_platform": platform}
    | {"platform_system": system, "platform_machine": machine, "implementation_name": "cpython"}
    | {"os_name": "nt" if platform == "win32" else "posix", "platform_python_implementation": "CPython"}
    for python in PYTHONS
    for platform, system, machine in SYSTEMS
]


def pins(lock: Path) -> list[Requirement]:
    """Return the pinned packages of a lock file, each checked to carry a hash."""
    entries = re.split(r"\n(?=[a-z])", lock.read_text(encoding="utf-8"))[1:]
    assert all("--hash=sha256:" in entry for entry in entries)
    return [Requirement(entry.split("\\")[0].strip()) for entry in entries]


def pinned_at(lock: Path, place: dict[str, str]) -> dict[str, str]:
    """Return name and version of what a lock file installs on one system and Python."""
    there = [pin for pin in pins(lock) if pin.marker is None or pin.marker.evaluate(place)]
    return {canonicalize_name(pin.name): str(pin.specifier).removeprefix("==") for pin in there}


@pytest.mark.parametrize(
    "place", PLACES, ids=lambda place: f"{place['sys_platform']}-{place['python_version']}"
)
def test_each_requirement_is_pinned_within_its_range(place: dict[str, str]) -> None:
    run = pinned_at(setup_env.lock("run"), place)
    dev = pinned_at(setup_env.lock("dev"), place)
    wanted = [(text, run) for text in SETTINGS["project"]["dependencies"]]
    wanted += [(text, dev) for text in SETTINGS["dependency-groups"]["dev"]]
    for text, locked in wanted:
        requirement = Requirement(text)
        if requirement.marker is None or requirement.marker.evaluate(place):
            assert requirement.specifier.contains(locked[canonicalize_name(requirement.name)]), text
    assert run.items() <= dev.items()


@pytest.mark.parametrize("name", ["run", "dev"])
def test_no_lock_names_where_packages_come_from(name: setup_env.Wanted) -> None:
    assert "://" not in setup_env.lock(name).read_text(encoding="utf-8")


def test_the_program_starts_without_pandas() -> None:
    # sqlite-utils imports pandas wherever it is installed, which more than doubles the time of that import.
    assert all(pin.name != "pandas" for pin in pins(setup_env.lock("run")))
