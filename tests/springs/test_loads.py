"""The load of a valve's springs: by each way, with its uncertainty, and what cannot be true together."""

from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk
from calculators.springs.nest import Spring, height_for, load_of
from tests.answers import errors_of
from tests.cards import MARRAM
from tests.examples import examples
from tests.physics import falls, goes_as_physics_sends_it, rises

ONE = {
    "fitted_length": "38 mm",
    "valve_lift": "8 mm",
    "free_length": "47.5",
    "wire": "4.2 mm",
    "outside": "33.3 mm",
    "active": "4.5",
    "total": "6.5",
}
TWO_LOADS = {"length_a": "38", "load_a": "265 N", "length_b": "30", "load_b": "489 N"}
SURE = {"length_error": "0", "load_error": "0", "stop_error": "0", "wire_error": "0", "coils_error": "0"}
SURE |= {"length_scatter": "0", "load_scatter": "0", "modulus_error": "0"}
INNER = {
    "inner_free_length": "44",
    "inner_wire": "2.8",
    "inner_outside": "22",
    "inner_active": "5",
    "inner_total": "7",
}


answer = partial(answered, "springs.loads", **ONE | SURE)


def number(found, key, unit="N"):
    return magnitude_in(found.value(key).quantity, unit)


def spread(found, key, unit="N"):
    return uncertainty_in(found.value(key).quantity, unit) or 0


def each(found):
    return {row.cells[0]: row.cells for row in found.tables[0].rows}


def halves(*those):
    """JCGM 100:2008, 4.3.7 and 5.1.2, k = 2: rectangles, each on its own."""
    return 2 / 3**0.5 * sum(half**2 for half in those) ** 0.5


def test_two_measured_loads_win_over_the_wire():
    found = answer(**TWO_LOADS)
    # by hand: (489 − 265) N over 8 mm
    assert number(found, "rate", "N/mm") == pytest.approx(28)
    assert number(found, "seat_load") == pytest.approx(265)
    assert number(found, "open_load") == pytest.approx(489)
    assert each(found)["outer"][-1] == "two measured loads"
    assert found.headline == "265 N shut, 489 N open"
    assert found.says == "At 38.0 mm the valve is held with 265 N, at full lift with 489 N."
    assert not any("from the wire" in note for note in found.notes)


def test_two_measured_loads_are_enough():
    """A spring on a tester wants no calliper: what the wire would tell stays empty."""
    bare = dict.fromkeys(ONE, "") | {"fitted_length": "38 mm", "valve_lift": "8 mm"}
    found = answer(**bare | TWO_LOADS)
    assert number(found, "open_load") == pytest.approx(489)
    assert "bound" not in found.drawing.svg
    assert "bound" in answer(**TWO_LOADS).drawing.svg


@pytest.mark.parametrize("which", ["a", "b"])
def test_one_measured_load_goes_with_the_free_length(which):
    found = answer(**{f"length_{which}": "37.5", f"load_{which}": "280 N"})
    assert number(found, "rate", "N/mm") == pytest.approx(28)
    assert number(found, "seat_load") == pytest.approx(28 * 9.5)


def test_without_loads_the_wire_gives_the_rate():
    # by hand: 79 300 · 4.2⁴ ÷ (8 · 29.1³ · 4.5)
    found = answer()
    assert number(found, "rate", "N/mm") == pytest.approx(79300 * 311.1696 / (8 * 24642.171 * 4.5), rel=1e-6)
    assert any("from the wire" in note for note in found.notes)


def test_active_coils_left_empty_are_all_but_the_two_dead_ends():
    assert number(answer(active=""), "rate", "N/mm") == pytest.approx(number(answer(), "rate", "N/mm"))
    # by hand: 6.5 less two is 4.5; of 7 in all five move, and a spring of more coils is softer
    softer = number(answer(active="", total="7"), "rate", "N/mm")
    assert softer == pytest.approx(number(answer(), "rate", "N/mm") * 4.5 / 5)


def test_two_springs_in_one_another_add_their_loads():
    one, two = answer(), answer(**INNER)
    springs = each(two)
    total = magnitude_in(springs["outer"][2], "N") + magnitude_in(springs["inner"][2], "N")
    assert number(two, "seat_load") == pytest.approx(total)
    assert magnitude_in(springs["outer"][2], "N") == pytest.approx(number(one, "seat_load"))
    # by hand: 79 300 · 2.8⁴ ÷ (8 · 19.2³ · 5), pressed by 6 mm
    assert magnitude_in(springs["inner"][2], "N") == pytest.approx(79300 * 61.4656 / (8 * 7077.888 * 5) * 6, rel=1e-6)


