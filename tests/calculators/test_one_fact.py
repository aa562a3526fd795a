"""What was typed in a question, offered to the reader's own card; and the card with one fact more."""

from __future__ import annotations

import json

import pytest

from calculators import EngineCard
from calculators.bench.desk import Desk, Reading
from calculators.bench.question import entries_and_columns, questions
from calculators.browser import answer_message
from calculators.card.one_fact import FROM, offered, with_fact

TOLD = {
    "format": 1,
    "name": "Curlew F4",
    "about": "A flat four.",
    "layout": {"cylinders": {"value": 4, "source": "told"}, "firing_order": {"value": [1, 4, 3, 2], "source": "told"}},
    "dimensions": {
        "bore": {"value": "80 mm", "source": "maker’s book"},
        "stroke": {"value": "74 mm", "source": "invented"},
    },
}


def offers(asked: str = "compression.ratio", own: bool = True, **typed: str | tuple[str, str]):
    readings = {name: Reading(*([text] if isinstance(text, str) else text)) for name, text in typed.items()}
    card = EngineCard("own-curlew-f4", TOLD, own=own)
    return offered(Desk(readings, card).ask(asked), card)


def test_a_value_on_which_the_card_is_silent_is_offered_with_its_unit():
    assert offers(gasket_thickness=("0.5", "mm"))["gasket_thickness"] == {
        "path": "dimensions.head_gasket_thickness",
        "text": "0.5 mm",
        "typed": "0.5 mm",
        "stands": "",
        "source": "",
        "inherited": False,
    }


def test_a_value_that_the_card_has_otherwise_is_offered_beside_the_card_s():
    found = offers(bore=("80.5", "mm"))["bore"]
    assert (found["typed"], found["stands"], found["source"]) == ("80.5 mm", "80 mm", "maker’s book")


def test_a_value_that_the_card_has_only_from_the_example_says_so():
    found = offers(stroke=("74", "mm"))["stroke"]
    assert (found["stands"], found["inherited"]) == ("74 mm", True)


@pytest.mark.parametrize("same", ["80", "80.0", "80 ± 0.02", "8 cm", "80,0"])
def test_what_the_card_has_is_not_offered(same):
    assert offers(bore=(same, "mm")) == {}


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        (("80.5 ± 0.02", "mm"), "80.5 mm"),  # the ± is the reading's, not the engine's
        (("80,5", "mm"), "80.5 mm"),  # what is kept has a point
        (("3.15 in", "mm"), "3.15 in"),
        (("80.5", None), "80.5 mm"),
    ],
)
def test_it_is_offered_as_a_card_has_it(typed, text):
    assert offers(bore=typed)["bore"]["text"] == text


def test_nothing_is_offered_to_a_card_of_the_book():
    assert offers(own=False, bore=("80.5", "mm")) == {}


def test_what_is_wrong_is_not_offered():
    assert offers(bore=("80 N·m", "mm")) == {}
    assert offers(bore=("8000", "mm")) == {}


def test_what_is_wrong_only_beside_another_entry_is_not_offered():
    card = EngineCard("own-curlew-f4", TOLD, own=True)
    asked = Desk({"firing_order": Reading("1 4 3 5")}, card, example=True).ask("lash.plan")
    assert [error.field for error in asked.errors] == ["firing_order"]
    assert offered(asked, card) == {}


def test_what_the_card_s_fact_only_stands_in_for_is_not_offered():
    assert offers("ports.filling", engine_speed=("3000", "r/min")) == {}
    assert offers("fasteners.screwed_in", case_metal="unknown") == {}  # no metal that a card can have


def test_a_choice_is_offered_in_the_words_of_its_list():
    found = offers("fasteners.screwed_in", case_metal="cast magnesium")["case"]
    assert (found["text"], found["typed"]) == ("cast magnesium", "Cast magnesium")


def test_lists_and_groups_are_offered_as_they_were_typed():
    assert offers("measuring.level", banks="1 3 / 2 4")["heads"]["text"] == "1 3 / 2 4"
    assert offers("lash.plan", firing_order="1-4-3-2") == {}
    assert offers("lash.plan", firing_order="1 3 2 4")["firing_order"]["stands"] == "1 4 3 2"


def test_every_example_of_an_entry_that_is_the_card_s_can_go_onto_a_card():
    card = EngineCard("own-bare", {**TOLD, "dimensions": {}}, own=True)
    tried = 0
    for of in questions().values():
        for entry, table in entries_and_columns(of):
            example = entry.facts.example or entry.facts.usual
            if entry.facts.card and example and not table and not entry.facts.stands_in and entry.facts.shared_as:
                desk = Desk({entry.facts.shared_as: Reading(example, None)}, card)
                found = offered(desk.ask(of.name), card).get(entry.key)
                if found:
                    kept = with_fact(card, found["path"], found["text"], "told")
                    of_this = [one for one in kept["errors"] if one["field"] == found["path"]]
                    with_it = EngineCard("own-bare", kept["data"], own=True)
                    assert offered(desk.ask(of.name), with_it).get(entry.key) is None, f"{of.name}.{entry.key}"
                    assert not of_this or found["path"].startswith("layout."), of_this
                    tried += 1
    assert tried > 80


