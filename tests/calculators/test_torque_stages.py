"""Torque stages: passes, marks, the order of the studs, and every sentence of advice."""

import copy
import itertools
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from calculators import EngineCard, InputErrors, magnitude_in, read_card
from calculators._catalogue import calculator

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
TORQUE = calculator("torque-stages")


def answer(card=None, **typed):
    return TORQUE.answer({"target": "34 N·m", "pattern": "8"} | typed, card)


def marks(report, unit="N·m"):
    table = report.tables[0]
    column = [column.key for column in table.columns].index("mark")
    return [round(magnitude_in(row.cells[column], unit), 6) for row in table.rows]


def column_texts(report, key):
    table = report.tables[0]
    place = [column.key for column in table.columns].index(key)
    return [table.columns[place].text(row.cells[place]) for row in table.rows]


def value(report, key):
    return next(value for value in report.values if value.key == key)


def signals(report, words):
    return [caution.signal for caution in report.cautions if words in caution.text]


def card_with(**changes):
    data = copy.deepcopy(dict(MARRAM.data))
    data["studs"]["cylinder_head"] |= changes
    return EngineCard("mine", data)


def error_of(card=None, **typed):
    with pytest.raises(InputErrors) as caught:
        answer(card, **typed)
    (error,) = caught.value.errors
    return error.field, error.message


# by hand: thirds and halves of 34 and 30 N·m, each to the nearest mark, a half going down
@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ({}, [11, 23, 34, 34]),
        ({"passes": "1"}, [34, 34]),
        ({"passes": "2"}, [17, 34, 34]),
        ({"passes": "4"}, [8, 17, 25, 34, 34]),
        ({"target": "30 N·m", "passes": "3", "graduation": "2.5 N·m"}, [10, 20, 30, 30]),
        ({"target": "33 N·m", "passes": "2"}, [16, 33, 33]),
        ({"target": "33 N·m", "passes": "2", "graduation": "0.25"}, [16.5, 33, 33]),
        ({"shares": "40 70 100"}, [14, 24, 34, 34]),
        ({"shares": "40% 70% 100%"}, [14, 24, 34, 34]),
        ({"shares": "40 70"}, [14, 24, 34, 34]),
        ({"shares": "50"}, [17, 34, 34]),
        ({"shares": "33,3; 66,7; 100"}, [11, 23, 34, 34]),
        ({"shares": "1 100"}, [1, 34, 34]),
    ],
)
def test_passes_rise_to_the_target_on_marks_that_the_wrench_has(typed, expected):
    assert marks(answer(**typed)) == expected


def test_typed_shares_win_over_the_number_of_passes():
    assert marks(answer(passes="5", shares="50 100")) == [17, 34, 34]


def test_last_pass_is_the_confirming_one_and_is_marked():
    table = answer().tables[0]
    assert [row.cells[0] for row in table.rows] == ["Pass 1", "Pass 2", "Pass 3", "Confirm"]
    assert [row.chosen for row in table.rows] == [False, False, False, True]


def test_marks_are_in_the_unit_of_the_wrench():
    # 34 N·m is 25.08 lbf·ft (NIST SP 811 (2008), B.8: 1.355 818 N·m)
    report = answer(graduation="1 lbf·ft")
    assert marks(report, "lbf·ft") == [8, 17, 25, 25]
    assert column_texts(report, "mark") == ["8 lbf·ft", "17 lbf·ft", "25 lbf·ft", "25 lbf·ft"]
    assert "25 lbf·ft" in report.lead


def test_every_unit_shows_the_wanted_torque_beside_the_mark():
    report = answer()
    assert column_texts(report, "N_m") == ["11.3", "22.7", "34.0", "34.0"]
    assert column_texts(report, "lbf_ft")[-1] == "25.1"
    assert column_texts(report, "lbf_in")[-1] == "301"
    assert column_texts(report, "kgf_m")[-1] == "3.47"
    assert value(report, "target").texts == ("34.0 N·m", "25.1 lbf·ft", "301 lbf·in", "3.47 kgf·m")


