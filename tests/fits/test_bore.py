"""A bore by diameters on two axes: wear, taper, out-of-round, and the mean that volumes are worked out with."""

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import errors_of, read_off
from tests.physics import Judged, is_in_only_with_its_whole_uncertainty, meets, number, says

ASKED = "fits.bore"
SURE = {"bore_error": "0", "bore_scatter": "0"}
ONE = {"cylinders": "1", "bore_across": "80.06 80.04 80.02", "bore_along": "80.04 80.03 80.03"}
ALIKE = {"cylinders": "1", "bore_across": "80.06 80.06 80.06", "bore_along": "80.06 80.06 80.06"}


def spread(answer, key):
    return uncertainty_in(answer.value(key).quantity, "mm") or 0.0


def test_wear_taper_and_out_of_round():
    answer = answered(ASKED, **SURE, **ONE, bore_new="80")
    # by hand: 80.06 − 80; 80.06 − 80.02; 80.06 − 80.04
    assert read_off(answer, "wear") == pytest.approx(0.06)
    assert read_off(answer, "taper") == pytest.approx(0.04)
    assert read_off(answer, "out_of_round") == pytest.approx(0.02)
    assert answer.headline == "Bore wear 0.060 mm, no limit given"


def test_wear_is_what_the_bore_has_grown_by():
    wears = [read_off(answered(ASKED, **SURE, **ONE, bore_new=new), "wear") for new in ("79.5", "79.9", "80")]
    assert wears[0] > wears[1] > wears[2]


def test_without_the_bore_when_new_there_is_no_wear():
    answer = answered(ASKED, **SURE, **ONE)
    assert answer.value("wear") is None
    assert answer.value("gap_of_wear") is None
    assert answer.value("taper")


def test_one_depth_says_nothing_of_taper():
    answer = answered(ASKED, **SURE, cylinders="1", bore_across="80.06", bore_along="80.05")
    assert answer.value("taper") is None
    assert read_off(answer, "out_of_round") == pytest.approx(0.01)


@pytest.mark.parametrize(
    ("least", "verdict"),
    [("80.000", "in"), ("79.986", "too close to call"), ("79.980", "too close to call"), ("79.96", "out")],
)
def test_a_taper_near_its_limit_is_too_close_to_call(least, verdict):
    """At most 0.08 mm, ± 2 · √2 · 0.003 ÷ √3 = 0.0049 mm."""
    across = f"80.063 {least}"
    answer = answered(ASKED, cylinders="1", bore_across=across, bore_along="80.02 80.02", taper_most="0.08 mm")
    assert answer.tables[0].as_data()["rows"][0]["verdict"].startswith(verdict)


def test_what_the_gauge_is_off_by_drops_out_of_taper_and_out_of_round():
    answer = answered(ASKED, **ONE, bore_error="0.02 mm", bore_scatter="0.003 mm")
    for key in ("taper", "out_of_round"):
        # by hand: two readings, each with its own scatter
        assert spread(answer, key) == pytest.approx(2 * 0.003 * 2**0.5 / 3**0.5)


def test_readings_all_alike_still_have_a_taper_that_is_not_known_exactly():
    answer = answered(ASKED, **ALIKE, bore_error="0", bore_scatter="0.003 mm")
    assert read_off(answer, "taper") == 0
    assert spread(answer, "taper") == pytest.approx(2 * 0.003 * 2**0.5 / 3**0.5)


def test_the_mean_bore_goes_on_once_every_barrel_is_measured():
    both = {"bore_across": "80.06 80.02; 80.10 80.02", "bore_along": "80.02 80.02; 80.04 80.02"}
    (mean,) = answered(ASKED, cylinders="2", **both).worked
    # by hand: eight readings, 80 + 0.30 ÷ 8
    assert magnitude_in(mean.value, "mm") == pytest.approx(80.0375)
    assert answered(ASKED, cylinders="3", **both).worked == ()


def test_the_mean_bore_is_no_surer_than_its_gauge():
    (mean,) = answered(ASKED, **ALIKE, bore_error="0.02 mm", bore_scatter="0").worked
    assert uncertainty_in(mean.value, "mm") == pytest.approx(2 * 0.02 / 3**0.5)


