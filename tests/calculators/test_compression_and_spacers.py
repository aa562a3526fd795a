"""The compression calculator as a reader meets it: what is typed, what is answered, what is refused."""

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
COMPRESSION = calculator("compression-and-spacers")
READINGS = {
    "chamber": "49.1; 49.5; 48.2; 48.6",
    "deck": "0.42; 0.38; 0.45; 0.41",
    "thickness": "0.25; 0.5; 0.75; 1.0",
    "pieces": "4; 4; 2; 4",
}
SINGLE = {"cylinders": "1", "heads": "1", "chamber": "49.5", "deck": "0.4"}


def answer(**typed):
    return COMPRESSION.answer(READINGS | typed, CARD)


def refused(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    return caught.value


def wrong(**typed):
    return {error.field: error.message for error in refused(**typed).errors}


def value(report, key):
    return next(value.quantity for value in report.values if value.key == key)


def rows(report, table=0):
    return report.tables[table].as_data()["rows"]


def why(report, spacers, table=1):
    return next(row["why"] for row in rows(report, table) if row["spacers"] == spacers)


def drawn(figure):
    return ElementTree.fromstring(figure.svg)  # noqa: S314 (we drew it)


def told(figure):
    return drawn(figure).get("aria-label")


def texts(figure):
    return [element.text for element in drawn(figure).iter() if element.text]


def test_leads_with_the_stack_under_each_head_and_the_ratios():
    assert answer().lead == (
        "Under cylinders 1 and 2 fit 1.00 mm; under cylinders 3 and 4 fit 1.00 + 0.25 mm: 7.53 to 7.61 : 1."
    )


def test_says_it_once_where_all_barrels_get_the_same():
    assert answer(chamber="49.5; 49.5; 49.5; 49.5").lead.startswith("Under every barrel fit 1.00 mm: ")


def test_card_s_engine_by_hand():
    # 80 × 74: π/4 · 8² · 7.4 = 371.965; 49.5 + 50.2655 · (0.04 + 0.1) = 56.537; ratio 7.5791
    report = answer(**SINGLE)
    assert value(report, "lowest_ratio").nominal_value == pytest.approx(7.5791, abs=5e-5)
    assert magnitude_in(value(report, "displacement"), "cm³") == pytest.approx(371.965, abs=5e-4)
    assert rows(report)[0]["clearance"] == pytest.approx(56.537, abs=5e-4)
    assert rows(report)[0]["deck"] == pytest.approx(1.4)


def test_crown_and_gasket_count():
    # dish 2 cm³, gasket 0.5 mm of 82 mm: 49.5 + 2 + 2.6405 + 50.2655 · 0.04 = 56.151 without spacer
    report = answer(**SINGLE, crown="2", gasket_thickness="0.5", gasket_bore="82", least_deck="0.8")
    assert value(report, "spacers_1") == "none"
    assert rows(report)[0]["clearance"] == pytest.approx(56.151, abs=1e-3)
    assert rows(report)[0]["deck"] == pytest.approx(0.9)


def test_gasket_bore_left_empty_is_the_cylinder_s():
    empty = answer(**SINGLE, gasket_thickness="0.5", gasket_bore="")
    typed = answer(**SINGLE, gasket_thickness="0.5", gasket_bore="80")
    assert rows(empty)[0]["clearance"] == pytest.approx(rows(typed)[0]["clearance"], rel=1e-12)
    # the same bore twice leans the same way; two bores measured apart do not
    assert value(empty, "lowest_ratio").std_dev != value(typed, "lowest_ratio").std_dev


def test_a_plus_minus_typed_with_a_reading_wins():
    class_wide = answer(**SINGLE)
    cell_by_cell = {key: text for key, text in (READINGS | SINGLE).items() if key != "chamber"}
    typed = COMPRESSION.answer(cell_by_cell | {"chamber.1": "49.5 ± 1"}, CARD)
    assert value(typed, "lowest_ratio").std_dev > 3 * value(class_wide, "lowest_ratio").std_dev


def test_error_limits_are_half_widths_of_rectangular_bands():
    # only the chamber's 0.3 cm³ left: u = 0.3/√3; U(clearance) = 2u = 0.3464 (JCGM 100:2008, 4.3.7 and 6.2)
    report = answer(**SINGLE, volume_error="0.3", volume_scatter="0", depth_error="0", bore_error="0")
    clearance = report.tables[0].rows[0].cells[3]
    assert uncertainty_in(clearance, "cm³") == pytest.approx(0.3464, abs=5e-5)
    assert uncertainty_in(report.tables[0].rows[0].cells[4], "mm") is None


def test_readings_without_any_error_have_no_plus_minus():
    report = answer(volume_error="0", volume_scatter="0", depth_error="0", bore_error="0", exponent_error="0")
    assert "±" not in " ".join(text for value in report.values for text in value.texts)
    assert {row["verdict"] for row in rows(report)} == {"in"}


def test_bore_and_stroke_are_common_to_all_cylinders():
    report = answer(
        chamber="49.5; 49.5; 49.5; 49.5",
        deck="0.4; 0.4; 0.4; 0.4",
        volume_error="0",
        depth_error="0",
        volume_scatter="0",
    )
    first, second = (row.cells[5] for row in report.tables[0].rows[:2])
    assert first.std_dev > 0
    assert (first - second).std_dev == pytest.approx(0, abs=1e-12)


def notices(report):
    return [caution.text for caution in report.cautions if caution.signal == "notice"]


def test_says_whose_ratio_is_too_close_to_call():
    report = answer(tolerance="0.08")
    assert rows(report)[3]["verdict"] == "too close to call"
    assert any(notice.startswith("The ratio of cylinder 4 is too close") for notice in notices(report))
    assert report.lead.endswith("7.53 to 7.61 : 1. Whether that is in the band is too close to call at cylinder 4.")


def test_says_whose_deck_clearance_is_too_close_to_call():
    said = " ".join(notices(answer(least_deck="1.38")))
    assert "deck clearance of cylinder 2 is too close to 1.38 mm" in said
    assert "deck clearance of" not in " ".join(notices(answer()))


def test_every_stack_is_ranked_and_says_why_it_lost():
    report = answer(chamber="49.5; 49.5; 49.5; 49.5")
    assert len(rows(report, 1)) == 15  # 1 + 4 + 10 stacks of two pieces at most
    assert why(report, "1.00 mm") == "fit this"
    assert why(report, "0.50 + 0.50 mm") == "same height with more parts"
    assert why(report, "0.75 + 0.75 mm") == "needs 4 of 0.75 mm, the drawer has 2"
    assert why(report, "0.50 mm") == "deck clearance 0.88 mm, under 1.00 mm"
    assert re.fullmatch(r"ratio 7\.\d\d, below 7\.4", why(report, "1.00 + 0.50 mm"))
    assert re.fullmatch(r"0\.\d\d further from the target", why(report, "0.75 mm"))


def test_one_row_of_each_head_is_chosen():
    for table in answer().tables[1:3]:
        assert table.key.startswith("candidates_")
        assert sum(row.chosen for row in table.rows) == 1


def test_a_ratio_above_the_band_says_so():
    assert why(answer(), "0.75 mm", table=2) == "ratio 7.86, above 7.8"


def test_spacers_that_another_head_needs_are_named_so():
    report = answer(thickness="1.0; 0.9", pieces="2; 2", most_pieces="1")
    assert value(report, "spacers_2") == "1.00 mm"
    assert why(report, "1.00 mm") == "its spacers are needed under another head"


def test_mixed_pieces_of_one_height_serve_where_the_drawer_is_short():
    report = answer(thickness="0.5; 1.0", pieces="6; 1")
    assert value(report, "spacers_1") in (
        "1: 0.50 + 0.50 mm; 2: 1.00 mm",
        "1: 1.00 mm; 2: 0.50 + 0.50 mm",
        "0.50 + 0.50 mm",
    )
    assert {row["stack"] for row in rows(report)} == {1.0}


def test_unlike_barrels_get_unlike_stacks_and_level_tops():
    report = answer(barrel_length="104; 104.25; 104; 104")
    stacks = [row["stack"] for row in rows(report)]
    assert stacks[0] == pytest.approx(stacks[1] + 0.25)
    assert why(report, "1.00 mm") == "barrel tops 0.25 mm apart"
    table = report.tables[1]
    assert len(table.rows) == 40
    assert table.title.endswith("; 41 more lost")  # nine heights each: 81 in all


def test_equal_lengths_typed_are_as_good_as_none():
    assert answer(barrel_length="104; 104; 104; 104").lead == answer().lead


def test_spacers_of_one_thickness_in_two_rows_are_put_together():
    split = answer(thickness="0.25; 1.0; 1.0; 0.5; 0.75", pieces="4; 2; 2; 4; 2")
    assert split.lead == answer().lead
    assert [rows(split, 1), rows(split, 2)] == [rows(answer(), 1), rows(answer(), 2)]


def test_spacers_are_named_in_the_drawer_s_unit_with_its_decimals():
    assert value(answer(thickness="10 thou; 20 thou; 30 thou; 40 thou"), "spacers_1") == "40.0 thou"
    assert value(answer(thickness="0.25; 0.5; 0.75; 1.005", height_tolerance="0"), "spacers_1") == "1.005 mm"


def test_an_empty_drawer_still_gives_the_ratio():
    report = answer(thickness="", pieces="", least_deck="0", target="8.3")
    assert report.lead.startswith("Under every barrel fit none: 8.24 to 8.37 : 1")


def test_target_out_of_reach_names_the_nearest_and_what_would_have_to_change():
    error = refused(target="9", least_deck="0")
    assert [(one.field, one.message) for one in error.errors] == [
        (
            "target",
            "No stack of these spacers reaches 9 : 1. The nearest is 8.24 : 1, in cylinder 2, with none fitted.",
        )
    ]
    assert rows(error.report)[1]["verdict"] == "out"
    note = next(note for note in error.report.notes if "cylinder 2 needs" in note)
    # 371.965/8 − (49.5 + 50.2655 · 0.038) = −4.91 cm³; over 50.2655 cm² that is 0.98 mm
    assert note == (
        "For 9 : 1, cylinder 2 needs 4.9 cm³ less room above the piston: spacers 0.98 mm thinner, "
        "a skim of the face, or so much in chamber or crown."
    )
    assert why(error.report, "none").startswith("nearest, but ratio 8.24")


def test_target_out_of_reach_says_when_the_deck_clearance_forbids_thinner_spacers():
    # by hand: decks of 0.38 mm and more reach 1 mm with 0.75 mm, not with 0.5 mm
    message = wrong(target="12")["target"]
    assert message.startswith("No stack of these spacers reaches 12 : 1. The nearest is ")
    assert message.endswith(" Thinner ones would leave it less than the least deck clearance, 1.00 mm.")
    assert "Thinner" not in wrong(target="12", least_deck="0")["target"]
    assert wrong(target="5", most_deck="2")["target"].endswith(
        " Thicker ones would leave it more than the most deck clearance, 2.00 mm."
    )
    assert "Thicker" not in wrong(target="3", most_deck="")["target"]


NARROW = {
    "chamber": "43.8; 43.8; 43.8; 43.8", "deck": "0.4; 0.4; 0.4; 0.4", "thickness": "0.25; 1.5", "pieces": "8; 8",
    "tolerance": "0.1",
}  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        # by hand: 43.8 + 5.02655 · 2.15 = 54.607; 371.965/54.607 + 1 = 7.81, but 0.4 + 1.75 is over 2 mm of deck
        (
            {"target": "7.8"},
            "most_deck",
            "No stack within the most deck clearance reaches 7.8 : 1. The nearest is 7.97 : 1, in cylinder 1, with "
            "1.50 mm under every barrel. 1.50 + 0.25 mm would bring cylinder 1 to 7.81 : 1, but with a deck clearance "
            "of 2.15 mm, over the most deck clearance, 2.00 mm.",
        ),
        # by hand: 43.8 + 5.02655 · 0.65 = 47.067; 371.965/47.067 + 1 = 8.90, but 0.4 + 0.25 is under 1 mm
        (
            {"target": "8.9"},
            "least_deck",
            "No stack within the least deck clearance reaches 8.9 : 1. The nearest is 7.97 : 1, in cylinder 1, with "
            "1.50 mm under every barrel. 0.25 mm would bring cylinder 1 to 8.90 : 1, but with a deck clearance "
            "of 0.65 mm, under the least deck clearance, 1.00 mm.",
        ),
        # by hand: 43.8 + 5.02655 · 3.65 = 62.147; 371.965/62.147 + 1 = 6.99, of three pieces
        (
            {"target": "7.0", "most_deck": "", "tolerance": "0.05"},
            "most_pieces",
            "No stack within the most pieces in one stack reaches 7 : 1. The nearest is 7.11 : 1, in cylinder 1, with "
            "1.50 + 1.50 mm under every barrel. 1.50 + 1.50 + 0.25 mm would bring cylinder 1 to 6.99 : 1, but that is "
            "3 pieces, over the most in one stack, 2.",
        ),
        # by hand: 46.3 + 5.02655 · 1.9 = 55.850, 371.965/55.850 + 1 = 7.66; 0.5 mm less, and it is like the others
        (
            {"chamber": "43.8; 46.3; 43.8; 43.8", "thickness": "0.5; 1", "target": "7.97", "tolerance": "0.05"},
            "height_tolerance",
            "No stack within the height tolerance reaches 7.97 : 1. The nearest is 7.66 : 1, in cylinder 2, with "
            "1.00 + 0.50 mm under every barrel. 1.00 + 0.50 mm under cylinder 1; 1.00 mm under cylinder 2; "
            "1.00 + 0.50 mm under cylinders 3 and 4 would reach it, but with the tops of barrels 1 and 2 0.50 mm "
            "apart, over the height tolerance, 0.05 mm.",
        ),
    ],
)
def test_a_ratio_that_a_limit_forbids_names_the_limit(typed, field, said):
    error = refused(**NARROW | typed)
    (found,) = error.errors
    assert found.field == field
    assert found.message == said
    assert error.report.lead.startswith(f"{typed['target'].removesuffix('.0')} : 1 is out of reach within the ")


