"""The marks of a rim: how far, which way, for any firing order, and on a tape."""

import re
from functools import partial
from pathlib import Path
from xml.etree import ElementTree

import pytest

from calculators import magnitude_in, read_card, uncertainty_in
from calculators.bench.asking import answer_of, answered, readings_of
from calculators.bench.desk import Desk
from calculators.bench.question import question
from tests.answers import cells, error_of
from tests.physics import goes_as_physics_sends_it, rises

ENGINES = Path(__file__).parents[2] / "docs/engines"
MARKS = question("timing.marks")
ENGINE = {
    "diameter": "168 mm",
    "crank_rotation": "clockwise",
    "firing_order": "1 4 3 2",
    "static_advance": "7°",
    "full_advance": "30°",
}


answer = partial(answered, "timing.marks", **ENGINE)


def test_marks_lie_along_the_rim_the_way_the_crank_turns():
    # by hand: π · 168 / 360 = 1.466 mm a degree; 7° is 10.3 mm and 30° is 44.0 mm
    found = answer()
    assert found.headline == "Static 10.3 mm · full 44.0 mm clockwise"
    assert found.says == (
        "From the top mark, measure along the rim: 10.3 mm clockwise for 7° before top (static) and "
        "44.0 mm clockwise for 30° before top (full advance)."
    )
    assert magnitude_in(found.value("half_turn").quantity, "mm") == pytest.approx(263.894, abs=1e-3)
    assert magnitude_in(found.value("per_degree").quantity, "mm") == pytest.approx(1.46608, abs=1e-5)


@pytest.mark.parametrize(
    ("rotation", "on", "way"),
    [
        ("clockwise", "rim", "clockwise"),
        ("anticlockwise", "rim", "anticlockwise"),
        ("clockwise", "case", "anticlockwise"),
        ("anticlockwise", "case", "clockwise"),
    ],
)
def test_on_the_case_a_mark_before_top_lies_the_other_way(rotation, on, way):
    # by reasoning: the rim's mark comes to the pointer before the top does, the case's meets the notch before it
    found = answer(crank_rotation=rotation, scale_on=on)
    assert f"10.3 mm {way} for 7°" in found.says
    assert f"along the {on}" in found.says
    assert found.headline.endswith(f"full 44.0 mm {way}")


@pytest.mark.parametrize(
    ("typed", "headline"),
    [
        ({"static_advance": "-5"}, "Static 7.3 mm anticlockwise · full 44.0 mm clockwise"),
        ({"static_advance": "0"}, "Full 44.0 mm clockwise"),
        ({"static_advance": "30"}, "Static 44.0 mm clockwise"),
        ({"static_advance": "0", "full_advance": "0"}, "Use the top mark itself"),
    ],
)
def test_headline_tells_each_way_where_they_differ(typed, headline):
    # by hand: 5° is 7.3 mm
    assert answer(**typed).headline == headline


def test_the_second_mark_stands_half_a_turn_round():
    found = cells(answer())
    assert [row["mark"] for row in found[:2]] == ["Top of cylinders 1 and 3", "Top of cylinders 2 and 4"]
    assert found[1]["way"] == "either way, halfway round"
    assert magnitude_in(found[1]["across"], "mm") == pytest.approx(168)


def test_a_six_has_three_marks_in_the_order_they_pass():
    # by hand: 1 5 3 6 2 4 fires every 120°; 5 and 2 are up 120° after 1 and 6, so their mark stands 120° behind
    assert [
        (row["mark"], magnitude_in(row["degrees"], "°"), row["way"]) for row in cells(answer(firing_order="153624"))[:3]
    ] == [
        ("Top of cylinders 1 and 6", 0, "the top mark itself"),
        ("Top of cylinders 2 and 5", pytest.approx(-120), "anticlockwise"),
        ("Top of cylinders 3 and 4", pytest.approx(120), "clockwise"),
    ]


def test_a_single_and_a_three_have_marks_of_their_own():
    assert [row["mark"] for row in cells(answer(firing_order="1"))][:1] == ["Top of cylinder 1"]
    tops = [row["mark"] for row in cells(answer(firing_order="1 3 2"))][:3]
    assert tops == ["Top of cylinder 1", "Top of cylinder 2", "Top of cylinder 3"]


@pytest.mark.parametrize(
    ("card", "behind", "along"),
    [("layout-v-twin-45", 45, 65.973), ("layout-v-twin-90", 90, 131.947)],
)
def test_a_v_twin_s_second_mark_stands_the_angle_of_its_banks_behind(card, behind, along):
    # by hand: on one crankpin number 2 is up 360 + 45° (or 90°) after number 1 fires, one turn and the angle on, so its
    # mark passes that much later; π · 168 · 45/360 = 65.973 mm, π · 168 · 90/360 = 131.947 mm
    texts = [f"{key}={text}" for key, text in ENGINE.items() if key != "firing_order"]
    desk = Desk(readings_of(MARKS, texts), read_card(ENGINES / f"{card}.yml"), example=True)
    found = answer_of(desk, MARKS)
    first, second = cells(found)[:2]
    assert (first["mark"], second["mark"]) == ("Top of cylinder 1", "Top of cylinder 2")
    assert magnitude_in(second["degrees"], "°") == pytest.approx(-behind)
    assert magnitude_in(second["along"], "mm") == pytest.approx(along, abs=1e-3)
    assert second["way"] == "anticlockwise"
    assert found.value("half_turn").label == "Halfway round"


