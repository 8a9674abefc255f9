"""Goes on with a Python that Flueleaf runs on: the one at work, or another one found on the machine.

Written so that old Pythons can read it, because one of them has to say what is wanted.
"""

import subprocess
import sys
from typing import List, Sequence

SUITABLE = ((3, 13), (3, 12), (3, 11))  # requires-python of pyproject.toml; a test keeps them equal


def suits(version: Sequence[int]) -> bool:
    """Return whether Flueleaf runs on a Python of this version (a tuple that begins major, minor)."""
    return tuple(version[:2]) in SUITABLE


def commands(windows: bool) -> List[List[str]]:
    """Return the commands under which a suitable Python is usually found, the newest first."""
    if windows:
        return [["py", "-%d.%d" % version] for version in SUITABLE]
    return [["python%d.%d" % version] for version in SUITABLE]


def answers(command: Sequence[str]) -> bool:
    """Return whether a command starts a suitable Python."""
    show = "import sys; print('%d.%d' % sys.version_info[:2])"
    try:
        said = subprocess.check_output([*command, "-c", show], stderr=subprocess.STDOUT)
    except (OSError, subprocess.CalledProcessError):
        return False
    return said.decode("ascii", "replace").strip() in ["%d.%d" % version for version in SUITABLE]


def go_on(script: str, arguments: Sequence[str]) -> None:
    """Return if this Python suits; otherwise run the script under one that does; end with its code.

    Where none is found, end with words that say so.
    """
    if suits(sys.version_info[:2]):
        return
    for command in commands(sys.platform == "win32"):
        if answers(command):
            sys.exit(subprocess.call([*command, script, *arguments]))
    sys.exit(
        "Flueleaf runs on Python 3.11, 3.12 or 3.13. This is Python %d.%d, and none of those was found.\n"
        "Install one of them and give the command again." % sys.version_info[:2]
    )
