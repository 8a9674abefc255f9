"""Pack a book of the newest schema; run once when a schema is released."""

from __future__ import annotations

import gzip
import sys
import tempfile
from pathlib import Path

from tests.storage.samples import RESULT, registered, seal_papers

from flueleaf.storage import migrations, visits
from flueleaf.storage.book import Book

HERE = Path(__file__).parent


def main() -> None:
    """Write ``<step>.book.gz``; refuse to write over one."""
    target = HERE / f"{migrations.STEPS[-1].__name__}.book.gz"
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "old.book"
        with Book.create(path) as book:
            visit = registered(book)
            with book.writing() as tx:
                visits.add_visit(tx, visit, [RESULT])
            seal_papers(book, 2)
        with target.open("xb") as packed:
            packed.write(gzip.compress(path.read_bytes(), mtime=0))
    sys.stdout.write(f"{target}\n")


if __name__ == "__main__":
    main()
