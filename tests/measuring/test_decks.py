"""How far below its barrel's top each piston stands."""

import math
import re
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import errors_of
from tests.examples import examples
from tests.physics import falls, goes_as_physics_sends_it, rises

DEPTHS = "0.43 0.46 0.41 0.38; 0.38 0.40 0.39 0.36; 0.45 0.43 0.45 0.47; 0.41 0.43 0.42 0.40"


decks = partial(answered, "measuring.decks", cylinders="4", depth=DEPTHS)


def one(depth, **typed):
    return decks(cylinders="1", depth=depth, **typed)


def length(found, key="deck_1"):
    return magnitude_in(found.value(key).quantity, "mm")


def wide(found, key="deck_1"):
    return uncertainty_in(found.value(key).quantity, "mm")


def test_leads_with_the_decks_and_their_band():
    found = decks()
    assert found.headline == "0.420 · 0.383 · 0.450 · 0.415 mm"
    assert found.says == "The decks are 0.420, 0.383, 0.450 and 0.415 mm, each ± 0.024 mm or less."
    assert one("0.43 0.46 0.41 0.38").says.startswith("The deck is 0.420 mm, ± 0.0")


def test_of_many_the_headline_has_the_ends():
    many = "; ".join(f"{depth:.2f} {depth:.2f} {depth:.2f}" for depth in [row / 10 - 0.1 for row in range(12)])
    assert decks(cylinders="12", depth=many).headline == "−0.100 to 1.000 mm"


def test_deck_is_the_mean_and_the_gauges_zero_comes_off():
    assert length(one("20.43 20.46 20.41 20.38", zero="20.00")) == pytest.approx(0.42)


def test_a_piston_that_stands_proud_is_below_nought_and_said_so():
    found = one("-0.38 -0.40 -0.39 -0.37")
    assert length(found) == pytest.approx(-0.385)
    assert any("stands proud of its barrel by 0.385 mm" in caution.text for caution in found.warnings)
    assert not any("stands proud" in caution.text for caution in decks().warnings)


def test_band_by_hand():
    # no scatter: gauge 0.02/√3, zero 0.005/√3, and 0.01/√12 ÷ √4 of the scale; k 2
    combined = math.sqrt(0.02**2 / 3 + 0.005**2 / 3 + 0.01**2 / 12 / 4)
    assert wide(one("0.43 0.43 0.41 0.41")) == pytest.approx(2 * combined)


def test_every_deck_says_which_reading_it_owes_its_uncertainty_to():
    assert set(dict(decks().value("deck_1").budget)) == {
        "The depth gauge", "Gauge zero", "Reading of the scale", "Scatter of the readings",
    }  # fmt: skip


def test_three_points_are_told_what_they_hide():
    said = "Three points always lie on a plane"
    assert any(said in caution.text for caution in one("1 1 1").warnings)
    assert not any(said in caution.text for caution in decks().warnings)


def test_a_reading_off_the_plane_is_named():
    assert any(
        caution.text.startswith("Readings of cylinder 1 do not fit one plane: one is off by 0.190 mm")
        for caution in one("0.42 0.42 0.80 0.42 0.42 0.42").warnings
    )


def test_pinch_points_are_warned_of_always():
    assert decks().warnings[0].signal == "warning"
    assert decks().warnings[0].text.startswith("Pistons move as the crank turns")


def test_answers_in_the_unit_of_the_gauge():
    assert re.fullmatch(r"16\.0 ± \d\.\d thou", one("16 17 16 15 thou").value("deck_1").texts[0])


def test_drawing_tells_every_reading_in_words():
    svg = one("0.42 0.48 0.42 0.36").drawing.svg
    assert "Deck heights round each piston. Cylinder 1: 0.420 ± 0.024 mm, readings 0.42, 0.48, 0.42, 0.36." in svg


def test_decks_go_on_as_values_of_one_gauge():
    asked = asked_with(
        "compression.ratio",
        ["bore=80", "stroke=74", "cylinders=2", "chamber=50; 50", "depth=0.42 0.42 0.42; 0.40 0.40 0.40"],
    )
    assert asked.known["deck.1"].by == "measuring.decks"
    gaps = {worked.name: worked.value for worked in asked.answer.worked}
    apart = gaps["deck_clearance.1"] - gaps["deck_clearance.2"]
    assert magnitude_in(apart, "mm") == pytest.approx(0.02)
    assert uncertainty_in(apart, "mm") == pytest.approx(2 * 0.01 / math.sqrt(12) * math.sqrt(2 / 3), rel=1e-6)


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"depth": "20.4 20.4 20.4"},
            "depth.1",
            "Depth readings of cylinder 1 less the gauge zero must come to a deck height between −10 mm and 20 mm",
        ),
        ({"depth": "0.4 0.4"}, "depth.1", "Depth readings of cylinder 1 must have 3 to 8 entries, not 2"),
        ({"depth": "1 " * 9}, "depth.1", "Depth readings of cylinder 1 must have 3 to 8 entries, not 9"),
        ({"depth": "0 0 -11"}, "depth.1", "Depth readings of cylinder 1 must each be between −10 mm and 200 mm"),
        ({"depth": "deep"}, "depth.1", "Depth readings of cylinder 1 must be numbers in a row, like 0.4"),
    ],
)
def test_each_mistake_is_said_beside_its_box(typed, field, message):
    errors = dict(errors_of(decks, **{"cylinders": "1", "depth": "0.4 0.4 0.4"} | typed))
    assert errors[field].startswith(message)
    assert typed.get("cylinders") or len(errors) == 1


@settings(max_examples=examples(50), deadline=None)
@given(
    st.lists(st.floats(0, 2).map(lambda depth: round(depth, 3)), min_size=3, max_size=8),
    st.integers(0, 7),
)
def test_where_the_count_begins_does_not_change_the_deck(depths, turned):
    turned %= len(depths)
    first = one(" ".join(map(str, depths)))
    other = one(" ".join(map(str, depths[turned:] + depths[:turned])))
    assert length(other) == pytest.approx(length(first))
    assert wide(other) == pytest.approx(wide(first))


test_a_deck_goes_as_physics_sends_it = goes_as_physics_sends_it(
    lambda **typed: one(typed.pop("depth", "0.43 0.46 0.41"), **typed),
    rises("depth", (0.2, 1.5), "deck_1", "the gauge reads the depth", written="{:.6f} 0.43 0.46"),
    falls("zero", (-0.2, 0.2), "deck_1", "the zero is taken off every reading"),
)
