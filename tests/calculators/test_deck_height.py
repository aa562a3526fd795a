"""The deck calculator as a reader meets it: depths, straightness, what is answered, what is refused."""

import math
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card, uncertainty_in
from calculators._catalogue import calculator
from tests.examples import examples

CARD = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
DECKS = calculator("deck-height")
DEPTHS = "0.43 0.46 0.41 0.38; 0.38 0.40 0.39 0.36; 0.45 0.43 0.45 0.47; 0.41 0.43 0.42 0.40"
SINGLE = {"cylinders": "1", "heads": "1"}


def answer(**typed):
    return DECKS.answer({"depth": DEPTHS} | {key.replace("__", "."): text for key, text in typed.items()}, CARD)


def refused(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    return {error.field: error.message for error in caught.value.errors}


def value(report, key):
    return next(value for value in report.values if value.key == key)


def length(report, key):
    return magnitude_in(value(report, key).quantity, "mm")


def wide(report, key):
    return uncertainty_in(value(report, key).quantity, "mm")


def rows(report):
    return report.tables[0].as_data()["rows"]


def cautions(report, signal):
    return [caution.text for caution in report.cautions if caution.signal == signal]


def told(figure):
    return ElementTree.fromstring(figure.svg).get("aria-label")  # noqa: S314 (we drew it)


def test_leads_with_the_decks_their_band_and_how_the_barrels_stand():
    assert answer().lead == (
        "The decks are 0.420, 0.383, 0.450 and 0.415 mm, each ± 0.024 mm or less; no barrel stands crooked."
    )


def test_one_barrel_is_spoken_of_alone():
    assert answer(**SINGLE, depth="0.43 0.46 0.41 0.38").lead.startswith("The deck is 0.420 mm, ± 0.0")
    assert answer(**SINGLE, depth="0.43 0.46 0.41 0.38", tilt_allowed="1").lead.endswith(
        "; the barrel stands straight."
    )


def test_deck_is_the_mean_and_the_gauge_s_zero_comes_off():
    report = answer(**SINGLE, depth="20.43 20.46 20.41 20.38", zero="20.00")
    assert length(report, "deck_1") == pytest.approx(0.42)


def test_a_piston_that_stands_proud_is_below_nought_and_said_so():
    report = answer(**SINGLE, depth="-0.38 -0.40 -0.39 -0.37")
    assert length(report, "deck_1") == pytest.approx(-0.385)
    assert any("stands proud of its barrel by 0.385 mm" in text for text in cautions(report, "notice"))


def test_tilt_is_taken_across_the_bore_along_the_pin():
    # 0.50 − 0.36 = 0.14 between opposite points on the bore's own circle; 0.08 across the pin
    row = rows(answer(**SINGLE, depth="0.50 0.46 0.36 0.38"))[0]
    assert row["tilt"] == pytest.approx(0.14)
    assert row["rock"] == pytest.approx(0.08)


def test_points_on_a_smaller_circle_show_less_of_the_tilt():
    # similar triangles: 0.14 · 80 ÷ 60
    row = rows(answer(**SINGLE, depth="0.50 0.46 0.36 0.38", circle="60"))[0]
    assert row["tilt"] == pytest.approx(0.14 * 80 / 60)


@pytest.mark.parametrize(
    ("depth", "stands", "ending"),
    [
        ("0.42 0.48 0.42 0.36", "straight", "the barrel stands straight."),
        ("0.45 0.46 0.40 0.39", "too close to call", "whether barrel 1 stands crooked is too close to call."),
        ("0.52 0.46 0.36 0.42", "crooked", "barrel 1 stands crooked."),
    ],
)
def test_a_barrel_is_judged_by_its_tilt_along_the_pin_with_its_band(depth, stands, ending):
    report = answer(**SINGLE, depth=depth)
    assert rows(report)[0]["verdict"] == stands
    assert report.lead.endswith(ending)


def test_a_piston_that_only_rocks_leaves_the_barrel_straight():
    report = answer(**SINGLE, depth="0.42 0.62 0.42 0.22")
    assert rows(report)[0]["verdict"] == "straight"
    assert length(report, "deck_1") == pytest.approx(0.42)
    assert rows(report)[0]["rock"] == pytest.approx(0.4)


def test_a_crooked_barrel_is_cautioned_with_the_remedy():
    report = answer(depth="0.52 0.46 0.36 0.42; 0.38 0.40 0.39 0.37; 0.52 0.46 0.36 0.42; 0.41 0.43 0.42 0.40")
    assert report.lead.endswith("; barrels 1 and 3 stand crooked.")
    assert any(
        text.startswith("Barrels 1 and 3 stand crooked, or their connecting rod is bent. Clean under them")
        for text in cautions(report, "caution")
    )


def test_largest_tilt_names_its_barrel_and_its_deeper_end():
    worst = value(answer(), "worst_tilt")
    assert dict(worst.given)["barrel"] == 1
    assert dict(worst.given)["deeper at the"] == "pulley end"
    other = value(answer(**SINGLE, depth="0.38 0.42 0.46 0.42"), "worst_tilt")
    assert magnitude_in(other.quantity, "mm") == pytest.approx(0.08)
    assert dict(other.given)["deeper at the"] == "end away from the pulley"


def test_decks_under_one_head_are_compared_without_the_gauge_s_own_error():
    fine, coarse = answer(), answer(gauge_error="0.5")
    assert length(fine, "difference_1") == pytest.approx(0.0375)
    assert wide(coarse, "difference_1") == pytest.approx(wide(fine, "difference_1"))
    assert wide(coarse, "deck_1") > 10 * wide(fine, "deck_1")


@pytest.mark.parametrize(
    ("allowed", "signal", "words"), [("0.02", "caution", "a rod is bent"), ("0.036", "notice", "too close to what is")]
)
def test_decks_that_differ_too_much_are_cautioned(allowed, signal, words):
    report = answer(difference_allowed=allowed)
    assert any(text.startswith("Decks of cylinders 1 and 2 differ by 0.037 mm") for text in cautions(report, signal))
    assert any(words in text for text in cautions(report, signal))


def test_a_head_over_one_barrel_has_nothing_to_compare():
    assert not [value.key for value in answer(heads="1/2/3/4").values if value.key.startswith("difference")]


def test_band_by_hand():
    # no scatter: gauge 0.02/√3, zero 0.005/√3, and 0.01/√12 ÷ √4 of the scale; k 2
    report = answer(**SINGLE, depth="0.43 0.43 0.41 0.41")
    combined = math.sqrt(0.02**2 / 3 + 0.005**2 / 3 + 0.01**2 / 12 / 4)
    assert wide(report, "deck_1") == pytest.approx(2 * combined)


def test_band_of_the_tilt_by_hand():
    # left over from the plane ± 0.001 four times, ν 1: s 0.002, k 13.97; across the bore twice s · √(2/4)
    tilt = value(answer(**SINGLE, depth="0.421 0.419 0.421 0.419", step="0.0001"), "worst_tilt")
    assert uncertainty_in(tilt.quantity, "mm") == pytest.approx(13.97 * 2 * 0.002 * math.sqrt(2 / 4), rel=1e-3)


def test_every_deck_says_which_reading_it_owes_its_uncertainty_to():
    budget = dict(value(answer(), "deck_1").budget)
    assert set(budget) == {
        "Error limit of the gauge",
        "Gauge zero",
        "Reading of the scale",
        "Scatter of the readings",
    }


def test_three_points_are_told_what_they_hide():
    assert any(
        "Three points always lie on a plane" in text for text in cautions(answer(**SINGLE, depth="1 1 1"), "notice")
    )
    assert not any("Three points" in text for text in cautions(answer(), "notice"))


def test_a_reading_off_the_plane_is_named():
    report = answer(**SINGLE, depth="0.42 0.42 0.80 0.42 0.42 0.42")
    assert any(
        text.startswith("Readings of cylinder 1 lie on no plane: one is off by 0.190 mm")
        for text in cautions(report, "caution")
    )


def test_pinch_points_are_warned_of_always():
    assert cautions(answer(), "warning")[0].startswith("Pistons move when the crank turns")


def test_decks_are_kept_under_the_name_that_compression_asks_for():
    report = answer()
    assert [kept.path for kept in report.kept] == ["deck.1", "deck.2", "deck.3", "deck.4"]
    assert re.fullmatch(r"0\.4200 ± 0\.\d+ mm", report.kept[0].text)
    deck = next(field for field in calculator("compression-and-spacers").form.fields if field.key == "deck")
    read = deck.kind.read(report.kept[0].text, deck.like)
    assert uncertainty_in(read, "mm") == pytest.approx(wide(report, "deck_1"), rel=1e-3)


def test_answers_in_the_unit_of_the_gauge():
    report = answer(**SINGLE, depth="16 17 16 15 thou")
    assert re.fullmatch(r"16\.0 ± \d\.\d thou", value(report, "deck_1").texts[0])


def test_drawing_tells_every_reading_in_words():
    assert told(answer(**SINGLE, depth="0.42 0.48 0.42 0.36").figures[0]) == (
        "Deck heights round each piston. Cylinder 1: 0.420 ± 0.024 mm, straight, readings 0.42, 0.48, 0.42, 0.36."
    )


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"heads": "1 2 / 3"}, "heads", "Cylinders under each head must name each cylinder from 1 to 4 once"),
        ({"circle": "81"}, "circle", "Diameter of the circle of points must be at most the bore"),
        (
            {**SINGLE, "depth": "20.4 20.4 20.4"},
            "depth.1",
            "Depth readings of cylinder 1 less the gauge zero must come to a deck height between −10 mm and 20 mm",
        ),
        ({"cylinders": ""}, "cylinders", "Enter the number of cylinders"),
        ({"cylinders": "13"}, "cylinders", "Number of cylinders must be between 1 and 12"),
        ({"heads": "one"}, "heads", "Cylinders under each head must be whole numbers in groups parted by a stroke"),
        ({"bore": "29"}, "bore", "Bore must be between 30 mm and 200 mm"),
        ({**SINGLE, "depth": "0.4 0.4"}, "depth.1", "Depth readings of cylinder 1 must have 3 to 8 entries, not 2"),
        ({**SINGLE, "depth": "1 " * 9}, "depth.1", "Depth readings of cylinder 1 must have 3 to 8 entries, not 9"),
        (
            {**SINGLE, "depth": "0 0 -11"},
            "depth.1",
            "Depth readings of cylinder 1 must each be between −10 mm and 200 mm",
        ),
        ({**SINGLE, "depth": ""}, "depth.1", "Enter the depth readings of cylinder 1, in millimetres"),
        (
            {**SINGLE, "depth": "deep"},
            "depth.1",
            "Depth readings of cylinder 1 must be numbers in a row, like 0.43 0.46",
        ),
        ({"tilt_allowed": "6"}, "tilt_allowed", "Tilt allowed must be between 0 mm and 5 mm"),
        (
            {"difference_allowed": "6"},
            "difference_allowed",
            "Difference allowed under one head must be between 0 mm and",
        ),
        ({"zero": "201"}, "zero", "Gauge zero must be between −10 mm and 200 mm"),
        ({"step": "0"}, "step", "Gauge scale step must be between 0.0001 mm and 1 mm"),
        ({"gauge_error": "2"}, "gauge_error", "Error limit of the gauge must be between 0 mm and 1 mm"),
        ({"circle": "9"}, "circle", "Diameter of the circle of points must be between 10 mm and 200 mm"),
    ],
)
def test_each_mistake_is_said_beside_its_field(typed, field, message):
    errors = refused(**typed)
    assert list(errors) == [field]
    assert errors[field].startswith(message)


@settings(max_examples=examples(50), deadline=None)
@given(
    st.lists(st.floats(0, 2).map(lambda depth: round(depth, 3)), min_size=3, max_size=8),
    st.integers(0, 7),
)
def test_where_the_count_begins_does_not_change_the_deck(depths, turned):
    turned %= len(depths)
    one = answer(**SINGLE, depth=" ".join(map(str, depths)))
    other = answer(**SINGLE, depth=" ".join(map(str, depths[turned:] + depths[:turned])))
    assert length(other, "deck_1") == pytest.approx(length(one, "deck_1"))
    assert wide(other, "deck_1") == pytest.approx(wide(one, "deck_1"))
