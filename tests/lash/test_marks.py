"""The marks of the pulley: whose, where, seen from which end, and how far along the rim."""

import re
from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answered
from tests.answers import messages_of

FOUR = {"cylinders": "4", "firing_order": "1 4 3 2", "crank_rotation": "clockwise"}
SIX = {"cylinders": "6", "firing_order": "1 5 3 6 2 4", "crank_rotation": "anticlockwise"}
TWIN = {"cylinders": "2", "firing_order": "1 2", "firing_intervals": "315 405", "crank_rotation": "clockwise"}


answer = partial(answered, "lash.marks")


def column(found, key):
    return [row[key] for row in found.tables[0].as_data()["rows"]]


@pytest.mark.parametrize(
    ("typed", "headline"),
    [
        (FOUR, "2 marks 180° apart: 1 3 · 2 4"),
        (SIX, "3 marks 120° apart: 1 6 · 2 5 · 3 4"),
        (TWIN, "2 marks: 1 · 2"),
        ({"cylinders": "1", "firing_order": "1", "crank_rotation": "clockwise"}, "1 mark: 1"),
    ],
)
def test_the_headline_counts_the_marks_and_names_who_shares_them(typed, headline):
    assert answer(**typed).headline == headline


def test_many_marks_are_left_to_the_drawing():
    order = "1 2 3 4 5 6 7 8 9 10 11"
    found = answer(cylinders="11", firing_order=order, crank_rotation="clockwise")
    assert found.headline == "11 marks 32.7° apart: see the drawing"
    twelve = answer(cylinders="12", firing_order=order + " 12", crank_rotation="clockwise")
    assert twelve.headline == "6 marks 60° apart: 1 7 · 2 8 · 3 9 · 4 10 · 5 11 · 6 12"


def test_each_cylinder_has_its_crank_angle_its_mark_its_companion_and_its_rotor():
    # by the order itself: half a turn from firing to firing, the rotor at half speed
    found = answer(**FOUR)
    assert column(found, "cylinder") == [1, 4, 3, 2]
    assert column(found, "fires") == [0, 180, 360, 540]
    assert column(found, "mark") == [0, 180, 0, 180]
    assert column(found, "overlap") == [3, 2, 1, 4]
    assert column(found, "rotor") == [0, 90, 180, 270]


def test_a_mark_is_so_far_along_the_rim():
    # by hand: π · 168 mm ÷ 2
    found = answer(**FOUR, pulley_diameter="168 mm")
    assert magnitude_in(found.value("rim_2_4").quantity, "mm") == pytest.approx(263.894, abs=1e-3)
    assert not [value for value in answer(**FOUR).values if value.key.startswith("rim")]


@pytest.mark.parametrize(
    ("running", "end", "side", "way"),
    [
        ("clockwise", "pulley", -1, "anticlockwise"),
        ("anticlockwise", "pulley", 1, "clockwise"),
        ("clockwise", "flywheel", 1, "clockwise"),
    ],
)
def test_marks_follow_one_another_against_the_run(running, end, side, way):
    found = answer(**SIX | {"crank_rotation": running, "end": end})
    assert f"Counted {way} from number 1's mark, seen from the {end} end" in found.says
    (x,) = re.findall(r'<text class="number" x="([\d.]+)"[^>]*>2 5<', found.drawing.svg)
    assert (float(x) - 170) * side > 0


def test_the_engine_from_above_is_drawn_where_its_banks_are_told():
    assert answer(**FOUR).figures == ()
    (engine,) = answer(**FOUR, banks="1 2 / 3 4").figures
    assert "bank 2, from the pulley end: 3, mark at 0°, 4, mark at 180°" in engine.svg


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        (
            {"firing_order": "1 4 2 2"},
            "Firing order must name each cylinder from 1 to 4 once; 3 is missing and 2 comes twice",
        ),
        ({"firing_intervals": "180 180 180 160"}, "Firing intervals must add up to 720°, not 700°"),
        ({"banks": "1 2"}, "Cylinders by bank must name each cylinder from 1 to 4 once; 3 and 4 are missing"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_cause_and_remedy(typed, message):
    assert messages_of(answer, **FOUR | typed) == [message]
