"""The fields about an analyser, for its form and the first leaf."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from decimal import Decimal
from typing import Any

from flueleaf.desktop.fields.date_field import DateField
from flueleaf.desktop.fields.field import Field
from flueleaf.desktop.fields.line_field import TextField
from flueleaf.desktop.fields.number_field import NumberField
from flueleaf.desktop.leaves.form_fields import ShareField
from flueleaf.desktop.words import _
from flueleaf.domain.quantities import QUANTITIES
from flueleaf.domain.records.register import Instrument
from flueleaf.operations.intake import documents


def named_fields(today: Callable[[], dt.date], within: str = "") -> tuple[Field, ...]:
    """Return what it is called and when its calibration ends; ``within`` begins the path of each value."""
    return (
        TextField(f"{within}name", _("name")),
        TextField(f"{within}serial", _("serial"), width_px=240),
        DateField(f"{within}calibration_due", _("calibration due"), today=today),
    )


def tolerance_fields(within: str = "") -> tuple[Field, ...]:
    """Return the tolerances its data sheet states; ``within`` begins the path of each value."""
    own = f"{within}tolerance"
    return (
        NumberField(f"{own}.co_ppm.abs", QUANTITIES["co_ppm"], label=_("CO, ±")),
        ShareField(f"{own}.co_ppm.rel", _("CO, ± of the reading")),
        NumberField(f"{own}.o2_pct.abs", QUANTITIES["o2_pct"], label=_("O2, ±")),
        NumberField(f"{own}.co2_pct.abs", QUANTITIES["co2_pct"], label=_("CO2, ±")),
    )


def stated_document(instrument: Instrument) -> dict[str, Any]:
    """Return an analyser as a document, without the zeros that stand for what its data sheet does not say."""
    document = documents.instrument_document(instrument)
    tolerance = document.get("tolerance", {})
    stated = {
        key: {part: text for part, text in parts.items() if Decimal(text)} for key, parts in tolerance.items()
    }
    return {**document, "tolerance": stated}