def test_rounding_to_the_mark_is_shown():
    # by hand: 11/11.333 = −2.9 %, 23/22.667 = +1.5 %
    assert column_texts(answer(), "rounding") == ["−2.9%", "1.5%", "0.0%", "0.0%"]
    assert column_texts(answer(), "share") == ["33%", "67%", "100%", "100%"]


@pytest.mark.parametrize(
    ("step", "setting"),
    [("1", "33"), ("0.5", "33.0"), ("0.25", "33.00"), ("0,05", "33.00"), ("1/8", "33.000"), ("2.5", "32.5")],
)
def test_settings_are_printed_with_the_decimals_of_the_scale(step, setting):
    report = answer(target="33 N·m", graduation=f"{step} N·m")
    assert report.lead.endswith(f"Then go round once more at {setting} N·m to confirm.")
    assert column_texts(report, "mark")[-1] == f"{setting} N·m"


def test_lead_says_all_that_the_hand_must_do():
    assert answer(MARRAM, pattern="card").lead == (
        "Set the wrench to 11, 23 and 34 N·m: every nut at each setting, in the order "
        "B – G – C – F – A – H – D – E. Then go round once more at 34 N·m to confirm."
    )
    assert answer(passes="1").lead.startswith("Set the wrench to 34 N·m: every nut")
    assert answer(passes="2").lead.startswith("Set the wrench to 17 and 34 N·m: every nut")


@pytest.mark.parametrize("count", [4, 6, 8, 10, 12])
def test_every_preset_tightens_each_of_its_studs_once(count):
    order = value(answer(pattern=str(count)), "order").quantity.split(" – ")
    assert sorted(order) == list("ABCDEFGHIJKL"[:count])


def test_preset_of_four_goes_across_the_corners():
    # A and B above, C and D below
    assert value(answer(pattern="4"), "order").quantity == "A – D – B – C"


def test_order_of_the_card_s_maker_wins():
    published = list("HGFEDCBA")
    report = answer(card_with(order={"value": published, "source": "workshop manual"}), pattern="card")
    assert value(report, "order").quantity == "H – G – F – E – D – C – B – A"
    assert "maker's own order" in value(report, "order").formula
    assert str(value(report, "order").source) == "the engine card: workshop manual"
    assert signals(report, "worked out from the stud positions") == []


def test_a_published_order_is_not_weighed_against_going_round_the_edge():
    # round the edge is as lopsided as it gets; a maker's order that is worse must not read "less by −…%"
    lopsided = {"value": list("AEBFCGDH"), "source": "workshop manual"}
    report = answer(card_with(order=lopsided), pattern="card")
    assert "against_edge" not in [value.key for value in report.values]
    assert "−" not in " ".join(text for value in report.values for text in value.texts)
    assert "against_edge" in [value.key for value in answer(MARRAM, pattern="card").values]


def test_order_of_our_own_says_so_and_defers():
    report = answer(MARRAM, pattern="card")
    assert signals(report, "The engine maker's order wins.") == ["notice"]
    assert "every order was weighed" in value(report, "order").formula


def test_order_of_a_large_pattern_admits_it_is_not_proved():
    studs = [{"name": f"S{k}", "x": f"{20 * (k % 7)} mm", "y": f"{50 * (k // 7)} mm"} for k in range(14)]
    report = answer(card_with(positions=studs), pattern="card")
    assert "not proved the best" in value(report, "order").formula


