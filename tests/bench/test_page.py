"""A question as the page shows it: small in a step, folded in its room, a box for each reading."""

import re

import pytest

from calculators import EngineCard
from calculators.bench.desk import Desk, Reading, units_beside
from calculators.bench.page import View, changes, inner_html
from calculators.bench.question import questions
from scripts.procedure_pages import marked, on_page_content
from tests.cards import MARRAM as CARD


def view(name, readings=None, *, example=True, **how):
    held = {path: Reading(text) for path, text in (readings or {}).items()}
    return View(Desk(held, CARD, example=example).ask(name), CARD.title, **how)


def boxes(html, key):
    """What stands in the boxes of one entry, and greyed in them."""
    cell = html.partition(f'data-box="{key}"')[2].partition('data-box="')[0]
    return re.findall(r'<input id=[^>]*data-part[^>]* value="([^"]*)" placeholder="([^"]*)"', cell)


def test_readings_of_one_thing_have_a_box_each_and_one_more():
    html = inner_html(view("measuring.chambers", {"measuring.chambers.fill.1": "50.1; 50.3"}))
    assert [typed for typed, _ in boxes(html, "fill.1")] == ["50.1", "50.3", ""]
    assert 'data-path="measuring.chambers.fill.1"' in html
    assert 'value="50.1; 50.3"' in html


def test_a_text_of_an_older_job_opens_the_same_boxes():
    html = inner_html(view("measuring.chambers", {"measuring.chambers.fill.1": "50,1 50,3 50,2"}))
    assert [typed for typed, _ in boxes(html, "fill.1")] == ["50,1", "50,3", "50,2", ""]


def test_an_empty_box_for_a_torque_stands_in_the_unit_of_the_cards_torques():
    def boxes_of(**torques):
        card = EngineCard("own", {"name": "Curlew F4", "torques": {**torques, "source": "maker's book"}})
        boxes = View(Desk({}, card).ask("torque.wrench"), card.title).open_boxes
        return {box.key: (box.hint, box.unit) for box in boxes}

    assert boxes_of(spark_plug="18 lbf·ft", drain_plug="20 lbf·ft")["target"] == ("like 34 N·m", "lbf·ft")
    assert boxes_of(spark_plug="18 lbf·ft")["graduation"] == ("1", "lbf·ft")
    assert boxes_of(spark_plug="18 lbf·ft", drain_plug="28 N·m")["target"] == ("like 34", "N·m")
    assert boxes_of(spark_plug="18")["target"] == ("like 34", "N·m")


def test_what_is_usual_for_a_wrench_follows_the_unit_of_the_torque():
    def told(**readings):
        held = {path: Reading(*reading) for path, reading in readings.items()}
        return {box.key: box.as_data() for box in View(Desk(held).ask("torque.wrench"), "").boxes}["graduation"]

    assert (told(head_torque=("25", "lbf·ft"))["hint"], told(head_torque=("25", "lbf·ft"))["unit"]) == ("1", "lbf·ft")
    assert told(head_torque=("34", "N·m"))["unit"] == "N·m"
    assert told(head_torque=("25 mm", "lbf·ft"))["unit"] == "lbf·ft"  # also beside what is wrong
    assert "unit" not in told(head_torque=("25", "lbf·ft"), wrench_step=("0.5", "N·m"))  # a reading keeps its unit


def test_no_more_boxes_open_than_the_entry_takes():
    html = inner_html(view("fits.guide", {"exhaust_stem.1": "7.9; 7.9; 7.9; 7.9; 7.9; 7.9"}))
    assert len(boxes(html, "exhaust_stem.1")) == 6


def test_an_untouched_entry_shows_one_box_with_the_examples_first_reading_greyed():
    assert boxes(inner_html(view("measuring.chambers")), "fill.2") == [("", "49.5")]


def test_readings_have_the_number_pad_unless_one_may_be_negative():
    pads = {}
    for name in ("measuring.chambers", "measuring.decks"):
        for box in view(name).boxes:
            if box.most:
                pads.setdefault(box.entry.kind.of.low < 0, set()).add(box.pad)
    assert pads == {False: {"decimal"}, True: {"text"}}


@pytest.mark.parametrize("place", ["room", "step"])
def test_its_form_is_a_sheet_in_a_step_and_only_there(place):
    html = inner_html(view("torque.wrench", place=place))
    assert ('<dialog class="q-sheet"' in html) == (place == "step")
    assert ('<details class="q-one" open>' in html) == (place == "room")
    assert html.count("<form") == 1


