"""Finds and installs the system packages that Debian and Ubuntu do not bring along by themselves.

A wanted package is a name, or several with "|" between them of which one is enough (the first that apt knows
is installed). Package names: read from the package index of Debian 12 and tried in a bare root of it.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Protocol

# What Qt loads to draw without a screen.
OFFSCREEN = ("libglib2.0-0", "libegl1", "libgl1", "libdbus-1-3", "libfontconfig1", "libxkbcommon0")
# What Qt loads on top of that for a window under X11.
ON_SCREEN = ("libxkbcommon-x11-0", "libxcb-cursor0", "libxcb-icccm4", "libxcb-keysyms1", "libxcb-shape0")
# A Java compiler and runtime of version 17 or later.
JAVA = ("openjdk-17-jdk-headless|openjdk-21-jdk-headless|openjdk-25-jdk-headless|default-jdk-headless",)
# Java left out the part that reads veraPDF's profiles (JAXB) in version 11.
JAXB = ("libjaxb-java",)


class SetupProblem(Exception):
    """Something on the machine stands in the way; the text says what to do and is shown as written."""


class Machine(Protocol):
    """What the functions below ask of a machine, so that tests can hand in an invented one."""

    def has_apt(self) -> bool:
        """Return whether this is a Debian or one of its kin."""

    def packages(self) -> str:
        """Return a line for each known package: name, status and what it provides, tabs between."""

    def knows(self, package: str) -> bool:
        """Return whether apt could install a package."""

    def rights(self) -> list[str] | None:
        """Return what to put before a command to run it as root, or None where that is not possible."""

    def run(self, command: Sequence[str]) -> int:
        """Run a command with its output shown and return its exit code."""


class ThisMachine:
    """The machine at hand."""

    def has_apt(self) -> bool:
        """Return whether os-release names Debian or one of its kin, and the tools are there."""
        try:
            release = Path("/etc/os-release").read_text(encoding="utf-8")
        except OSError:
            return False
        return is_debian(release) and bool(shutil.which("apt-get") and shutil.which("dpkg-query"))

    def packages(self) -> str:
        """Ask dpkg, which takes some hundredths of a second."""
        shown = "-f=${Package}\t${db:Status-Status}\t${Provides}\n"
        return subprocess.run(["dpkg-query", "-W", shown], capture_output=True, text=True, check=True).stdout

    def knows(self, package: str) -> bool:
        """Ask apt's index."""
        return (
            subprocess.run(["apt-cache", "show", package], capture_output=True, check=False).returncode == 0
        )

    def rights(self) -> list[str] | None:
        """Return nothing to add for root, sudo where it asks no password, else None."""
        if os.geteuid() == 0:
            return []
        if not shutil.which("sudo"):
            return None
        asked = subprocess.run(["sudo", "-n", "true"], capture_output=True, check=False)
        return ["sudo", "-n"] if asked.returncode == 0 else None

    def run(self, command: Sequence[str]) -> int:
        """Run with the questions of package scripts switched off."""
        return subprocess.run([*command], check=False).returncode


def is_debian(release: str) -> bool:
    """Return whether the text of an os-release file names Debian or Ubuntu as the system or its parent."""
    fields = dict(line.split("=", 1) for line in release.splitlines() if "=" in line)
    names = f"{fields.get('ID', '')} {fields.get('ID_LIKE', '')}".replace('"', "").split()
    return "debian" in names or "ubuntu" in names


def installed(packages: str) -> set[str]:
    """Return the names of the installed packages and of what they provide, from the lines dpkg-query gave."""
    names = set()
    for line in packages.splitlines():
        name, status, provides = line.split("\t")
        if status == "installed":
            names.add(name)
            names.update(part.split()[0] for part in provides.split(",") if part.strip())
    return names


def missing(wanted: Iterable[str], present: set[str]) -> list[str]:
    """Return the wanted packages, alternatives still joined, of which nothing is present."""
    return [names for names in wanted if not present.intersection(names.split("|"))]


def choose(names: str, machine: Machine) -> str:
    """Return the first alternative that apt knows, or the first of all where it knows none."""
    options = names.split("|")
    return next((option for option in options if machine.knows(option)), options[0])


def ensure(wanted: Iterable[str], why: str, machine: Machine) -> None:
    """Install what is missing; do nothing off Debian.

    Raises:
        SetupProblem: packages are missing and cannot be installed from here; the text names the one command.
    """
    if not machine.has_apt():
        return
    lacking = missing(wanted, installed(machine.packages()))
    if not lacking:
        return
    rights = machine.rights()
    if rights is None:
        raise SetupProblem(_one_command([choose(names, machine) for names in lacking], why))
    print(f"Installing system packages {why}: {', '.join(lacking).replace('|', ' or ')}", flush=True)
    machine.run([*rights, "apt-get", "update", "-q"])
    chosen = [choose(names, machine) for names in lacking]
    quiet = [
        "env",
        "DEBIAN_FRONTEND=noninteractive",
        "apt-get",
        "install",
        "-y",
        "-q",
        "--no-install-recommends",
    ]
    if machine.run([*rights, *quiet, *chosen]) != 0 or missing(lacking, installed(machine.packages())):
        raise SetupProblem(_one_command(chosen, why))


def _one_command(packages: list[str], why: str) -> str:
    command = f"sudo apt-get install -y --no-install-recommends {' '.join(packages)}"
    return f"System packages are missing {why}. Give this command, then start again:\n\n  {command}\n"