def test_where_only_the_count_is_short_no_limit_is_blamed():
    report = refused(
        thickness="0.5; 1.1", pieces="4; 3", least_deck="0", tolerance="0.15", target="7.5", most_pieces="1"
    ).report
    assert "is out of reach of this drawer" in report.lead


def test_target_out_of_reach_of_one_cylinder_in_the_house_s_words():
    # 49.5 + 50.2655 · (0.04 + 0.025) = 52.767; 371.965/52.767 + 1 = 8.049
    assert wrong(**SINGLE, thickness="0.25", pieces="8", least_deck="0", target="7", most_pieces="1") == {
        "target": "No stack of these spacers reaches 7 : 1. The nearest is 8.05 : 1, with 0.25 mm under the barrel."
    }


def test_a_ratio_too_high_without_any_spacer_typed_asks_for_the_drawer():
    assert wrong(**SINGLE, thickness="", pieces="", least_deck="0", target="7") == {
        "thickness.1": "Enter the spacers that you have: with none, the nearest to 7 : 1 is 8.22 : 1."
    }
    assert wrong(thickness="", pieces="") == {
        "thickness.1": "Enter the spacers that you have: with none, the deck clearance of cylinder 2 is 0.38 mm, "
        "and 1.00 mm is the least."
    }


def test_a_ratio_too_low_without_any_spacer_typed_is_not_mended_by_one():
    assert wrong(**SINGLE, thickness="", pieces="", least_deck="0", target="9") == {
        "target": "No stack of these spacers reaches 9 : 1. The nearest is 8.22 : 1, with none fitted."
    }