def test_the_height_for_a_load_gives_that_load_also_where_one_spring_is_still_loose():
    springs = (Spring(10.0, 60.0), Spring(8.0, 44.0))
    for wanted in (100.0, 160.0, 500.0):
        assert load_of(springs, height_for(springs, wanted)) == pytest.approx(wanted)
    assert height_for(springs, 100.0) == pytest.approx(50.0)


def test_wire_coils_and_modulus_leave_a_rate_uncertain():
    found = answer(wire_error="0.02 mm", coils_error="0.1", modulus_error="2 %", length_error="0.1 mm")
    rate = number(found, "rate", "N/mm")
    # by hand, shares: G 2 %; coils 0.1 ÷ 4.5; calliper 3 · 0.1 ÷ 29.1; wire (4 ÷ 4.2 + 3 ÷ 29.1) · 0.02
    shares = 0.02, 0.1 / 4.5, 3 * 0.1 / 29.1, (4 / 4.2 + 3 / 29.1) * 0.02
    assert spread(found, "rate", "N/mm") == pytest.approx(rate * halves(*shares), rel=1e-6)
    # the calliper is off alike in the free length, which presses by 9.5 mm
    shares = 0.02, 0.1 / 4.5, -3 * 0.1 / 29.1 + 0.1 / 9.5, (4 / 4.2 + 3 / 29.1) * 0.02
    assert spread(found, "seat_load") == pytest.approx(rate * 9.5 * halves(*shares), rel=1e-6)


def test_as_it_comes_a_load_from_the_wire_is_known_to_five_per_cent():
    found = answered("springs.loads", **ONE)
    assert spread(found, "seat_load") / number(found, "seat_load") == pytest.approx(0.05, abs=0.005)


def test_a_plus_minus_typed_with_fitted_length_or_lift_reaches_the_loads():
    found = answer(fitted_length="38 ± 0.3 mm", valve_lift="8 ± 0.1 mm", **TWO_LOADS)
    assert spread(found, "seat_load") == pytest.approx(halves(28 * 0.3))
    assert spread(found, "open_load") == pytest.approx(halves(28 * 0.3, 28 * 0.1))


def test_loads_carry_the_length_they_were_read_at_and_one_tester_is_off_alike():
    # by hand: at the length pressed first the tester's stop counts as 28 N/mm · 0.1 mm, its load as it is
    found = answer(stop_error="0.1 mm", load_error="4 N", **TWO_LOADS)
    assert spread(found, "seat_load") == pytest.approx(halves(2.8, 4))
    # what is off alike at both lengths drops out of the rate, the scatter does not
    assert spread(found, "rate", "N/mm") == pytest.approx(0, abs=1e-9)
    assert spread(answer(load_scatter="2 N", **TWO_LOADS), "rate", "N/mm") == pytest.approx(halves(2 / 8, 2 / 8))


def test_a_stress_that_no_wire_takes_is_refused():
    # by hand: at 30 mm the loads give 4890 N; K 1.215 · 8 · 4890 · 29.1 ÷ (π · 4.2³) is 5944 MPa; of 4.2 mm music wire,
    # 2211 · 4.2 ^ −0.145 MPa, three quarters are 1347 MPa (Shigley, 10th edition, tables 10-4 and 10-6, from memory)
    ((field, message),) = errors_of(answer, **TWO_LOADS | {"load_b": "4890 N"})
    assert field == "wire"
    assert "5944 MPa at full lift, and no spring wire this thick takes 1347 MPa" in message


