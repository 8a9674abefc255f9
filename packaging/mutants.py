"""Whether the tests would notice a wrong comparison or limit: each is made in a copy, where the tests run.

`python3 packaging/check.py --only mutants`, or `.venv/bin/python packaging/mutants.py [PART …]` for the files
whose path holds a part. No usual check: it takes an hour. mutants.toml says what is changed and who has to
notice. Tests that a change makes far slower are ended: that is told apart, for it may be the machine's doing.
"""

from __future__ import annotations

import argparse
import itertools
import os
import shutil
import subprocess
import sys
import tempfile
import time
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from queue import Queue
from typing import Literal

import mutations
from mutations import Mutation

HERE = Path(__file__).resolve().parent
TOP = HERE.parent
SETTINGS = TOP / "packaging" / "mutants.toml"
COPIED = ("app", "resources", "tests", "demo_db", "packaging", "pyproject.toml")
LEFT_OUT = shutil.ignore_patterns("__pycache__", ".hypothesis", "shots", "golden", "verapdf")
# A change may make a loop endless: tests are ended that take so many times as long as without a change, but
# not sooner than after so long: the machine may be busy with other things meanwhile. Our own choice, both.
TIMES_AS_LONG = 6
ALWAYS_GIVEN_S = 90
NO_TESTS_RAN = 5
_MOMENTS = itertools.count(1_000_000_000)

# What the tests say of a change; "too long": nothing, they were ended.
Said = Literal["noticed", "not noticed", "too long"]


