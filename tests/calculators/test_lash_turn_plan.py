import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card
from calculators._catalogue import calculator
from tests.examples import examples

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


def test_turns_forwards_unless_told_otherwise():
    # by definition of the order: forwards, the cylinders come as they fire
    assert answer().lead.startswith(
        "Start with number 1 at its firing top dead centre. Turn the crank forwards (clockwise, seen from the pulley "
        "end) 180° at a time: set the valves of 1, 4, 3, 2,"
    )
    pages = (Path(__file__).parents[2] / "docs").rglob("*.md")
    blocks = [
        block for page in pages for block in re.findall(r"```calculator\n(.*?)```", page.read_text("utf-8"), re.S)
    ]
    plans = [block for block in blocks if "name: lash-turn-plan" in block]
    assert len(plans) >= 3
    assert not [block for block in plans if "turning" in block]


def test_a_four_that_fires_1_4_3_2_is_set_1_2_3_4_by_half_turns_backwards():
    # common practice, no source: half a turn at a time against the run, in the order of the numbers; and by the
    # order itself: 2 fires half a turn before 1, 3 before 2, and 4 before 3
    typed = {"cylinders": "4", "banks": "1 2 / 3 4", "firing_order": "1 4 3 2", "firing_intervals": ""}
    report = answer(**typed, turning="backwards")
    assert column(report, "cylinder")[:4] == [1, 2, 3, 4]
    turns = [row.cells[1] for row in report.tables[0].rows]
    assert [magnitude_in(turn, "°") for turn in turns[1:4]] == [180, 180, 180]


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


@pytest.mark.parametrize(
    "typed",
    [
        {},
        INLINE_SIX,
        SINGLE,
        V_TWIN,
        {"rotor_rotation": "none"},
        {"method": "two", "notch": "90"},
        INLINE_SIX | {"method": "opening", "notch": "270", "turning": "backwards"},
        V_TWIN | {"method": "fewest", "end": "flywheel"},
    ],
)
def test_draws_a_dial_for_each_stop_the_base_circles_and_the_engine(typed):
    report = answer(**typed)
    count = len(report.tables[0].rows) - 1
    assert [figure.size for figure in report.figures] == ["half"] * count + ["whole", "whole"]
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
    assert tip == pytest.approx((136 + side * 16, 108))


def test_twelve_cylinders_have_twelve_dials():
    report = answer(
        cylinders="12",
        banks="1 2 3 4 5 6 / 7 8 9 10 11 12",
        firing_order="1 12 5 8 3 10 6 7 2 11 4 9",
        firing_intervals="",
    )
    assert len(report.figures) == 14


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
@settings(max_examples=examples(25), deadline=None)
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
        ("blades", "0.009 0.1", "Feeler blades must each be between 0.01 mm and 2 mm, not 0.009"),
        ("blades", "0.1 2.1", "Feeler blades must each be between 0.01 mm and 2 mm, not 2.1"),
        ("blades", "0.1 " * 21, "Feeler blades must have 1 to 20 entries, not 21"),
        ("firing_intervals", "180 180 180 160", "Firing intervals must add up to 720°, not 700°"),
        ("firing_intervals", "180 180 180 180.2", "Firing intervals must add up to 720°, not 720.2°"),
        (
            "firing_intervals",
            "360 360",
            "Firing intervals must have 4 entries, one a cylinder, not 2, or be empty where it fires evenly",
        ),
        ("firing_intervals", "0 360 180 180", "Firing intervals must each be between 1° and 720°, not 0"),
        ("method", "guess", "Method must be one of: own, companion, opening, two, fewest"),
        ("end", "left", "Where you stand must be one of: pulley, flywheel"),
        ("notch", "361", "Notch of number 1 must be between 0° and 360°"),
        ("crank_limit", "21", "Error limit of the crank angle must be between 0° and 20°"),
        ("inlet_valves", "0", "Inlet valves a cylinder must each be between 1 and 3"),
        ("inlet_valves", "4", "Inlet valves a cylinder must each be between 1 and 3"),
        ("exhaust_valves", "", "Enter the exhaust valves a cylinder"),
        ("inlet_opens", "111", "Inlet opening must be between −30° and 110°"),
        ("exhaust_closes", "-31", "Exhaust closing must be between −30° and 110°"),
        ("event_lift", "3.1", "Lift of the cam events must be between 0 mm and 3 mm"),
        ("ramp", "91", "Ramp beyond each event must be between 0° and 90°"),
        ("inlet_found.2", "5.1", "Inlet gap found of cylinder 2 must each be between 0 mm and 5 mm"),
        ("gap_limit", "0.21", "Error limit of the gap readings must be between 0 mm and 0.2 mm"),
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