def test_a_target_that_a_fuller_drawer_reaches_names_the_pieces_that_lack():
    # 1.10 mm under every barrel: clearances 56.74, 56.94, 55.99, 56.19 cm³, so 7.53 to 7.64; 0.50 mm gives 7.9 and more
    error = refused(
        thickness="0.5; 1.1", pieces="4; 3", least_deck="0", tolerance="0.15", target="7.5", most_pieces="1"
    )
    assert [(one.field, one.message) for one in error.errors] == [
        (
            "pieces.2",
            "The drawer has too few spacers for 7.5 : 1. 1.10 mm under every barrel would do, "
            "but it needs 4 of 1.10 mm, the drawer has 3.",
        )
    ]
    assert "Nearest" in error.report.lead
    assert answer(thickness="0.5; 1.1", pieces="4; 4", least_deck="0", tolerance="0.15", target="7.5", most_pieces="1")


def test_stacks_that_miss_the_target_are_called_the_nearest_and_not_a_choice():
    report = refused(target="9", least_deck="0").report
    assert report.lead == "9 : 1 is out of reach of this drawer. Nearest: 8.24 to 8.37 : 1, with none fitted."
    labels = [value.label for value in report.values if value.key.startswith("spacers_")]
    assert labels == ["Nearest: spacers under cylinders 1 and 2", "Nearest: spacers under cylinders 3 and 4"]
    chart = report.figures[0]
    assert chart.title.endswith("the dots are nearest")
    assert "chosen" not in told(chart)
    assert "fit this" not in [row["why"] for table in (1, 2) for row in rows(report, table)]
    assert next(value.label for value in answer().values) == "Spacers under cylinders 1 and 2"


