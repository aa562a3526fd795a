"""Spacers to have made: the very ratio, level tops, and the deck clearances."""

from functools import partial

import pytest

from calculators import InputErrors, magnitude_in, uncertainty_in
from calculators.bench.asking import answered

FOUR = {
    "bore": "80", "stroke": "74", "cylinders": "4", "heads": "1 2 / 3 4", "chamber": "49.1; 49.5; 48.2; 48.6",
    "deck": "0.42; 0.38; 0.45; 0.41", "target": "7.6",
}  # fmt: skip
ONE = FOUR | {"cylinders": "1", "heads": "1", "chamber": "49.5", "deck": "0.4"}


made = partial(answered, "compression.made")


def test_tells_what_to_have_made_for_the_very_ratio():
    # 371.965 ÷ 6.6 = 56.358 cm³; − 49.5 − 50.2655 · 0.04 = 4.848; ÷ 50.2655 = 0.0964 cm
    found = made(**ONE)
    assert found.value("made_1").quantity == "0.96 mm, for 7.60 : 1"
    assert found.headline == "0.96 mm under the barrel"
    assert made(**FOUR).value("made_2").quantity == "1.15 mm, for 7.59 to 7.61 : 1"
    assert made(**FOUR).headline.endswith("3 and 4: 1.15 mm")


def test_its_own_thickness_has_a_plus_minus():
    """One burette ± 0.2 and ± 0.02 to read, over 50.27 cm²; depth ± 0.02 and ± 0.01: 2 · √(0.0400² + 0.0224²)/√3."""
    cell = made(**ONE).tables[0].rows[0].cells[2]
    assert magnitude_in(cell, "mm") == pytest.approx(0.9644, abs=1e-4)
    assert uncertainty_in(cell, "mm") == pytest.approx(0.0530, abs=1.5e-3)


def test_spacers_keep_the_deck_clearance_and_level_the_tops():
    # 0.6 mm leave the least clearance of 1 mm: 49.5 + 50.2655 · 0.1 = 54.527; 371.965 ÷ 54.527 + 1 = 7.822
    found = made(**ONE | {"target": "9"})
    assert found.value("made_1").quantity == "0.60 mm, for 7.82 : 1"
    assert found.warnings[0].text == (
        "No spacer within a deck clearance of 1.00 mm or more and level tops brings every cylinder to 9 ± 0.2. "
        "The farthest is 7.82 : 1, in cylinder 1."
    )
    # 49.1 + 50.2655 · 0.155 = 56.891, so 7.538; 49.5 + 50.2655 · 0.126 = 55.833, so 7.662: equally far from 7.6
    unlike = made(**FOUR, barrel_length="104; 104.25; 104; 104")
    assert unlike.value("made_1").quantity == "1: 1.13 mm; 2: 0.88 mm, for 7.54 to 7.66 : 1"
    assert not any("No spacer within" in caution.text for caution in unlike.warnings)


def test_none_is_said_where_the_ratio_wants_none():
    found = made(**ONE | {"target": "9"}, least_deck="0")
    assert found.headline == "none under the barrel"
    assert "cylinder 1 none" in found.drawing.svg


def test_a_most_deck_clearance_holds_here_too():
    # 0.4 + 0.8 is 1.2 mm: 49.5 + 50.2655 · 0.12 = 55.532; 371.965 ÷ 55.532 + 1 = 7.698
    assert made(**ONE, most_deck="1.2").value("made_1").quantity == "0.80 mm, for 7.70 : 1"


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"most_deck": "0.9"}, "Most deck clearance must be at least the least, 1.00 mm"),
        ({"most_deck": "1.02", "deck": "0.42; 0.9; 0.45; 0.41", "barrel_length": "104.5; 104; 104; 104"},
         "No thickness gives cylinders 1 and 2 both level tops and a deck clearance within the limits"),
        ({"heads": "1 2 / 3"}, "Cylinders under each head must name each cylinder from 1 to 4 once"),
        ({"barrel_length": "104; ; ; "}, "Enter the barrel length of cylinder 2, in millimetres, or leave it empty"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said(typed, message):
    with pytest.raises(InputErrors, match=message):
        made(**FOUR | typed)


def test_level_tops_and_knock_are_cautioned_of():
    said = [caution.text for caution in made(**FOUR).warnings]
    assert any(text.startswith("A ratio too high for the fuel") for text in said)
    assert any(text.startswith("Barrels under one head must stand level") for text in said)
    assert not any(
        text.startswith("Barrels under one head") for text in [caution.text for caution in made(**ONE).warnings]
    )
