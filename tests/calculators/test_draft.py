"""An open draft of a card meets the card as it has become meanwhile, fact by fact."""

from __future__ import annotations

from calculators import EngineCard
from calculators.card.draft import met
from calculators.card.form import read_card_form, texts_of

STUDS = [{"name": "A", "x": "0 mm", "y": "10 mm"}, {"name": "B", "x": "0 mm", "y": "-10 mm"}]
TOLD = {
    "format": 1,
    "name": "Curlew F4",
    "about": "A flat four.",
    "layout": {"cylinders": {"value": 4, "source": "told"}},
    "dimensions": {
        "bore": {"value": "80 mm", "source": "maker’s book"},
        "stroke": {"value": "74 mm", "source": "told"},
    },
    "studs": {"cylinder_head": {"thread": "M8 × 1.25", "positions": STUDS, "source": "maker’s book"}},
}
BEGUN_AS = texts_of(TOLD)


def with_(**facts):
    """The card of today: each fact as its value and its source, None where it went."""
    dimensions = {
        **TOLD["dimensions"],
        **{key: fact and dict(zip(("value", "source"), fact, strict=True)) for key, fact in facts.items()},
    }
    return {**TOLD, "dimensions": {key: fact for key, fact in dimensions.items() if fact}}


def meeting(card, **typed):
    draft = {**BEGUN_AS, **{name.replace("__", "."): text for name, text in typed.items()}}
    return met(EngineCard("own", card, own=True), draft, BEGUN_AS)


def test_a_card_that_is_as_it_was_changes_nothing():
    found = meeting(TOLD, dimensions__bore="81 mm")
    assert (found["taken"], found["called"], found["both"]) == ({}, [], [])
    assert found["begun_as"] == BEGUN_AS


def test_what_the_draft_did_not_touch_takes_the_newer():
    card = with_(stroke=("75 mm", "measured"), head_gasket_thickness=("0.5 mm", "told"))
    found = meeting(card, dimensions__bore="81 mm")
    assert found["taken"] == {
        "dimensions.stroke": "75 mm",
        "dimensions.stroke.source": "measured",
        "dimensions.head_gasket_thickness": "0.5 mm",
        "dimensions.head_gasket_thickness.source": "told",
    }
    assert found["called"] == ["Stroke", "Head gasket thickness"]
    assert found["both"] == []


def test_what_went_from_the_card_goes_from_the_draft_too():
    assert meeting(with_(stroke=None))["taken"] == {"dimensions.stroke": "", "dimensions.stroke.source": ""}


def test_what_both_have_changed_is_to_be_chosen_and_stays_so_until_it_is():
    card = with_(bore=("82 mm", "measured"))
    found = meeting(card, dimensions__bore="81 mm")
    assert found["taken"] == {}
    assert found["both"] == [
        {
            "field": "dimensions.bore",
            "called": "Bore (dimensions)",
            "texts": {"dimensions.bore": "82 mm", "dimensions.bore.source": "measured"},
            "says": "The card says 82 mm now (measured).",
            "take": "Take 82 mm",
        }
    ]
    typed = {**BEGUN_AS, "dimensions.bore": "81 mm"}
    again = met(EngineCard("own", card, own=True), typed, found["begun_as"])
    assert again["both"] == found["both"]
    chosen = met(EngineCard("own", card, own=True), typed, found["begun_as"] | found["both"][0]["texts"])
    assert (chosen["both"], chosen["taken"]) == ([], {})


def test_a_value_and_its_source_are_one_fact():
    """A source that was typed for one value is never put beside another."""
    found = meeting(with_(bore=("82 mm", "maker’s book")), dimensions__bore__source="seen at the counter")
    assert [one["field"] for one in found["both"]] == ["dimensions.bore"]
    gone = meeting(with_(bore=None), dimensions__bore="81 mm")["both"]
    assert (gone[0]["says"], gone[0]["take"]) == ("The card has this no longer.", "Take it out")


def test_both_with_the_same_is_no_choice():
    found = meeting(with_(bore=("82 mm", "told")), dimensions__bore="82 mm", dimensions__bore__source="told")
    assert (found["taken"], found["both"]) == ({}, [])


def test_a_table_is_one():
    moved = [STUDS[0], {**STUDS[1], "y": "-12 mm"}]
    card = {**TOLD, "studs": {"cylinder_head": {**TOLD["studs"]["cylinder_head"], "positions": moved}}}
    assert meeting(card)["taken"] == {"studs.cylinder_head.positions.2.y": "-12 mm"}
    (both,) = meeting(card, studs__cylinder_head__positions__1__x="1 mm")["both"]
    assert (both["field"], both["take"]) == ("studs.cylinder_head.positions", "Take the card’s rows")


def test_a_draft_that_took_all_makes_the_card_with_what_was_typed_on_it():
    card = with_(stroke=("75 mm", "measured"))
    found = meeting(card, dimensions__bore="81 mm")
    draft = {**BEGUN_AS, "dimensions.bore": "81 mm"} | found["taken"]
    dimensions = read_card_form(draft).data["dimensions"]
    assert dimensions == {
        "bore": {"value": "81 mm", "source": "maker’s book"},
        "stroke": {"value": "75 mm", "source": "measured"},
    }
