from __future__ import annotations

from decimal import Decimal


def test_a_fitting_is_charged_with_all_that_goes_with_it(whole_story) -> None:
    fittings = [told for visit, told in whole_story if visit.purpose == "commissioning"]
    for told in fittings:
        texts = [line["text"] for line in told["lines"]]
        assert told["works"][0]["appliance"]["model"] in texts[0]
        assert {"Fitting and commissioning", "Magnetic filter", "Inhibitor"} <= set(texts)
    assert any(line.get("discount_pct") for told in fittings for line in told["lines"])


def test_a_landlord_pays_less_for_the_further_appliance(whole_story) -> None:
    told = next(t for v, t in whole_story if v.purpose == "landlord check" and len(v.works) == 2)
    first, further = (Decimal(line["unit_price"]) for line in told["lines"][:2])
    assert further < first


def test_a_visit_in_vain_is_one_line(whole_story) -> None:
    told = next(t for v, t in whole_story if v.works[0].course == "no access")
    assert [line["text"] for line in told["lines"]] == ["Visit, nobody in"]


def test_a_breakdown_names_the_fault_that_the_record_notes(whole_story) -> None:
    seen = 0
    for visit, told in whole_story:
        if visit.works[0].course == "mended":
            notes = {check["key"]: check.get("note") for check in told["works"][0]["checks"]}
            assert told["lines"][0]["text"].endswith(notes["fault_cured"])
            seen += 1
    assert seen >= 20


def test_every_line_carries_the_rate_of_the_price_list(whole_story, scenario) -> None:
    rates = {line["vat_pct"] for _, told in whole_story for line in told["lines"]}
    assert rates == {scenario.vat_pct}