def test_in_a_step_all_that_refines_the_answer_is_one_fold():
    html = inner_html(view("torque.wrench", place="step"))
    behind = html.partition('<div class="q-folds"')[2]
    assert behind.index('data-fold="behind"') < behind.index('data-fold="notices"')
    assert "Working, tables, notes" in behind
    assert "4 notices" in behind.partition("</summary>")[0]


def test_what_stands_folded_in_a_room_gets_only_what_is_seen_of_it():
    folded = changes(view("torque.wrench", is_open=False), {})
    assert folded.keys() == {"name", "state", "headline", "whose", "line"}
    assert folded["headline"] == "11 → 23 → 34\u00a0N·m\u00a0· B first"
    assert "34" in folded["line"]


def test_while_something_is_missing_the_button_asks_for_the_readings():
    lacking = view("compression.ratio", example=False)
    assert lacking.state == "lacking"
    assert lacking.deed == "Enter your readings"
    assert ">Enter your readings</button>" in inner_html(lacking)
    assert view("compression.ratio").deed == "Change"


def test_a_wrong_or_missing_entry_opens_the_fold_that_it_lies_in():
    shut = inner_html(view("measuring.chambers"))
    assert re.search(r'data-refines="[^"]*"><summary>', shut)
    refined = next(box for part in view("measuring.chambers").refinements for box in part.boxes)
    wrong = inner_html(view("measuring.chambers", {refined.path: "three"}))
    assert re.search(rf'data-refines="{refined.entry.facts.refines}" open><summary>', wrong)


def test_what_is_missing_is_told_of_its_box():
    data = changes(view("compression.ratio", example=False), {})["boxes"]
    assert data["bore"]["missing"]
    assert "missing" not in changes(view("compression.ratio"), {})["boxes"]["bore"]


def test_common_practice_is_a_mark_with_its_meaning_once_at_the_foot():
    page = marked("1. Snug, no more. {cp}\n2. Dry.{cp}\n\n```yaml\nkept: {cp}\n```\n")
    assert page.count('aria-label="common practice, no source"') == 2
    assert page.count("Common practice, no source.") == 1
    assert page.index("Common practice, no source.") > page.index("kept: {cp}")
    assert marked("Nothing of the kind.") == "Nothing of the kind."


def test_the_cells_of_symptoms_name_their_column_and_stay_a_table_to_a_reader_of_screens():
    head = "<thead><tr><th>What you see</th><th>Likely cause</th></tr></thead>"
    table = f"<table>{head}<tbody><tr><td>Oil</td><td>seal</td></tr></tbody></table>"
    made = on_page_content(f'<h2 id="what-goes-wrong">What goes wrong</h2>{table}<h2>Sources</h2>{table}', page=None)
    assert made.count("data-label=") == 2
    assert '<td role="cell" data-label="Likely cause">seal</td>' in made
    for role in ("table", "rowgroup", "row", "columnheader", "cell"):
        assert f'role="{role}"' in made
    assert made.endswith(f"<h2>Sources</h2>{table}")


@pytest.mark.parametrize("shown", range(4))
def test_a_row_added_while_typing_has_the_number_of_its_row(shown):
    held = {"old_spring_free.1": "47", "old_spring_free.2": "47", "old_spring_free.3": "46"}
    whole = view("springs.old", held, example=False)
    more = changes(whole, {"found": shown})["rows"]["found"]["more"]
    rows = [*range(1, 5)]  # those that are filled, and an empty one
    assert re.findall(r'data-row="(\d+)"', more) == [str(row) for row in rows if row > shown]
    assert re.findall(r'name="old_free\.(\d+)"', more) == [str(row) for row in rows if row > shown]
    assert re.findall(r'data-row="(\d+)"', inner_html(whole)) == [str(row) for row in rows]


def test_each_unit_of_a_torque_has_a_usual_step_in_that_very_unit():
    """A page lets the unit beside the step follow that beside the torque before Python has started."""
    for of in questions().values():
        for entry in of.entries():
            if not entry.facts.usual_beside:
                continue
            beside, by_unit = entry.facts.usual_beside
            torque = next(one for one in of.entries() if one.key == beside)
            for symbol in units_beside(torque):
                assert by_unit.get(symbol, entry.facts.usual).split()[1] == symbol, f"{of.name}.{entry.key}"