def test_volumes_are_worked_out_with_the_mean_bore():
    cylinder = {"stroke": "80", "chamber": "50", "deck": "0", "cylinders": "1"}
    gauge = {"bore_across": "90.00", "bore_along": "90.02"}
    measured = answered("compression.ratio", **cylinder, **gauge).value("swept_volume").quantity
    # by hand: π ÷ 4 · 9.001² · 8
    assert magnitude_in(measured, "cm³") == pytest.approx(509.05, abs=0.01)
    typed = answered("compression.ratio", **cylinder, **gauge, bore="80").value("swept_volume").quantity
    assert magnitude_in(typed, "cm³") == pytest.approx(402.12, abs=0.01)


def test_wear_opens_the_ring_gap_by_pi_times_the_wear():
    answer = answered(ASKED, **SURE, **ONE, bore_new="79.96")
    assert read_off(answer, "gap_of_wear") == pytest.approx(0.31416, abs=1e-5)


def test_a_barrel_keeps_its_number_where_others_are_empty():
    typed = ["cylinders=3", "bore_across.3=80.06", "bore_along.3=80.02", "round_most=0.03 mm"]
    answer = asked_with(ASKED, typed).answer
    assert answer.headline == "0.040 mm · out"
    assert answer.says == "Out: cylinder 3, bore out-of-round 0.040 mm (at most 0.030 mm)."


def test_a_barrel_half_read_is_asked_for_and_the_others_are_answered():
    typed = ["cylinders=2", "bore_across=80.06; 80.05", "bore_along.1=80.02", "round_most=0.03 mm"]
    answer = asked_with(ASKED, typed).answer
    assert [caution.text for caution in answer.warnings if caution.text.startswith("Enter")] == [
        "Enter the bore along the pin of cylinder 2, in millimetres, to have it judged."
    ]
    assert len(answer.tables[0].rows) == 1


def test_nothing_read_is_lacking_and_not_wrong():
    asked = asked_with(ASKED, ["cylinders=1"])
    assert asked.errors == ()
    assert [error.message for error in asked.lacking] == [
        "Enter the bore across the thrust of cylinder 1, in millimetres"
    ]


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        (
            {"bore_across": "80"},
            ("bore_along.1", "Enter the bore along the pin of cylinder 1, in millimetres"),
        ),
        (
            {"bore_along": "80"},
            ("bore_across.1", "Enter the bore across the thrust of cylinder 1, in millimetres"),
        ),
        (
            {"bore_across": "80 80", "bore_along": "80"},
            ("bore_along.1", "Bore along the pin of cylinder 1 must have 2 entries, as across the thrust"),
        ),
        (
            {"bore_across": "80 201", "bore_along": "80 80"},
            ("bore_across.1", "Bore across the thrust of cylinder 1 must each be between 30 mm and 200 mm, not 201"),
        ),
        (
            {"bore_across": "80", "bore_along": "eighty"},
            ("bore_along.1", "Bore along the pin of cylinder 1 must be numbers in a row, like 80.04 80.03 80.02"),
        ),
    ],
)
def test_what_cannot_be_is_refused_by_name(typed, error):
    assert error in errors_of(answered, ASKED, **{"cylinders": "1"} | typed)


def test_the_drawing_says_every_bore():
    answer = answered(ASKED, **ONE, taper_most="0.03 mm")
    assert "Cylinder 1: across the thrust 0.04, 0.02, 0.00, along the pin 0.02, 0.01, 0.01" in answer.drawing.svg
    assert "Bore taper, cylinder 1: 0.040 mm, at most 0.030 mm, out" in answer.figures[0].svg


@pytest.mark.parametrize("across", ["30", "200 200 200 200 200 200", "80.0000001"])
def test_hostile_sizes_still_draw_and_print(across):
    along = " ".join(["80"] * len(across.split()))
    answer = answered(ASKED, cylinders="1", bore_across=across, bore_along=along, round_most="0", taper_most="0")
    assert answer.drawing.svg
    assert answer.headline.endswith("out") or "too close" in answer.headline


test_wear_is_in_only_with_its_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    lambda **typed: answered(ASKED, **ONE, bore_new="79.9", **typed),
    Judged("wear_most", meets("wear"), number("wear"), says("parts 1 verdict")),
)
