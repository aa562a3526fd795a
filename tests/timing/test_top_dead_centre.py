"""True top dead centre by a stop, and the verdict on the old mark with all of its uncertainty."""

from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import error_of, read_off, signals
from tests.examples import examples
from tests.physics import (
    Judged,
    falls,
    goes_as_physics_sends_it,
    is_in_only_with_its_whole_uncertainty,
    meets,
    number,
    rises,
)

ENGINE = {"diameter": "168 mm", "crank_rotation": "clockwise"}
STOP = {"stop_forwards": "-32.5", "stop_backwards": "38.5"}


answer = partial(answered, "timing.top_dead_centre", **ENGINE)


def test_an_early_mark_moves_against_the_crank():
    # by hand: −32.5° and 38.5° have their middle at 3°; 3 · 1.4661 mm is 4.4 mm
    found = answer(**STOP)
    assert found.headline == "3.0° early: new mark 4.4 mm anticlockwise"
    assert found.says == "Put a new top mark 4.4 mm anticlockwise of the old one, which is 3.0° early."
    assert read_off(found, "old_mark", "°") == pytest.approx(3)
    assert found.value("old_mark_verdict").quantity == "out"
    assert signals(found, "never use the starter") == ["warning"]
    assert signals(found, "fires while you turn it") == ["warning"]
    assert signals(found, "is from the true top mark") == ["notice"]
    assert "true mark 4.4 mm anticlockwise" in found.drawing.svg


def test_a_late_mark_moves_with_it():
    found = answer(stop_forwards="-38.5", stop_backwards="32.5")
    assert found.headline == "3.0° late: new mark 4.4 mm clockwise"
    assert found.says == "Put a new top mark 4.4 mm clockwise of the old one, which is 3.0° late."


@pytest.mark.parametrize(
    ("rotation", "on", "way"),
    [
        ("clockwise", "case", "clockwise"),
        ("anticlockwise", "rim", "clockwise"),
        ("anticlockwise", "case", "anticlockwise"),
    ],
)
def test_the_other_way_round_the_new_mark_lies_the_other_way(rotation, on, way):
    assert f"4.4 mm {way} of the old one" in answer(**STOP, crank_rotation=rotation, scale_on=on).says


def test_a_wheel_numbered_to_360_reads_alike():
    assert read_off(answer(stop_forwards="327.5", stop_backwards="38.5"), "old_mark", "°") == pytest.approx(3)


def test_chalk_marks_serve_for_a_wheel():
    # by hand: (56.4 − 47.6)/2 = 4.4 mm along the rim, which is 3.0°
    found = answer(rim_forwards="47.6", rim_backwards="56.4")
    assert magnitude_in(found.value("new_mark").quantity, "mm") == pytest.approx(4.4)
    assert read_off(found, "old_mark", "°") == pytest.approx(3.0, abs=0.01)


def test_what_the_wheel_is_off_by_is_in_the_old_mark_whole():
    # by hand: one wheel, limit 0.5°, and 0.2° at each of two readings: 2 √(0.5² + 0.2²/2) / √3
    found = answer(**STOP)
    expected = 2 * (0.25 + 0.02) ** 0.5 / 3**0.5
    assert uncertainty_in(found.value("old_mark").quantity, "°") == pytest.approx(expected)
    # what is alike at both readings drops out of the gap between them
    deep = answer(**STOP, stroke="86", rod_length="143", wheel_read_to="0").value("stop_depth").quantity
    assert uncertainty_in(deep, "mm") is None or uncertainty_in(deep, "mm") < 1e-9


def test_chalk_is_off_by_itself_at_each_mark():
    # by hand: ± 0.5 mm each, the mean of two: 2 · 0.5 / √3 / √2 mm along the rim
    found = answer(rim_forwards="47.6", rim_backwards="56.4").value("new_mark").quantity
    assert uncertainty_in(found, "mm") == pytest.approx(2 * 0.5 / 6**0.5)
    assert (
        uncertainty_in(
            answer(rim_forwards="47.6", rim_backwards="56.4", rim_error="0").value("new_mark").quantity, "mm"
        )
        is None
    )


@pytest.mark.parametrize(
    ("backwards", "verdict", "headline"),
    [
        ("32.5", "in", "Old mark in: 0.0° off"),
        ("33.1", "in", "Old mark in: 0.3° early"),
        ("33.5", "too close to call", "0.5° early: too close to call"),
        ("34.5", "too close to call", "1.0° early: too close to call"),
        ("37.1", "out", "2.3° early: new mark 3.4 mm anticlockwise"),
    ],
)
def test_the_old_mark_is_judged_with_all_of_its_uncertainty(backwards, verdict, headline):
    # by hand: limit 1°, U of the middle is 0.6°, so in to 0.4° and out from 1.6°; 2.3° is 3.4 mm
    found = answer(stop_forwards="-32.5", stop_backwards=backwards)
    assert found.value("old_mark_verdict").quantity == verdict
    assert ("too close to call with this instrument" in found.says) == (verdict == "too close to call")
    assert found.headline == headline
    assert bool(signals(found, "is from the true top mark")) == (verdict != "in")


