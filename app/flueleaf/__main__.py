"""The program: a command runs headless, no command opens the window."""

from __future__ import annotations

import importlib
import sys


def main() -> int:
    """Run ``flueleaf`` with the arguments of the command line."""
    argv = sys.argv[1:]
    windowed = not argv or argv[0] in {"--book", "--demo"}
    # Each half is loaded only when asked for: a command needs no Qt, the window no argument parser.
    part = importlib.import_module("flueleaf.desktop.app" if windowed else "flueleaf.headless.main")
    code: int = part.run(argv)
    return code


if __name__ == "__main__":
    sys.exit(main())