@pytest.mark.parametrize(("outside", "inner"), [("33.3", "36"), ("33.3", "24.9"), ("22", "33.3")])
def test_an_inner_spring_wider_than_the_room_in_the_outer_is_refused(outside, inner):
    # by hand: 33.3 less twice 4.2 is 24.9 mm, and 22 less 8.4 is 13.6 mm
    room = "13.60" if outside == "22" else "24.90"
    assert errors_of(answer, outside=outside, **INNER | {"inner_outside": inner}) == [
        (
            "inner_outside",
            f"Outside diameter, inner spring, must be less than the room inside the outer one, {room} mm",
        )
    ]
    assert answer(**INNER | {"inner_outside": "24.8"})


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        (
            {"valve_lift": "29 mm", "fitted_length": "28 mm"},
            ("valve_lift", "Valve lift must be less than the fitted length, 28.00 mm"),
        ),
        (
            {"free_length": "37"},
            ("free_length", "Free length must be more than the fitted length, 38.00 mm: it would be loose"),
        ),
        ({"free_length": "27"}, ("free_length", "Free length must be more than its coils take up, 27.30 mm")),
        ({"outside": "12 mm"}, ("outside", "Outside diameter must be three times its wire diameter or more")),
        ({"active": "7"}, ("active", "Active coils must not be more than its total coils")),
        (
            INNER | {"inner_active": "8"},
            ("inner_active", "Active coils, inner spring, must not be more than its total coils"),
        ),
        ({"length_a": "38"}, ("load_a", "Enter the load at the first length as well, in newtons")),
        ({"load_b": "489 N"}, ("length_b", "Enter the second length as well, in millimetres")),
        (
            TWO_LOADS | {"load_b": "200 N"},
            ("load_b", "Load at the second length must differ from the first, and the shorter length has the larger"),
        ),
        (
            TWO_LOADS | {"length_b": "38"},
            ("load_b", "Load at the second length must differ from the first, and the shorter length has the larger"),
        ),
        (
            # by hand: 9 N at 38.5 and 989 N at 30 mm are 115.3 N/mm, which begin at 38.58 mm
            TWO_LOADS | {"length_a": "38.5", "load_a": "9 N", "load_b": "989 N", "fitted_length": "39", "wire": ""},
            (
                "load_b",
                "Load at the second length must agree with the first: together they mean a spring of 38.58 mm, no "
                "longer than the fitted length",
            ),
        ),
        (
            {"length_a": "50", "load_a": "200 N"},
            ("length_a", "Length pressed to must be less than the free length"),
        ),
        ({"free_length": ""}, ("free_length", "Enter the free length, in millimetres")),
        (
            {"inner_wire": "2.8", "inner_outside": "22", "inner_total": "7"},
            ("inner_free_length", "Enter the free length of the inner spring, in millimetres"),
        ),
    ],
)
def test_what_cannot_be_meant_is_refused_with_cause_and_remedy(typed, expected):
    assert errors_of(answer, **typed) == [expected]


def test_without_loads_it_asks_for_all_that_the_wire_would_tell_at_once():
    asked = asked_with("springs.loads", ["fitted_length=38", "valve_lift=8"])
    assert [error.message for error in asked.lacking] == [
        "Enter the free length, in millimetres",
        "Enter the wire diameter, in millimetres",
        "Enter the outside diameter, in millimetres",
        "Enter the total coils",
    ]
    assert not asked.errors


def test_mistakes_of_both_springs_are_told_at_once():
    fields = [field for field, _ in errors_of(answer, active="7", **INNER | {"inner_outside": "8"})]
    assert fields == ["active", "inner_outside"]


def test_the_card_speaks_of_the_outer_spring_alone():
    asked = Desk({}, MARRAM, example=True).ask("springs.loads")
    assert magnitude_in(asked.known["wire"].value, "mm") == 4.2
    assert "inner_wire" not in asked.known


@given(free=st.floats(40, 60), fitted=st.floats(25, 39), lift=st.floats(2, 12), rate=st.floats(5, 60))
@settings(max_examples=examples(40), deadline=None)
def test_two_loads_give_back_any_straight_spring(free, fitted, lift, rate):
    loads = {"length_a": f"{fitted:.4f}", "load_a": f"{rate * (free - fitted):.6f} N"}
    loads |= {"length_b": f"{fitted - lift:.4f}", "load_b": f"{rate * (free - fitted + lift):.6f} N"}
    if not 5 <= rate * (free - fitted) <= rate * (free - fitted + lift) <= 5000:
        return
    bare = dict.fromkeys(ONE, "") | {"fitted_length": f"{fitted:.4f}", "valve_lift": f"{lift:.4f}"}
    found = answer(**bare | loads)
    assert number(found, "seat_load") == pytest.approx(rate * (free - fitted), rel=1e-3)
    assert number(found, "open_load") == pytest.approx(rate * (free - fitted + lift), rel=1e-3)


test_the_loads_go_as_physics_sends_them = goes_as_physics_sends_it(
    answer,
    rises("wire", (3.5, 4.5), "rate", "thicker wire is stiffer"),
    falls("active", (4, 6), "rate", "more coils share the travel"),
    falls("outside", (31, 36), "rate", "a wider coil is softer"),
    falls("fitted_length", (37, 42), "seat_load", "a spring let out pushes less"),
    rises("valve_lift", (5, 9), "open_load", "a spring pushed further pushes more"),
)
