"""One pass over what was given: where values come from, and what they rest on."""

import pytest

from calculators import EngineCard
from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk, Origin, Reading
from calculators.bench.page import View
from calculators.bench.question import UnknownQuestion, question
from calculators.bench.units import uncertainty_in
from tests.answers import messages_of
from tests.cards import MARRAM as CARD

OWN = EngineCard("mine", {"name": "Mine", "torques": {"rocker_shaft": {"value": "18 lbf·ft", "source": "book"}}})
POSTS = "torque.rocker_posts"


def test_what_is_typed_goes_before_the_card():
    asked = Desk({"post_torque": Reading("20")}, OWN, example=True).ask(POSTS)
    assert asked.known["figure"].origin is Origin.TYPED
    assert str(asked.known["figure"].value.magnitude) == "20.0"


def test_a_readers_card_is_the_readers():
    asked = Desk({"rocker_posts": Reading("3")}, OWN).ask(POSTS)
    assert asked.known["figure"].origin is Origin.CARD
    assert asked.known["figure"].by == "book"
    assert not asked.is_example


def test_a_made_up_engines_fact_is_the_examples():
    asked = Desk({"rocker_posts": Reading("3")}, CARD, example=True).ask(POSTS)
    assert asked.known["figure"].origin is Origin.EXAMPLE
    assert asked.is_example


def test_where_no_example_may_speak_a_made_up_fact_is_lacking():
    asked = Desk({"rocker_posts": Reading("3")}, CARD).ask(POSTS)
    assert asked.answer is None
    assert [error.message for error in asked.lacking] == ["Enter the post torque, in newton metres"]


def test_a_reading_keeps_the_unit_that_stood_beside_it():
    """30 typed beside N·m stays 30 N·m, whatever unit a card counts in."""
    asked = Desk({"post_torque": Reading("30", "N·m"), "rocker_posts": Reading("2")}, OWN).ask(POSTS)
    assert asked.answer.headline.startswith("10 → 20 → 30 N·m")


def test_an_emptied_box_is_not_typed():
    asked = Desk({"post_torque": Reading("  "), "rocker_posts": Reading("2")}, OWN).ask(POSTS)
    assert asked.known["figure"].origin is Origin.CARD


@pytest.mark.parametrize(
    ("text", "unit", "message"),
    [
        ("17 mm", "N·m", "Post torque must use a unit of torque, like N·m or lbf·ft"),
        ("seventeen", "N·m", "Post torque must be a number, like"),
        ("900", "N·m", "Post torque must be between 1 N·m and 100 N·m"),
        ("17", "mm", "Post torque must use a unit of torque, like N·m or lbf·ft"),
    ],
)
def test_a_wrong_text_is_told_by_its_label(text, unit, message):
    asked = Desk({"post_torque": Reading(text, unit)}, CARD, example=True).ask(POSTS)
    assert asked.answer is None
    (error,) = asked.errors
    assert error.field == "figure"
    assert error.message.startswith(message)


def test_an_unknown_question_is_named():
    with pytest.raises(UnknownQuestion, match=r"no question torque\.nothing"):
        question("torque.nothing")


def ratio(**more):
    given = {"bore": "80", "stroke": "74", "cylinders": "1", "chamber": "44.0", "crown": "3.947", "deck": "0.4"}
    given |= {"spacer": "1.0", "target": "7.76"} | more
    return answered("compression.ratio", **given)


def test_chamber_and_crown_of_one_burette_are_off_together():
    """Ratio 1 + V/c with c = 55.02 cm³; 6.76 ÷ 55.02 × 2 × 0.4 ÷ √3 × 2 = 0.1135, and a little of depth and bore."""
    found = ratio(burette_error="0.4 cm³").value("ratio").quantity
    assert found.nominal_value == pytest.approx(7.76, abs=0.005)
    assert 2 * found.std_dev == pytest.approx(0.114, abs=0.001)


def test_a_typed_plus_minus_is_the_burettes_unless_several_filled():
    """Of the volumes alone: 6.76 ÷ 55.02 × 2 × 0.4 ÷ √3 × 2 = 0.1135 in common, √2 for 2 by themselves: 0.0803."""
    typed = {"chamber": "44.0 ± 0.4", "crown": "3.947 ± 0.4"}
    typed |= {"depth_error": "0", "depth_read_to": "0", "bore_error": "0"}
    one = ratio(**typed).value("ratio").quantity
    assert 2 * one.std_dev == pytest.approx(0.1135, abs=5e-4)
    several = ratio(**typed, volumes_from="several").value("ratio").quantity
    assert 2 * several.std_dev == pytest.approx(0.0803, abs=2e-4)


def test_what_one_burette_is_off_by_drops_out_of_a_difference():
    """Two readings, each to ± 0.02 cm³: √2 × 0.02 ÷ √3 × 2 = 0.033 cm³ on 0.50."""
    asked = asked_with(
        "compression.ratio",
        [
            "bore=80",
            "stroke=74",
            "cylinders=2",
            "chamber=50.0; 50.5",
            "deck=0.4; 0.4",
            "burette_error=0.4 cm³",
            "depth_read_to=0",
        ],
    )
    one, other = (worked.value for worked in asked.answer.worked if worked.name.startswith("clearance_volume"))
    difference = other - one
    assert difference.magnitude.nominal_value == pytest.approx(0.50)
    assert uncertainty_in(difference, "cm³") == pytest.approx(0.033, abs=0.001)
    spread = asked.answer.value("spread").quantity
    assert spread.nominal_value > 2 * spread.std_dev  # told apart


def test_what_is_lacking_and_what_is_wrong_are_told_at_once():
    messages = messages_of(answered, "compression.ratio", bore="8 mm", cylinders="2", chamber="50", deck="0.4; 0.4")
    assert messages == [
        "Bore must be between 30 mm and 200 mm",
        "Enter the stroke, in millimetres",
        "Enter the chamber volume of cylinder 2, in cubic centimetres",
    ]


