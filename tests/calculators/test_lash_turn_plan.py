import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card
from calculators._catalogue import calculator

CARD = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
LASH = calculator("lash-turn-plan")
INLINE_SIX = {"cylinders": "6", "banks": "1 2 3 4 5 6", "firing_order": "1 5 3 6 2 4", "firing_intervals": ""}
SINGLE = {"cylinders": "1", "banks": "1", "firing_order": "1", "firing_intervals": ""}
V_TWIN = {"cylinders": "2", "banks": "1 / 2", "firing_order": "1 2", "firing_intervals": "315 405"}


def answer(**typed):
    return LASH.answer(typed, CARD)


def value(report, key):
    return next(value.quantity for value in report.values if value.key == key)


def column(report, key):
    return [row[key] for row in report.tables[0].as_data()["rows"]]


def wrong(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    return {error.field: error.message for error in caught.value.errors}


def test_leads_with_the_way_the_turn_and_the_order():
    assert answer(turning="backwards").lead == (
        "Start with number 1 at its firing top dead centre. Turn the crank backwards (anticlockwise, seen from the "
        "pulley end) 180° at a time: set the valves of 1, 2, 3, 4, "
        "inlet 0.15 mm (5.9 thou), exhaust 0.20 mm (7.9 thou)."
    )


@pytest.mark.parametrize(
    ("running", "turning", "hand"),
    [
        ("clockwise", "forwards", "clockwise"),
        ("clockwise", "backwards", "anticlockwise"),
        ("anticlockwise", "forwards", "anticlockwise"),
        ("anticlockwise", "backwards", "clockwise"),
    ],
)
def test_says_the_sense_of_turning_as_seen_from_the_pulley(running, turning, hand):
    report = answer(crank_rotation=running, turning=turning)
    assert f"{turning} ({hand}, seen from the pulley end)" in report.lead
    assert report.tables[0].columns[1].label == f"Turn {hand}"
    assert ("come loose" in " ".join(caution.text for caution in report.cautions)) == (hand == "anticlockwise")


def test_forwards_follows_the_firing_order_from_number_one():
    report = answer(firing_order="3 2 1 4")
    assert column(report, "cylinder") == [1, 4, 3, 2, None]
    assert column(report, "turn") == ["start", 180, 180, 180, 180]
    assert magnitude_in(value(report, "total_turning"), "°") == 540


def test_an_order_told_from_another_cylinder_keeps_its_intervals():
    told = answer(**V_TWIN | {"firing_order": "2 1", "firing_intervals": "405 315"})
    assert told.as_data() == answer(**V_TWIN).as_data()


def test_uneven_firing_turns_by_its_own_intervals():
    ahead, behind = answer(**V_TWIN), answer(**V_TWIN, turning="backwards")
    assert column(ahead, "turn") == ["start", 315, 405]
    assert column(behind, "turn") == ["start", 405, 315]
    assert column(ahead, "mark") == column(behind, "mark") == ["number 1's mark", "the mark at 315°", "number 1's mark"]
    assert column(ahead, "overlap") == [None, None, None]
    assert "Two cylinders share" not in ahead.notes[0]


def test_uneven_turns_of_many_cylinders_are_left_to_the_stops():
    report = answer(**INLINE_SIX | {"firing_intervals": "90 150 90 150 90 150"})
    assert "by the turn of each stop: set the valves of 1, 5, 3, 6, 2, 4" in report.lead
    assert column(report, "turn") == ["start", 90, 150, 90, 150, 90, 150]


def test_a_single_is_set_where_it_stands():
    report = answer(**SINGLE)
    assert report.lead.startswith("Set the valves of number 1 at its firing top dead centre: inlet")
    assert column(report, "turn") == ["start", 720]
    assert magnitude_in(value(report, "total_turning"), "°") == 0
    assert "one whole turn away at overlap" in report.notes[0]


def test_names_the_mark_that_is_up_and_who_shares_it():
    assert column(answer(), "mark") == ["number 1's mark", "the mark half a turn round"] * 2 + ["number 1's mark"]
    assert column(answer(), "overlap") == [3, 2, 1, 4, 3]
    assert column(answer(**INLINE_SIX), "mark")[1:3] == ["the mark at 120°", "the mark at 240°"]


def test_the_rotor_moves_at_half_speed_in_the_sense_of_the_hand():
    assert column(answer(), "rotor")[1] == "90° clockwise of number 1's notch"
    assert column(answer(turning="backwards"), "rotor") == [
        "at number 1's notch",
        "90° anticlockwise of number 1's notch",
        "180° anticlockwise of number 1's notch",
        "270° anticlockwise of number 1's notch",
        "at number 1's notch",
    ]
    assert column(answer(rotor_rotation="anticlockwise"), "rotor")[1] == "90° anticlockwise of number 1's notch"


def test_without_a_distributor_nothing_is_said_of_a_rotor():
    report = answer(rotor_rotation="none")
    assert "rotor" not in " ".join(
        [
            *report.notes,
            *(column.key for column in report.tables[0].columns),
            *(figure.svg for figure in report.figures),
        ]
    )


def test_odd_angles_are_shown_to_a_tenth():
    report = answer(
        cylinders="7", banks="1 2 3 4 5 6 7", firing_order="1 3 5 7 2 4 6", firing_intervals="", rotor_rotation="none"
    )
    assert "102.9° at a time" in report.lead
    assert report.tables[0].columns[1].places == 1


@pytest.mark.parametrize(
    ("gap", "blades", "said"),
    [
        ("0.15 mm", "0.05 0.10 0.15", "0.15 mm = 5.9 thou"),
        ("6 thou", "0.05 0.10 0.15", "0.15 mm = 5.9 thou"),
        ("0.35 mm", "0.05 0.10 0.30", "0.30 mm + 0.05 mm = 0.35 mm = 13.8 thou"),
        ("0.127 mm", "0.127", "0.127 mm = 5.0 thou"),
        ("4 thou", "4 thou", "4 thou = 0.10 mm"),
        ("4 thou", "2; 2 thou", "2 thou + 2 thou = 0.10 mm = 4.0 thou"),
        ("0.004 in", "0.0015 in; 0.0025 in", "0.0025 in + 0.0015 in = 0.10 mm = 4.0 thou"),
    ],
)
def test_names_the_blades_as_they_are_stamped(gap, blades, said):
    report = answer(inlet_clearance=gap, blades=blades)
    assert " = ".join(next(value.texts for value in report.values if value.key == "inlet_blades")) == said


def test_blades_are_a_number_with_its_unit_to_a_program():
    data = {value["key"]: value for value in answer(inlet_clearance="0.35").as_data()["values"]}
    assert (data["inlet_blades"]["magnitude"], data["inlet_blades"]["unit"]) == (pytest.approx(0.35), "mm")
    assert data["inlet_blades"]["words"] == "0.30 mm + 0.05 mm = 0.35 mm"


@pytest.mark.parametrize(
    ("gap", "said"),
    [("4 thou", "4 thou (0.10 mm)"), ("0.0055 in", "5.5 thou (0.14 mm)"), ("0.15 mm", "0.15 mm (5.9 thou)")],
)
def test_a_gap_is_told_in_its_own_unit_first(gap, said):
    report = answer(inlet_clearance=gap)
    assert f"inlet {said}, exhaust" in report.lead
    assert column(report, "inlet")[0].startswith(said)


def test_a_gap_that_needs_several_blades_names_them_at_each_stop():
    report = answer(exhaust_clearance="0.35 mm")
    assert column(report, "exhaust")[0] == "0.35 mm (13.8 thou): 0.30 mm + 0.05 mm"
    assert column(report, "inlet")[0] == "0.15 mm (5.9 thou)"


@pytest.mark.parametrize(
    ("blade", "side"), [("0.139", "close"), ("0.14", None), ("0.15", None), ("0.16", None), ("0.161", "wide")]
)
def test_cautions_when_no_stack_comes_within_a_hundredth(blade, side):
    report = answer(blades=blade, exhaust_clearance="0.15")
    said = [caution.text for caution in report.cautions if "No stack" in caution.text]
    assert len(said) == (2 if side else 0)
    assert all(f"0.011 mm too {side}" in text for text in said)
    assert magnitude_in(value(report, "inlet_error"), "mm") == pytest.approx(float(blade) - 0.15)


def test_a_wider_stack_is_taken_before_a_nearer_one_that_is_too_close():
    report = answer(inlet_clearance="0.15", exhaust_clearance="0.15", blades="0.13; 0.20")
    assert magnitude_in(value(report, "inlet_blades"), "mm") == pytest.approx(0.20)
    said = [caution.text for caution in report.cautions if "No stack" in caution.text]
    assert all("The nearest wider one makes 0.20 mm (7.9 thou), 0.050 mm too wide." in text for text in said)
    assert len(said) == 2


def test_a_closer_stack_is_taken_only_where_none_is_wider():
    report = answer(inlet_clearance="0.15", blades="0.05; 0.08")
    assert magnitude_in(value(report, "inlet_blades"), "mm") == pytest.approx(0.13)
    assert any("The nearest, as none is wider, makes 0.13 mm" in caution.text for caution in report.cautions)


def test_a_firing_order_may_be_typed_without_gaps():
    assert answer(firing_order="1432").as_data() == answer(firing_order="1 4 3 2").as_data()
    two = V_TWIN | {"firing_order": "12"}
    assert column(answer(**two), "cylinder") == [1, 2, None]


@pytest.mark.parametrize("typed", [{}, INLINE_SIX, SINGLE, V_TWIN, {"rotor_rotation": "none"}])
def test_draws_a_dial_for_each_stop_and_one_engine(typed):
    report = answer(**typed)
    count = len(report.tables[0].rows) - 1
    assert [figure.size for figure in report.figures] == ["half"] * count + ["whole"]
    for figure in report.figures:
        svg = ElementTree.fromstring(figure.svg)  # noqa: S314
        assert svg.get("aria-label")
        width, height = map(float, svg.get("viewBox").split()[2:])
        for text in svg.iter("{http://www.w3.org/2000/svg}text"):
            assert float(text.get("font-size")) >= 13
            assert 0 < float(text.get("x")) < width
            assert 0 < float(text.get("y")) < height
        assert not re.search(r"(fill|stroke|style)=", figure.svg)


SVG = "{http://www.w3.org/2000/svg}"


def drawn(figure, tag, look):
    return [node for node in ElementTree.fromstring(figure.svg).iter(SVG + tag) if node.get("class") == look]  # noqa: S314


def points(path):
    return [tuple(map(float, pair.split())) for pair in path.get("d").strip("MZ").split(" L")]


@pytest.mark.parametrize(("running", "side"), [("clockwise", -1), ("anticlockwise", 1)])
@pytest.mark.parametrize("turning", ["forwards", "backwards"])
def test_the_dial_shows_the_mark_up_and_number_ones_mark_where_the_pulley_has_gone(running, turning, side):
    stop = answer(**V_TWIN, crank_rotation=running, turning=turning, rotor_rotation="none").figures[1]
    first, second = drawn(stop, "line", "edge")
    assert float(second.get("x2")) == 85 and float(second.get("y2")) < 85
    # 315° after number one's firing its mark has 45° to go to the top, on the side from which it comes
    assert float(first.get("x2")) - 85 == pytest.approx(side * 46 * 2**-0.5, abs=0.01)
    assert float(first.get("y2")) - 110 == pytest.approx(-46 * 2**-0.5, abs=0.01)


@pytest.mark.parametrize(("turning", "side"), [("forwards", -1), ("backwards", 1)])
def test_the_arrow_of_the_dial_ends_at_the_case_mark_in_the_sense_of_the_hand(turning, side):
    stop = answer(turning=turning, rotor_rotation="none").figures[1]
    (sweep,), (head,) = drawn(stop, "path", "arrow"), drawn(stop, "path", "arrow head")
    tip, *corners = points(head)
    assert points(sweep)[0] == (85, 165)
    assert all(side * (x - 85) >= -0.01 for x, _ in points(sweep))
    assert side * (tip[0] - 85) > 0 and tip[1] < 110 - 46
    assert all(side * (x - tip[0]) > 0 for x, _ in corners)


@pytest.mark.parametrize(("turning", "side"), [("forwards", 1), ("backwards", -1)])
def test_the_rotor_of_the_dial_points_a_quarter_round_after_half_a_turn(turning, side):
    stop = answer(turning=turning).figures[1]
    tip = points(drawn(stop, "path", "arrow head")[-1])[0]
    assert tip == pytest.approx((140 + side * 18, 108))


def test_twelve_cylinders_have_twelve_dials():
    report = answer(
        cylinders="12",
        banks="1 2 3 4 5 6 / 7 8 9 10 11 12",
        firing_order="1 12 5 8 3 10 6 7 2 11 4 9",
        firing_intervals="",
    )
    assert len(report.figures) == 13


def test_a_star_of_seven_banks_is_drawn_without_words_that_would_overlap():
    report = answer(
        cylinders="7",
        banks="1 / 2 / 3 / 4 / 5 / 6 / 7",
        firing_order="1 3 5 7 2 4 6",
        firing_intervals="",
    )
    assert "stop 3" not in re.sub(r'aria-label="[^"]*"', "", report.figures[-1].svg)
    assert "stop 3" in report.figures[-1].svg


@given(st.permutations(range(1, 7)), st.sampled_from(["forwards", "backwards"]))
@settings(max_examples=25, deadline=None)
def test_any_order_comes_back_to_number_one_in_two_turns(order, turning):
    report = answer(**INLINE_SIX | {"firing_order": " ".join(map(str, order))}, turning=turning)
    turns = column(report, "turn")
    assert turns[0] == "start" and sum(turns[1:]) == pytest.approx(720)
    assert magnitude_in(value(report, "total_turning"), "°") <= 720


@pytest.mark.parametrize(
    ("field", "text", "message"),
    [
        ("cylinders", "", "Enter the number of cylinders"),
        ("cylinders", "0", "Number of cylinders must be between 1 and 12"),
        ("cylinders", "13", "Number of cylinders must be between 1 and 12"),
        ("cylinders", "4.5", "Number of cylinders must be a whole number, like 4"),
        ("banks", "", "Enter the cylinders by bank"),
        ("banks", "1 2 / 3 x", "Cylinders by bank must be whole numbers in groups parted by a stroke, like 1 2 / 3 4"),
        (
            "banks",
            "1 2 / 3 3",
            "Cylinders by bank must name each cylinder from 1 to 4 once; 4 is missing and 3 comes twice",
        ),
        ("firing_order", "", "Enter the firing order"),
        ("firing_order", "one four", "Firing order must be numbers in a row, like 1 4 3 2"),
        (
            "firing_order",
            "1 4 2 2",
            "Firing order must name each cylinder from 1 to 4 once; 3 is missing and 2 comes twice",
        ),
        ("crank_rotation", "left", "Crank rotation must be one of: clockwise, anticlockwise"),
        ("rotor_rotation", "left", "Rotor rotation must be one of: clockwise, anticlockwise, none"),
        ("turning", "sideways", "Turning by hand must be one of: forwards, backwards"),
        ("inlet_clearance", "", "Enter the inlet clearance, in millimetres"),
        ("inlet_clearance", "0.019", "Inlet clearance must be between 0.02 mm and 1 mm"),
        ("inlet_clearance", "1.01", "Inlet clearance must be between 0.02 mm and 1 mm"),
        ("exhaust_clearance", "0.15 N·m", "Exhaust clearance must use a unit of length, like mm or in"),
        ("exhaust_clearance", "15", "Exhaust clearance must be between 0.02 mm and 1 mm"),
        ("blades", "", "Enter the feeler blades, in millimetres"),
        ("blades", "0.009 0.1", "Feeler blades must each be between 0.01 mm and 2 mm"),
        ("blades", "0.1 2.1", "Feeler blades must each be between 0.01 mm and 2 mm"),
        ("blades", "0.1 " * 21, "Feeler blades must have 1 to 20 entries, not 21"),
        ("firing_intervals", "180 180 180 160", "Firing intervals must add up to 720°, not 700°"),
        ("firing_intervals", "180 180 180 180.2", "Firing intervals must add up to 720°, not 720.2°"),
        (
            "firing_intervals",
            "360 360",
            "Firing intervals must have 4 entries, one a cylinder, not 2, or be empty where it fires evenly",
        ),
        ("firing_intervals", "0 360 180 180", "Firing intervals must each be between 1° and 720°"),
    ],
)
def test_says_what_is_wrong_with_one_field(field, text, message):
    assert wrong(**{field: text}) == {field: message}


@pytest.mark.parametrize(
    "typed",
    [
        {"inlet_clearance": "0.02", "exhaust_clearance": "1"},
        {"blades": "0.01 2"},
        {"blades": "0.1 " * 20},
        {"firing_intervals": "180 180 180 180.09"},
        {"firing_intervals": "1 1 1 717"},
    ],
)
def test_takes_what_lies_on_the_edge(typed):
    assert answer(**typed).lead


def test_says_all_that_is_wrong_between_the_fields_at_once():
    assert set(wrong(cylinders="6")) == {"banks", "firing_order", "firing_intervals"}


def test_the_facts_of_the_engine_have_no_default():
    with pytest.raises(InputErrors) as caught:
        LASH.answer({})
    assert {error.field for error in caught.value.errors} == {
        "cylinders",
        "banks",
        "firing_order",
        "crank_rotation",
        "inlet_clearance",
        "exhaust_clearance",
    }


def test_warns_of_an_engine_that_fires_before_all_else():
    assert answer().cautions[0].signal == "warning"
    assert "Ignition off" in answer().cautions[0].text
    assert answer().cautions[-1].signal == "notice"
