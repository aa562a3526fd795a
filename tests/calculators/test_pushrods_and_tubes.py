"""Pushrods and tubes as a reader meets them: what is typed, what is answered, what is refused."""

from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card, uncertainty_in
from calculators._catalogue import calculator
from tests.examples import examples

CARD = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
PUSHRODS = calculator("pushrods-and-tubes")
READINGS = {"spacer_height": "1; 1; 1.25; 1.25", "travel_in": "3.5 mm", "travel_out": "2 mm"}


def answer(**typed):
    return PUSHRODS.answer(READINGS | typed, CARD)


def wrong(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    return {error.field: error.message for error in caught.value.errors}


def value(report, key, symbol=None):
    found = next(value.quantity for value in report.values if value.key == key)
    return magnitude_in(found, symbol) if symbol else found


def rows(report, key):
    return next(table.as_data()["rows"] for table in report.tables if table.key == key)


def told(report):
    return ElementTree.fromstring(report.figures[0].svg).get("aria-label")  # noqa: S314 (we drew it)


def signals(report):
    return [caution.signal for caution in report.cautions]


def test_leads_with_how_far_the_heads_move_and_whether_all_still_reaches():
    assert answer().lead == (
        "The head over cylinders 1 and 2 moves out 1.00 mm; the head over cylinders 3 and 4 moves out 1.25 mm. "
        "The adjusters can take it up. The tubes fit."
    )


def test_says_it_once_where_all_heads_move_alike():
    assert answer(spacer_height="1; 1; 1; 1").lead.startswith("Each head moves out 1.00 mm. ")
    assert answer(spacer_height="0; 0; 0; 0").lead.startswith("Each head stays where it was. ")
    inwards = answer(spacer_height="0.5; 0.5; 0.5; 0.5", before="1")
    assert inwards.lead.startswith("Each head moves in 0.50 mm. ")


def test_card_s_engine_by_hand():
    # √(276² + 2 · 276 · 1.25 · cos 8° + 1.25²) = 277.23789; seats √(201² + 2 · 201 · 1.25 · cos 8° + 1.25²) = 202.23791
    report = answer()
    assert value(report, "pushrod", "mm") == pytest.approx(277.2379, abs=5e-5)
    assert rows(report, "tubes")[1]["seats"] == pytest.approx(202.2379, abs=5e-5)
    assert rows(report, "tubes")[1]["crush"] == pytest.approx(203 - 202.2379, abs=5e-5)
    assert rows(report, "pushrods")[1]["lash"] == pytest.approx(1.2379 * 1.15, abs=1e-4)
    assert rows(report, "pushrods")[1]["left"] == pytest.approx(3.5 - 1.2379, abs=1e-4)
    # arcsin(1.2379 ÷ 24) = 2.9566°
    assert value(report, "off_square", "°") == pytest.approx(2.9566, abs=1e-3)
    assert value(report, "apart", "mm") == pytest.approx(2.25)


def test_spacers_before_and_other_changes_count():
    report = answer(before="0.5", other_shift="-0.2")
    assert rows(report, "pushrods")[0]["shift"] == pytest.approx(0.3)


def test_an_adjuster_end_the_valve_goes_in_by_the_rocker_ratio():
    at_pushrod, at_valve = (
        rows(answer(adjuster_end=place), "pushrods")[0]["screwed_in"] for place in ("pushrod", "valve")
    )
    assert at_valve == pytest.approx(1.15 * at_pushrod)


def test_a_nut_on_the_pivot_takes_up_a_part_and_the_rocker_leans_by_the_rest():
    # by hand: the pivot comes down by s until both ends touch: s + 24 · sin t = 1.2379 and s = 27.6 · sin t, so that
    # s = 1.2379 · 1.15/2.15 = 0.6621 mm and t = arcsin(0.6621/27.6) = 1.3747°
    report = answer(adjuster_end="pivot")
    assert rows(report, "pushrods")[1]["screwed_in"] == pytest.approx(0.6621, abs=1e-4)
    assert value(report, "off_square", "°") == pytest.approx(1.3747, abs=1e-3)
    assert told(report).endswith("Adjuster: a nut on the pivot.")
    assert any("pivot takes up a part" in note for note in report.notes)
    labels = {one.key: one.label for one in report.values}
    assert labels["sweep_before"] == "Wander of the valve's end over one lift, before"


def test_the_card_says_which_end_the_adjuster_is_at():
    # by hand: at the valve end it goes in by the pushrod's 1.25 mm · cos 0° times the ratio of 1.15
    typed = READINGS | {"cylinders": "4", "heads": "1 2 / 3 4", "tube_free_length": "203", "seat_distance": "201"}
    typed |= {"pushrod_length": "276", "rocker_ratio": "1.15", "pushrod_slope": "0"}
    at_valve = PUSHRODS.answer(typed, read_card(Path(__file__).parents[2] / "docs/engines/dunlin-f2.yml"))
    assert rows(at_valve, "pushrods")[1]["screwed_in"] == pytest.approx(1.25 * 1.15)
    assert wrong(adjuster_end="") == {"adjuster_end": "Enter the place of the adjuster"}


def test_a_head_that_moves_in_uses_the_travel_the_other_way_and_warns():
    report = answer(spacer_height="0; 0; 0; 0", before="1.5")
    assert rows(report, "pushrods")[0]["left"] == pytest.approx(2 - 1.4856, abs=1e-3)
    assert "warning" in signals(report)
    assert any("lash closes" in caution.text for caution in report.cautions)
    assert "closes" not in " ".join(caution.text for caution in answer().cautions)


def test_an_adjuster_end_its_end_asks_for_longer_pushrods():
    report = answer(travel_in="1")
    assert (
        report.lead.split(". ")[1] == "The adjusters cannot take it up: pushrods of 277.2 mm would at cylinders 3 and 4"
    )
    assert rows(report, "pushrods")[1]["verdict"] == "out"
    assert any("strips" in caution.text for caution in report.cautions)


def test_travel_that_is_all_used_up_is_too_close_to_call():
    report = answer(travel_in="1.24")
    assert rows(report, "pushrods")[1]["verdict"] == "too close to call"
    assert "too close to call" in report.lead


def test_new_pushrods_of_the_length_wanted_leave_rocker_and_adjuster_alone():
    report = answer(spacer_height="1; 1; 1; 1", new_length="276.99")
    assert rows(report, "pushrods")[0]["screwed_in"] == pytest.approx(0, abs=2e-3)
    assert value(report, "off_square", "°") == pytest.approx(0, abs=0.01)


def test_an_old_pushrod_s_error_drops_out_and_a_new_one_s_does_not():
    old = next(table for table in answer().tables if table.key == "pushrods").rows[0].cells[4]
    new = next(table for table in answer(new_length="276").tables if table.key == "pushrods").rows[0].cells[4]
    assert uncertainty_in(old, "mm") is None
    # two readings, ± 0.1 rectangular each: 2 · √(2 · 0.1²/3) = 0.1633 (JCGM 100:2008, 4.3.7, 5.1.2 and 6.2)
    assert uncertainty_in(new, "mm") == pytest.approx(0.1633, abs=1e-4)


def test_tubes_too_short_and_too_long_are_told_with_the_lengths_that_fit():
    short = answer(tube_free_length="202")
    assert short.lead.endswith("The tubes are too short: at cylinders 3 and 4 they must be 202.7 to 204.7 mm.")
    assert rows(short, "tubes")[1]["verdict"] == "out"
    assert any("drips oil" in caution.text for caution in short.cautions)
    long = answer(tube_free_length="206")
    assert long.lead.endswith("The tubes are too long: at cylinders 1 and 2 they must be 202.5 to 204.5 mm.")


def test_a_crush_near_its_limit_is_too_close_to_call():
    report = answer(tube_free_length="202.75")
    assert rows(report, "tubes")[1]["verdict"] == "too close to call"
    assert report.lead.endswith("Whether the tubes fit is too close to call.")


def test_stretched_tubes_are_set_to_the_middle_of_the_crush():
    report = answer(tube_kind="set")
    assert report.lead.endswith("Stretch the tubes to 203.5 mm and 203.7 mm before they go in.")
    assert rows(report, "tubes")[0]["length"] == pytest.approx(201.9903 + 1.5, abs=1e-3)
    assert "verdict" not in rows(report, "tubes")[0]


def test_flanges_slide_by_their_facing():
    report = answer(inlet_facing="30", exhaust_facing="180", spacer_height="1; 1; 1; 1")
    assert value(report, "inlet_offset", "mm") == pytest.approx(0.5)
    assert value(report, "inlet_gap", "mm") == pytest.approx(-0.8660, abs=1e-4)
    assert value(report, "exhaust_offset", "mm") == pytest.approx(0, abs=1e-9)
    assert value(report, "exhaust_gap", "mm") == pytest.approx(1)
    assert not any(one.key == "inlet_gap" for one in answer().values)


@pytest.mark.parametrize(
    ("play", "words"),
    [
        ("1.5", "1.25 mm, within the play of its holes"),
        ("1", "1.25 mm, more than its holes give"),
    ],
)
def test_a_flange_s_slide_is_judged_against_the_play_of_its_holes(play, words):
    report = answer(flange_play=play)
    assert next(one.texts for one in report.values if one.key == "inlet_offset") == (words,)


def test_a_doubtful_slide_is_too_close_to_call():
    cells = {f"spacer_height.{number}": "1.25 ± 0.1" for number in range(1, 5)}
    readings = {key: text for key, text in READINGS.items() if key != "spacer_height"}
    report = PUSHRODS.answer(readings | cells | {"flange_play": "1.3"}, CARD)
    assert next(one.words for one in report.values if one.key == "inlet_offset").endswith("to call")


def test_the_end_that_carries_the_adjuster_is_the_one_that_wanders():
    # card: arms 24 and 27.6 mm, lift 8.2: θ = 2 arcsin(8.2 ÷ 55.2) = 17.09°; a · (1 − cos 8.543°)
    assert value(answer(), "sweep_before", "mm") == pytest.approx(24 * 0.011096, abs=2e-3)
    assert value(answer(adjuster_end="valve"), "sweep_before", "mm") == pytest.approx(27.6 * 0.011096, abs=2e-3)
    # after, from −5.59° to 11.50°: 24 · (1 − cos 11.50°) = 0.4817
    assert value(answer(), "sweep_after", "mm") == pytest.approx(0.4817, abs=2e-3)


def test_an_exhaust_joint_that_does_not_meet_is_a_danger():
    assert "danger" not in signals(answer())
    assert signals(answer(flange_play="1"))[0] == "danger"
    assert "danger" not in signals(answer(flange_play="1", exhaust_facing="0"))


def test_unlike_spacers_under_one_head_count_by_their_mean_and_are_told():
    report = answer(spacer_height="1; 1.25; 1; 1")
    assert rows(report, "pushrods")[0]["shift"] == pytest.approx(1.125)
    assert any("Under cylinders 1 and 2 stand unlike spacers" in caution.text for caution in report.cautions)
    assert not any("unlike spacers" in caution.text for caution in answer().cautions)


def test_keeps_how_far_each_head_moved():
    assert {kept.path: kept.text for kept in answer().kept} == {"head_shift.1": "1 mm", "head_shift.2": "1.25 mm"}


def test_takes_the_spacers_from_the_compression_calculator():
    compression = calculator("compression-and-spacers")
    typed = {
        "chamber": "49.1; 49.5; 48.2; 48.6", "deck": "0.42; 0.38; 0.45; 0.41",
        "thickness": "0.25; 0.5; 0.75; 1.0", "pieces": "4; 4; 2; 4",
    }  # fmt: skip
    kept = {one.path: one.text for one in compression.answer(typed, CARD).kept}
    cells = {f"spacer_height.{number}": kept[f"spacer_height.{number}"] for number in range(1, 5)}
    readings = {key: text for key, text in READINGS.items() if key != "spacer_height"}
    assert PUSHRODS.answer(readings | cells, CARD).lead == answer().lead


def test_figure_says_in_words_what_it_shows():
    assert told(answer()) == (
        "Side of the engine with cylinder 3, before and after. Head moves out 1.25 mm. "
        "Spacers 0.00 mm before, 1.25 mm after. Tube between its seats: 201.0 mm, then 202.2 mm. "
        "Pushrod for the same rocker: 276.0 mm, then 277.2 mm. Rocker off square at half lift: 0.0°, then 3.0°. "
        "Adjuster at the pushrod end."
    )
    assert told(answer(adjuster_end="valve")).endswith("Adjuster at the valve end.")


@pytest.mark.parametrize(
    ("field", "text", "message"),
    [
        ("cylinders", "13", "Number of cylinders must be between 1 and 12"),
        ("heads", "1 2 / 3", "Cylinders under each head must name each cylinder from 1 to 4 once"),
        ("before", "31", "Spacers fitted before must be between 0 mm and 30 mm"),
        ("other_shift", "-11", "Other change of the head's place must be between −10 mm and 30 mm"),
        ("pushrod_length", "", "Enter the pushrod length, in millimetres"),
        ("new_length", "601", "Length of the new pushrods must be between 50 mm and 600 mm"),
        ("rocker_ratio", "3.1", "Rocker ratio must be between 0.5 and 3"),
        ("adjuster_end", "nowhere", "Place of the adjuster must be one of: valve, pushrod, pivot"),
        ("travel_in", "", "Enter the adjuster travel left, screwing in, in millimetres"),
        ("travel_out", "31", "Adjuster travel left, screwing out must be between 0 mm and 30 mm"),
        ("tube_kind", "rubber", "Kind of tube must be one of: fixed, set"),
        ("tube_free_length", "20", "Free length of a tube must be between 30 mm and 600 mm"),
        ("seat_distance", "", "Enter the distance between the tube's seats, in millimetres"),
        ("least_crush", "0.5 ± 0.1", "Least crush of the seals must be one figure without a ±, like 0.5"),
        ("most_crush", "0.4", "Most crush of the seals must be no less than the least, 0.50 mm"),
        ("pushrod_slope", "46", "Slope of the pushrods must be between 0° and 45°"),
        ("rocker_arm", "4", "Rocker arm at the pushrod must be between 5 mm and 100 mm"),
        ("off_square", "-31", "Rocker off square at half lift must be between −30° and 30°"),
        ("valve_lift", "31", "Valve lift must be between 2 mm and 30 mm"),
        ("inlet_facing", "181", "Facing of the inlet flange must be between 0° and 180°"),
        ("exhaust_facing", "", "Enter the facing of the exhaust flange, in degrees"),
        ("flange_play", "11", "Play in the flange holes must be between 0 mm and 10 mm"),
        ("length_error", "3", "Error limit of the length readings must be between 0 mm and 2 mm"),
    ],
)
def test_one_wrong_field_has_one_message(field, text, message):
    assert wrong(**{field: text}) == {field: message}


def test_a_wrong_spacer_is_named_by_its_cylinder():
    cells = {f"spacer_height.{number}": "1" for number in range(1, 5)} | {"spacer_height.3": "x"}
    with pytest.raises(InputErrors) as caught:
        PUSHRODS.answer({"travel_in": "3", "travel_out": "2"} | cells, CARD)
    assert [(error.field, error.message) for error in caught.value.errors] == [
        ("spacer_height.3", "Spacers fitted now of cylinder 3 must be a number, like 1")
    ]


def test_a_lift_that_no_arm_can_swing_is_refused():
    assert wrong(rocker_arm="5", rocker_ratio="0.5", valve_lift="8") == {
        "valve_lift": "Valve lift must be at most 5.00 mm, twice the rocker's arm at the valve"
    }


def test_a_head_too_far_for_its_rocker_is_refused_at_the_field_that_can_change_it():
    assert wrong(rocker_arm="20", spacer_height="25; 25; 1; 1") == {
        "rocker_arm": "Rocker arm at the pushrod is too short: the head over cylinders 1 and 2 moves out 25.00 mm"
    }
    assert wrong(new_length="240") == {
        "new_length": "Length of the new pushrods must be nearer to 277.0 mm, or no rocker reaches them"
    }


@settings(max_examples=examples(60), deadline=None)
@given(st.lists(st.floats(0, 30), min_size=4, max_size=4), st.floats(0, 30), st.floats(0, 45), st.floats(5, 100))
def test_any_stack_is_answered_or_refused_in_words_with_a_figure_that_fits(heights, before, slope, arm):
    typed = {
        "spacer_height": "; ".join(f"{height:.2f}" for height in heights),
        "before": f"{before:.2f}",
        "pushrod_slope": f"{slope:.1f}",
        "rocker_arm": f"{arm:.1f}",
    }
    try:
        report = answer(**typed)
    except InputErrors as error:
        assert {one.field for one in error.errors} <= {"rocker_arm", "valve_lift"}
        return
    tree = ElementTree.fromstring(report.figures[0].svg)  # noqa: S314 (we drew it)
    width, height = (float(number) for number in tree.get("viewBox").split()[2:])
    for element in tree.iter():
        for name, most in (("x", width), ("x1", width), ("x2", width), ("cx", width), ("y", height), ("cy", height)):
            if element.get(name) is not None:
                assert 0 <= float(element.get(name)) <= most


@settings(max_examples=examples(30), deadline=None)
@given(st.floats(0.05, 3), st.floats(0.05, 3))
def test_thicker_spacers_ask_for_longer_pushrods_and_leave_less_crush(thin, more):
    first, second = (answer(spacer_height="; ".join([f"{height:.4f}"] * 4)) for height in (thin, thin + more))
    assert value(second, "pushrod", "mm") > value(first, "pushrod", "mm")
    assert rows(second, "tubes")[0]["crush"] < rows(first, "tubes")[0]["crush"]
