"""The spark set standing still: where the crank is brought, which way, and in what order."""

from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answered

ENGINE = {"static_advance": "7°", "crank_rotation": "clockwise"}


answer = partial(answered, "timing.set_standing", **ENGINE)


def test_walk_makes_it_safe_first_and_ends_with_the_ignition_off():
    found = answer()
    assert found.headline == "7° before top, turning clockwise"
    assert found.says.startswith("Bring cylinder 1 to 7° before top, turning clockwise")
    (walk,) = found.walks
    (stage,) = walk.stages
    assert stage.title == "Set it, engine stopped: 7° before top"
    assert [step.key for step in stage.steps] == ["safe", "number_1", "arrive", "light", "clamp"]
    assert stage.steps[0].words.startswith("Ignition off")
    assert "clockwise until 7° before top is at the pointer" in stage.steps[2].words
    assert stage.steps[3].words.startswith("Ignition on, lamp")  # the first step put it off
    assert stage.steps[4].words.endswith("Ignition off.")
    assert [caution.signal for caution in found.warnings] == ["warning"]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"crank_rotation": "anticlockwise"}, "then anticlockwise until 7° before top is at the pointer"),
        ({"scale_on": "case"}, "then clockwise until 7° before top is at the notch"),
        ({"static_advance": "-2.5"}, "until 2.5° after top is at the pointer"),
    ],
)
def test_it_is_told_for_this_engine(typed, words):
    assert words in answer(**typed).walks[0].stages[0].steps[2].words


def test_a_rim_without_the_mark_is_measured():
    # by hand: π · 168 · 7/360 is 10.26 mm
    along = answer(diameter="168").value("along")
    assert magnitude_in(along.quantity, "mm") == pytest.approx(10.263, abs=1e-3)
    assert answer().value("along") is None
    assert answer(diameter="168", static_advance="0").value("along") is None


@pytest.mark.parametrize(
    ("rotation", "on", "ahead", "side"),
    [
        ("clockwise", "rim", "7", -1),  # the top mark still comes, clockwise
        ("anticlockwise", "rim", "7", 1),
        ("clockwise", "case", "7", 1),  # the notch still goes there, clockwise
        ("anticlockwise", "case", "7", -1),
        ("clockwise", "rim", "-7", 1),  # it has gone by
    ],
)
def test_the_drawing_shows_where_the_top_mark_is(rotation, on, ahead, side):
    svg = answer(crank_rotation=rotation, scale_on=on, static_advance=ahead).drawing.svg
    x = float(svg.split(">top<")[0].rsplit('x="', 1)[1].split('"')[0])
    assert (x - 170) * side > 0
