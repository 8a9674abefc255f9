from __future__ import annotations

import json
import os
import subprocess
import sys

from tests.headless.contract import EXAMPLE

HEAVY = ("numpy", "cantera", "matplotlib", "scipy", "PySide6", "fpdf", "sqlite3")


def test_assess_loads_nothing_heavy() -> None:
    code = (
        "import sys; from flueleaf.headless.main import run; code = run(['assess', '-']);"
        f"print(code, sorted(set({HEAVY!r}) & set(sys.modules)), file=sys.stderr)"
    )
    told = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(entry for entry in sys.path if entry)},
        input=json.dumps(EXAMPLE),
        capture_output=True,
        text=True,
        check=True,
    )
    assert told.stderr.strip() == "0 []"
    assert json.loads(told.stdout)["verdict"] == "within"