def test_balance_is_told_against_going_round_the_edge():
    # by hand, square of side 80: across 56.57, 0, 56.57, 0 (mean 28.28); round 56.57, 80, 56.57, 0 (mean 48.28)
    report = answer(pattern="4")
    assert magnitude_in(value(report, "imbalance").quantity, "mm") == pytest.approx(28.284, abs=1e-3)
    assert magnitude_in(value(report, "against_edge").quantity, "%") == pytest.approx(
        100 * (1 - 28.284 / 48.284), abs=0.01
    )


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"target": ""}, "target", "Enter the final torque, in newton metres"),
        ({"target": "0.9"}, "target", "Final torque must be between 1 N·m and 400 N·m"),
        ({"target": "401"}, "target", "Final torque must be between 1 N·m and 400 N·m"),
        ({"target": "34 mm"}, "target", "Final torque must use a unit of torque, like N·m or lbf·ft"),
        ({"target": "34 ± 2"}, "target", "Final torque must be one figure without a ±, like 34"),
        ({"graduation": ""}, "graduation", "Enter the wrench scale step, in newton metres"),
        ({"graduation": "0"}, "graduation", "Wrench scale step must be between 0.01 N·m and 50 N·m"),
        ({"graduation": "51"}, "graduation", "Wrench scale step must be between 0.01 N·m and 50 N·m"),
        ({"graduation": "35"}, "graduation", "Wrench scale step must be smaller than the final torque"),
        ({"passes": ""}, "passes", "Enter the number of passes"),
        ({"passes": "0"}, "passes", "Number of passes must be between 1 and 8"),
        ({"passes": "9"}, "passes", "Number of passes must be between 1 and 8"),
        ({"passes": "2.5"}, "passes", "Number of passes must be a whole number, like 3"),
        ({"shares": "40 x"}, "shares", "Passes in per cent must be numbers in a row, like 40 70 100"),
        ({"shares": "40 101"}, "shares", "Passes in per cent must each be between 1% and 100%"),
        ({"shares": "0 100"}, "shares", "Passes in per cent must each be between 1% and 100%"),
        ({"shares": "70 40"}, "shares", "Passes in per cent must rise from pass to pass, like 40 70 100"),
        ({"shares": "50 50"}, "shares", "Passes in per cent must rise from pass to pass, like 40 70 100"),
        ({"shares": "1 2 3 4 5 6 7 8 9"}, "shares", "Passes in per cent must have 1 to 8 entries, not 9"),
        ({"pattern": "7"}, "pattern", "Stud pattern must be one of: card, 4, 6, 8, 10, 12"),
        ({"target": "34-36 Nm"}, "target", "Final torque must be one figure, not a range"),
        ({"pattern": "card"}, "pattern", "There is no engine card here. Choose the pattern nearest to yours."),
        (
            {"target": "34", "graduation": "20"},
            "graduation",
            "No mark of this wrench comes within 4% of the final torque. The nearest is 40 N·m, 17.6% off. "
            "Use a wrench with a finer scale.",
        ),
        (
            {"target": "50", "graduation": "50"},
            "graduation",
            "The first pass falls on the final mark, 50 N·m. Use a wrench with a finer scale, or fewer passes.",
        ),
        (
            {"target": "50", "graduation": "25", "shares": "80 100"},
            "graduation",
            "The first pass falls on the final mark, 50 N·m. Use a wrench with a finer scale, or a lower first pass.",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    assert error_of(**typed) == (field, message)


@pytest.mark.parametrize(
    "typed",
    [{"target": "1", "graduation": "0.1"}, {"target": "400"}, {"target": "50", "graduation": "50", "passes": "1"}],
)
def test_limits_themselves_are_answered(typed):
    assert answer(**typed).lead


def test_card_without_usable_studs_is_refused_by_name():
    for positions in ([], [{"name": "A", "x": "0 mm", "y": "0 mm"}], [{"name": "A", "x": "wide", "y": "0 mm"}]):
        assert error_of(card_with(positions=positions), pattern="card") == (
            "pattern",
            "This engine card has no stud positions. Choose the pattern nearest to yours.",
        )


# by hand: 26 → 25 is 3.85 % off, 26.1 → 25 is 4.21 %, 24 → 25 is 4.17 %, 24.02 → 25 is 4.08 %, 12.5 → 12 is 4 % just
@pytest.mark.parametrize(
    ("typed", "refused"),
    [
        ({"target": "26", "graduation": "5"}, False),
        ({"target": "26.1", "graduation": "5"}, True),
        ({"target": "24.02", "graduation": "5", "passes": "2"}, True),
        ({"target": "24", "graduation": "5", "passes": "2"}, True),
        ({"target": "12.5", "graduation": "1", "passes": "2"}, False),
        ({"target": "12.51", "graduation": "1", "passes": "2"}, False),
        ({"target": "12.49", "graduation": "1", "passes": "2"}, False),
    ],
)
def test_a_final_mark_more_than_four_per_cent_off_is_refused(typed, refused):
    if refused:
        field, message = error_of(**typed)
        assert field == "graduation"
        assert message.startswith("No mark of this wrench comes within 4% of the final torque.")
    else:
        assert answer(**typed).lead


def test_a_target_in_decanewton_metres_is_ten_times_as_many_newton_metres():
    # 1 daN·m = 10 N·m (SI brochure, 9th edition, table 7: deca)
    assert marks(answer(target="3,4 daNm")) == marks(answer(target="34 N·m"))


def test_card_whose_order_leaves_a_stud_out_is_refused_by_name():
    card = card_with(order={"value": ["A", "B"], "source": "manual"})
    assert error_of(card, pattern="card") == ("pattern", "The order on this engine card must name each stud once")


def test_a_stud_that_keeps_turning_is_warned_of_always():
    assert signals(answer(), "keeps turning without the torque rising") == ["warning"]
    assert signals(answer(), "Oil on a thread") == ["caution"]


@pytest.mark.parametrize(("passes", "expected"), [("1", ["caution"]), ("2", [])])
def test_one_pass_alone_is_cautioned(passes, expected):
    assert signals(answer(passes=passes), "One pass alone") == expected


@pytest.mark.parametrize(
    ("typed", "expected"), [({"passes": "8"}, []), ({"passes": "8", "graduation": "5"}, ["caution"])]
)
def test_two_passes_on_one_mark_are_cautioned(typed, expected):
    assert signals(answer(**typed), "Two passes fall on the same mark") == expected


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ({"target": "50.9", "graduation": "1"}, []),
        ({"target": "34", "graduation": "5"}, ["caution"]),
        ({"target": "51", "graduation": "2"}, []),
        ({"target": "49", "graduation": "2"}, ["caution"]),
    ],
)
def test_a_final_mark_more_than_two_per_cent_off_is_cautioned(typed, expected):
    # by hand: 51 → 50 is 1.96 % off, 49 → 48 is 2.04 % off
    assert signals(answer(**typed), "Rounding to the mark is off the final torque by") == expected