@dataclass(frozen=True, slots=True)
class Target:
    """One file, and the tests that have to notice a change of it."""

    file: str
    tests: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change of one file."""

    target: Target
    text: str
    mutation: Mutation

    @property
    def line(self) -> str:
        """The line it stands in, as it is."""
        return self.text.splitlines()[self.mutation.line - 1].strip()

    @property
    def told(self) -> str:
        """Place, change and line."""
        return f"{self.target.file}:{self.mutation.line}: {self.mutation.told}: {self.line}"


def targets(settings: dict[str, list[dict[str, object]]], top: Path) -> list[Target]:
    """Return the files to change; a folder stands for its tables."""
    found = []
    for entry in settings["target"]:
        tests = tuple(str(test) for test in _texts(entry["tests"]))
        if "module" in entry:
            found.append(Target(str(entry["module"]), tests))
        else:
            folder = top / str(entry["folder"])
            found += [
                Target(path.relative_to(top).as_posix(), tests) for path in sorted(folder.glob("*.toml"))
            ]
    return found


def mutants_of(target: Target, top: Path) -> list[Mutant]:
    """Return every change of a file."""
    text = (top / target.file).read_text(encoding="utf-8")
    made = mutations.of_module(text) if target.file.endswith(".py") else mutations.of_table(text)
    return [Mutant(target, text, mutation) for mutation in made]


def main(arguments: Sequence[str]) -> int:
    """Run the mutants; return 0 only if the tests noticed each one that is not known to change nothing."""
    parser = argparse.ArgumentParser(prog="mutants.py", description=__doc__)
    parser.add_argument("modules", nargs="*", metavar="MODULE", help="only files whose path holds this")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    asked = parser.parse_args(arguments)
    settings = tomllib.loads(SETTINGS.read_text(encoding="utf-8"))
    wanted = [
        target
        for target in targets(settings, TOP)
        if not asked.modules or any(part in target.file for part in asked.modules)
    ]
    every = [mutant for target in wanted for mutant in mutants_of(target, TOP)]
    alike = known_alike(settings)
    tried = [mutant for mutant in every if (mutant.line, mutant.mutation.told) not in alike]
    print(f"{len(tried)} changes in {len(wanted)} files; {len(every) - len(tried)} known to change nothing")
    said = dict(judged(tried, asked.workers))
    for target in wanted:
        found = Counter(what for mutant, what in said.items() if mutant.target == target)
        print(f"{target.file}: {found['noticed']} of {found.total()} noticed", flush=True)
    found = Counter(said.values())
    print(f"{found['noticed']} noticed, {found['not noticed']} not, {found['too long']} took too long")
    return 1 if found["not noticed"] else 0


def known_alike(settings: dict[str, list[dict[str, object]]]) -> set[tuple[str, str]]:
    """Return the changes that change nothing, by their line and what they do."""
    return {
        (str(entry["line"]), str(change))
        for entry in settings.get("alike", [])
        for change in _texts(entry["changes"])
    }


def judged(tried: Sequence[Mutant], workers: int) -> Iterator[tuple[Mutant, Said]]:
    """Yield what the tests say of each change; print those that they do not notice."""
    with tempfile.TemporaryDirectory() as folder:
        copies: Queue[Path] = Queue()
        for n in range(workers):
            copies.put(_copy(Path(folder) / str(n)))
        given_s = {test: longest_s(took) for test, took in unchanged(tried, copies.queue[0]).items()}

        def judge(mutant: Mutant) -> Said:
            copy = copies.get()
            try:
                return _judge(mutant, copy, given_s)
            finally:
                copies.put(copy)

        with ThreadPoolExecutor(workers) as pool:
            for mutant, said in zip(tried, pool.map(judge, tried), strict=True):
                if said != "noticed":
                    print(f"{said}: {mutant.told}", flush=True)
                yield mutant, said


def unchanged(tried: Sequence[Mutant], copy: Path) -> dict[str, float]:
    """Return how many seconds each test takes without a change.

    Raises:
        AssertionError: some fail without any; so each change would seem to be noticed.
    """
    took_s: dict[str, float] = {}
    failing = []
    for test in dict.fromkeys(test for mutant in tried for test in mutant.target.tests):
        begun = time.monotonic()
        if not _tests_pass(test, copy, None):
            failing.append(test)
        took_s[test] = time.monotonic() - begun
    if failing:
        raise AssertionError(f"these fail without any change: {', '.join(failing)}")
    return took_s


def longest_s(took_s: float) -> float:
    """Return after how many seconds a run is ended that took so many without a change."""
    return max(ALWAYS_GIVEN_S, TIMES_AS_LONG * took_s)


def _copy(folder: Path) -> Path:
    folder.mkdir()
    for name in COPIED:
        if (TOP / name).is_dir():
            shutil.copytree(TOP / name, folder / name, ignore=LEFT_OUT)
        else:
            shutil.copy(TOP / name, folder / name)
    return folder


def _judge(mutant: Mutant, copy: Path, given_s: Mapping[str, float]) -> Said:
    file = copy / mutant.target.file
    _write(file, mutant.mutation.applied(mutant.text))
    try:
        passed = all(_tests_pass(test, copy, given_s[test]) for test in mutant.target.tests)
    except subprocess.TimeoutExpired:
        return "too long"
    finally:
        _write(file, mutant.text)
    return "not noticed" if passed else "noticed"


def _write(file: Path, text: str) -> None:
    """Write a text with a time of its own; Python takes a compiled file of the same second for the same."""
    file.write_text(text, encoding="utf-8")
    moment = next(_MOMENTS)
    os.utime(file, (moment, moment))


def _tests_pass(test: str, copy: Path, given_s: float | None) -> bool:
    """Tell whether tests pass.

    Raises:
        subprocess.TimeoutExpired: they took longer than they are given.
    """
    alone = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST_")}
    env = {**alone, "PYTHONPATH": os.pathsep.join((str(copy / "app"), str(HERE)))}
    command = [
        sys.executable,
        "-m",
        "pytest",
        test,
        "-x",
        "-q",
        "-n0",
        "-p",
        "no:randomly",
        "-p",
        "for_mutants",
    ]
    ended = subprocess.run(
        [*command, "-m", "not slow and not bench", "--hypothesis-seed=0"],
        cwd=copy, env=env, capture_output=True, timeout=given_s, check=False,
    )  # fmt: skip
    if ended.returncode == NO_TESTS_RAN:
        raise FileNotFoundError(f"{test}: no tests ran")
    return ended.returncode == 0


def _texts(value: object) -> list[object]:
    assert isinstance(value, list)
    return value


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