UNKNOWN = dict.fromkeys(("inlet_opens", "inlet_closes", "exhaust_opens", "exhaust_closes"), "")


@pytest.mark.parametrize(
    ("end", "running", "turning", "hand"),
    [
        ("pulley", "clockwise", "forwards", "clockwise"),
        ("flywheel", "clockwise", "forwards", "anticlockwise"),
        ("flywheel", "clockwise", "backwards", "clockwise"),
        ("flywheel", "anticlockwise", "forwards", "clockwise"),
    ],
)
def test_the_sense_is_told_as_seen_from_where_the_reader_stands(end, running, turning, hand):
    report = answer(end=end, crank_rotation=running, turning=turning)
    assert f"({hand}, seen from the {end} end)" in report.lead
    assert f"The {end} seen from its own end." in report.figures[0].svg
    assert column(report, "rotor")[1].split()[1] == ("clockwise" if turning == "forwards" else "anticlockwise")


def test_no_pulley_comes_loose_where_the_reader_turns_the_flywheel():
    report = answer(end="flywheel")
    assert "anticlockwise" in report.lead
    assert "come loose" not in " ".join(caution.text for caution in report.cautions)


def test_two_positions_name_the_valves_at_each():
    report = answer(method="two", firing_order="1 3 4 2", banks="1 2 3 4")
    assert column(report, "set_inlet") == ["1 2", "3 4", None]
    assert column(report, "set_exhaust") == ["1 3", "2 4", None]
    assert column(report, "turn") == ["start", 360, 360]
    assert report.lead.startswith(
        "Start with number 1 at its firing top dead centre and set: inlet of 1 and 2, exhaust of 1 and 3. Turn the "
        "crank forwards (clockwise, seen from the pulley end) by 360° and set: inlet of 3 and 4, exhaust of 2 and 4."
    )
    assert value(report, "stop_count") == 2


def test_the_companion_is_named_to_be_looked_for():
    report = answer(method="companion")
    assert column(report, "look")[0] == "both valves of 3 rock: one shuts as the other opens"
    assert "companion rock" in report.lead


@pytest.mark.parametrize(
    ("turning", "exhaust", "inlet"),
    [
        ("forwards", "the exhaust valve of 1 just begins to open", "the inlet valve of 1 has just shut"),
        ("backwards", "the exhaust valve of 1 has just shut", "the inlet valve of 1 just begins to open"),
    ],
)
def test_what_the_eye_sees_of_a_valve_depends_on_the_way_of_turning(turning, exhaust, inlet):
    rows = answer(method="opening", turning=turning).tables[0].as_data()["rows"]
    assert next(row["set_inlet"] for row in rows if row["look"] == exhaust) == "1"
    assert next(row["set_exhaust"] for row in rows if row["look"] == inlet) == "1"
    assert "through 8 stops" in answer(method="opening", turning=turning).lead


def test_every_valve_has_its_proof_on_both_sides():
    (proof,) = (table for table in answer().tables if table.key == "proof")
    first, second = proof.as_data()["rows"][:2]
    # at firing top dead centre; the inlet has closed 140 before it, less a ramp of 60, and opens 352 after it, less 60
    assert (first["valve"], first["behind"], first["ahead"]) == ("1 inlet", 80, 292)
    assert (second["valve"], second["behind"], second["ahead"]) == ("1 exhaust", 294, 78)
    assert magnitude_in(value(answer(), "least_inside"), "°") == 78


def test_a_typed_ramp_wins_over_the_one_allowed_for():
    assert magnitude_in(value(answer(ramp="20"), "least_inside"), "°") == 118
    assert magnitude_in(value(answer(event_lift="0.1"), "least_inside"), "°") == 138 - 33


def test_without_cam_events_it_allows_for_any_ordinary_cam_and_says_so():
    report = answer(**UNKNOWN)
    assert magnitude_in(value(report, "least_inside"), "°") == 80
    assert any("any ordinary cam" in note and "racing" in note for note in report.notes)


def test_a_single_with_an_unknown_cam_needs_one_stop():
    assert value(answer(**SINGLE | UNKNOWN, method="fewest"), "stop_count") == 1


def test_four_valves_a_cylinder_are_each_named():
    report = answer(inlet_valves="2", exhaust_valves="2", method="two")
    (proof,) = (table for table in report.tables if table.key == "proof")
    names = {row["valve"] for row in proof.as_data()["rows"]}
    assert len(names) == 16
    assert {"1 inlet 1", "1 inlet 2", "4 exhaust 2"} <= names