def test_rounding_caution_says_how_far_off():
    report = answer(target="34", graduation="5")
    assert any("off the final torque by 2.9%" in caution.text for caution in report.cautions)


def test_map_shows_every_stud_with_its_number_and_name():
    (figure,) = answer(MARRAM, pattern="card").figures
    root = ElementTree.fromstring(figure.svg)  # noqa: S314 (our own text)
    words = [text.text for text in root.iter("{http://www.w3.org/2000/svg}text")]
    assert {str(number) for number in range(1, 9)} | set("ABCDEFGH") <= set(words)
    assert "1 is B, 2 is G" in root.get("aria-label")


def test_map_is_to_scale():
    (figure,) = answer(pattern="8").figures
    root = ElementTree.fromstring(figure.svg)  # noqa: S314
    circles = [circle for circle in root.iter("{http://www.w3.org/2000/svg}circle") if "stud" in circle.get("class")]
    xs = sorted({float(circle.get("cx")) for circle in circles})
    ys = sorted({float(circle.get("cy")) for circle in circles})
    steps = [later - earlier for earlier, later in itertools.pairwise(xs)]
    # the preset's studs stand 80 mm apart both ways
    assert steps == pytest.approx([steps[0]] * 3, abs=0.02)
    assert ys[1] - ys[0] == pytest.approx(steps[0], abs=0.02)


def test_a_stud_s_name_cannot_break_out_of_the_map():
    studs = [{"name": name, "x": f"{x} mm", "y": "0 mm"} for name, x in (("<b>", 0), ("&", 50), ('"', 100))]
    (figure,) = answer(card_with(positions=studs), pattern="card").figures
    assert not re.search(r"<b>|&[^a#lgq]", figure.svg)
    assert "1 is &amp;" in figure.svg
