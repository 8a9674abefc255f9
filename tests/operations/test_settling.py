from __future__ import annotations

import pytest

from flueleaf.domain.problems import Refused
from flueleaf.operations.settling import settle_document

STILL = "".join(f"{t};60;4,{8 + t % 2}\n" for t in range(100)).encode()


def test_the_document_has_the_keys_of_the_contract_in_their_order() -> None:
    found = settle_document(b"Time [s];CO [ppm];O2 [%]\n" + STILL, name="run.csv", named={})
    assert list(found) == [
        "settled", "from_s", "to_s", "co_ppm", "o2_pct", "co2_pct", "slope_ppm_per_min", "spread_ppm",
    ]  # fmt: skip
    assert [found[key] for key in ("settled", "from_s", "to_s", "co_ppm", "co2_pct")] == [
        True,
        0,
        60,
        60,
        None,
    ]
    assert float(found["o2_pct"]) == 4.8


def test_what_never_settles_has_no_window_and_no_value() -> None:
    text = "t,co\n" + "".join(f"{t},{60 + t}\n" for t in range(100))
    found = settle_document(text.encode(), name="run.csv", named={})
    assert [found[key] for key in ("settled", "from_s", "to_s", "co_ppm", "o2_pct", "co2_pct")] == [
        False, None, None, None, None, None,
    ]  # fmt: skip
    assert found["slope_ppm_per_min"] == pytest.approx(60)
    assert found["spread_ppm"] == pytest.approx(0)


def test_columns_are_named_as_the_options_are() -> None:
    with pytest.raises(Refused, match=r"--time: missing.*\n--co: missing"):
        settle_document(b"a;b;c\n" + STILL, name="run.csv", named={})
    with pytest.raises(Refused, match="--o2: “z” is not accepted"):
        settle_document(b"a;b;c\n" + STILL, name="run.csv", named={"time": "a", "co_ppm": "b", "o2_pct": "z"})