def test_an_engine_without_a_choice_names_no_spacers_at_all():
    report = refused(thickness="0.25", pieces="8").report
    assert not [value for value in report.values if value.key.startswith("spacers_")]
    assert report.figures[0].title.endswith("the dots are as measured")


def test_a_dome_is_cautioned_of_and_a_dish_is_not():
    def domes(**typed):
        return [caution.signal for caution in answer(**typed).cautions if "dome" in caution.text]

    assert domes() == []
    assert domes(crown="1; 0; ; 2", target="7.4") == []
    assert domes(crown="0; 0; ; -1.5", target="7.7", tolerance="0.4") == ["caution"]


@pytest.mark.parametrize("text", ["7.6:1", "7.6 : 1", "7.6 to 1"])
def test_the_ratio_and_its_tolerance_are_taken_as_they_are_written(text):
    assert answer(target=text, tolerance="±0.2").as_data() == answer(target="7.6", tolerance="0.2").as_data()
    assert answer(depth_error="± 0.02 mm").as_data() == answer(depth_error="0.02 mm").as_data()


def test_decks_in_a_list_take_the_unit_at_its_end():
    # 16 thou = 0.4064 mm, 18 thou = 0.4572 mm (1 thou = 0.0254 mm: NIST SP 811, B.8)
    report = answer(cylinders="2", heads="1 2", chamber="49; 49", deck="16 18 thou", thickness="1", pieces="2")
    assert [row["deck"] for row in rows(report)] == pytest.approx([1.4064, 1.4572])


def test_the_band_includes_its_edge():
    ratio = value(answer(**SINGLE, volume_error="0"), "lowest_ratio").nominal_value
    assert answer(**SINGLE, target=f"{ratio + 0.2:.9f}", pieces="0; 0; 0; 1")
    assert "target" in wrong(**SINGLE, target=f"{ratio + 0.2001:.9f}", pieces="0; 0; 0; 1")


def test_least_deck_clearance_out_of_reach_says_what_is_missing():
    error = refused(thickness="0.25", pieces="8")
    assert [(one.field, one.message) for one in error.errors] == [
        (
            "least_deck",
            "No stack of these spacers gives cylinder 2 the least deck clearance of 1.00 mm. "
            "The most is 0.88 mm, with 0.25 + 0.25 mm fitted: 0.12 mm is missing.",
        )
    ]
    assert error.report.lead == "Without spacers: 8.24 to 8.37 : 1."
    assert not any(row.chosen for table in error.report.tables for row in table.rows)


def test_too_few_pieces_name_the_drawer():
    error = refused(pieces="0; 0; 0; 3")
    assert [(one.field, one.message) for one in error.errors] == [
        (
            "pieces.4",
            "The drawer has too few spacers for all barrels. 1.00 mm under every barrel would do, "
            "but it needs 4 of 1.00 mm, the drawer has 3.",
        )
    ]
    assert error.report


@pytest.mark.parametrize(
    ("second", "typed", "step", "expanded", "verdict"),
    [
        # by hand: two lengths ± 0.02 mm, U = 2 · 0.02 · √2/√3 = 0.0327 mm, against 0.05 mm
        ("104.00", {}, 0.00, 0.0327, "in"),
        ("104.017", {}, 0.017, 0.0327, "in"),
        ("104.018", {}, 0.018, 0.0327, "too close to call"),
        ("104.05", {}, 0.05, 0.0327, "too close to call"),
        ("104.04", {"depth_error": "0.005"}, 0.04, 0.0082, "in"),
        ("104.04 ± 0.001", {"depth_error": "0"}, 0.04, 0.0012, "in"),
        # two spacers ± 0.03 mm, each off on its own: U = 2 · 0.03 · √2/√3 = 0.0490 mm
        ("104.01", {"depth_error": "0", "thickness": "0.25; 0.5; 0.75; 1.0 ± 0.03"}, 0.01, 0.0490, "too close to call"),
    ],
)
def test_barrel_tops_are_level_only_with_all_of_their_uncertainty(second, typed, step, expanded, verdict):
    report = answer(barrel_length=f"104.00; {second}; ; ", **typed)
    assert magnitude_in(value(report, "step_1"), "mm") == pytest.approx(step, abs=1e-9)
    assert (uncertainty_in(value(report, "step_1"), "mm") or 0) == pytest.approx(expanded, abs=1e-4)
    assert value(report, "level_1") == verdict
    doubted = verdict != "in"
    assert ("Whether the tops of barrels 1 and 2 are level is too close to call." in report.lead) == doubted
    assert any("within 0.05 mm of each other is too close" in notice for notice in notices(report)) == doubted
    assert value(report, "level_2") == "in"  # no lengths typed: taken to be alike


