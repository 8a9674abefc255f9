"""Write the demo book from the scenario beside this file: ``python demo_db/build.py BOOK``."""

from __future__ import annotations

import argparse
import datetime as dt
import json
import sys
from pathlib import Path

from flueleaf.domain.problems import UserProblem
from flueleaf.operations.demo.make import make_demo


def main(arguments: list[str]) -> int:
    """Write the book and print what it holds; 1 where it cannot be written."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("book", metavar="BOOK", type=Path, help="the file to write; it must not be there yet")
    parser.add_argument("--years", type=int, default=6, help="years of visits (6)")
    parser.add_argument("--scale", type=int, default=1, help="so many times as large (1)")
    parser.add_argument("--seed", type=int, default=1, help="another story of the kind (1)")
    parser.add_argument("--today", type=dt.date.fromisoformat, default=dt.date.today(), help="the last day")
    args = parser.parse_args(arguments)
    try:
        summary = make_demo(args.book, years=args.years, scale=args.scale, seed=args.seed, today=args.today)
    except UserProblem as problem:
        print(problem, file=sys.stderr)
        return 1
    print(json.dumps(summary.as_json(), indent=2))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
