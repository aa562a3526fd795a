"""The plan of the stops: order, turns, senses, what is set where, and every refusal."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in
from calculators.bench.asking import answered, asked_with, example_texts
from calculators.bench.question import question
from calculators.lash.plan import METHODS
from tests.answers import wrong
from tests.cards import MARRAM as CARD
from tests.examples import examples
from tests.physics import falls, goes_as_physics_sends_it

MARRAM = dict(example_texts(question("lash.plan"), CARD))
INLINE_SIX = {"cylinders": "6", "banks": "1 2 3 4 5 6", "firing_order": "1 5 3 6 2 4", "firing_intervals": ""}
SINGLE = {"cylinders": "1", "banks": "1", "firing_order": "1", "firing_intervals": ""}
V_TWIN = {"cylinders": "2", "banks": "1 / 2", "firing_order": "1 2", "firing_intervals": "315 405"}
UNKNOWN = dict.fromkeys(("inlet_opens", "inlet_closes", "exhaust_opens", "exhaust_closes"), "")


def answer(**typed):
    return answered("lash.plan", **{key: text for key, text in (MARRAM | typed).items() if text})


def column(found, key, table="stops"):
    return [row[key] for row in next(one for one in found.tables if one.key == table).as_data()["rows"]]


def number(found, key, unit="°"):
    return magnitude_in(found.value(key).quantity, unit)


@pytest.mark.parametrize(
    ("typed", "headline"),
    [
        ({}, "4 stops of 180°, first cyl 1"),
        (V_TWIN, "2 stops of 315°, first cyl 1"),
        (SINGLE, "1 stop, first cyl 1"),
        (INLINE_SIX | {"firing_intervals": "90 150 90 150 90 150"}, "6 stops of 90° to 150°, first cyl 1"),
        # by hand: 4 fires at 180°, its inlet has shut between 580° and 640° later, at 70° in the middle; the exhaust of
        # 1 begins to open between 78° and 138°, at 108°
        ({"method": "opening"}, "8 stops of 38° to 142° from cyl 1 + 70°: EX 4"),
        ({"method": "two", "firing_order": "1342", "banks": "1 2 3 4"}, "2 stops of 360° from cyl 1: IN 1 2 · EX 1 3"),
        (
            {
                "cylinders": "12",
                "banks": "1 2 3 4 5 6 / 7 8 9 10 11 12",
                "firing_order": "1 12 5 8 3 10 6 7 2 11 4 9",
                "firing_intervals": "",
                "method": "two",
            },
            "2 stops of 360° from cyl 1",
        ),
    ],
)
def test_the_headline_says_how_many_stops_how_far_apart_and_the_first(typed, headline):
    assert answer(**typed).headline == headline


def test_says_the_way_the_turn_and_the_order():
    assert answer(turning="backwards").says == (
        "Start with number 1 at its firing top dead centre. Turn the crank backwards (anticlockwise, seen from the "
        "pulley end) 180° at a time: set the valves of 1, 2, 3, 4, "
        "inlet 0.15 mm (5.9 thou), exhaust 0.20 mm (7.9 thou)."
    )


def test_turns_forwards_unless_told_otherwise():
    # by definition of the order: forwards, the cylinders come as they fire
    assert answer(turning="").says.startswith(
        "Start with number 1 at its firing top dead centre. Turn the crank forwards (clockwise, seen from the pulley "
        "end) 180° at a time: set the valves of 1, 4, 3, 2,"
    )


def test_a_four_that_fires_1_4_3_2_is_set_1_2_3_4_by_half_turns_backwards():
    # common practice, no source: half a turn at a time against the run, in the order of the numbers; and by the
    # order itself: 2 fires half a turn before 1, 3 before 2, and 4 before 3
    found = answer(turning="backwards")
    assert column(found, "cylinder")[:4] == [1, 2, 3, 4]
    assert column(found, "turn")[1:4] == [180, 180, 180]


@pytest.mark.parametrize(
    ("end", "running", "turning", "hand"),
    [
        ("pulley", "clockwise", "forwards", "clockwise"),
        ("pulley", "clockwise", "backwards", "anticlockwise"),
        ("pulley", "anticlockwise", "forwards", "anticlockwise"),
        ("pulley", "anticlockwise", "backwards", "clockwise"),
        ("flywheel", "clockwise", "forwards", "anticlockwise"),
        ("flywheel", "clockwise", "backwards", "clockwise"),
        ("flywheel", "anticlockwise", "forwards", "clockwise"),
    ],
)
def test_the_sense_is_told_as_seen_from_where_the_reader_stands(end, running, turning, hand):
    found = answer(end=end, crank_rotation=running, turning=turning)
    assert f"{turning} ({hand}, seen from the {end} end)" in found.says
    assert found.tables[0].columns[1].label == f"Turn {hand}"
    loose = "can loosen it" in " ".join(caution.text for caution in found.warnings)
    assert loose == (end == "pulley" and hand == "anticlockwise")
    assert f"The {end} seen from its own end." in found.steps.stages[0].drawing.svg


def test_the_order_may_begin_anywhere_and_be_typed_without_gaps():
    assert column(answer(firing_order="3 2 1 4"), "cylinder") == [1, 4, 3, 2, None]
    told = answer(**V_TWIN | {"firing_order": "2 1", "firing_intervals": "405 315"})
    assert told.as_data() == answer(**V_TWIN).as_data()
    assert answer(firing_order="1432").as_data() == answer().as_data()


def test_uneven_firing_turns_by_its_own_intervals():
    ahead, behind = answer(**V_TWIN), answer(**V_TWIN, turning="backwards")
    assert column(ahead, "turn") == ["start", 315, 405]
    assert column(behind, "turn") == ["start", 405, 315]
    assert column(ahead, "mark") == column(behind, "mark") == ["number 1's mark", "the mark at 315°", "number 1's mark"]
    assert "Two cylinders share" not in ahead.notes[0]


def test_the_rotor_moves_at_half_speed_in_the_sense_of_the_hand():
    assert column(answer(), "rotor")[1] == "90° clockwise of number 1's notch"
    assert column(answer(turning="backwards"), "rotor")[1] == "90° anticlockwise of number 1's notch"
    assert "rotor" not in " ".join(answer(rotor_rotation="none").notes)
    assert "rotor" not in answer(rotor_rotation="none").steps.stages[1].drawing.svg


def test_two_positions_name_the_valves_at_each():
    found = answer(method="two", firing_order="1 3 4 2", banks="1 2 3 4")
    assert column(found, "set_inlet") == ["1 2", "3 4", None]
    assert column(found, "set_exhaust") == ["1 3", "2 4", None]
    assert found.value("stop_count").quantity == 2
    assert any("miscounted stop" in caution.text for caution in found.warnings)
    assert found.says.startswith(
        "Start with number 1 at its firing top dead centre and set: inlet of 1 and 2, exhaust of 1 and 3. Turn the "
        "crank forwards (clockwise, seen from the pulley end) by 360° and set: inlet of 3 and 4, exhaust of 2 and 4."
    )


def test_the_companion_is_named_to_be_looked_for():
    assert column(answer(method="companion"), "look")[0] == "both valves of 3 rock: one shuts as the other opens"


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
    assert "through 8 stops" in answer(method="opening", turning=turning).says


def test_every_valve_has_its_proof_on_both_sides():
    first, second = next(table for table in answer().tables if table.key == "proof").as_data()["rows"][:2]
    # at firing top dead centre; the inlet has closed 140 before it, less a ramp of 60, and opens 352 after it, less 60
    assert (first["valve"], first["behind"], first["ahead"]) == ("1 inlet", 80, 292)
    assert (second["valve"], second["behind"], second["ahead"]) == ("1 exhaust", 294, 78)
    assert number(answer(), "least_inside") == 78
    assert number(answer(ramp="20"), "least_inside") == 118
    assert number(answer(event_lift="0.1"), "least_inside") == 138 - 33
    unknown = answer(**UNKNOWN)
    assert number(unknown, "least_inside") == 80
    assert any("any ordinary cam" in note and "racing" in note for note in unknown.notes)


def test_several_valves_of_a_kind_are_each_set():
    labels = [step.label for stage in answer(inlet_valves="2 1 1 3").steps.stages[:4] for step in stage.steps]
    assert [label for label in labels if "inlet" in label] == [
        *("1 inlet 1", "1 inlet 2", "4 inlet 1", "4 inlet 2", "4 inlet 3", "3 inlet", "2 inlet"),
    ]


def test_the_walk_has_one_card_a_stop_with_its_dial_and_goes_round_once_more():
    walk = answer().steps
    assert walk.on_paper
    assert [stage.title for stage in walk.stages] == [
        *(f"Stop {number}" for number in range(1, 5)),
        *(f"Once more, stop {number}" for number in range(1, 5)),
    ]
    start, inlet, exhaust = walk.stages[0].steps
    assert (start.large, inlet.large) == ("1 at firing top", "1 IN 0.15 mm")
    assert exhaust.words == "Set 1 exhaust to 0.20 mm (7.9 thou)."
    assert walk.stages[1].steps[0].words == (
        "Turn the crank forwards, 180° clockwise, seen from the pulley end: the mark half a turn round is up."
    )
    dials = [stage.drawing for stage in walk.stages]
    assert [dial.key for dial in dials] == 2 * [f"stop_{number}" for number in range(1, 5)]
    assert "the rotor points 90° clockwise of number 1&#39;s notch" in dials[1].svg


def test_the_walk_of_the_opening_method_ends_each_turn_by_what_is_seen():
    step = answer(method="opening").steps.stages[1].steps[0]
    assert step.words.endswith("until the exhaust valve of 1 just begins to open.")
    assert "about" in step.large


@given(st.permutations(range(1, 7)), st.sampled_from(["own", "companion", "opening", "two", "fewest"]))
@settings(max_examples=examples(20), deadline=None)
def test_any_order_is_set_within_two_turns_and_every_valve_once(order, method):
    typed = INLINE_SIX | {"firing_order": " ".join(map(str, order)), "method": method} | UNKNOWN
    try:
        found = answer(**typed)
    except InputErrors as wrong_method:
        assert {error.field for error in wrong_method.errors} == {"method"}
        return
    assert number(found, "total_turning") <= 720
    labels = [step.label for stage in found.steps.stages for step in stage.steps]
    assert len([label for label in labels if label.endswith("again")]) == 12


def test_blades_that_do_not_make_the_gap_are_told():
    found = answer(inlet_clearance="0.35 mm", blades="0.05 0.10 0.30")
    assert found.steps.stages[0].steps[1].words == "Set 1 inlet to 0.35 mm (13.8 thou): 0.30 mm + 0.05 mm."
    texts = [caution.text for caution in answer(blades="0.161", exhaust_clearance="0.15").warnings]
    assert len([text for text in texts if "No stack" in text and "0.011 mm too wide" in text]) == 2


@pytest.mark.parametrize(
    "typed",
    [{}, INLINE_SIX, SINGLE, V_TWIN, {"banks": ""}, {"method": "two", "notch": "90"}, {"end": "flywheel"}],
)
def test_what_is_drawn_is_legible_and_inside_its_frame(typed):
    found = answer(**typed)
    drawn = [found.drawing, *found.figures, *(stage.drawing for stage in found.steps.stages)]
    assert found.drawing.key == ("engine" if typed.get("banks", "1") else "base_circles")
    for figure in drawn:
        svg = ElementTree.fromstring(figure.svg)  # noqa: S314
        width, height = map(float, svg.get("viewBox").split()[2:])
        for text in svg.iter("{http://www.w3.org/2000/svg}text"):
            assert float(text.get("font-size")) >= 13
            assert 0 < float(text.get("x")) < width
            assert 0 < float(text.get("y")) < height
        assert not re.search(r"(fill|stroke|style)=", figure.svg)


def test_the_method_says_which_engine_each_is_for():
    hint = question("lash.plan").method.facts.hint
    assert hint.count(":") == len(METHODS)


def test_warns_of_an_engine_that_fires_before_all_else():
    assert answer().warnings[0].signal == "warning"
    assert "Ignition off" in answer().warnings[0].text


def test_an_engine_that_nobody_told_is_lacking_only_its_own_facts():
    asked = asked_with("lash.plan")
    assert {error.field for error in asked.lacking} == {
        "cylinders",
        "firing_order",
        "crank_rotation",
        "inlet_clearance",
        "exhaust_clearance",
    }
    assert "Enter the turning direction" in [error.message for error in asked.lacking]


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        (
            {"banks": "1 2 / 3 3"},
            "Cylinders by bank must name each cylinder from 1 to 4 once; 4 is missing and 3 comes twice",
        ),
        (
            {"firing_order": "1 4 2 2"},
            "Firing order must name each cylinder from 1 to 4 once; 3 is missing and 2 comes twice",
        ),
        ({"blades": "0.009 0.1"}, "Feeler blades must each be between 0.01 mm and 2 mm, not 0.009"),
        ({"blades": "0.1 " * 21}, "Feeler blades must have 1 to 20 entries, not 21"),
        ({"firing_intervals": "180 180 180 160"}, "Firing intervals must add up to 720°, not 700°"),
        (
            {"firing_intervals": "360 360"},
            "Firing intervals must have 4 entries, one a cylinder, not 2, or be empty where it fires evenly",
        ),
        ({"inlet_valves": "4"}, "Inlet valves a cylinder must each be between 1 and 3"),
        ({"inlet_valves": "1 2 1"}, "Inlet valves a cylinder must have 1 entry for all or 4, one a cylinder, not 3"),
        (
            {"inlet_opens": ""},
            "Enter the inlet opening, in degrees, or leave all four openings and closings empty",
        ),
        ({"event_lift": ""}, "Enter the lift of the cam events, in millimetres, or the ramp beyond each event"),
        (
            V_TWIN | {"method": "companion"},
            "Method must suit the engine: no other cylinder fires a whole turn from 1 and 2, so they have no "
            "companions. Choose another method.",
        ),
        (  # the exhaust leaves its base circle at 180 − 100 − 90 = −10 after firing top dead centre
            {"exhaust_opens": "100", "ramp": "90"},
            "Method must suit the cams: this one sets the exhaust valve of cylinder 1 10° off its base circle. "
            "Choose another method.",
        ),
        (
            {"exhaust_opens": "87", "ramp": "90"},
            "Method must suit the cams: this one sets the exhaust valve of cylinder 1 only 3° inside its base circle, "
            "and the crank may be 5° out. Choose another method.",
        ),
        ({"cylinders": "4.5"}, "Number of cylinders must be a whole number, like 4"),
        (
            {"banks": "1 2 / 3 x"},
            "Cylinders by bank must be whole numbers in groups with a slash between, like 1 2 / 3 4",
        ),
        ({"firing_order": "one four"}, "Firing order must be numbers in a row, like 1 4 3 2"),
        ({"blades": "0.1 2.1"}, "Feeler blades must each be between 0.01 mm and 2 mm, not 2.1"),
        ({"firing_intervals": "180 180 180 180.2"}, "Firing intervals must add up to 720°, not 720.2°"),
        ({"firing_intervals": "0 360 180 180"}, "Firing intervals must each be between 1° and 720°, not 0"),
        ({"inlet_valves": "0"}, "Inlet valves a cylinder must each be between 1 and 3"),
        (SINGLE | {"exhaust_valves": "1 2"}, "Exhaust valves a cylinder must have 1 entry, not 2"),
        (
            {
                "cylinders": "12",
                "banks": "1 2 3 4 5 6 7 8 9 10 11 12",
                "firing_order": "1 2 3 4 5 6 7 8 9 10 11 12",
                "firing_intervals": "",
                "inlet_valves": "3",
                "exhaust_valves": "2",
            },
            "Inlet valves a cylinder and the exhaust valves come to 60; at most 48 are planned here",
        ),
        (
            {"exhaust_opens": "100", "ramp": "90", "exhaust_valves": "2"},
            "Method must suit the cams: this one sets the exhaust valve 1 of cylinder 1 10° off its base circle. "
            "Choose another method.",
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
            "Method must suit the cams: this one sets the inlet valve of cylinder 2 10° off its base circle. "
            "Choose another method.",
        ),
    ],
)
def test_what_cannot_be_meant_is_refused_with_cause_and_remedy(typed, message):
    (said,) = wrong(answer, **typed).values()
    assert said == message


def test_says_all_that_is_wrong_between_the_entries_at_once():
    assert set(wrong(answer, cylinders="6")) == {"banks", "firing_order", "firing_intervals"}


def test_a_limit_may_be_typed_with_its_sign():
    assert number(answer(crank_limit="± 5°"), "least_inside") == 78


def test_odd_angles_are_shown_to_a_tenth():
    found = answer(
        cylinders="7", banks="1 2 3 4 5 6 7", firing_order="1 3 5 7 2 4 6", firing_intervals="", rotor_rotation="none"
    )
    assert "102.9° at a time" in found.says
    assert found.tables[0].columns[1].places == 1


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
    found = answer(inlet_clearance=gap, blades=blades)
    assert " = ".join(next(value.texts for value in found.values if value.key == "inlet_blades")) == said


def test_blades_are_a_number_with_its_unit_to_a_program():
    data = {value["key"]: value for value in answer(inlet_clearance="0.35").as_data()["values"]}
    assert (data["inlet_blades"]["magnitude"], data["inlet_blades"]["unit"]) == (pytest.approx(0.35), "mm")
    assert data["inlet_blades"]["words"] == "0.30 mm + 0.05 mm = 0.35 mm"


@pytest.mark.parametrize(
    ("gap", "said"),
    [("4 thou", "4 thou (0.10 mm)"), ("0.0055 in", "5.5 thou (0.14 mm)"), ("0.15 mm", "0.15 mm (5.9 thou)")],
)
def test_a_gap_is_told_in_its_own_unit_first(gap, said):
    found = answer(inlet_clearance=gap)
    assert f"inlet {said}, exhaust" in found.says
    assert column(found, "inlet")[0].startswith(said)


def test_a_gap_that_needs_several_blades_names_them_at_each_stop():
    found = answer(exhaust_clearance="0.35 mm")
    assert column(found, "exhaust")[0] == "0.35 mm (13.8 thou): 0.30 mm + 0.05 mm"
    assert column(found, "inlet")[0] == "0.15 mm (5.9 thou)"


@pytest.mark.parametrize(
    ("blade", "side"), [("0.139", "close"), ("0.14", None), ("0.15", None), ("0.16", None), ("0.161", "wide")]
)
def test_cautions_when_no_stack_comes_within_a_hundredth(blade, side):
    found = answer(blades=blade, exhaust_clearance="0.15")
    said = [caution.text for caution in found.warnings if "No stack" in caution.text]
    assert len(said) == (2 if side else 0)
    assert all(f"0.011 mm too {side}" in text for text in said)
    assert number(found, "inlet_error", "mm") == pytest.approx(float(blade) - 0.15)


def test_a_wider_stack_is_taken_before_a_nearer_one_that_is_too_close():
    found = answer(inlet_clearance="0.15", exhaust_clearance="0.15", blades="0.13; 0.20")
    assert number(found, "inlet_blades", "mm") == pytest.approx(0.20)
    said = [caution.text for caution in found.warnings if "No stack" in caution.text]
    assert all("The nearest wider one makes 0.20 mm (7.9 thou), 0.050 mm too wide." in text for text in said)
    assert len(said) == 2


def test_a_closer_stack_is_taken_only_where_none_is_wider():
    found = answer(inlet_clearance="0.15", blades="0.05; 0.08")
    assert number(found, "inlet_blades", "mm") == pytest.approx(0.13)
    assert any("The nearest, as none is wider, makes 0.13 mm" in caution.text for caution in found.warnings)


SVG = "{http://www.w3.org/2000/svg}"


def drawn(figure, tag, look):
    return [node for node in ElementTree.fromstring(figure.svg).iter(SVG + tag) if node.get("class") == look]  # noqa: S314


def points(path):
    return [tuple(map(float, pair.split())) for pair in path.get("d").strip("MZ").split(" L")]


@pytest.mark.parametrize(("running", "side"), [("clockwise", -1), ("anticlockwise", 1)])
@pytest.mark.parametrize("turning", ["forwards", "backwards"])
def test_the_dial_shows_the_mark_up_and_number_ones_mark_where_the_pulley_has_gone(running, turning, side):
    stop = answer(**V_TWIN, crank_rotation=running, turning=turning, rotor_rotation="none").steps.stages[1].drawing
    first, second = drawn(stop, "line", "edge")
    assert float(second.get("x2")) == 85 and float(second.get("y2")) < 85
    # 315° after number one's firing its mark has 45° to go to the top, on the side from which it comes
    assert float(first.get("x2")) - 85 == pytest.approx(side * 46 * 2**-0.5, abs=0.01)
    assert float(first.get("y2")) - 110 == pytest.approx(-46 * 2**-0.5, abs=0.01)


@pytest.mark.parametrize(("turning", "side"), [("forwards", -1), ("backwards", 1)])
def test_the_arrow_of_the_dial_ends_at_the_case_mark_in_the_sense_of_the_hand(turning, side):
    stop = answer(turning=turning, rotor_rotation="none").steps.stages[1].drawing
    (sweep,), (head,) = drawn(stop, "path", "arrow"), drawn(stop, "path", "arrow head")
    tip, *corners = points(head)
    assert points(sweep)[0] == (85, 165)
    assert all(side * (x - 85) >= -0.01 for x, _ in points(sweep))
    assert side * (tip[0] - 85) > 0 and tip[1] < 110 - 46
    assert all(side * (x - tip[0]) > 0 for x, _ in corners)


@pytest.mark.parametrize(("turning", "side"), [("forwards", 1), ("backwards", -1)])
def test_the_rotor_of_the_dial_points_a_quarter_round_after_half_a_turn(turning, side):
    stop = answer(turning=turning).steps.stages[1].drawing
    tip = points(drawn(stop, "path", "arrow head")[-1])[0]
    assert tip == pytest.approx((136 + side * 16, 108))


def test_a_star_of_seven_banks_is_drawn_without_words_that_would_overlap():
    found = answer(
        cylinders="7",
        banks="1 / 2 / 3 / 4 / 5 / 6 / 7",
        firing_order="1 3 5 7 2 4 6",
        firing_intervals="",
    )
    assert "stop 3" not in re.sub(r'aria-label="[^"]*"', "", found.drawing.svg)
    assert "stop 3" in found.drawing.svg


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
    assert answer(**typed).says


def test_a_single_with_an_unknown_cam_needs_one_stop():
    assert answer(**SINGLE | UNKNOWN, method="fewest").value("stop_count").quantity == 1


def test_four_valves_a_cylinder_are_each_named():
    found = answer(inlet_valves="2", exhaust_valves="2", method="two")
    (proof,) = (table for table in found.tables if table.key == "proof")
    names = {row["valve"] for row in proof.as_data()["rows"]}
    assert len(names) == 16
    assert {"1 inlet 1", "1 inlet 2", "4 exhaust 2"} <= names


def test_uneven_turns_of_many_cylinders_are_left_to_the_stops():
    found = answer(**INLINE_SIX | {"firing_intervals": "90 150 90 150 90 150"})
    assert "by the turn of each stop: set the valves of 1, 5, 3, 6, 2, 4" in found.says
    assert column(found, "turn") == ["start", 90, 150, 90, 150, 90, 150]


def test_names_the_mark_that_is_up_and_who_shares_it():
    assert column(answer(), "mark") == ["number 1's mark", "the mark half a turn round"] * 2 + ["number 1's mark"]
    assert column(answer(), "overlap") == [3, 2, 1, 4, 3]
    assert column(answer(**INLINE_SIX), "mark")[1:3] == ["the mark at 120°", "the mark at 240°"]


def test_a_single_is_set_where_it_stands():
    found = answer(**SINGLE)
    assert found.says.startswith("Set the valves of number 1 at its firing top dead centre: inlet")
    assert column(found, "turn") == ["start", 720]
    assert number(found, "total_turning", "°") == 0
    assert "one whole turn away at overlap" in found.notes[0]


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer,
    falls("ramp", (1, 40), "least_inside", "a ramp takes from the base circle"),
    falls("exhaust_opens", (42, 70), "least_inside", "it lies shut for less of the turn"),
)