def test_the_step_of_the_chosen_stacks_is_shown_for_every_head_of_more_than_one_barrel():
    # by hand: barrels of 104.00 and 104.24 mm on 1.25 and 1.00 mm stand 0.01 mm apart
    report = answer(barrel_length="104.00; 104.24; ; ", chamber="48.5; 49.5; 48.2; 48.6")
    assert value(report, "spacers_1") == "1: 1.00 + 0.25 mm; 2: 1.00 mm"
    assert magnitude_in(value(report, "step_1"), "mm") == pytest.approx(0.01)
    assert not any(one.key.startswith("step") for one in answer(**SINGLE).values)


def test_of_three_barrels_the_two_farthest_apart_count():
    three = {
        "cylinders": "3",
        "heads": "1 2 3",
        "chamber": "49; 49; 49",
        "deck": "0.4; 0.4; 0.4",
        "pieces": "9; 9; 9; 9",
    }
    report = answer(**three, barrel_length="104.01; 104.04; 104.00", depth_error="0")
    assert magnitude_in(value(report, "step_1"), "mm") == pytest.approx(0.04)


def test_barrels_that_cannot_be_brought_level_are_named():
    assert wrong(barrel_length="104; 104; 104; 104.1") == {
        "barrel_length.3": "No stacks of these spacers bring the tops of barrels 3 and 4 within 0.05 mm of each other. "
        "At best they stand 0.10 mm apart."
    }


def test_too_many_ways_are_refused_at_the_drawer():
    twelve = {
        "cylinders": "12",
        "heads": "1 2 3 4 5 6 / 7 8 9 10 11 12",
        "chamber": "; ".join(f"{48 + cylinder / 7:.2f}" for cylinder in range(12)),
        "deck": "; ".join(f"{0.3 + cylinder / 37:.3f}" for cylinder in range(12)),
        "thickness": "0.101; 0.213; 0.333; 0.457; 0.571; 0.689; 0.797; 0.911",
        "pieces": "2; 2; 2; 2; 2; 2; 2; 2",
        "most_pieces": "3",
        "height_tolerance": "0.3",
    }
    error = refused(**twelve)
    assert [one.field for one in error.errors] == ["thickness.1"]
    assert re.fullmatch(
        r"These spacers can be stacked in too many ways to weigh them all\. Leave out [0-9., and]+ mm, "
        r"(not used|used once|used \d+ times) in the stacks nearest to the target, "
        r"or allow fewer pieces in one stack\.",
        error.errors[0].message,
    )
    assert error.report.lead.startswith("Without spacers")


@pytest.mark.parametrize("heads", ["1 2 / 3", "1 2 / 3 3", "1 2 / 3 4 5", "1 2 3 4 / 4"])
def test_each_cylinder_is_under_one_head(heads):
    assert wrong(heads=heads) == {"heads": "Cylinders under each head must name each cylinder from 1 to 4 once"}


def test_lengths_under_one_head_are_given_all_or_none():
    assert wrong(barrel_length="104; ; ; ") == {
        "barrel_length.2": "Enter the barrel length of cylinder 2, in millimetres, "
        "or leave it empty for every cylinder under that head"
    }
    assert answer(barrel_length="104; 104; ; ")
    assert wrong(barrel_length="4.1 in; ; ; ")["barrel_length.2"].startswith(
        "Enter the barrel length of cylinder 2, in inches, or leave it empty"
    )


def test_no_room_above_the_piston_is_the_chamber_s_error():
    assert set(wrong(chamber="5; 49.5; 48.2; 48.6", crown="-8; ; ; ")) == {"chamber.1"}


@pytest.mark.parametrize(
    ("field", "text", "message"),
    [
        ("bore", "", "Enter the bore, in millimetres"),
        ("bore", "29.9", "Bore must be between 30 mm and 200 mm"),
        ("stroke", "251", "Stroke must be between 20 mm and 250 mm"),
        ("cylinders", "13", "Number of cylinders must be between 1 and 12"),
        (
            "heads",
            "one",
            "Cylinders under each head must be whole numbers in groups parted by a stroke, like 1 2 / 3 4",
        ),
        ("chamber.2", "0.9", "Chamber volume of cylinder 2 must be between 1 cm³ and 2000 cm³"),
        ("chamber.2", "", "Enter the chamber volume of cylinder 2, in cubic centimetres"),
        ("deck.1", "0.4 Nm", "Deck height of cylinder 1 must use a unit of length, like mm or in"),
        ("deck.1", "-11", "Deck height of cylinder 1 must be between −10 mm and 20 mm"),
        ("crown.3", "flat", "Crown volume of cylinder 3 must be a number, like 100 cm³"),
        ("barrel_length.3", "600", "Barrel length of cylinder 3 must be between 20 mm and 500 mm"),
        ("thickness.1", "0.01", "Thickness of spacer 1 must be between 0.02 mm and 10 mm"),
        ("thickness.1", "", "Enter the thickness of spacer 1, in millimetres"),
        ("pieces.2", "1.5", "Pieces of spacer 2 must be a whole number, like 4"),
        ("pieces.2", "100", "Pieces of spacer 2 must be between 0 and 99"),
        ("target", "2.9", "Compression ratio wanted must be between 3 and 20"),
        ("tolerance", "0", "Tolerance of the ratio must be between 0.01 and 2"),
        ("least_deck", "-0.1", "Least deck clearance must be between 0 mm and 20 mm"),
        ("height_tolerance", "2.1", "Height tolerance must be between 0 mm and 2 mm"),
        ("most_pieces", "4", "Most pieces in one stack must be between 1 and 3"),
        ("most_deck", "21", "Most deck clearance must be between 0 mm and 20 mm"),
        ("most_deck", "0.9", "Most deck clearance must be no less than the least, 1.00 mm"),
        ("rod_length", "19", "Rod length must be between 20 mm and 500 mm"),
        ("rod_length", "37", "Rod length must be more than half the stroke, which is 37.00 mm"),
        ("inlet_closing", "121", "Inlet closing after bottom dead centre must be between 0° and 120°"),
        ("altitude", "", "Enter the altitude, in metres"),
        ("altitude", "5001", "Altitude must be between −430 m and 5000 m"),
        ("air_temperature", "", "Enter the air temperature, in degrees Celsius"),
        ("air_temperature", "61", "Air temperature must be between −40 °C and 60 °C"),
        ("air_temperature", "20 mm", "Air temperature must use a unit of temperature, like °C or °F"),
        ("exponent", "1.5", "Polytropic exponent must be between 1 and 1.4"),
        ("exponent_error", "0.3", "Error limit of the exponent must be between 0 and 0.2"),
        ("before", "31", "Spacers fitted before must be between 0 mm and 30 mm"),
        ("rocker_ratio", "0.4", "Rocker ratio must be between 0.5 and 3"),
        ("gasket_thickness", "-1", "Gasket thickness must be between 0 mm and 10 mm"),
        ("gasket_bore", "20", "Gasket bore must be between 30 mm and 250 mm"),
        ("volume_error", "21", "Error limit of the volume readings must be between 0 cm³ and 20 cm³"),
        ("depth_error", "1.1", "Error limit of the depth readings must be between 0 mm and 1 mm"),
        ("bore_error", "", "Enter the error limit of the bore and stroke readings, in millimetres"),
    ],
)
def test_one_wrong_field_has_one_message(field, text, message):
    key, _, row = field.partition(".")
    typed = {field: text}
    if row:  # a column in cells, so that one of them can be wrong
        cells = READINGS.get(key, ";;;").split(";")
        typed = {f"{key}.{number}": cell.strip() for number, cell in enumerate(cells, 1)} | typed
    readings = {name: listed for name, listed in READINGS.items() if not (row and name == key)}
    with pytest.raises(InputErrors) as caught:
        COMPRESSION.answer(readings | typed, CARD)
    assert {error.field: error.message for error in caught.value.errors} == {field: message}


