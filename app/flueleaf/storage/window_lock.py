"""At most one window on a book: a lock of the system on a small file beside it, gone with the process."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from flueleaf.domain.problems import BookProblem
from flueleaf.domain.words import said

if sys.platform == "win32":  # pragma: no cover - the other half runs elsewhere
    import msvcrt

    def _lock(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _lock(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


class WindowLock:
    """The claim of one window on one book, until ``release`` or the end of the process."""

    def __init__(self, book: Path) -> None:
        """Claim the book.

        Raises:
            BookProblem: another window has it, or the folder takes no file.
        """
        real = book.resolve()
        self.path = real.with_name(f"{real.name}-window")
        self._handle: int | None = None
        while self._handle is None:
            self._handle = self._claim(book)

    def _claim(self, book: Path) -> int | None:
        try:
            handle = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o600)
        except OSError as error:
            raise BookProblem(
                said("Nothing can be written beside the book {book}: its folder is read-only.", book=book)
            ) from error
        try:
            _lock(handle)
        except OSError as error:
            os.close(handle)
            raise BookProblem(
                said("The book {book} is already open in another window.", book=book)
            ) from error
        if self._still_there(handle):
            return handle
        os.close(handle)  # the window before took its file away between our opening and our locking
        return None

    def _still_there(self, handle: int) -> bool:
        try:
            return os.path.samestat(os.fstat(handle), os.stat(self.path))
        except FileNotFoundError:
            return False

    def release(self) -> None:
        """Give the book free; a second call does nothing."""
        if self._handle is None:
            return
        if sys.platform != "win32":  # pragma: no branch
            self.path.unlink(missing_ok=True)  # while still locked, so that nobody's new file is taken
        os.close(self._handle)
        self._handle = None
