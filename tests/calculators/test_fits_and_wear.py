"""Fits and wear: what each reading is judged as, what is refused, what is kept."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card, uncertainty_in
from calculators._catalogue import Calculator
from calculators._fits.findings import find
from calculators._text import report_text
from calculators.fits_and_wear import FORM, TITLE, compute
from calculators.formulas.decision_rule import judged

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
FITS = Calculator("fits-and-wear", TITLE, "", FORM, compute)
ONE = {"cylinders": "1"}
GAUGES = ("bore_error", "micrometer_error", "guide_error", "feeler_error", "dial_error", "calliper_error")
GUESSES = ("bore_scatter", "temperature_error", "expansion_error")
SURE = dict.fromkeys((*GAUGES, *GUESSES), "0")
BORE = {"bore_across.1": "80.06 80.04 80.02", "bore_along.1": "80.04 80.03 80.03"}
LIMITS = [(field.key, field.card) for section in FORM.sections if section.title == "Limits" for field in section.fields]


def answer(**typed):
    return FITS.answer(ONE | SURE | typed)


def findings(**typed):
    return {found.kind.key: found for found in find(FORM.read(ONE | SURE | typed)).findings}


def errors_of(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    return [(error.field, error.message) for error in caught.value.errors]


def value(report, key):
    return next(value for value in report.values if value.key == key)


def told(report):
    return [caution.text for caution in report.cautions]


def test_a_bore_gives_wear_taper_out_of_round_and_clearance():
    found = findings(**BORE, **{"piston.1": "79.93", "bore_new": "80"})
    # by hand: 80.06 − 80; 80.06 − 80.02; 80.06 − 80.04; 80.04 − 79.93
    assert {key: round(one.best, 6) for key, one in found.items()} == {
        "wear": 0.06,
        "taper": 0.04,
        "out_of_round": 0.02,
        "piston_clearance": 0.11,
    }


def test_without_the_bore_when_new_there_is_no_wear():
    assert "wear" not in findings(**BORE)


def test_rings_give_narrowest_widest_and_side():
    found = findings(**{"end_gap.1": "0.48 0.44 0.40", "side_gap.1": "0.05 0.07"})
    assert {key: one.best for key, one in found.items()} == {
        "narrow_gap": 0.40,
        "wide_gap": 0.48,
        "side_clearance": 0.07,
    }


def test_a_ring_is_held_against_what_heat_closes_where_that_is_more():
    hot = {"bore_new": "80", "ring_temperature": "320", "barrel_temperature": "120", "gap_least": "0.3 mm"}
    found = findings(**{"end_gap.1": "0.50"}, **hot)["narrow_gap"]
    # by hand: π · 80 · 11.4e-6 · (300 − 100) = 0.573
    assert found.low == pytest.approx(0.573, abs=5e-4)
    assert found.verdict == "out"
    cool = findings(**{"end_gap.1": "0.50"}, **hot | {"ring_temperature": "120"})["narrow_gap"]
    assert (cool.low, cool.verdict) == (0.3, "in")


def test_a_valve_gives_all_its_fits():
    typed = {
        "exhaust_stem.1": "7.93 7.92",
        "exhaust_guide.1": "8.02 8.05",
        "exhaust_rock.1": "0.30",
        "exhaust_stem_runout.1": "0.02",
        "exhaust_margin.1": "1.2",
        "exhaust_seat_width.1": "1.6",
        "exhaust_line.1": "0.5",
        "guide_length": "40",
        "overhang": "30",
        "exhaust_face": "2.9",
    }
    # by hand: 8.05 − 7.92; 0.30 · 40 ÷ 100; 2.9 − 0.5 − 1.6
    assert {key: round(one.best, 6) for key, one in findings(**typed).items()} == {
        "exhaust_guide_clearance": 0.13,
        "exhaust_rock": 0.30,
        "exhaust_rocked_clearance": 0.12,
        "exhaust_runout": 0.02,
        "exhaust_margin": 1.2,
        "exhaust_width": 1.6,
        "exhaust_rim": 0.5,
        "exhaust_inner": 0.8,
    }


def test_valve_gear_and_head_faces_are_judged():
    typed = {
        "inlet_rocker_bush.1": "18.05",
        "inlet_rocker_shaft.1": "17.98",
        "inlet_tappet_bore.1": "22.10",
        "inlet_tappet.1": "21.95",
        "inlet_tappet_gap.1": "0.03",
        "inlet_pushrod_runout.1": "0.2",
        "face_gaps.1": "0 0.03 0.06",
    }
    limits = {key: MARRAM.text(card) for key, card in LIMITS}
    found = findings(**typed, **limits)
    assert {key: (round(one.best, 6), one.verdict) for key, one in found.items()} == {
        "inlet_bush": (0.07, "in"),
        "inlet_tappet": (0.15, "out"),
        "inlet_hollow": (0.03, "out"),
        "inlet_pushrod": (0.2, "in"),
        "flatness": (0.06, "out"),
    }


@pytest.mark.parametrize(
    ("reading", "verdict"),
    [("0.02", "in"), ("0.0249", "too close to call"), ("0.0251", "too close to call"), ("0.03", "out")],
)
def test_a_reading_near_its_limit_is_too_close_to_call(reading, verdict):
    typed = {"inlet_stem_runout.1": reading, "runout_most": "0.025 mm", "dial_error": "0.003"}
    assert findings(**typed)["inlet_runout"].verdict == verdict


SIX = {"bore_across.1": "80.06 80.06 80.06 80.06 80.06 80.06", "bore_along.1": "80.06 80.06 80.06 80.06 80.06 80.06"}


def test_one_bore_gauge_is_off_alike_in_all_its_readings():
    sure = {"piston.1": "79.972", "clearance_most": "0.10 mm", "bore_error": "0.02 mm"}
    found = findings(**SIX, **sure)["piston_clearance"]
    # JCGM 100:2008, 4.3.7 and 5.2.4: six readings of one gauge are no surer than one, 2 · 0.02 ÷ √3
    assert found.expanded == pytest.approx(2 * 0.02 / 3**0.5)
    assert found.verdict == "too close to call"
    # by hand: the scatter falls with √6, the gauge does not; the micrometer is another instrument
    besides = findings(**SIX, **sure, bore_scatter="0.006 mm", micrometer_error="0.004 mm")["piston_clearance"]
    assert besides.expanded == pytest.approx(2 / 3**0.5 * (0.02**2 + 0.006**2 / 6 + 0.004**2) ** 0.5)
    assert uncertainty_in(besides.measured, "mm") == pytest.approx(besides.expanded)


def test_what_the_gauge_is_off_by_drops_out_of_taper_and_out_of_round():
    found = findings(**BORE, bore_error="0.02 mm", bore_scatter="0.003 mm")
    for key in ("taper", "out_of_round"):
        # by hand: two readings, each with its own scatter
        assert found[key].expanded == pytest.approx(2 * 0.003 * 2**0.5 / 3**0.5)
        assert uncertainty_in(found[key].measured, "mm") == pytest.approx(found[key].expanded)


def test_two_widths_of_one_calliper_add_what_it_is_off_by():
    typed = {"exhaust_seat_width.1": "1.6", "exhaust_line.1": "0.5", "exhaust_face": "2.9", "calliper_error": "0.05"}
    # by hand: 2.9 − 0.5 − 1.6, the calliper off twice the same way
    assert findings(**typed)["exhaust_inner"].expanded == pytest.approx(2 * 2 * 0.05 / 3**0.5)


def test_the_mean_bore_is_no_surer_than_its_gauge():
    (kept,) = answer(**SIX, bore_error="0.02 mm").kept
    assert uncertainty_in(kept.quantity, "mm") == pytest.approx(2 * 0.02 / 3**0.5)


def test_one_depth_says_nothing_of_taper():
    found = findings(**{"bore_across.1": "80.06", "bore_along.1": "80.05"})
    assert "taper" not in found
    assert "out_of_round" in found


def test_readings_all_alike_still_have_a_taper_that_is_not_known_exactly():
    taper = findings(**SIX, bore_scatter="0.003 mm")["taper"]
    assert (taper.best, uncertainty_in(taper.measured, "mm")) == (0, pytest.approx(2 * 0.003 * 2**0.5 / 3**0.5))


GUESSED = {"bore_new": "80", "temperature_error": "20", "expansion_error": "5 %", "gap_least": "0.25 mm"}


def test_what_heat_closes_is_known_no_better_than_temperatures_and_expansions():
    closed = value(answer(**GUESSED, **{"end_gap.1": "0.45"}), "closed")
    # by hand: π · 80 · 11.4e-6 · (230 − 130); halves π · 80 · 11.4e-6 · 20 twice, and 5 % of 230 and of 130 K
    part = 3.14159265 * 80 * 11.4e-6
    assert magnitude_in(closed.quantity, "mm") == pytest.approx(part * 100)
    halves = (20, 20, 0.05 * 230, 0.05 * 130)
    assert uncertainty_in(closed.quantity, "mm") == pytest.approx(
        2 / 3**0.5 * part * sum(half**2 for half in halves) ** 0.5
    )


@pytest.mark.parametrize(
    ("gap", "verdict"), [("0.45", "in"), ("0.31", "too close to call"), ("0.26", "too close to call"), ("0.15", "out")]
)
def test_a_ring_is_in_only_where_it_surely_stays_open_when_hot(gap, verdict):
    # by hand: heat closes 0.287 ± 0.103 mm; the maker's least is 0.25 mm
    assert findings(**GUESSED, **{"end_gap.1": gap})["narrow_gap"].verdict == verdict


def test_below_the_maker_s_least_gap_a_ring_is_out_whatever_heat_may_close():
    assert findings(**GUESSED, **{"end_gap.1": "0.24"})["narrow_gap"].verdict == "out"


def test_a_plus_minus_typed_with_a_reading_wins_over_the_gauge():
    typed = {"inlet_rock.1": "0.44 ± 0.02", "rock_most": "0.45 mm"}
    assert findings(**typed)["inlet_rock"].verdict == "too close to call"
    assert findings(**typed | {"inlet_rock.1": "0.44"})["inlet_rock"].verdict == "in"


@given(st.floats(0, 1), st.floats(0, 0.2))
def test_in_is_never_said_where_the_interval_crosses_the_limit(rock, error):
    typed = {"inlet_rock.1": f"{rock:.4f}", "dial_error": f"{error:.4f}", "rock_most": "0.45 mm"}
    found = findings(**typed)["inlet_rock"]
    assert found.verdict == judged(found.best, found.expanded, high=0.45, grain=1e-9)
    if found.verdict == "in":
        assert found.best + found.expanded <= 0.45 + 1e-6


def test_without_a_limit_a_fit_is_shown_and_not_judged():
    report = answer(**{"inlet_rock.1": "0.30"})
    assert report.lead == "Fits worked out: 1; judged: none, as there is no limit to hold them against."
    assert report.tables[0].as_data()["rows"][0]["verdict"] == "no limit: valve rock"


def test_the_lead_counts_and_names():
    typed = {"inlet_rock.1": "0.60", "inlet_margin.1": "1.5", "rock_most": "0.45 mm", "margin_least": "0.9 mm"}
    assert answer(**typed).lead == "Of 2 fits judged, 1 is out (inlet valve 1: valve rock); the others in."


def test_the_worst_of_each_kind_shows_its_readings():
    report = FITS.answer({"cylinders": "2", "inlet_rock": "0.2; 0.4", "rock_most": "0.45 mm", "dial_error": "0.01 mm"})
    worst = value(report, "worst_inlet_rock")
    assert worst.label == "Inlet valve 2: valve rock"
    assert magnitude_in(worst.quantity, "mm") == pytest.approx(0.4)
    assert worst.budget == (("Error limit of the dial", 1.0),)


def test_a_part_keeps_its_number_where_others_are_empty():
    report = FITS.answer({"cylinders": "3", "inlet_rock.3": "0.2"})
    assert report.tables[0].as_data()["rows"][0]["part"] == 3


def test_the_mean_bore_is_kept_once_every_barrel_is_measured():
    both = {"cylinders": "2", "bore_across": "80.06 80.02; 80.10 80.02", "bore_along": "80.02 80.02; 80.04 80.02"}
    (kept,) = FITS.answer(both).kept
    assert kept.path == "bore"
    # by hand: eight readings, 80 + 0.30 ÷ 8
    assert magnitude_in(kept.quantity, "mm") == pytest.approx(80.0375)
    one = {"cylinders": "2", "bore_across.1": "80.06", "bore_along.1": "80.02"}
    assert FITS.answer(one).kept == ()


def test_a_thin_margin_a_butting_ring_and_a_tight_piston_are_warned_of():
    margin = answer(**{"exhaust_margin.1": "0.5", "margin_least": "0.9 mm"})
    assert any("Exhaust valve 1: a valve with too thin a rim" in text for text in told(margin))
    ring = answer(**{"end_gap.1": "0.1", "gap_least": "0.3 mm"})
    assert any("Cylinder 1: a ring whose ends meet" in text for text in told(ring))
    tight = answer(**BORE, **{"piston.1": "80.03", "clearance_least": "0.04 mm"})
    assert any("Cylinder 1: a piston with too little clearance" in text for text in told(tight))
    wide = answer(**BORE, **{"piston.1": "79.5", "clearance_least": "0.04 mm", "clearance_most": "0.17 mm"})
    assert not any("seizes" in text for text in told(wide))


def test_what_is_worn_out_is_sent_for_a_new_part_or_to_the_machine_shop():
    worn = answer(**{"inlet_rock.1": "0.9", "rock_most": "0.45 mm"})
    assert any("does not go back as it is" in text for text in told(worn))
    loose = answer(**BORE, **{"piston.1": "79.5", "clearance_least": "0.04 mm", "clearance_most": "0.17 mm"})
    assert any("does not go back as it is" in text for text in told(loose))
    tight = answer(**BORE, **{"piston.1": "80.03", "clearance_least": "0.04 mm"})
    assert not any("does not go back as it is" in text for text in told(tight))


def test_too_close_to_call_is_told_to_be_no_pass():
    close = answer(**{"inlet_rock.1": "0.44 ± 0.02", "rock_most": "0.45 mm"})
    assert any("not a pass" in text for text in told(close))
    assert not any("not a pass" in text for text in told(answer(**{"inlet_rock.1": "0.2", "rock_most": "0.45 mm"})))


def test_figures_say_every_verdict_and_every_bore():
    report = answer(**BORE, **{"taper_most": "0.03 mm"})
    limits, bores = report.figures
    assert "Bore taper, cylinder 1: 0.040 mm, at most 0.030, out" in limits.svg
    assert "Cylinder 1: across the thrust 0.04, 0.02, 0.00, along the pin 0.02, 0.01, 0.01" in bores.svg


def test_hostile_sizes_still_draw_and_print():
    for across in ("30", "200 200 200 200 200 200", "80.0000001"):
        along = " ".join(["80"] * len(across.split()))
        report = answer(**{"bore_across.1": across, "bore_along.1": along, "round_most": "0"})
        assert report_text(TITLE, report)


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({}, ("bore_across.1", "Enter the bore across the thrust of cylinder 1, in millimetres, or any other reading")),
        (
            {"bore_across.1": "80"},
            ("bore_along.1", "Enter the bore along the pin of cylinder 1, in millimetres"),
        ),
        (
            {"bore_along.1": "80"},
            ("bore_across.1", "Enter the bore across the thrust of cylinder 1, in millimetres"),
        ),
        ({"piston.1": "79.9"}, ("bore_across.1", "Enter the bore across the thrust of cylinder 1, in millimetres")),
        (
            {"bore_across.1": "80 80", "bore_along.1": "80"},
            ("bore_along.1", "Bore along the pin of cylinder 1 must have 2 entries, as across the thrust"),
        ),
        (BORE | {"piston.1": "80.5"}, ("piston.1", "Piston diameter of cylinder 1 must be at most its bore")),
        ({"inlet_stem.1": "8"}, ("inlet_guide.1", "Enter the guide readings of inlet valve 1, in millimetres")),
        ({"inlet_guide.1": "8"}, ("inlet_stem.1", "Enter the stem readings of inlet valve 1, in millimetres")),
        (
            {"inlet_stem.1": "8.1", "inlet_guide.1": "8"},
            ("inlet_stem.1", "Stem readings of inlet valve 1 must be at most its guide's"),
        ),
        (
            {"inlet_rocker_bush.1": "18"},
            ("inlet_rocker_shaft.1", "Enter the rocker shaft of inlet gear 1, in millimetres"),
        ),
        (
            {"exhaust_tappet.1": "22"},
            ("exhaust_tappet_bore.1", "Enter the tappet bore of exhaust gear 1, in millimetres"),
        ),
        (
            {"exhaust_tappet.1": "22.1", "exhaust_tappet_bore.1": "22"},
            ("exhaust_tappet.1", "Tappet diameter of exhaust gear 1 must be at most its tappet bore"),
        ),
        (
            {"clearance_least": "0.2 mm", "clearance_most": "0.1 mm"},
            ("clearance_least", "Least piston clearance must be at most the greatest piston clearance"),
        ),
        (
            {"gap_least": "2 mm", "gap_most": "1 mm"},
            ("gap_least", "Least ring end gap must be at most the greatest ring end gap"),
        ),
        (
            {"inlet_width_least": "2 mm", "inlet_width_most": "1 mm"},
            ("inlet_width_least", "Least inlet seat width must be at most the greatest inlet seat width"),
        ),
        (
            {"exhaust_width_least": "2 mm", "exhaust_width_most": "1 mm"},
            ("exhaust_width_least", "Least exhaust seat width must be at most the greatest exhaust seat width"),
        ),
    ],
)
def test_what_cannot_be_true_is_refused_by_name(typed, error):
    assert errors_of(**typed) == [error]


@pytest.mark.parametrize(
    ("field", "text", "message"),
    [
        ("cylinders", "13", "Number of cylinders must be between 1 and 12"),
        ("bore_new", "29", "Bore when new must be between 30 mm and 200 mm"),
        (
            "bore_across.1",
            "80 201",
            "Bore across the thrust of cylinder 1 must each be between 30 mm and 200 mm, not 201",
        ),
        ("bore_along.1", "eighty", "Bore along the pin of cylinder 1 must be numbers in a row, like 80.04 80.03 80.02"),
        ("piston.1", "29", "Piston diameter of cylinder 1 must be between 30 mm and 200 mm"),
        ("end_gap.1", "11", "Ring end gaps of cylinder 1 must each be between 0 mm and 10 mm"),
        ("side_gap.1", "-1", "Ring side clearances of cylinder 1 must each be between 0 mm and 10 mm"),
        ("inlet_stem.1", "2", "Stem readings of inlet valve 1 must each be between 3 mm and 25 mm"),
        ("exhaust_guide.1", "26", "Guide readings of exhaust valve 1 must each be between 3 mm and 25 mm"),
        ("inlet_rock.1", "11", "Valve rock of inlet valve 1 must be between 0 mm and 10 mm"),
        ("inlet_margin.1", "21", "Valve margin of inlet valve 1 must be between 0 mm and 20 mm"),
        ("inlet_seat_width.1", "21", "Seat width of inlet valve 1 must be between 0 mm and 20 mm"),
        ("exhaust_line.1", "-1", "Line to outer edge of exhaust valve 1 must be between 0 mm and 20 mm"),
        ("inlet_tappet.1", "4", "Tappet diameter of inlet gear 1 must be between 5 mm and 80 mm"),
        ("face_gaps.1", "11", "Gaps under the straight edge of head 1 must each be between 0 mm and 10 mm"),
        ("ring_temperature", "501", "Temperature of the hottest ring must be between 0 °C and 500 °C"),
        ("barrel_temperature", "401", "Temperature of the barrel then must be between 0 °C and 400 °C"),
        ("cold_temperature", "61", "Temperature when measured must be between −20 °C and 60 °C"),
        ("ring_expansion", "0", "Expansion of the ring in millionths per K must be between 1 and 40"),
        ("barrel_expansion", "41", "Expansion of the barrel in millionths per K must be between 1 and 40"),
        ("guide_length", "9", "Guide length must be between 10 mm and 150 mm"),
        ("overhang", "151", "Guide's end to dial must be between 0 mm and 150 mm"),
        ("wear_most", "21", "Greatest bore wear must be between 0 mm and 20 mm"),
        ("bore_error", "1.1", "Error limit of the bore gauge must be between 0 mm and 1 mm"),
    ],
)
def test_each_field_is_refused_beyond_its_limits(field, text, message):
    assert (field, message) in errors_of(**{field: text})