def test_a_most_deck_clearance_is_kept_like_the_least():
    report = answer(most_deck="1.5")
    assert all(row["deck"] <= 1.5 for row in rows(report))
    assert why(report, "1.00 + 0.25 mm", table=2) == "deck clearance 1.70 mm, over 1.50 mm"
    assert [row["stack"] for row in rows(answer(most_deck=""))] == [row["stack"] for row in rows(answer())]


def test_deck_limits_that_no_stack_can_meet_say_what_comes_nearest():
    error = refused(least_deck="1.2", most_deck="1.3")
    assert [(one.field, one.message) for one in error.errors] == [
        (
            "most_deck",
            "No stack of these spacers gives cylinder 2 a deck clearance from 1.20 mm to 1.30 mm. "
            "The nearest is 1.13 mm, with 0.75 mm fitted.",
        )
    ]


def test_tells_what_to_have_made_for_the_very_ratio():
    # 371.965 ÷ 6.6 = 56.358 cm³; − 49.5 − 50.2655 · 0.04 = 4.848; ÷ 50.2655 = 0.0964 cm
    report = answer(**SINGLE, thickness="1", pieces="1")
    assert value(report, "made_1") == "0.96 mm, for 7.60 : 1"
    assert value(answer(), "made_2") == "1.15 mm, for 7.59 to 7.61 : 1"


def test_spacers_to_have_made_keep_the_deck_clearance_and_level_the_tops():
    # 0.6 mm leave the least clearance of 1 mm: 49.5 + 50.2655 · 0.1 = 54.527; 371.965 ÷ 54.527 + 1 = 7.822
    assert value(refused(**SINGLE, target="9").report, "made_1") == "0.60 mm, for 7.82 : 1"
    # 49.1 + 50.2655 · 0.155 = 56.891, so 7.538; 49.5 + 50.2655 · 0.126 = 55.833, so 7.662: equally far from 7.6
    unlike = answer(barrel_length="104; 104.25; 104; 104")
    assert value(unlike, "made_1") == "1: 1.13 mm; 2: 0.88 mm, for 7.54 to 7.66 : 1"


def test_tells_what_to_buy_where_the_drawer_is_short_of_something_better():
    # 1.00 mm would be best under all; the drawer has two of them, and 0.75 mm for the rest
    short = answer(thickness="1.0; 0.75", pieces="2; 4", most_pieces="1", chamber="49.5; 49.5; 49.5; 49.5")
    assert value(short, "to_buy").startswith("2 of 1.00 mm more, for ")
    assert not any(one.key == "to_buy" for one in answer().values)


def test_the_other_lever_by_hand():
    # clearances 56.238, 56.437, 56.745, 56.944; for 7.6: 371.965 ÷ 6.6 = 56.358
    report = answer()
    lever = rows(report, 3)
    assert [row["to_even"] for row in lever[:3]] == pytest.approx([0.706, 0.507, 0.199], abs=2e-3)
    assert lever[3]["to_even"] is None
    assert [row["to_target"] for row in lever] == pytest.approx([0.120, -0.079, -0.387, -0.586], abs=2e-3)
    assert lever[0]["skim"] is None
    assert lever[3]["skim"] == pytest.approx(0.586 / 5.02655, abs=1e-3)


