"""When a logged run had settled: from a file, or from values typed while it goes on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flueleaf.domain.judging.settling import LEAD, Settling, settle
from flueleaf.operations.intake.log_columns import GASES, KEYS
from flueleaf.operations.intake.logged_run import read_run, read_sheet


def settle_document(data: bytes, *, name: str, named: Mapping[str, str]) -> dict[str, Any]:
    """Return the result of ``flueleaf settle``.

    Args:
        data: the bytes of the file.
        name: what to call it in a message.
        named: by key (``time``, ``co_ppm``, ``o2_pct``, ``co2_pct``), the header given for its column.

    Raises:
        Refused: naming every fault by line and column.
    """
    run = read_run(read_sheet(data, name, named), named, {key: f"--{_option(key)}" for key in KEYS})
    return settling_json(settle(run.traces))


def settling_json(settling: Settling) -> dict[str, Any]:
    """Return what can be said of a run in the shape of the headless contract; numbers are unrounded."""
    movement = settling.movements.get(LEAD)
    return {
        "settled": settling.settled,
        "from_s": settling.from_s if settling.settled else None,
        "to_s": settling.to_s if settling.settled else None,
        **{key: settling.medians.get(key) for key in GASES},
        "slope_ppm_per_min": movement.per_min if movement else None,
        "spread_ppm": movement.spread if movement else None,
    }


def _option(key: str) -> str:
    return key.partition("_")[0]
