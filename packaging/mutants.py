"""Whether the tests would notice a wrong comparison or limit: each is made in a copy, where the tests run.

`python3 packaging/check.py --only mutants`, or `.venv/bin/python packaging/mutants.py [PART …]` for the files
whose path holds a part. No usual check: it takes an hour. mutants.toml says what is changed and who has to
notice.
"""

from __future__ import annotations

import argparse
import itertools
import os
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from queue import Queue

import mutations
from mutations import Mutation

TOP = Path(__file__).resolve().parent.parent
SETTINGS = TOP / "packaging" / "mutants.toml"
COPIED = ("app", "resources", "tests", "demo_db", "packaging", "pyproject.toml")
LEFT_OUT = shutil.ignore_patterns("__pycache__", ".hypothesis", "shots", "golden", "verapdf")
LONGEST_S = 90  # of one run of tests: a change may make a loop endless; that is noticed as well
NO_TESTS_RAN = 5
_MOMENTS = itertools.count(1_000_000_000)


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
    unnoticed = list(survivors(tried, asked.workers))
    for target in wanted:
        made, left = (sum(one.target == target for one in some) for some in (tried, unnoticed))
        print(f"{target.file}: {made - left} of {made} noticed")
    print(f"{len(tried) - len(unnoticed)} noticed, {len(unnoticed)} not", flush=True)
    return 1 if unnoticed else 0


def known_alike(settings: dict[str, list[dict[str, object]]]) -> set[tuple[str, str]]:
    """Return the changes that change nothing, by their line and what they do."""
    return {
        (str(entry["line"]), str(change))
        for entry in settings.get("alike", [])
        for change in _texts(entry["changes"])
    }


def survivors(tried: Sequence[Mutant], workers: int) -> Iterator[Mutant]:
    """Yield, and print, each change that the tests let pass."""
    with tempfile.TemporaryDirectory() as folder:
        copies: Queue[Path] = Queue()
        for n in range(workers):
            copies.put(_copy(Path(folder) / str(n)))

        def passes(mutant: Mutant) -> bool:
            copy = copies.get()
            try:
                return _passes(mutant, copy)
            finally:
                copies.put(copy)

        unchanged(tried, copies.queue[0])
        with ThreadPoolExecutor(workers) as pool:
            for mutant, passed in zip(tried, pool.map(passes, tried), strict=True):
                if passed:
                    print(f"not noticed: {mutant.told}", flush=True)
                    yield mutant


def unchanged(tried: Sequence[Mutant], copy: Path) -> None:
    """Look whether the tests pass without a change; otherwise each change would seem to be noticed.

    Raises:
        AssertionError: some do not.
    """
    tests = dict.fromkeys(test for mutant in tried for test in mutant.target.tests)
    failing = [test for test in tests if not _tests_pass(test, copy)]
    if failing:
        raise AssertionError(f"these fail without any change: {', '.join(failing)}")


def _copy(folder: Path) -> Path:
    folder.mkdir()
    for name in COPIED:
        if (TOP / name).is_dir():
            shutil.copytree(TOP / name, folder / name, ignore=LEFT_OUT)
        else:
            shutil.copy(TOP / name, folder / name)
    return folder


def _passes(mutant: Mutant, copy: Path) -> bool:
    """Tell whether all tests pass with a change, as they must not."""
    file = copy / mutant.target.file
    _write(file, mutant.mutation.applied(mutant.text))
    try:
        return all(_tests_pass(test, copy) for test in mutant.target.tests)
    finally:
        _write(file, mutant.text)


def _write(file: Path, text: str) -> None:
    """Write a text with a time of its own; Python takes a compiled file of the same second for the same."""
    file.write_text(text, encoding="utf-8")
    moment = next(_MOMENTS)
    os.utime(file, (moment, moment))


def _tests_pass(test: str, copy: Path) -> bool:
    alone = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST_")}
    env = {**alone, "PYTHONPATH": str(copy / "app")}
    command = [sys.executable, "-m", "pytest", test, "-x", "-q", "-n0", "-p", "no:randomly"]
    try:
        ended = subprocess.run(
            [*command, "-m", "not slow and not bench", "--hypothesis-seed=0"],
            cwd=copy, env=env, capture_output=True, timeout=LONGEST_S, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return False
    if ended.returncode == NO_TESTS_RAN:
        raise FileNotFoundError(f"{test}: no tests ran")
    return ended.returncode == 0


def _texts(value: object) -> list[object]:
    assert isinstance(value, list)
    return value


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