def test_what_chambers_have_in_common_drops_out_of_their_difference():
    # own errors of two volumes ± 0.02 and two depth readings ± 0.02 mm over 50.27 cm²: 2 · √(2 · (0.02² + 0.1005²)/3)
    difference = answer().tables[3].rows[0].cells[2]
    assert uncertainty_in(difference, "cm³") == pytest.approx(0.1674, abs=1e-3)
    # from several burettes, two errors of ± 0.2 besides: 2 · √(2 · (0.2² + 0.02² + 0.1005²)/3)
    difference = answer(filled_from="several").tables[3].rows[0].cells[2]
    assert uncertainty_in(difference, "cm³") == pytest.approx(0.3670, abs=1e-4)


ONE_BURETTE = {
    "bore": "80", "stroke": "74", "thickness": "1", "pieces": "4", "target": "7.76", "tolerance": "0.1",
    "volume_error": "0.4",
}  # fmt: skip


def test_one_burette_s_error_adds_up_in_chamber_and_crown():
    # by hand: clearance 44 + 3.947 + 5.02655 · 1.4 = 54.984 cm³, swept 371.965 cm³; dr/dV = −0.12304 per cm³; one
    # burette puts 2 · 0.4 cm³ into it: U = 2 · 0.12304 · 0.8/√3 = 0.114, which is more than the 0.1 allowed
    typed = {"cylinders": "1", "heads": "1", "chamber": "44.0", "crown": "3.947", "deck": "0.4"}
    one = calculator("compression-and-spacers").answer(ONE_BURETTE | typed)
    assert value(one, "lowest_ratio").nominal_value == pytest.approx(7.765, abs=1e-3)
    assert 2 * value(one, "lowest_ratio").std_dev == pytest.approx(0.114, abs=1e-3)
    assert one.tables[0].rows[0].cells[-1] == "too close to call"
    apart = calculator("compression-and-spacers").answer(ONE_BURETTE | typed | {"filled_from": "several"})
    assert 2 * value(apart, "lowest_ratio").std_dev == pytest.approx(0.081, abs=1e-3)  # √2 less
    assert apart.tables[0].rows[0].cells[-1] == "in"


@pytest.mark.parametrize("chambers", ["50.0; 50.5", "50.0 ± 0.4; 50.5 ± 0.4"])
def test_one_burette_s_error_drops_out_between_two_chambers(chambers):
    # by hand: two own errors of ± 0.02 cm³, U = 2 · 0.02 · √2/√3 = 0.0327
    two = {"cylinders": "2", "heads": "1 2", "chamber": chambers, "deck": "0.4; 0.4", "depth_error": "0"}
    report = calculator("compression-and-spacers").answer(ONE_BURETTE | two | {"target": "7.5"})
    difference = report.tables[[table.key for table in report.tables].index("levers")].rows[0].cells[2]
    assert magnitude_in(difference, "cm³") == pytest.approx(0.5)
    assert uncertainty_in(difference, "cm³") == pytest.approx(0.0327, abs=1e-4)
    spread = value(report, "spread")
    assert spread.nominal_value == pytest.approx(0.0573, abs=1e-3)  # 371.965 · (1/57.037 − 1/57.537)
    assert 2 * spread.std_dev < 0.005
    assert not any("cannot be told apart" in note for note in report.notes)


def test_a_volume_s_own_error_never_exceeds_its_whole():
    # a volume known better than ± 0.02 cm³ has no error of the burette's left
    two = {"cylinders": "2", "heads": "1 2", "chamber": "50.0 ± 0.01; 50.5 ± 0.01", "deck": "0.4; 0.4"}
    report = calculator("compression-and-spacers").answer(ONE_BURETTE | two | {"target": "7.5", "depth_error": "0"})
    difference = report.tables[[table.key for table in report.tables].index("levers")].rows[0].cells[2]
    assert uncertainty_in(difference, "cm³") == pytest.approx(2 * 0.01 * 2**0.5 / 3**0.5)


def test_heads_move_out_by_their_spacers_less_those_before():
    report = answer(before="0.5")
    assert [row["shift"] for row in rows(report, 4)] == pytest.approx([0.5, 0.75])
    assert [row["lash"] for row in rows(report, 4)] == pytest.approx([0.575, 0.8625])
    assert rows(answer(rocker_ratio=""), 4)[0]["lash"] is None


def test_without_rod_or_closing_there_is_no_gauge():
    for left_empty in ({"rod_length": ""}, {"inlet_closing": ""}):
        report = answer(**left_empty)
        assert not {"effective_ratio", "cranking_pressure"} & {one.key for one in report.values}
        assert not any(table.key == "gauges" for table in report.tables)


def test_the_gauge_shows_less_on_a_mountain_and_most_with_tight_rings():
    def gauge(**typed):
        return magnitude_in(value(answer(**typed), "cranking_pressure"), "bar")

    assert gauge(altitude="1500 m") < gauge() < gauge(exponent="1.3")
    assert gauge(inlet_closing="60") < gauge()


def test_most_of_the_gauge_s_uncertainty_comes_from_the_exponent():
    pressure = next(one for one in answer().values if one.key == "cranking_pressure")
    assert pressure.budget[0][0] == "Polytropic exponent"
    assert pressure.budget[0][1] > 0.99


def test_a_ratio_s_budget_names_each_reading():
    lowest = next(one for one in answer().values if one.key == "lowest_ratio")
    assert [name for name, _ in lowest.budget] == [
        "Burette, common to all volumes",
        "Deck height of cylinder 4",
        "Bore",
        "Chamber volume of cylinder 4",
        "Stroke",
    ]


def told_apart(report):
    return [said for said in (*report.notes, *notices(report)) if "cannot be told apart" in said]


