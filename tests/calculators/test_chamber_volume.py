"""The chamber calculator as a reader meets it: fills, shapes and crowns, what is answered, what is refused."""

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
CHAMBERS = calculator("chamber-volume")
FILLS = "49.2 49.1 49.0; 49.5 49.5 49.6; 48.2 48.3 48.1; 48.6 48.6 48.7"
SINGLE = {"cylinders": "1", "fill": "49.2 49.1 49.0"}
EXACT = {"burette_error": "0", "hole": "0", "temperature_error": "0", "step": "0.001", "dimension_error": "0"}
SHAPE = {"cylinders": "1", "fill": "", "step_diameter": "80", "step_height": "10"}


def answer(**typed):
    return CHAMBERS.answer({"fill": FILLS} | {key.replace("__", "."): text for key, text in typed.items()}, CARD)


def refused(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    return {error.field: error.message for error in caught.value.errors}


def value(report, key):
    return next(value for value in report.values if value.key == key)


def volume(report, key):
    return magnitude_in(value(report, key).quantity, "cm³")


def wide(report, key):
    return uncertainty_in(value(report, key).quantity, "cm³")


def keys(report):
    return [value.key for value in report.values]


def cautions(report):
    return [(caution.signal, caution.text) for caution in report.cautions]


def told(figure):
    return ElementTree.fromstring(figure.svg).get("aria-label")  # noqa: S314 (we drew it)


def test_leads_with_the_volumes_their_band_and_how_they_differ():
    assert answer().lead == (
        "The chambers hold 49.10, 49.53, 48.20 and 48.63 cm³, each ± 0.18 cm³ or less. "
        "They differ by 1.33 cm³: 2.00 cm³ is allowed."
    )


def test_one_chamber_differs_from_none():
    report = answer(**SINGLE)
    assert report.lead == "The chamber of cylinder 1 holds 49.10 cm³, ± 0.21 cm³."
    assert "difference" not in keys(report)


@pytest.mark.parametrize(
    ("allowed", "verdict", "words"),
    [
        ("2", "in", "2.00 cm³ is allowed"),
        ("1.4", "too close to call", "too close to the 1.40 cm³ allowed to call"),
        ("1", "out", "more than the 1.00 cm³ allowed"),
    ],
)
def test_a_difference_is_judged_with_its_band(allowed, verdict, words):
    report = answer(may_differ=allowed)
    assert value(report, "verdict").quantity == verdict
    assert report.lead.endswith(f"{words}.")
    assert any("too close" in text for _, text in cautions(report)) == (verdict == "too close to call")


def test_without_a_limit_nothing_is_judged():
    report = answer(may_differ="")
    assert "verdict" not in keys(report)
    assert report.lead.endswith("They differ by 1.33 cm³.")


def test_a_starting_mark_is_taken_off():
    for starts in ("0.5", "0.5 0.5 0.5"):
        assert volume(answer(**SINGLE, fill_start=starts), "chamber_1") == pytest.approx(48.6)
    assert volume(answer(**SINGLE, fill_start="0.2 0.1 0.0"), "chamber_1") == pytest.approx(49.0)


def test_warm_liquid_shrinks_to_the_head_s_temperature():
    # 49.1 · (1 − 1.09e-3 · 10) = 48.56481
    report = answer(**SINGLE, liquid="spirit", liquid_temperature="25", head_temperature="15")
    assert volume(report, "chamber_1") == pytest.approx(48.56481, abs=1e-6)
    # 25 °C is 77 °F
    report = answer(**SINGLE, liquid="spirit", liquid_temperature="77 °F", head_temperature="15")
    assert volume(report, "chamber_1") == pytest.approx(48.56481, abs=1e-6)


def test_liquid_up_to_the_top_of_the_hole_is_not_chamber():
    # π/4 · 0.6² · 0.8 = 0.226195
    report = answer(**SINGLE, hole="6", plate="8", level="top")
    assert volume(report, "chamber_1") == pytest.approx(49.1 - 0.226195, abs=1e-6)
    assert volume(answer(**SINGLE, hole="6", plate="8"), "chamber_1") == pytest.approx(49.1)


def test_a_chamber_larger_than_the_burette_costs_a_second_filling():
    # burette ± 0.1 rectangular, twice: 2 · 0.1/√3; the marks' share of it is 0.001/√12 · 2
    exact = EXACT | {"burette_error": "0.1", "capacity": "49.1"}
    assert wide(answer(cylinders="1", fill="49.1", **exact), "chamber_1") == pytest.approx(0.2 / math.sqrt(3), rel=1e-4)
    twice = exact | {"capacity": "49"}
    assert wide(answer(cylinders="1", fill="49.1", **twice), "chamber_1") == pytest.approx(0.4 / math.sqrt(3), rel=1e-4)


def test_a_chamber_filled_once_takes_its_scatter_from_the_others():
    report = answer(cylinders="2", fill="49.2 49.1 49.0; 48.2", **EXACT)
    # s 0.1 with ν 2, so k is 4.53: by hand 4.53 · 0.1 ÷ √3 and 4.53 · 0.1
    assert wide(report, "chamber_1") == pytest.approx(4.53 * 0.1 / math.sqrt(3), rel=1e-3)
    assert wide(report, "chamber_2") == pytest.approx(4.53 * 0.1, rel=1e-3)
    assert any("4.53 u" in note for note in report.notes)


def test_more_fills_narrow_the_band():
    few, many = answer(**SINGLE), answer(cylinders="1", fill="49.2 49.1 49.0 49.2 49.1 49.0 49.2 49.1 49.0")
    assert wide(many, "chamber_1") < wide(few, "chamber_1")


def test_what_is_the_same_for_both_drops_out_of_the_difference():
    fine, coarse = answer(), answer(burette_error="1")
    assert wide(coarse, "chamber_1") > 4 * wide(fine, "chamber_1")
    assert wide(coarse, "difference") == pytest.approx(wide(fine, "difference"), rel=1e-3)


def test_every_volume_says_which_reading_it_owes_its_uncertainty_to():
    budget = dict(value(answer(), "chamber_1").budget)
    assert set(budget) == {
        "Error limit of the burette",
        "Scatter of the readings",
        "Reading of the scale",
        "Temperatures",
        "Level in the plate's hole",
    }
    assert sum(budget.values()) == pytest.approx(1)


def test_volumes_are_kept_under_the_names_that_compression_asks_for():
    kept = {kept.path: kept for kept in answer(crown_depth="-3").kept}
    assert list(kept) == ["chamber.1", "chamber.2", "chamber.3", "chamber.4", "crown.1", "volume_scatter"]
    assert re.fullmatch(r"49\.100 ± 0\.\d+ cm³", kept["chamber.1"].text)


def test_what_is_kept_gives_its_band_back_when_it_is_read():
    report = answer()
    kept = next(kept for kept in report.kept if kept.path == "chamber.1")
    chamber = next(field for field in calculator("compression-and-spacers").form.fields if field.key == "chamber")
    read = chamber.kind.read(kept.text, chamber.like)
    assert magnitude_in(read, "cm³") == pytest.approx(volume(report, "chamber_1"), abs=1e-3)
    assert uncertainty_in(read, "cm³") == pytest.approx(wide(report, "chamber_1"), rel=1e-3)


def test_what_each_volume_has_of_its_own_goes_on_with_it():
    # by hand: steps of 0.02 read to half, two marks a fill: 0.01 · √2 as a limit; no scatter, no hole; the burette's
    # ± 0.4 is the same in both, so that 0.50 is known to ± 2 · 0.01 · √2 · √2/√3 = 0.0231
    typed = {"fill.1": "50 50 50", "fill.2": "50.5 50.5 50.5", "burette_error": "0.4", "step": "0.02", "hole": "0"}
    found = calculator("chamber-volume").answer({"cylinders": "2", "capacity": "100"} | typed)
    kept = {kept.path: kept.text for kept in found.kept}
    assert float(kept["volume_scatter"].removesuffix(" cm³")) == pytest.approx(0.01 * 2**0.5, rel=1e-3)
    taken = {"chamber.1": kept["chamber.1"], "chamber.2": kept["chamber.2"], "volume_scatter": kept["volume_scatter"]}
    engine = {"bore": "80", "stroke": "74", "cylinders": "2", "heads": "1 2", "deck": "0.4; 0.4", "target": "7.5"}
    report = calculator("compression-and-spacers").answer(
        engine | taken | {"thickness": "1", "pieces": "2", "depth_error": "0"}
    )
    levers = next(table for table in report.tables if table.key == "levers")
    assert magnitude_in(levers.rows[0].cells[2], "cm³") == pytest.approx(0.5)
    # and 0.4033 and 0.4034, as the two were printed: 0.5 cm³ more of warm liquid
    assert uncertainty_in(levers.rows[0].cells[2], "cm³") == pytest.approx(0.0231, rel=0.01)


def test_an_own_error_is_widened_with_the_whole_and_counts_the_piston_s_depth():
    def own(**typed):
        kept = {kept.path: kept for kept in answer(**typed).kept}
        return magnitude_in(kept["volume_scatter"].quantity, "cm³")

    # by hand: a piston's depth ± 0.02 mm over π/4 · 8² cm² is ± 0.1005 cm³, beside what a chamber has of its own
    assert own(piston_depth="10", crown_fill="50.3 50.3 50.3", crown_fill_start="") > own() + 0.005
    alone = answer(cylinders="1", fill="49.2 49.1")
    factor = float(alone.tables[0].rows[0].cells[-1])
    kept = {kept.path: kept for kept in alone.kept}
    # one pair of fills, s = 0.1/√2 cm³ with one degree of freedom: k is above 2, and the own part is wider by k/2
    assert factor > 2
    scatter, scale, hole = 0.1 / 2, 0.1 / 12**0.5 * 2**0.5, math.pi / 4 * 0.6**2 * 0.1 / 3**0.5
    assert magnitude_in(kept["volume_scatter"].quantity, "cm³") == pytest.approx(
        math.sqrt(scatter**2 + scale**2 + hole**2) * factor / 2 * 3**0.5, rel=1e-2
    )


def test_a_straight_step_by_hand():
    # π/4 · 8² · 1 = 50.265482
    report = answer(**SHAPE)
    assert volume(report, "chamber_1") == pytest.approx(50.265482, abs=1e-6)
    assert report.tables[0].as_data()["rows"][0]["fills"] == "from dimensions"


def test_dome_cone_and_step_add_up_and_the_valves_are_taken_off():
    # half a ball of ⌀60: 56.548668; cone ⌀80 to 60, 8 high: π · 0.8/12 · (64 + 48 + 36) = 30.997046; step 50.265482
    report = answer(
        **SHAPE, dome_diameter="60", dome_height="30", cone_wide="80", cone_narrow="60", cone_height="8", parts="-3"
    )
    assert volume(report, "chamber_1") == pytest.approx(56.548668 + 30.997046 + 50.265482 - 3, abs=1e-5)
    assert told(report.figures[1]) == (
        "Chamber cut open, from the sealing face up: a step of 80 mm, 10 mm high, "
        "then a cone from 80 to 60 mm, 8 mm high, then a dome of 60 mm, 30 mm high."
    )


def test_burette_wins_over_dimensions_where_both_are_there():
    report = answer(cylinders="2", fill="49.2 49.1; ", step_diameter="80", step_height="10")
    assert volume(report, "chamber_1") == pytest.approx(49.15)
    assert volume(report, "chamber_2") == pytest.approx(50.265482, abs=1e-6)


def test_a_domed_piston_down_its_barrel():
    # ⌀80, 10 mm down: 50.265482 cm³ of bore; 47 of liquid: crown −3.265482
    report = answer(**SINGLE, piston_depth="10", crown_fill="47")
    assert volume(report, "crown_1") == pytest.approx(-3.265482, abs=1e-6)
    budget = dict(value(report, "crown_1").budget)
    assert "Piston depth of cylinder 1" in budget
    assert "Bore" in budget


def test_a_crown_by_its_depth():
    # cap ⌀60, 5 high: π · 0.5/6 · (0.75 · 36 + 0.25) = 7.134033
    assert volume(answer(**SINGLE, crown_depth="5", crown_diameter="60"), "crown_1") == pytest.approx(
        7.134033, abs=1e-6
    )
    assert volume(answer(**SINGLE, crown_depth="-5", crown_diameter="60"), "crown_1") == pytest.approx(
        -7.134033, abs=1e-6
    )


def test_a_plus_minus_typed_with_a_crown_s_depth_wins():
    wider = wide(answer(**SINGLE, crown_depth="-5 ± 0.5"), "crown_1")
    assert wider > 5 * wide(answer(**SINGLE, crown_depth="-5"), "crown_1")


def test_answers_in_the_unit_that_the_burette_is_marked_in():
    report = answer(cylinders="1", fill="3.00 3.01 2.99 in³")
    assert re.fullmatch(r"3\.000 ± 0\.\d{3} in³", value(report, "chamber_1").texts[0])


def test_instruments_without_error_leave_no_band():
    report = answer(cylinders="1", fill="49.1 49.1", **EXACT | {"step": "0.001"})
    assert wide(report, "chamber_1") < 0.001


@pytest.mark.parametrize("liquid", ["spirit", "paraffin"])
def test_a_liquid_that_burns_is_warned_of(liquid):
    assert cautions(answer(liquid=liquid))[0][0] == "warning"
    assert "catch fire" in cautions(answer(liquid=liquid))[0][1]


def test_fills_too_far_apart_are_no_one_volume():
    texts = [text for signal, text in cautions(answer(**SINGLE | {"fill": "49.0 49.4"})) if signal == "caution"]
    assert texts == [
        "Fills of the chamber of cylinder 1 lie 0.40 cm³ apart. "
        "A bubble or a leak: seal the plate again and fill again."
    ]
    assert not [signal for signal, _ in cautions(answer(**SINGLE | {"fill": "49.0 49.3"})) if signal == "caution"]


def test_a_single_fill_is_told_what_it_hides():
    assert any("No chamber was filled twice" in text for _, text in cautions(answer(cylinders="1", fill="49.1")))


def test_chart_tells_every_fill_in_words():
    assert told(answer(**SINGLE).figures[0]) == (
        "Chamber volumes: cylinder 1 49.10 ± 0.21 cm³ from fills of 49.20, 49.10, 49.00."
    )


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"cylinders": "2", "fill": "49.1"},
            "fill.2",
            "Enter the burette readings of cylinder 2, in cubic centimetres, or the chamber's dimensions",
        ),
        (
            {**SINGLE, "fill_start": "0.1 0.2"},
            "fill_start.1",
            "Starting marks of cylinder 1 must be one for all its readings, or 3, one for each; there are 2",
        ),
        (
            {**SINGLE, "fill_start": "49.05"},
            "fill.1",
            "Burette readings of cylinder 1 must exceed their starting marks",
        ),
        (
            {**SHAPE, "fill_start": "0.1 0.2"},
            "fill_start.1",
            "Starting marks of cylinder 1 must be empty where nothing was filled",
        ),
        (
            {**SINGLE, "piston_depth": "10", "crown_fill": "47 47 47", "crown_fill_start": "0.1 0.2"},
            "crown_fill_start.1",
            "Starting marks on the crown of cylinder 1 must be one for all its readings, or 3, one for each",
        ),
        (
            {"cylinders": "1", "fill": "0.1", "level": "top"},
            "fill.1",
            "Burette readings of cylinder 1 must exceed what stands in the hole of the plate",
        ),
        ({**SINGLE, "fill": "49.1 ± 0.1"}, "fill.1", "Burette readings of cylinder 1 must be numbers in a row, like"),
        (
            {**SHAPE, "step_height": ""},
            "step_height",
            "Enter the step height, in millimetres, or leave all of the step empty",
        ),
        (
            {**SHAPE, "cone_wide": "80", "cone_height": "8"},
            "cone_narrow",
            "Enter the cone diameter at the narrow end, in millimetres, or leave all of the cone empty",
        ),
        (
            {**SHAPE, "cone_wide": "60", "cone_narrow": "80", "cone_height": "8"},
            "cone_narrow",
            "Cone diameter at the narrow end must be at most that at the wide end",
        ),
        (
            {**SHAPE, "dome_diameter": "60", "dome_height": "31"},
            "dome_height",
            "Dome height must be at most half the dome diameter",
        ),
        (
            {**SHAPE, "parts": "-60"},
            "parts",
            "Valves, plug and pockets must take up less than the dome, the cone and the step hold",
        ),
        (
            {**SINGLE, "parts": "-3"},
            "parts",
            "Valves, plug and pockets must be empty where the chamber has no dimensions",
        ),
        (
            {**SINGLE, "crown_fill": "47"},
            "piston_depth.1",
            "Enter the piston depth of cylinder 1, in millimetres, for the fill on its crown",
        ),
        (
            {**SINGLE, "piston_depth": "10"},
            "crown_fill.1",
            "Enter the burette readings on the crown of cylinder 1, in cubic centimetres, "
            "or leave its piston depth empty",
        ),
        (
            {**SINGLE, "piston_depth": "10", "crown_fill": "47", "crown_depth": "-3"},
            "crown_depth.1",
            "Crown depth of cylinder 1 must be empty where its crown was filled",
        ),
        (
            {**SINGLE, "crown_depth": "-21", "crown_diameter": "40"},
            "crown_depth.1",
            "Crown depth of cylinder 1 must be at most half the diameter of dome or dish",
        ),
        (
            {**SINGLE, "piston_depth": "1", "crown_fill": "900"},
            "crown_fill.1",
            "Burette readings on the crown of cylinder 1 must fit its piston depth; a crown of 895 cm³ is no piston's",
        ),
        ({**SINGLE, "bore": "", "crown_depth": "-3"}, "bore", "Enter the bore, in millimetres, for the crowns"),
    ],
)
def test_what_the_fields_together_rule_out_is_said_beside_one_of_them(typed, field, message):
    errors = refused(**typed)
    assert list(errors) == [field]
    assert errors[field].startswith(message)


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"cylinders": ""}, "Enter the number of cylinders"),
        ({"cylinders": "13"}, "Number of cylinders must be between 1 and 12"),
        ({"may_differ": "101"}, "Difference allowed between chambers must be between 0 cm³ and 100 cm³"),
        ({"fill__2": "2001"}, "Burette readings of cylinder 2 must each be between 0 cm³ and 2000 cm³"),
        ({"fill__2": "49 " * 11}, "Burette readings of cylinder 2 must have 1 to 10 entries, not 11"),
        ({"fill_start__1": "x"}, "Starting marks of cylinder 1 must be numbers in a row, like 0.2 0.4 0.1"),
        ({"step": "0"}, "Burette scale step must be between 0.001 cm³ and 10 cm³"),
        ({"burette_error": "21"}, "Error limit of the burette must be between 0 cm³ and 20 cm³"),
        ({"capacity": "4"}, "Burette capacity must be between 5 cm³ and 2000 cm³"),
        ({"hole": "21"}, "Hole in the plate must be between 0 mm and 20 mm"),
        ({"level": "half way"}, "Liquid stands must be one of: under, top"),
        ({"plate": "0"}, "Plate thickness must be between 0.5 mm and 50 mm"),
        ({"liquid": "petrol"}, "Liquid must be one of: oil, paraffin, spirit, water"),
        ({"liquid_temperature": "61"}, "Temperature of the liquid must be between 0 °C and 60 °C"),
        ({"head_temperature": "141 °F"}, "Temperature of the head must be between 0 °C and 60 °C"),
        ({"temperature_error": "21"}, "Error limit of the thermometer must be between 0 and 20"),
        ({"dome_diameter": "251"}, "Dome diameter must be between 0.1 mm and 250 mm"),
        ({"dome_height": "0"}, "Dome height must be between 0.1 mm and 250 mm"),
        ({"cone_wide": "0"}, "Cone diameter at the wide end must be between 0.1 mm and 250 mm"),
        ({"cone_narrow": "-1"}, "Cone diameter at the narrow end must be between 0 mm and 250 mm"),
        ({"cone_height": "0"}, "Cone height must be between 0.1 mm and 250 mm"),
        ({"step_diameter": "0"}, "Step diameter must be between 0.1 mm and 250 mm"),
        ({"step_height": "0"}, "Step height must be between 0.1 mm and 250 mm"),
        ({"parts": "101"}, "Valves, plug and pockets must be between −100 cm³ and 100 cm³"),
        ({"dimension_error": "6"}, "Error limit of the dimensions must be between 0 mm and 5 mm"),
        ({"bore": "29"}, "Bore must be between 30 mm and 200 mm"),
        ({"crown_diameter": "4"}, "Diameter of dome or dish must be between 5 mm and 250 mm"),
        ({"bore_error": "2"}, "Error limit of the bore reading must be between 0 mm and 1 mm"),
        ({"depth_error": "2"}, "Error limit of the depth readings must be between 0 mm and 1 mm"),
        ({"piston_depth__1": "151"}, "Piston depth of cylinder 1 must be between 0 mm and 150 mm"),
        (
            {"crown_fill__1": "-1"},
            "Burette readings on the crown of cylinder 1 must each be between 0 cm³ and 2000 cm³",
        ),
        ({"crown_fill_start__1": "-1"}, "Starting marks on the crown of cylinder 1 must each be between 0 cm³ and"),
        ({"crown_depth__1": "61"}, "Crown depth of cylinder 1 must be between −60 mm and 60 mm"),
    ],
)
def test_each_field_has_its_sentence(typed, message):
    if "fill__2" in typed:
        typed = typed | {"fill__1": "49", "fill__3": "49", "fill__4": "49"}
        with pytest.raises(InputErrors) as caught:
            CHAMBERS.answer({key.replace("__", "."): text for key, text in typed.items()}, CARD)
        errors = {error.field: error.message for error in caught.value.errors}
    else:
        errors = refused(**typed)
    assert list(errors) == [next(iter(typed)).replace("__", ".")]
    assert next(iter(errors.values())).startswith(message)


@settings(max_examples=examples(50), deadline=None)
@given(st.floats(20, 60), st.floats(0, 5), st.floats(0, 5))
def test_a_larger_error_limit_never_narrows_the_band(fill, one, other):
    small, large = sorted((one, other))
    bands = [
        wide(answer(cylinders="1", fill=f"{fill:.2f}", burette_error=f"{limit:.3f}"), "chamber_1")
        for limit in (small, large)
    ]
    assert bands[0] <= bands[1]
