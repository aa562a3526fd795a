"""How far coils and retainer are from touching at full lift."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import cautions, errors_of
from tests.physics import falls, goes_as_physics_sends_it

ONE = {"fitted_length": "38 mm", "valve_lift": "8 mm", "wire": "4.2 mm", "total": "6.5"}
SURE = {"wire_error": "0", "coils_error": "0", "length_error": "0", "length_scatter": "0"}


answer = partial(answered, "springs.bind", **ONE | SURE)


def margin(found):
    return magnitude_in(found.value("margin").quantity, "mm")


def halves(*those):
    """JCGM 100:2008, 4.3.7 and 5.1.2, k = 2: rectangles, each on its own."""
    return 2 / 3**0.5 * sum(half**2 for half in those) ** 0.5


def test_the_margin_is_what_lift_and_coils_leave():
    found = answer()
    # by hand: 38 − 8 − 6.5 · 4.2
    assert margin(found) == pytest.approx(2.7)
    assert found.headline == "2.7 mm before the coils touch"
    assert found.warnings == ()
    assert "2.7 mm left" in found.drawing.svg


@pytest.mark.parametrize(
    ("typed", "headline"),
    [
        # by hand: 30 − 7 · 4.2 is 0.6; 30 − 7.5 · 4.2 is −1.5; 30 − 6.9 · 4.2 is 1.02, known to 0.485
        ({"total": "7"}, "Too little: 0.6 mm before the coils touch"),
        ({"total": "7.5"}, "Coils touch 1.5 mm before full lift"),
        ({"total": "6.9", "coils_error": "0.1"}, "Too close to call: 1.0 mm before the coils touch"),
    ],
)
def test_a_margin_not_surely_kept_is_warned_of(typed, headline):
    found = answer(**typed)
    assert found.headline == headline
    assert any("Do not fit these springs" in text for text in cautions(found))
    assert [caution.signal for caution in found.warnings] == ["warning"]


def test_the_least_margin_decides():
    # by hand: 30 − 6.9 · 4.2 is 1.02 mm
    assert not cautions(answer(total="6.9"))
    assert cautions(answer(total="6.9", least_margin="1.1 mm"))


def test_it_is_no_surer_than_coils_wire_and_lengths():
    found = answer(wire_error="0.02 mm", coils_error="0.1")
    assert uncertainty_in(found.value("margin").quantity, "mm") == pytest.approx(halves(0.1 * 4.2, 6.5 * 0.02))
    found = answer(fitted_length="38 ± 0.3 mm", valve_lift="8 ± 0.1 mm")
    assert uncertainty_in(found.value("margin").quantity, "mm") == pytest.approx(halves(0.3, 0.1))


def test_of_two_springs_the_one_that_touches_first_counts():
    # by hand: 11 · 2.6 is 28.6, 1.4 mm less than 30
    found = answer(inner_wire="2.6", inner_total="11")
    assert margin(found) == pytest.approx(1.4)
    assert [row.cells[0] for row in found.tables[0].rows] == ["outer", "inner"]
    assert [worked.name for worked in found.worked] == ["spring_solid.1", "spring_solid.2"]


def test_the_retainer_is_told_valve_by_valve():
    found = answer(to_guide="9.5; 8.9; 8.7")
    # by hand: less the lift of 8 mm
    assert [magnitude_in(row.cells[1], "mm") for row in found.tables[1].rows] == pytest.approx([1.5, 0.9, 0.7])
    assert [row.chosen for row in found.tables[1].rows] == [False, True, True]
    (text,) = cautions(found)
    assert (
        "Valve 2 and 3: between retainer and guide 0.9 and 0.7 mm are left at full lift, not sure to be the 1 mm"
        in text
    )
    assert "0.9 mm is left" in cautions(answer(to_guide="9.5; 8.9"))[0]
    assert not cautions(answer(to_guide="9.5"))
    # by hand: 9.05 less 8 is 1.05 mm, known to 0.12 mm
    assert cautions(answer(to_guide="9.05 ± 0.1"))
    assert not cautions(answer(to_guide="9.05"))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        (
            {"valve_lift": "29", "fitted_length": "28"},
            ("valve_lift", "Valve lift must be less than the fitted length, 28.00 mm"),
        ),
        (
            {"total": "9.5"},
            (
                "total",
                "Total coils must be fewer, or its wire thinner: they take up 39.90 mm of the fitted 38.00 mm",
            ),
        ),
        ({"inner_wire": "2.6"}, ("inner_total", "Enter the total coils of the inner spring")),
        ({"inner_total": "7"}, ("inner_wire", "Enter the wire diameter of the inner spring, in millimetres")),
    ],
)
def test_what_cannot_be_meant_is_refused_with_cause_and_remedy(typed, expected):
    assert errors_of(answer, **typed) == [expected]


def test_an_inner_spring_half_told_is_asked_for_and_not_wrong():
    asked = asked_with("springs.bind", [f"{key}={text}" for key, text in ONE.items()] + ["inner_total=7"])
    assert not asked.errors
    assert asked.lacking[0].field == "inner_wire"


test_the_margin_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer, falls("valve_lift", (5, 9), "margin", "the coils come nearer")
)