def test_says_which_ratios_the_readings_cannot_part():
    assert told_apart(answer()) == []
    cylinders = told_apart(answer(chamber="49.5; 49.4; 49.5; 49.5", deck="0.4; 0.4; 0.4; 0.4"))
    assert cylinders[0].startswith("7.58 and 7.59, the ratios of cylinders 1 and 2, cannot be told apart")
    band = [notice for notice in notices(answer(volume_error="2")) if "told apart" in notice]
    assert band[-1].startswith("7.4 and 7.8 cannot be told apart with these readings: the ratio of cylinder 4 is known")
    assert band[-1].endswith("most of that comes from the burette, common to all volumes.")


def test_says_which_stacks_the_readings_cannot_part():
    notes = told_apart(answer(**SINGLE, thickness="1; 1.02", pieces="1; 1", most_pieces="1"))
    assert notes == [
        "7.58 and 7.57 cannot be told apart with these readings: whether 1.00 mm or 1.02 mm brings cylinder 1 nearer "
        "to 7.6 is not proved. Most of the ± 0.03 comes from the burette, common to all volumes."
    ]


def test_spread_leaves_out_what_the_cylinders_have_in_common():
    spread = value(
        answer(volume_error="0", volume_scatter="0", depth_error="0", chamber="49; 49.5; 49; 49.5"), "spread"
    )
    assert spread.std_dev < 0.001
    assert not any(one.key == "spread" for one in answer(**SINGLE).values)


@pytest.mark.parametrize(
    ("chamber", "target", "words"),
    [
        ("55.5", "7.1", "lowest grade"),
        ("50.6", "7.6", "regular"),
        ("43", "8.6", "premium"),
        ("37.5", "9.6", "any pump petrol"),
    ],
)
def test_cautions_of_the_fuel_by_the_ratio_reached(chamber, target, words):
    report = answer(**(SINGLE | {"chamber": chamber}), target=target, thickness="0.75", pieces="1")
    fuel = [caution.text for caution in report.cautions if "no promise" in caution.text]
    assert len(fuel) == 1
    assert words in fuel[0]


def test_keeps_what_other_calculators_take():
    kept = {one.path: one.text for one in answer().kept}
    assert [kept[f"spacer_height.{number}"] for number in range(1, 5)] == ["1 mm", "1 mm", "1.25 mm", "1.25 mm"]
    assert {path.partition(".")[0] for path in kept} == {
        "spacer_height", "deck_clearance", "clearance_volume", "ratio"
    }  # fmt: skip
    assert float(kept["ratio.1"]) == pytest.approx(7.614, abs=1e-3)


def test_keeps_nothing_that_was_not_chosen():
    assert refused(target="9", least_deck="0").report.kept == ()


def test_warns_of_a_clearance_under_a_millimetre_only_where_it_is():
    assert not any("1 mm of deck clearance" in caution.text for caution in answer().cautions)
    tight = answer(least_deck="0.5", target="8")
    assert any("1 mm of deck clearance" in caution.text for caution in tight.cautions)


def test_a_barrel_alone_under_its_head_needs_no_level_neighbour():
    assert any("stand level" in caution.text for caution in answer().cautions)
    assert not any("stand level" in caution.text for caution in answer(**SINGLE).cautions)


def test_figures_say_in_words_what_they_show():
    chart, section = answer().figures
    assert "Wanted: 7.40 to 7.80" in told(chart)
    assert "cylinder 3 from 8.37 without spacer to 7.15 on 2 mm, chosen 1.25 mm at 7.56" in told(chart)
    assert told(section) == (
        "Section of cylinder 2, piston at top dead centre. Deck clearance between crown and head: 1.38 mm. "
        "Under the barrel: 1.00 mm."
    )
    assert {"1.38 mm", "1.00 mm", "Piston", "Head", "Case"} <= set(texts(section))
    assert "a gasket of 0.60 mm" in told(answer(gasket_thickness="0.6", target="7.4").figures[1])


@settings(max_examples=examples(30))
@given(
    st.lists(st.tuples(st.floats(40, 60), st.floats(-1, 3)), min_size=1, max_size=12),
    st.floats(0, 2),
    st.floats(7, 9),
    st.sampled_from(("", "0.25; 0.5; 1", "0.04; 0.06; 0.1; 0.125; 0.3; 0.7; 1.3; 2.1")),
)
def test_any_readings_are_answered_or_refused_in_words_with_figures_that_fit(readings, gasket, target, drawer):
    count = len(readings)
    typed = {
        "cylinders": str(count),
        "heads": " / ".join(" ".join(map(str, range(1, count + 1)[start : start + 2])) for start in range(0, count, 2)),
        "chamber": "; ".join(f"{chamber:.2f}" for chamber, _ in readings) + ";",
        "deck": "; ".join(f"{deck:.2f}" for _, deck in readings) + ";",
        "gasket_thickness": f"{gasket:.2f}",
        "target": f"{target:.2f}",
        "thickness": drawer,
        "pieces": "; ".join("6" for _ in drawer.split(";")) if drawer else "",
    }
    typed["chamber"], typed["deck"] = typed["chamber"].removesuffix(";"), typed["deck"].removesuffix(";")
    try:
        report = COMPRESSION.answer(READINGS | typed, CARD)
    except InputErrors as error:
        report = error.report
        assert all(one.message for one in error.errors)
    assert report is not None
    for figure in report.figures:
        tree = drawn(figure)
        width, height = (float(number) for number in tree.get("viewBox").split()[2:])
        for element in tree.iter("{http://www.w3.org/2000/svg}text"):
            assert 0 <= float(element.get("x")) <= width
            assert 0 <= float(element.get("y")) <= height
            assert float(element.get("font-size")) >= 13
        for element in tree.iter("{http://www.w3.org/2000/svg}circle"):
            assert 0 <= float(element.get("cx")) <= width
            assert 0 <= float(element.get("cy")) <= height