def test_intervals_told_from_another_cylinder_give_the_same_marks():
    told = cells(answer(firing_order="2 1", firing_intervals="315 405"))
    assert told[:2] == cells(answer(firing_order="1 2", firing_intervals="405 315"))[:2]
    # by hand: 1, 3, 2, 4 fire at 0°, 180°, 450° and 630°, which is 0°, 180°, 90° and 270° of the pulley
    tops = cells(answer(firing_order="1 3 2 4", firing_intervals="180 270 180 90"))[:4]
    assert [(row["mark"], round(magnitude_in(row["degrees"], "°"))) for row in tops] == [
        ("Top of cylinder 1", 0),
        ("Top of cylinder 2", -90),
        ("Top of cylinder 3", 180),
        ("Top of cylinder 4", 90),
    ]


def test_more_marks_join_those_of_the_advance_and_none_comes_twice():
    found = cells(answer(more_marks="10 -5 30 0"))[2:]
    assert [row["mark"] for row in found] == ["5° after top", "Static", "10° before top", "Full advance"]
    assert found[0]["way"] == "anticlockwise"


def test_marks_at_the_top_are_the_top_mark():
    found = answer(static_advance="0", full_advance="0")
    assert found.says == "Use the top mark itself: static and full advance are 0°."
    assert [row["mark"] for row in cells(found)][2:] == ["Static and full advance"]
    assert answer(firing_order="1", static_advance="0", full_advance="0").walks == ()


def test_an_uncertain_rim_gives_uncertain_marks():
    # by hand: U of ± 0.5 mm is 0.5774 mm; half way round π/2 as much
    found = answer(diameter="168 ± 0.5 mm").value("half_turn").quantity
    assert uncertainty_in(found, "mm") == pytest.approx(2 * 0.5 / 3**0.5 * 3.14159265 / 2)


def test_walk_lays_each_mark():
    (walk,) = answer(more_marks="10").walks
    (stage,) = walk.stages
    assert [step.label for step in stage.steps] == [
        "Top of cylinders 2 and 4",
        "7° before top",
        "10° before top",
        "30° before top",
    ]
    assert [step.large for step in stage.steps][:2] == ["263.9 mm, half round", "10.3 mm clockwise"]
    assert stage.steps[1].words == "Mark 7° before top (static) on the rim: 10.3 mm clockwise."


def test_whoever_turns_the_engine_is_warned():
    assert [caution.signal for caution in answer().warnings if "fires while you turn it" in caution.text] == ["warning"]


def test_the_tape_is_as_long_as_the_rim():
    (tape,) = answer().attachments
    assert (tape.name, tape.media_type) == ("degree-tape.svg", "image/svg+xml")
    root = ElementTree.fromstring(tape.text)  # noqa: S314 (our own text)
    assert root.get("width") == "210mm"
    widths = [float(strip.get("width")) for strip in root.iter("{http://www.w3.org/2000/svg}rect")]
    # by hand: π · 168 = 527.79 mm, in strips of 180 mm
    assert widths == [180, 180, pytest.approx(167.79, abs=0.01)]
    assert [text.text for text in root.iter("{http://www.w3.org/2000/svg}text") if text.text in ("10", "350")] == [
        "10",
        "350",
    ]


def test_the_tape_runs_the_other_way_for_the_other_sense():
    def first_numbers(**typed):
        root = ElementTree.fromstring(answer(**typed).attachments[0].text)  # noqa: S314
        texts = [text for text in root.iter("{http://www.w3.org/2000/svg}text") if re.fullmatch("[0-9]+", text.text)]
        return [int(text.text) for text in texts][:3]

    assert first_numbers() == [0, 10, 20]
    assert first_numbers(crank_rotation="anticlockwise") == [0, 350, 340]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"firing_order": "1 4 4 2"},
            "firing_order",
            "Firing order must name each cylinder from 1 to 4 once; 3 is missing and 4 comes twice",
        ),
        (
            {"firing_order": "2"},
            "firing_order",
            "Firing order must name cylinder 1 once; 1 is missing and 2 is not one of them",
        ),
        ({"full_advance": "6"}, "full_advance", "Full advance must be no less than the static advance, 7.0°"),
        (
            {"firing_intervals": "405 315"},
            "firing_intervals",
            "Firing intervals must have 4 entries, one a cylinder, not 2, or be empty where it fires evenly",
        ),
        ({"firing_intervals": "180 180 180 150"}, "firing_intervals", "Firing intervals must add up to 720°, not 690°"),
        ({"more_marks": "181"}, "more_marks", "More marks must each be between −180° and 180°"),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert error_of(answer, **typed) == (field, message)


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer,
    rises("diameter", (100, 250), "mark_2", "an arc grows with its radius"),
    rises("static_advance", (1, 25), "mark_1", "an arc grows with its angle"),
)