def test_a_mark_that_is_in_is_left():
    found = answer(stop_forwards="-32.5", stop_backwards="32.9", mark_limit="2")
    assert found.says == "The old mark is in: it is 0.2° early, and 2° either way is allowed."


def test_the_stop_tells_how_deep_it_reaches_and_where_a_dial_is_blind():
    # check: stroke 86 and rod 143 stand 10 mm below the top at 35.149° (worked out once in two ways)
    found = answer(stop_forwards="-35.14944", stop_backwards="35.14944", stroke="86", rod_length="143")
    assert magnitude_in(found.value("stop_depth").quantity, "mm") == pytest.approx(10, abs=1e-4)
    # by hand, small angles: x = r·a²·(1 + r/l)/2, so 0.02 mm is 0.0267 rad
    assert read_off(found, "blind", "°") == pytest.approx(1.53, abs=0.01)
    assert answer(**STOP).value("stop_depth") is None
    assert answer(**STOP, stroke="86").value("stop_depth") is None


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"stop_forwards": "-32"},
            "stop_backwards",
            "Enter the wheel reading, turning the other way, in degrees",
        ),
        (
            {"stop_backwards": "32"},
            "stop_forwards",
            "Enter the wheel reading, turning the engine's way, in degrees",
        ),
        (
            {"rim_backwards": "32"},
            "rim_forwards",
            "Enter the distance from the old mark to the first chalk mark, in millimetres",
        ),
        (
            {"rim_forwards": "32"},
            "rim_backwards",
            "Enter the distance from the old mark to the second chalk mark, in millimetres",
        ),
        (
            STOP | {"rim_forwards": "40", "rim_backwards": "40"},
            "rim_forwards",
            "Distance from the old mark to the first chalk mark must be empty if you read the wheel",
        ),
        (
            STOP | {"rim_backwards": "40"},
            "rim_backwards",
            "Distance from the old mark to the second chalk mark must be empty if you read the wheel",
        ),
        (
            {"stop_forwards": "-90", "stop_backwards": "85"},
            "stop_forwards",
            "The two readings at the stop must be less than 150° apart the shorter way, not 175°. Draw the stop back",
        ),
        (
            {"rim_forwards": "1", "rim_backwards": "1"},
            "rim_forwards",
            "The two readings at the stop must be more than 4° apart, not 1.4°. Screw the stop further in",
        ),
        (
            STOP | {"stroke": "90", "rod_length": "45"},
            "rod_length",
            "Rod length must be more than half the stroke, which is 45.00 mm",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert error_of(answer, **typed) == (field, message)


def test_nothing_read_is_asked_for_and_not_called_wrong():
    asked = asked_with("timing.top_dead_centre", [f"{key}={text}" for key, text in ENGINE.items()])
    assert asked.errors == ()
    assert [error.field for error in asked.lacking] == ["stop_forwards", "stop_backwards"]


@given(st.floats(-70, -3), st.floats(3, 70), st.floats(0, 5), st.floats(0, 10))
@settings(max_examples=examples(60), deadline=None)
def test_old_mark_is_never_in_while_its_uncertainty_crosses_the_limit(forwards, backwards, error, limit):
    found = answer(
        stop_forwards=f"{forwards:.2f}",
        stop_backwards=f"{backwards:.2f}",
        wheel_error=f"{error:.2f}",
        mark_limit=f"{limit:.2f}",
    )
    early = found.value("old_mark").quantity
    reach = (uncertainty_in(early, "°") or 0) + magnitude_in(early, "°")
    if found.value("old_mark_verdict").quantity == "in":
        assert reach <= round(limit, 2) + 1e-6


@pytest.mark.parametrize("backwards", ["33", "38.5", "60"])
@pytest.mark.parametrize("rotation", ["clockwise", "anticlockwise"])
@pytest.mark.parametrize("on", ["rim", "case"])
def test_the_drawing_puts_the_true_mark_on_the_side_that_is_said(backwards, rotation, on):
    found = answer(stop_forwards="-32.5", stop_backwards=backwards, crank_rotation=rotation, scale_on=on)
    # the two strokes across the strip, old first; clockwise along the rim's top is to the right
    old, true = (
        float(part.split('"')[0])
        for part in found.drawing.svg.split('x1="')[1:]
        if 'y1="222"' in part and 'y2="244"' in part
    )
    assert ("anticlockwise" in found.value("new_mark").label) == (true < old)


def test_a_limit_may_be_typed_with_its_sign():
    one, other = (answer(**STOP, wheel_error=text).value("old_mark").quantity for text in ("± 0.8°", "0.8°"))
    assert uncertainty_in(one, "°") == uncertainty_in(other, "°")


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer,
    rises(
        "stroke",
        (50, 100),
        "stop_depth",
        "at one angle the piston has come further",
        typed=STOP | {"rod_length": "132"},
    ),
    falls("rod_length", (110, 250), "stop_depth", "a longer rod leans less", typed=STOP | {"stroke": "74"}),
)


def verdict_of(found):
    return found.value("old_mark_verdict").quantity == "in"


test_in_is_said_only_with_the_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    answer, Judged("mark_limit", meets("old_mark"), number("old_mark"), verdict_of, typed=STOP)
)
