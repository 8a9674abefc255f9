"""Lines of what is left name the appliance they mean, also where two are of one make and model."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any, cast

from flueleaf.desktop.place import Place
from flueleaf.desktop.visit.left import names_of, unexplained, without_notes, without_vat_number
from flueleaf.domain.records.business import Business
from flueleaf.domain.records.register import Appliance
from flueleaf.domain.records.visits import CheckAnswer, Defect, Outcome, Override, Visit, Work
from flueleaf.operations.drafting import Judgement

if TYPE_CHECKING:
    from flueleaf.desktop.visit.work_panel import WorkPanel
    from flueleaf.domain.judging.assessment import Assessment, Verdict

NOTED: Outcome = "left in use with notes"


def work(name: str, place: str) -> WorkPanel:
    return cast("WorkPanel", SimpleNamespace(name=name, full_name=f"{name}, {place}"))


def test_the_only_appliance_needs_no_name() -> None:
    assert names_of([work("Corvel 24", "loft")]) == [""]


def test_different_appliances_go_by_their_names() -> None:
    assert names_of([work("Corvel 24", "loft"), work("Emberlow", "parlour")]) == ["Corvel 24", "Emberlow"]


def test_two_of_one_name_are_told_apart_by_where_they_stand() -> None:
    three = [work("Corvel 24", "loft"), work("Emberlow", "parlour"), work("Corvel 24", "cupboard")]
    assert names_of(three) == ["Corvel 24, loft", "Emberlow", "Corvel 24, cupboard"]


def mentioned(verdict: Verdict, **told: Any) -> list[str]:
    one = replace(Work(Appliance("condensing boiler"), outcome=NOTED), **told)
    judged = Judgement(
        cast(Visit, SimpleNamespace(works=[one])),
        (cast("Assessment", SimpleNamespace(verdict=verdict)),),
        (),
        (),
    )
    works = [work("Corvel 24", "loft")]
    noted = without_notes(judged, works, lambda _path: None)
    assert not any(one.holds_up for one in noted)
    held_up = unexplained(judged, works, lambda _path: None)
    assert all(one.holds_up and one.message for one in held_up)
    assert [verdict == "over" for _one in (*held_up, *noted)] == [True] * len(held_up) + [False] * len(noted)
    return [one.text for one in (*held_up, *noted)]


def test_notes_that_are_not_there_are_mentioned() -> None:
    assert mentioned("near") == ["left in use with notes, and no note is written"]
    assert mentioned("near", notes={"advice_given": "service it yearly"}) == []
    assert mentioned("near", checks=(CheckAnswer("case_refitted", "no", "a screw is wanting"),)) == []
    assert mentioned("near", checks=(CheckAnswer("case_refitted", "no"),)) != []


def test_over_a_limit_only_a_defect_or_the_reason_for_going_on_is_word_enough() -> None:
    said = ["left in use over a limit, and no word why"]
    assert mentioned("over") == said
    assert mentioned("over", notes={"advice_given": "service it yearly"}) == said
    assert mentioned("over", overrides=(Override("combustion", " "),)) == said
    assert mentioned("over", overrides=(Override("combustion", "the maker is asked"),)) == []
    assert mentioned("over", defects=(Defect("CO over its limit", "at risk", "told"),)) == []


def test_other_outcomes_owe_no_note() -> None:
    assert mentioned("over", outcome="isolated") == []


def test_an_invoice_with_vat_wants_its_number_but_does_not_wait() -> None:
    registered = Business(name="Ina Fell", vat="standard")
    (mention,) = without_vat_number(registered, ["invoice"])
    assert (mention.text, mention.holds_up) == ("your VAT number, for the invoice", False)
    assert mention.place == Place("business_form", "own")
    assert without_vat_number(registered, ["service record"]) == []
    assert without_vat_number(replace(registered, vat_number="GB000000000"), ["invoice"]) == []
    assert without_vat_number(Business(name="Ina Fell", vat="none"), ["invoice"]) == []