def test_a_card_with_one_fact_more_keeps_all_others():
    card = EngineCard("own-curlew-f4", TOLD, own=True)
    found = with_fact(card, "torques.cylinder_head", "25 lbf·ft", "measured")
    assert found["errors"] == []
    assert found["data"] == {**TOLD, "torques": {"cylinder_head": {"value": "25 lbf·ft", "source": "measured"}}}
    assert found["was"] == {"text": "", "source": ""}
    assert found["sources"] == FROM


def test_undone_the_card_is_as_it_was():
    card = EngineCard("own-curlew-f4", TOLD, own=True)
    for path in ("dimensions.bore", "torques.cylinder_head"):
        found = with_fact(card, path, "81 mm" if path.endswith("bore") else "30 N·m", "told")
        undone = with_fact(EngineCard("own-curlew-f4", found["data"], own=True), path, **found["was"])
        assert (undone["data"], undone["errors"]) == (TOLD, [])


STUDS = {
    "thread": "M10 × 1.5",
    "engagement": "16 mm",
    "positions": [{"name": "A", "x": "0 mm", "y": "10 mm"}, {"name": "B", "x": "0 mm", "y": "-10 mm"}],
    "source": "maker’s book",
}
THREAD = "studs.cylinder_head.thread"


def studded(**facts: str) -> EngineCard:
    return EngineCard("own", {**TOLD, "studs": {"cylinder_head": {**STUDS, **facts}}}, own=True)


def offered_to(card: EngineCard, asked: str, **typed: str):
    return offered(Desk({name: Reading(text) for name, text in typed.items()}, card).ask(asked), card)


def test_a_fact_whose_source_is_its_section_s_is_offered_under_that():
    (found,) = offered_to(studded(), "fasteners.stud_pull", stud_thread="M8 × 1.25").values()
    assert (found["path"], found["text"], found["source"]) == (THREAD, "M8 × 1.25", "maker’s book")


def test_its_own_source_stands_behind_that_of_its_section_which_speaks_for_the_others_as_before():
    card = studded()
    found = with_fact(card, THREAD, "M8 × 1.25", "not known")
    assert found["errors"] == []
    assert found["data"]["studs"]["cylinder_head"]["source"] == "maker’s book; thread: not known"
    assert found["sources"] == ("maker’s book", "measured", "told", "not known")  # its section's first, and once
    again = with_fact(EngineCard("own", found["data"], own=True), THREAD, "M8 × 1.25", "measured")
    kept = EngineCard("own", again["data"], own=True)
    assert again["data"]["studs"]["cylinder_head"]["source"] == "maker’s book; thread: measured"
    assert kept.source(THREAD) == "measured"
    as_all = with_fact(kept, THREAD, "M8 × 1.25", "maker’s book")
    assert as_all["data"]["studs"]["cylinder_head"]["source"] == "maker’s book"
    assert with_fact(kept, THREAD, **found["was"])["data"] == card.data  # undone


def test_where_the_section_is_the_example_s_only_the_fact_becomes_the_reader_s():
    card = studded(source="invented")
    (found,) = offered_to(card, "fasteners.stud_pull", stud_thread="M10 × 1.5").values()
    assert found["inherited"]
    kept = with_fact(card, THREAD, "M10 × 1.5", "measured")
    mine = EngineCard("own", kept["data"], own=True)
    assert not mine.inherited(THREAD)
    assert mine.inherited("studs.cylinder_head.engagement")
    assert mine.inherited("studs.cylinder_head.positions")
    assert "invented" not in kept["sources"]
    assert not offered_to(mine, "fasteners.stud_pull", stud_thread="M10 × 1.5")


def test_a_section_without_what_it_needs_has_no_place_for_a_fact():
    bare = EngineCard("own", TOLD, own=True)
    assert offered_to(bare, "fasteners.stud_pull", stud_thread="M8 × 1.25") == {}
    assert offered_to(bare, "torque.wrench", head_screw_sequence="every pass") == {}
    (count,) = offered_to(bare, "torque.wrench", head_screws="2").values()
    kept = with_fact(bare, count["path"], count["text"], "told")
    assert kept["data"]["studs"] == {"head_screws": {"screw_count": 2, "source": "told"}}
    assert (kept["errors"], kept["sources"]) == ([], FROM)
    mine = EngineCard("own", kept["data"], own=True)
    assert list(offered_to(mine, "torque.wrench", head_screw_sequence="every pass")) == ["screw_sequence"]
    assert with_fact(mine, count["path"], **kept["was"])["data"] == TOLD