def test_a_fact_without_a_source_of_its_own_has_the_one_that_stands_beside_it():
    """A made-up engine's stud is the example's, though thread and class share one source on the card."""
    desk = Desk({}, CARD, example=True)
    assert desk.from_card("studs.cylinder_head.thread").is_example
    assert desk.from_card("studs.cylinder_head.positions").is_example
    assert Desk({}, CARD).from_card("studs.cylinder_head.thread").text == ""
    mine = EngineCard("mine", {"studs": {"cylinder_head": {"thread": "M8 × 1.25", "source": "book"}}})
    assert Desk({}, mine).from_card("studs.cylinder_head.thread").by == "book"


def test_where_one_of_several_boxes_would_do_none_of_them_is_marked_wrong():
    asked = Desk({}, None).ask("fasteners.convert")
    view = View(asked, "Marram F4")
    assert view.state == "lacking"
    assert view.whose == "Still needed: figure in the box for its quantity."
    assert not any(box.error for box in view.boxes)


def test_where_any_one_of_several_would_do_it_is_lacking_and_not_wrong():
    asked = asked_with("fits.stem_runout", ["cylinders=1"])
    assert asked.errors == ()
    assert [error.field for error in asked.lacking] == ["exhaust_stem_runout.1"]


def test_a_wrong_cell_is_shown_one_cell_of_the_example():
    assert messages_of(answered, "fits.bore", cylinders="2", bore_across="80; eighty", bore_along="80; 80") == [
        "Bore across the thrust of cylinder 2 must be numbers in a row, like 80.05 80.04 80.02"
    ]


def test_where_one_of_several_is_needed_an_empty_question_is_lacking_not_wrong():
    asked = Desk({}, CARD).ask("ports.narrowest")
    assert not asked.errors
    asked = Desk({"inlet_valve_head": Reading("34")}, CARD).ask("ports.narrowest")
    assert (asked.answer, asked.errors) == (None, ())
    assert [error.message for error in asked.lacking] == ["Enter the valve lift, in millimetres"]


def test_what_rests_on_a_question_with_a_wrong_entry_waits_for_it():
    """Not for the example's area, nor for any other: the reader has begun to type their own."""
    asked = Desk({"gasket_width": Reading("wide", "mm")}, CARD, example=True).ask("ports.gas_speed")
    assert asked.answer is None
    assert any("put right: " in error.message for error in asked.lacking)


def test_an_answer_from_another_questions_readings_is_from_readings():
    typed = {
        "fasteners.which_thread.diameter": Reading("9.88", "mm"),
        "fasteners.which_thread.pitch": Reading("1.5", "mm"),
    }
    asked = Desk(typed, OWN).ask("fasteners.drill")
    if asked.answer:
        assert View(asked, "Mine").whose == "Worked out from your readings"


def test_a_choice_that_another_question_made_is_shown_in_the_readers_words():
    texts = ["cylinders=2", "heads=1 / 2", "dry=7.4; 4.0", "least_pressure=6.5 bar"]
    view = View(asked_with("cylinders.points_to", texts), "Marram F4")
    hints = {box.key: box.hint for box in view.boxes}
    assert (hints["by_gauge.1"], hints["by_gauge.2"]) == ("Good", "Low")


def test_a_question_asks_a_made_up_engines_card_for_nothing_where_no_example_may_speak():
    """The Marram F4 has 8 studs a head; a reader's own engine may have 4."""
    texts = {"head_torque": "34 N·m", "stud_thread": "M10 × 1.5", "stud_steel": "8.8", "thread_condition": "oiled"}
    readings = {path: Reading(text) for path, text in texts.items()}
    told, silent = (Desk(readings, CARD, example=example).ask("fasteners.stud_pull") for example in (True, False))
    assert told.answer.value("least_total")
    assert told.is_example
    assert silent.answer, (silent.lacking, silent.errors)
    assert silent.answer.value("least_total") is None


def test_a_table_that_stands_alone_is_said_in_the_line():
    assert View(Desk({}, CARD, example=True).ask("torque.stud_order"), "Marram F4").line == "Stud 1 to 8"
    one = Desk({"stud_across.1": Reading("5")}).ask("torque.stud_order")
    assert View(one, "Marram F4").line == "Stud 1"
    assert View(Desk({}).ask("torque.stud_order"), "Marram F4").line == ""
    assert View(Desk({}, CARD, example=True).ask("compression.ratio"), "Marram F4").line.startswith("bore")


def test_a_table_has_a_row_for_each_thing_of_the_list_that_counts_it():
    assert asked_with("pushrods.tubes", ["heads=1 2 / 3 4 / 5 6"]).rows == {"shifted": 3}
    assert asked_with("pushrods.tubes", ["heads=1 2"]).rows == {"shifted": 1}


def test_entries_are_known_of_a_question_that_works_out_one_of_several_values():
    """Rate and load of the first spring are ``spring_rate.1``: what their question asks can be typed here too."""
    asked = asked_with("springs.stress", ["wire=4.2", "outside=33.3", "length_a=38", "load_a=265 N"])
    assert asked.lacking[0].field == "open_load"
    assert {"length_a", "load_a"}.isdisjoint(asked.typed)


@pytest.mark.parametrize("row", ["²", "٣", "0", "x", "1.5"])
def test_a_row_that_is_no_number_of_ours_is_no_row(row):
    typed = {f"springs.shims.height.{row}": Reading("32"), f"spring_height.{row}": Reading("32")}
    assert Desk(typed, None).ask("springs.shims").rows == Desk({}, None).ask("springs.shims").rows