def test_a_listed_set_of_valves_is_taken_cylinder_by_cylinder():
    (walk,) = answer(inlet_valves="2 1 1 3").walks
    labels = [step.label for stage in walk.stages[:4] for step in stage.steps]
    assert [label for label in labels if "inlet" in label] == [
        *("1 inlet 1", "1 inlet 2", "4 inlet 1", "4 inlet 2", "4 inlet 3", "3 inlet", "2 inlet"),
    ]


def test_the_walk_turns_sets_and_goes_round_once_more():
    (walk,) = answer().walks
    assert walk.key == "stops"
    assert [stage.title for stage in walk.stages] == [
        *(f"Stop {number}" for number in range(1, 5)),
        *(f"Once more, stop {number}" for number in range(1, 5)),
    ]
    start, inlet, exhaust = walk.stages[0].steps
    assert (start.label, start.large) == ("Start", "1 at firing top")
    assert (inlet.label, inlet.large) == ("1 inlet", "1 IN 0.15 mm")
    assert exhaust.words == "Set 1 exhaust to 0.20 mm (7.9 thou)."
    assert walk.stages[1].steps[0].words == (
        "Turn the crank forwards, 180° clockwise, seen from the pulley end: the mark half a turn round is up."
    )
    assert walk.stages[4].steps[0].large == "Turn 180° clockwise"  # from the last stop back to the first


def test_the_walk_of_the_opening_method_ends_each_turn_by_what_is_seen():
    (walk,) = answer(method="opening").walks
    assert walk.stages[1].steps[0].words.endswith("until the exhaust valve of 1 just begins to open.")
    assert "about" in walk.stages[1].steps[0].large


@given(st.permutations(range(1, 7)), st.sampled_from(["own", "companion", "opening", "two", "fewest"]))
@settings(max_examples=examples(40), deadline=None)
def test_one_walk_turns_twice_round_the_cycle(order, method):
    typed = INLINE_SIX | {"firing_order": " ".join(map(str, order)), "method": method}
    try:
        (walk,) = answer(**typed, **UNKNOWN).walks
    except InputErrors as wrong:
        assert {error.field for error in wrong.errors} == {"method"}
        return
    turns = [
        float(re.search(r"([0-9.]+)° (anti)?clockwise", stage.steps[0].large)[1])
        for stage in walk.stages
        if "°" in stage.steps[0].large
    ]
    assert sum(turns) <= 1440
    labels = [step.label for stage in walk.stages for step in stage.steps]
    assert len([label for label in labels if label.endswith("again")]) == 12


def record(report):
    (table,) = (table for table in report.tables if table.key == "record")
    return {row["valve"]: row for row in table.as_data()["rows"]}


def test_without_readings_there_is_no_record():
    assert [table.key for table in answer().tables] == ["stops", "proof"]


def test_a_gap_that_has_closed_is_flagged_with_what_to_check():
    report = answer(
        **{"exhaust_last.3": "0.20", "exhaust_found.3": "0.14", "inlet_last.1": "0.15", "inlet_found.1": "0.14"}
    )
    rows = record(report)
    assert rows["3 exhaust"]["moved"] == "closed"
    assert rows["3 exhaust"]["change"] == pytest.approx(-0.06)
    assert rows["1 inlet"]["moved"] == "no change that the blades can tell"
    assert set(rows) == {"3 exhaust", "1 inlet"}
    assert report.lead.endswith("Closed since last time: 3 exhaust.")
    (said,) = (caution for caution in report.cautions if "3 exhaust, by" in caution.text)
    assert said.signal == "caution"
    assert "seat" in said.text and "leaks" in said.text


@pytest.mark.parametrize(("found", "moved"), [("0.166", "no change"), ("0.168", "no change"), ("0.164", "closed")])
def test_only_a_change_beyond_the_feel_of_the_blades_counts(found, moved):
    # two readings good to 0.02 mm each: u = 0.02/√3 each, U = 2·√2·0.02/√3 = 0.0327 mm
    report = answer(**{"inlet_last.1": "0.20", "inlet_found.1": found})
    assert record(report)["1 inlet"]["moved"].startswith(moved if found != "0.166" else "closed")


def test_a_typed_limit_wins_over_the_one_for_all():
    typed = {"inlet_last.1": "0.20 ± 0.001", "inlet_found.1": "0.19 ± 0.001"}
    assert record(answer(**typed))["1 inlet"]["moved"] == "closed"
    assert record(answer(**typed, gap_limit="0.2"))["1 inlet"]["moved"] == "closed"
    exact = {"inlet_last.1": "0.20", "inlet_found.1": "0.19", "gap_limit": "0"}
    assert record(answer(**exact))["1 inlet"]["moved"] == "closed"


