"""What each crown takes up: down its barrel by a fill, or by its depth."""

from functools import partial

import pytest

from calculators import InputErrors, magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import error_of

ONE = {"cylinders": "1", "bore": "80"}


crowns = partial(answered, "measuring.crowns", **ONE)


def volume(found, key="crown_1"):
    return magnitude_in(found.value(key).quantity, "cm³")


def wide(found, key="crown_1"):
    return uncertainty_in(found.value(key).quantity, "cm³")


def test_a_domed_piston_down_its_barrel():
    # ⌀80, 10 mm down: 50.265482 cm³ of bore; 47 of liquid: crown −3.265482
    found = crowns(piston_depth="10", crown_fill="47")
    assert volume(found) == pytest.approx(-3.265482, abs=1e-6)
    budget = dict(found.value("crown_1").budget)
    assert {"The depth gauge", "Reading the depth gauge", "The bore gauge", "The burette"} <= set(budget)
    assert "crown domed" in found.drawing.svg


def test_a_dished_piston_by_its_starting_marks():
    # 53 − 0.5 = 52.5 of liquid: 2.234518
    found = crowns(piston_depth="10", crown_fill="53", crown_fill_start="0.5")
    assert volume(found) == pytest.approx(2.234518, abs=1e-6)
    assert found.headline.startswith("2.23 ± ")


def test_a_crown_by_its_depth():
    # cap ⌀60, 5 high: π · 0.5/6 · (0.75 · 36 + 0.25) = 7.134033
    assert volume(crowns(crown_depth="5", crown_diameter="60")) == pytest.approx(7.134033, abs=1e-6)
    assert volume(crowns(crown_depth="-5", crown_diameter="60")) == pytest.approx(-7.134033, abs=1e-6)


def test_a_plus_minus_typed_with_a_crowns_depth_wins():
    assert wide(crowns(crown_depth="-5 ± 0.5")) > 5 * wide(crowns(crown_depth="-5"))


def test_flat_crowns_are_left_out_and_the_others_go_on():
    found = crowns(cylinders="3", **{"crown_depth.2": "-3"})
    assert [worked.name for worked in found.worked] == ["crown.2"]
    asked = asked_with(
        "compression.ratio",
        ["bore=80", "stroke=74", "cylinders=2", "chamber=50; 50", "deck=0.4; 0.4", "crown_depth.2=-3"],
    )
    assert asked.known["crown.2"].by == "measuring.crowns"
    assert "crown.1" not in asked.known


def test_without_anything_measured_it_is_lacking_and_not_wrong():
    asked = asked_with("measuring.crowns", ["cylinders=2", "bore=80"])
    assert (asked.answer, asked.errors) == (None, ())
    assert [error.field for error in asked.lacking] == ["piston_depth.1"]


def test_of_many_the_headline_has_the_ends():
    many = "; ".join(["-3", "4", *["3"] * 10])
    assert crowns(cylinders="12", crown_depth=many).headline == "−7.55 to 10.09 cm³"


def test_fingers_are_warned_of_and_a_liquid_that_burns_where_it_was_filled():
    assert crowns(crown_depth="-3").warnings[0].text.startswith("Pistons move as the crank turns")
    texts = [caution.text for caution in crowns(piston_depth="10", crown_fill="47", liquid="spirit").warnings]
    assert any("catch fire" in text for text in texts)
    assert not any("catch fire" in caution.text for caution in crowns(crown_depth="-3", liquid="spirit").warnings)


def test_fills_of_a_crown_too_far_apart_are_said():
    texts = [caution.text for caution in crowns(piston_depth="10", crown_fill="47 47.4").warnings]
    assert any(text.startswith("Fills of the crown of cylinder 1 lie 0.40 cm³ apart") for text in texts)


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"crown_fill": "47"},
            "piston_depth.1",
            "Enter the piston depth of cylinder 1, in millimetres, for the fill on its crown",
        ),
        (
            {"piston_depth": "10"},
            "crown_fill.1",
            "Enter the burette readings on the crown of cylinder 1, in cubic centimetres, or leave its piston depth",
        ),
        (
            {"piston_depth": "10", "crown_fill": "47", "crown_depth": "-3"},
            "crown_depth.1",
            "Crown depth of cylinder 1 must be empty where its crown was filled",
        ),
        (
            {"crown_depth": "-21", "crown_diameter": "40"},
            "crown_depth.1",
            "Crown depth of cylinder 1 must be at most half the diameter of dome or dish",
        ),
        (
            {"piston_depth": "1", "crown_fill": "900"},
            "crown_fill.1",
            "Burette readings on the crown of cylinder 1 must fit its piston depth; a crown of 895 cm³ belongs to no "
            "piston",
        ),
        (
            {"piston_depth": "10", "crown_fill": "47 47 47", "crown_fill_start": "0.1 0.2"},
            "crown_fill_start.1",
            "Starting marks on the crown of cylinder 1 must be one for all its readings, or 3, one for each",
        ),
    ],
)
def test_each_mistake_is_said_beside_its_box(typed, field, message):
    found, said = error_of(crowns, **typed)
    assert found == field
    assert said.startswith(message)


def test_the_bore_is_asked_for():
    with pytest.raises(InputErrors, match="Enter the bore, in millimetres"):
        answered("measuring.crowns", cylinders="1", crown_depth="-3")
