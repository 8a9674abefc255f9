"""Finding and installing system packages, on invented machines."""

from __future__ import annotations

from collections.abc import Sequence

import debian
import pytest

INSTALLED = (
    "libegl1\tinstalled\t\n"
    "libglib2.0-0t64\tinstalled\tlibglib2.0-0 (= 2.84.1-2)\n"
    "libgl1\tconfig-files\t\n"
    "default-jdk-headless\tinstalled\tjava-sdk-headless, java8-sdk-headless (= 1)\n"
)


class FakeMachine:
    """A machine with a list of packages; commands are written down and, if it is able, carried out."""

    def __init__(
        self, *, apt: bool = True, rights: list[str] | None = None, able: bool = True, code: int = 0
    ) -> None:
        self._apt, self._rights, self._able, self._code = apt, rights, able, code
        self.lines = INSTALLED
        self.commands: list[list[str]] = []

    def has_apt(self) -> bool:
        return self._apt

    def packages(self) -> str:
        return self.lines

    def knows(self, package: str) -> bool:
        return package != "openjdk-17-jdk-headless"

    def rights(self) -> list[str] | None:
        return self._rights

    def run(self, command: Sequence[str]) -> int:
        self.commands.append([*command])
        if "install" in command and self._able:
            self.lines += "".join(f"{name}\tinstalled\t\n" for name in command[command.index("-y") + 1 :])
        return self._code


@pytest.mark.parametrize(
    ("release", "expected"),
    [
        ("ID=debian\nVERSION_ID=12\n", True),
        ('NAME="Ubuntu"\nID=ubuntu\nID_LIKE=debian\n', True),
        ('ID=linuxmint\nID_LIKE="ubuntu debian"\n', True),
        ('ID=fedora\nNAME="not debian"\n', False),
        ("", False),
    ],
)
def test_knows_debian_and_its_kin(release: str, expected: bool) -> None:
    assert debian.is_debian(release) is expected


def test_a_provided_name_counts_and_a_removed_package_does_not() -> None:
    present = debian.installed(INSTALLED)
    assert {"libegl1", "libglib2.0-0", "java8-sdk-headless"} <= present
    assert debian.missing(["libegl1", "libgl1", "libglib2.0-0"], present) == ["libgl1"]


def test_one_of_several_alternatives_is_enough() -> None:
    assert debian.missing(debian.JAVA, debian.installed(INSTALLED)) == []
    assert debian.missing(["nothing|of-these"], {"libegl1"}) == ["nothing|of-these"]


def test_runs_nothing_when_nothing_is_missing() -> None:
    machine = FakeMachine(rights=[])
    debian.ensure(["libegl1"], "that a test needs", machine)
    assert machine.commands == []


def test_runs_nothing_off_debian() -> None:
    machine = FakeMachine(apt=False, rights=[])
    debian.ensure(["libgl1"], "that a test needs", machine)
    assert machine.commands == []


@pytest.mark.parametrize("rights", [[], ["sudo", "-n"]])
def test_installs_what_is_missing_with_the_rights_there_are(rights: list[str]) -> None:
    machine = FakeMachine(rights=rights)
    debian.ensure(["libegl1", "libgl1", "openjdk-17-jdk-headless|openjdk-21-jdk-headless"], "here", machine)
    update, install = machine.commands
    assert update == [*rights, "apt-get", "update", "-q"]
    assert install[: len(rights)] == rights
    assert install[-2:] == [
        "libgl1",
        "openjdk-21-jdk-headless",
    ]  # the first alternative is unknown to this apt


def test_without_rights_names_one_command_and_runs_none() -> None:
    machine = FakeMachine(rights=None)
    with pytest.raises(debian.SetupProblem) as told:
        debian.ensure(["libgl1", "libdbus-1-3"], "that a test needs", machine)
    assert "sudo apt-get install -y --no-install-recommends libgl1 libdbus-1-3\n" in str(told.value)
    assert machine.commands == []


@pytest.mark.parametrize(("able", "code"), [(False, 100), (False, 0), (True, 100)])
def test_a_failed_installation_is_told(able: bool, code: int) -> None:
    machine = FakeMachine(rights=[], able=able, code=code)
    with pytest.raises(debian.SetupProblem, match=r"sudo apt-get install .* libgl1"):
        debian.ensure(["libgl1"], "that a test needs", machine)