@pytest.mark.parametrize(("found", "halved"), [("0.11", False), ("0.10", True), ("0", True)])
def test_a_gap_closed_by_half_stops_the_engine(found, halved):
    report = answer(**{"exhaust_last.2": "0.20", "exhaust_found.2": found})
    warned = [caution.text for caution in report.cautions if caution.signal == "warning"]
    assert any("Closed by half or more: 2 exhaust" in text for text in warned) == halved


def test_a_gap_that_has_opened_is_told_with_other_causes():
    report = answer(**{"inlet_last.4": "0.15", "inlet_found.4": "0.25"})
    assert record(report)["4 inlet"]["moved"] == "opened"
    assert any("bent pushrod" in caution.text for caution in report.cautions)


@pytest.mark.parametrize(
    ("left", "said"),
    [
        ("0.12", "closer than the clearance: set it again"),
        ("0.14", "at the clearance, as nearly as the blades can tell"),
        ("0.18", "not closer than the clearance"),
    ],
)
def test_what_is_left_is_held_against_the_clearance(left, said):
    report = answer(**{"inlet_left.1": left})
    assert record(report)["1 inlet"]["as_left"] == said
    assert any("Left closer" in caution.text for caution in report.cautions) == (left == "0.12")


def test_several_valves_of_a_kind_have_a_gap_each():
    report = answer(**{"inlet_valves": "2", "inlet_found.1": "0.15 0.10"})
    assert {name: row["found"] for name, row in record(report).items()} == {"1 inlet 1": 0.15, "1 inlet 2": 0.10}


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"inlet_valves": "2", "inlet_found.3": "0.1"},
            "inlet_found.3",
            "Inlet gap found of cylinder 3 must have 2 entries, one a valve, not 1",
        ),
        (
            {"exhaust_left.1": "0.1 0.2"},
            "exhaust_left.1",
            "Exhaust gap left of cylinder 1 must have 1 entry, one a valve, not 2",
        ),
        (
            {"inlet_valves": "1 2 1"},
            "inlet_valves",
            "Inlet valves a cylinder must have 1 entry for all or 4, one a cylinder, not 3",
        ),
        (
            SINGLE | {"exhaust_valves": "1 2"},
            "exhaust_valves",
            "Exhaust valves a cylinder must have 1 entry, not 2",
        ),
        (
            {
                "cylinders": "12",
                "banks": "1 2 3 4 5 6 7 8 9 10 11 12",
                "firing_order": "1 2 3 4 5 6 7 8 9 10 11 12",
                "firing_intervals": "",
                "inlet_valves": "3",
                "exhaust_valves": "2",
            },
            "inlet_valves",
            "Inlet valves a cylinder and the exhaust valves come to 60; at most 48 are planned here",
        ),
        (
            {"inlet_opens": ""},
            "inlet_opens",
            "Enter the inlet opening, in degrees, or leave all four openings and closings empty",
        ),
        (
            {"event_lift": ""},
            "event_lift",
            "Enter the lift of the cam events, in millimetres, or the ramp beyond each event",
        ),
        (
            V_TWIN | {"method": "companion"},
            "method",
            "Method must suit the engine: no other cylinder fires one whole turn from 1 and 2, so they have no "
            "companions. Choose another method.",
        ),
        (  # the exhaust leaves its base circle at 180 − 100 − 90 = −10 after firing top dead centre
            {"exhaust_opens": "100", "ramp": "90"},
            "method",
            "Method must suit the cams: this one sets the exhaust valve of cylinder 1 10° off its base circle. "
            "Choose another method.",
        ),
        (
            {"exhaust_opens": "100", "ramp": "90", "exhaust_valves": "2"},
            "method",
            "Method must suit the cams: this one sets the exhaust valve 1 of cylinder 1 10° off its base circle. "
            "Choose another method.",
        ),
        (
            {"exhaust_opens": "87", "ramp": "90"},
            "method",
            "Method must suit the cams: this one sets the exhaust valve of cylinder 1 only 3° inside its base circle, "
            "and the crank may be 5° out. Choose another method.",
        ),
        (  # number 2 fires at 480: at 0 it stands at 240, and its inlet leaves the base circle at 360 − 40 − 90 = 230
            {
                "cylinders": "3",
                "banks": "1 2 3",
                "firing_order": "1 3 2",
                "firing_intervals": "",
                "method": "two",
                "inlet_opens": "40",
                "ramp": "90",
            },
            "method",
            "Method must suit the cams: this one sets the inlet valve of cylinder 2 10° off its base circle. "
            "Choose another method.",
        ),
    ],
)
def test_says_which_entry_is_wrong_and_why_where_fields_meet(typed, field, message):
    assert wrong(**typed) == {field: message}


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