def test_what_cannot_be_true_beside_the_other_facts_is_said():
    found = with_fact(EngineCard("own-curlew-f4", TOLD, own=True), "layout.cylinders", "6", "told")
    assert [one["field"] for one in found["errors"]] == ["layout.firing_order"]


def test_a_page_is_offered_what_stands_open_of_its_questions():
    asked = {"name": "compression.ratio", "opened": [], "rows": {}, "whole": False}
    card = {"name": "own-curlew-f4", "data": TOLD, "own": True}
    message = {"want": "questions", "quotes": [], "card": card, "example": False, "questions": [asked]}
    message["readings"] = {"bore": {"text": "80.5", "unit": "mm"}}
    said = json.loads(answer_message(json.dumps(message)))["questions"]["compression.ratio"]
    assert list(said["offers"]) == ["bore"]
    message["card"] = {"name": "own-curlew-f4", "data": TOLD}
    assert "offers" not in json.loads(answer_message(json.dumps(message)))["questions"]["compression.ratio"]


PLACES = "studs.cylinder_head.positions"
STUDS_TYPED = {
    "head_stud_pattern": Reading("typed"),
    "studs_across": Reading("-40 40 -40 40", "mm"),
    "studs_up": Reading("2 2 -2 -2", "in"),
    "head_torque": Reading("34", "N·m"),
}
WHOLE_STUDS = [
    ["A", "-40 mm", "50.8 mm"],
    ["B", "40 mm", "50.8 mm"],
    ["C", "-40 mm", "-50.8 mm"],
    ["D", "40 mm", "-50.8 mm"],
]


def places_offered_to(card: EngineCard, **typed: Reading):
    asked = Desk({**STUDS_TYPED, **typed}, card).ask("torque.wrench")
    assert asked.answer, asked.errors
    return offered(asked, card)


def test_rows_go_onto_the_card_as_one_where_it_has_a_table_for_them():
    """1 in is 25.4 mm exactly (NIST SP 811, appendix B.8)."""
    bare = EngineCard("own", TOLD, own=True)
    found = places_offered_to(bare)["up"]
    assert (found["path"], found["typed"], found["stands"]) == (PLACES, "4 stud places", "")
    kept = with_fact(bare, found["path"], found["text"], "measured")
    assert kept["errors"] == []
    section = kept["data"]["studs"]["cylinder_head"]
    assert [list(row.values()) for row in section["positions"]] == WHOLE_STUDS
    assert section["source"] == "measured"
    mine = EngineCard("own", kept["data"], own=True)
    assert "up" not in places_offered_to(mine)
    assert with_fact(mine, PLACES, **kept["was"])["data"] == TOLD


def test_rows_typed_for_the_order_of_the_nuts_are_offered_where_the_head_takes_them():
    rows = {f"stud_across.{row}": Reading(text, "mm") for row, text in enumerate(["-40", "40", "-40", "40"], 1)}
    rows |= {f"stud_up.{row}": Reading(text, "mm") for row, text in enumerate(["30", "30", "-30", "-30"], 1)}
    bare = EngineCard("own", TOLD, own=True)
    found = places_offered_to(bare, studs_across=Reading(""), studs_up=Reading(""), **rows)["up"]
    assert json.loads(found["text"])[3] == ["D", "40 mm", "-30 mm"]
    asked = Desk(rows, bare).ask("torque.stud_order")
    assert asked.answer
    assert offered(asked, bare) == {}  # any part's nuts


def test_the_example_s_rows_give_way_and_come_back_and_one_s_own_stay():
    example = studded(source="invented")
    found = places_offered_to(example)["up"]
    assert found["inherited"]
    kept = with_fact(example, PLACES, found["text"], "measured")
    mine = EngineCard("own", kept["data"], own=True)
    assert not mine.inherited(PLACES)
    assert mine.inherited("studs.cylinder_head.thread")
    assert with_fact(mine, PLACES, **kept["was"])["data"] == example.data
    assert "up" not in places_offered_to(studded())


def test_places_of_screws_are_offered_where_they_are_seen_from_the_card_s_own_studs():
    screws = {
        "head_screws": Reading("1"),
        "head_screw_torque": Reading("12", "N·m"),
        "screw_across.1": Reading("0", "mm"),
        "screw_up.1": Reading("30", "mm"),
        "head_stud_pattern": Reading("card"),
    }
    counted = {**studded().data["studs"], "head_screws": {"screw_count": 1, "source": "told"}}
    card = EngineCard("own", {**TOLD, "studs": counted}, own=True)
    found = places_offered_to(card, **screws)["screws"]
    kept = with_fact(card, found["path"], found["text"], "measured")
    assert (found["typed"], kept["errors"]) == ("1 screw place", [])
    section = kept["data"]["studs"]["head_screws"]
    assert section["source"] == "told; positions: measured"
    assert section["positions"][0]["y"] == "30 mm"
    elsewhere = {**screws, "head_stud_pattern": Reading("4")}
    assert "screws" not in places_offered_to(card, **elsewhere)
