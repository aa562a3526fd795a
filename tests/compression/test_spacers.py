"""Which spacers go under the barrels: the choice, why the others lost, and what stands in the way."""

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, quantity, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import error_of, errors_of, wrong
from tests.examples import examples
from tests.physics import (
    Judged,
    falls,
    goes_as_physics_sends_it,
    is_in_only_with_its_whole_uncertainty,
    meets,
    number,
    says,
)
from tests.site.conftest import ROOT

READINGS = {
    "bore": "80",
    "stroke": "74",
    "cylinders": "4",
    "heads": "1 2 / 3 4",
    "chamber": "49.1; 49.5; 48.2; 48.6",
    "deck": "0.42; 0.38; 0.45; 0.41",
    "thickness": "0.25; 0.5; 0.75; 1.0",
    "pieces": "4; 4; 2; 4",
    "target": "7.6",
    "most_deck": "2",
}
SINGLE = {"cylinders": "1", "heads": "1", "chamber": "49.5", "deck": "0.4"}


def answer(**typed):
    return answered("compression.spacers", **{key: text for key, text in (READINGS | typed).items() if text != ""})


def missed(**typed):
    """Return the answer of the nearest stacks, where none reaches the ratio."""
    found = answer(**typed)
    assert "out of reach" in found.headline
    assert found.worked == ()
    return found


def value(found, key):
    return found.value(key).quantity


def rows(found, table=0):
    return found.tables[table].as_data()["rows"]


def why(found, spacers, table=1):
    return next(row["why"] for row in rows(found, table) if row["spacers"] == spacers)


def drawn(figure):
    return ElementTree.fromstring(figure.svg)  # noqa: S314 (we drew it)


def told(figure):
    return drawn(figure).get("aria-label")


def texts(figure):
    return [element.text for element in drawn(figure).iter() if element.text]


def notices(found):
    return [caution.text for caution in found.warnings if caution.signal == "notice"]


def test_leads_with_the_stack_under_each_head_and_the_ratios():
    assert answer().headline == "1 and 2: 1.00 mm · 3 and 4: 1.00 + 0.25 mm"
    assert answer().says == (
        "Under cylinders 1 and 2 fit 1.00 mm; under cylinders 3 and 4 fit 1.00 + 0.25 mm: 7.53 to 7.61 : 1."
    )


def test_says_it_once_where_all_barrels_get_the_same():
    found = answer(chamber="49.5; 49.5; 49.5; 49.5")
    assert found.headline == "1.00 mm under every barrel"
    assert found.says.startswith("Under every barrel fit 1.00 mm: ")
    assert answer(**SINGLE).headline == "1.00 mm under the barrel"


def test_a_headline_that_would_be_too_long_says_what_is_reached():
    six = {
        "cylinders": "6",
        "heads": "1 / 2 / 3 / 4 / 5 / 6",
        "chamber": "47; 48; 49; 50; 51; 51.5",
        "deck": "; ".join(["0.4"] * 6),
        "pieces": "12; 12; 12; 12",
    }
    assert re.fullmatch(r"Barrel by barrel, for 7\.\d\d to 7\.\d\d : 1", answer(**six).headline)


def test_each_barrel_is_drawn_with_what_goes_under_it():
    assert told(answer().drawing) == (
        "Spacers under each barrel. Head over 1 2: cylinder 1 1.00 mm, cylinder 2 1.00 mm; "
        "head over 3 4: cylinder 3 1.00 + 0.25 mm, cylinder 4 1.00 + 0.25 mm."
    )


def test_a_ratio_out_of_reach_shows_the_nearest_and_chooses_nothing():
    found = missed(target="9", least_deck="0")
    assert found.warnings[0].text == (
        "No stack of these spacers reaches 9 : 1. The nearest is 8.24 : 1, in cylinder 2, with none fitted."
    )
    assert found.says == "9 : 1 is out of reach of your spacers. Nearest: 8.24 to 8.37 : 1, with none fitted."
    assert why(found, "none").startswith("nearest, but ratio 8.24")
    labels = [one.label for one in found.values if one.key.startswith("spacers_")]
    assert labels == ["Nearest: spacers under cylinders 1 and 2", "Nearest: spacers under cylinders 3 and 4"]
    assert found.figures[1].title.endswith("the dots are nearest")
    assert "fit this" not in [row["why"] for table in (1, 2) for row in rows(found, table)]


def test_a_ratio_out_of_reach_says_which_deck_clearance_forbids_more():
    # by hand: decks of 0.38 mm and more reach 1 mm with 0.75 mm, not with 0.5 mm
    thinner = " Thinner ones would leave less than the least deck clearance, 1.00 mm."
    assert missed(target="12").warnings[0].text.endswith(thinner)
    assert "Thinner" not in missed(target="12", least_deck="0").warnings[0].text
    thicker = " Thicker ones would leave more than the most deck clearance, 2.00 mm."
    assert missed(target="5").warnings[0].text.endswith(thicker)
    assert "Thicker" not in missed(target="3", most_deck="").warnings[0].text


def test_out_of_reach_of_one_cylinder_in_the_house_s_words():
    # 49.5 + 50.2655 · (0.04 + 0.025) = 52.767; 371.965/52.767 + 1 = 8.049
    found = missed(**SINGLE, thickness="0.25", pieces="8", least_deck="0", target="7", most_pieces="1")
    assert found.warnings[0].text == (
        "No stack of these spacers reaches 7 : 1. The nearest is 8.05 : 1, with 0.25 mm under the barrel."
    )


def test_a_target_that_a_fuller_drawer_reaches_names_the_pieces_that_lack():
    # 1.10 mm under every barrel: clearances 56.74, 56.94, 55.99, 56.19 cm³, so 7.53 to 7.64; 0.50 mm gives 7.9 and more
    short = {
        "thickness": "0.5; 1.1", "pieces": "4; 3", "least_deck": "0", "tolerance": "0.15", "target": "7.5",
        "most_pieces": "1",
    }  # fmt: skip
    found = missed(**short)
    assert found.warnings[0].text == (
        "You have too few spacers for 7.5 : 1. 1.10 mm under every barrel would do, "
        "but it needs 4 of 1.10 mm and you have 3."
    )
    assert "is out of reach of your spacers" in found.says
    assert answer(**short | {"pieces": "4; 4"}).worked


def test_a_drawer_that_is_needed_and_empty_is_lacking_and_not_wrong():
    texts = [f"{key}={text}" for key, text in (READINGS | SINGLE).items() if key not in ("thickness", "pieces")]
    asked = asked_with("compression.spacers", [*texts, "least_deck=0", "target=7"][:-1])
    assert (asked.answer, asked.errors) == (None, ())
    assert [error.message for error in asked.lacking] == [
        "Enter the spacers that you have: with none, the nearest to 7.6 : 1 is 8.22 : 1."
    ]
    asked = asked_with("compression.spacers", texts)
    assert [error.message for error in asked.lacking] == [
        "Enter the spacers that you have: with none, the deck clearance of cylinder 1 is 0.40 mm, "
        "and 1.00 mm is the least."
    ]


def test_an_empty_drawer_serves_where_none_is_needed():
    empty = {"thickness": "", "pieces": "", "least_deck": "0"}
    assert answer(**empty, target="8.3").says.startswith("Under every barrel fit none: 8.24 to 8.37 : 1")
    assert missed(**SINGLE, **empty, target="9").warnings[0].text == (
        "No stack of these spacers reaches 9 : 1. The nearest is 8.22 : 1, with none fitted."
    )


def test_goes_on_as_a_height_for_each_barrel():
    worked = {one.name: magnitude_in(one.value, "mm") for one in answer().worked}
    assert worked == {
        f"spacer_height.{number}": pytest.approx(height) for number, height in enumerate((1, 1, 1.25, 1.25), 1)
    }


def test_a_dome_is_cautioned_of_and_a_dish_is_not():
    def domes(**typed):
        return [caution.signal for caution in answer(**typed).warnings if "dome" in caution.text]

    assert domes() == []
    assert domes(crown="1; 0; ; 2", target="7.4") == []
    assert domes(crown="0; 0; ; -1.5", target="7.7", tolerance="0.4") == ["notice"]


def test_a_stack_too_low_for_the_deck_clearance_says_what_is_missing():
    assert wrong(answer, thickness="0.25", pieces="8") == {
        "least_deck": "No stack of these spacers gives cylinder 2 the least deck clearance of 1.00 mm. "
        "The most is 0.88 mm, with 0.25 + 0.25 mm fitted: 0.12 mm is missing."
    }


def test_too_few_pieces_name_the_drawer():
    assert wrong(answer, pieces="0; 0; 0; 3") == {
        "pieces.4": "You have too few spacers for all barrels. 1.00 mm under every barrel would do, "
        "but it needs 4 of 1.00 mm and you have 3."
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
    field, message = error_of(answer, **twelve)
    assert field == "thickness.1"
    assert message.startswith("There are too many ways to stack these spacers to compare them all. Leave out ")


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"pieces": "4; 1.5; 2; 4"}, "pieces.2", "Pieces of spacer 2 must be a whole number, like 4"),
        ({"most_deck": "0.9"}, "most_deck", "Most deck clearance must be at least the least, 1.00 mm"),
    ],
)
def test_each_mistake_is_said_beside_its_box(typed, field, message):
    assert wrong(answer, **typed)[field].startswith(message)


NARROW = {
    "chamber": "43.8; 43.8; 43.8; 43.8", "deck": "0.4; 0.4; 0.4; 0.4", "thickness": "0.25; 1.5", "pieces": "8; 8",
    "tolerance": "0.1",
}  # fmt: skip


def test_says_whose_ratio_is_too_close_to_call():
    report = answer(tolerance="0.08")
    assert rows(report)[3]["verdict"] == "too close to call"
    assert any(notice.startswith("The ratio of cylinder 4 is too close") for notice in notices(report))
    assert report.says.endswith("7.53 to 7.61 : 1. Whether that is in the band is too close to call at cylinder 4.")


def test_says_whose_deck_clearance_is_too_close_to_call():
    said = " ".join(notices(answer(least_deck="1.38")))
    assert "deck clearance of cylinder 2 is too close to 1.38 mm" in said
    assert "deck clearance of" not in " ".join(notices(answer()))


def test_every_stack_is_ranked_and_says_why_it_lost():
    report = answer(chamber="49.5; 49.5; 49.5; 49.5")
    assert len(rows(report, 1)) == 15  # 1 + 4 + 10 stacks of two pieces at most
    assert why(report, "1.00 mm") == "fit this"
    assert why(report, "0.50 + 0.50 mm") == "same height with more parts"
    assert why(report, "0.75 + 0.75 mm") == "needs 4 of 0.75 mm and you have 2"
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
    assert why(report, "1.00 mm") == "its spacers are used under another head"


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
    assert answer(barrel_length="104; 104; 104; 104").says == answer().says


def test_spacers_of_one_thickness_in_two_rows_are_put_together():
    split = answer(thickness="0.25; 1.0; 1.0; 0.5; 0.75", pieces="4; 2; 2; 4; 2")
    assert split.says == answer().says
    assert [rows(split, 1), rows(split, 2)] == [rows(answer(), 1), rows(answer(), 2)]


def test_spacers_are_named_in_the_drawer_s_unit_with_its_decimals():
    assert value(answer(thickness="10 thou; 20 thou; 30 thou; 40 thou"), "spacers_1") == "40.0 thou"
    assert value(answer(thickness="0.25; 0.5; 0.75; 1.005", height_tolerance="0"), "spacers_1") == "1.005 mm"


@pytest.mark.parametrize(
    ("typed", "limit", "said"),
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
def test_a_ratio_that_a_limit_forbids_names_the_limit(typed, limit, said):
    words = {"most_deck": "the most deck clearance", "least_deck": "the least deck clearance"}
    words |= {"most_pieces": "the most pieces in one stack", "height_tolerance": "the height tolerance"}
    found = missed(**NARROW | typed)
    assert found.warnings[0].text == said
    assert found.says.startswith(
        f"{typed['target'].removesuffix('.0')} : 1 is out of reach within {words[limit]}. Nearest: "
    )


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
    assert ("Whether the tops of barrels 1 and 2 are level is too close to call." in report.says) == doubted
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
    assert wrong(answer, barrel_length="104; 104; 104; 104.1") == {
        "barrel_length.3": "No stacks of these spacers bring the tops of barrels 3 and 4 within 0.05 mm of each other. "
        "At best they stand 0.10 mm apart."
    }


@pytest.mark.parametrize("heads", ["1 2 / 3", "1 2 / 3 3", "1 2 / 3 4 5", "1 2 3 4 / 4"])
def test_each_cylinder_is_under_one_head(heads):
    assert wrong(answer, heads=heads) == {"heads": "Cylinders under each head must name each cylinder from 1 to 4 once"}


def test_lengths_under_one_head_are_given_all_or_none():
    assert wrong(answer, barrel_length="104; ; ; ") == {
        "barrel_length.2": "Enter the barrel length of cylinder 2, in millimetres, "
        "or leave it empty for every cylinder under that head"
    }
    assert answer(barrel_length="104; 104; ; ")
    assert wrong(answer, barrel_length="4.1 in; ; ; ")["barrel_length.2"].startswith(
        "Enter the barrel length of cylinder 2, in inches, or leave it empty"
    )


def test_a_most_deck_clearance_is_kept_like_the_least():
    report = answer(most_deck="1.5")
    assert all(row["deck"] <= 1.5 for row in rows(report))
    assert why(report, "1.00 + 0.25 mm", table=2) == "deck clearance 1.70 mm, over 1.50 mm"
    assert [row["stack"] for row in rows(answer(most_deck=""))] == [row["stack"] for row in rows(answer())]


def test_deck_limits_that_no_stack_can_meet_say_what_comes_nearest():
    assert errors_of(answer, least_deck="1.2", most_deck="1.3") == [
        (
            "most_deck",
            "No stack of these spacers gives cylinder 2 a deck clearance from 1.20 mm to 1.30 mm. "
            "The nearest is 1.13 mm, with 0.75 mm fitted.",
        )
    ]


def test_tells_what_to_buy_where_the_drawer_is_short_of_something_better():
    # 1.00 mm would be best under all; the drawer has two of them, and 0.75 mm for the rest
    short = answer(thickness="1.0; 0.75", pieces="2; 4", most_pieces="1", chamber="49.5; 49.5; 49.5; 49.5")
    assert value(short, "to_buy").startswith("2 of 1.00 mm more, for ")
    assert not any(one.key == "to_buy" for one in answer().values)


def test_warns_of_a_clearance_under_a_millimetre_only_where_it_is():
    assert not any("1 mm of deck clearance" in caution.text for caution in answer().warnings)
    tight = answer(least_deck="0.5", target="8")
    assert any("1 mm of deck clearance" in caution.text for caution in tight.warnings)


def test_a_barrel_alone_under_its_head_needs_no_level_neighbour():
    assert any("stand level" in caution.text for caution in answer().warnings)
    assert not any("stand level" in caution.text for caution in answer(**SINGLE).warnings)


def test_figures_say_in_words_what_they_show():
    section, chart = answer().figures
    assert "Wanted: 7.40 to 7.80" in told(chart)
    assert "cylinder 3 from 8.37 without spacer to 7.15 on 2 mm, chosen 1.25 mm at 7.56" in told(chart)
    assert told(section) == (
        "Section of cylinder 2 as it lies, case left, head right, piston at top dead centre. "
        "Deck clearance between crown and head: 1.38 mm. "
        "Under the barrel: 1.00 mm."
    )
    assert {"1.38 mm", "1.00 mm", "piston", "head", "case"} <= set(texts(section))
    assert "a gasket of 0.60 mm" in told(answer(gasket_thickness="0.6", target="7.4").figures[0])


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
        found = answer(**typed)
    except InputErrors as error:
        assert all(one.message for one in error.errors)
        return
    for figure in (found.drawing, *found.figures):
        tree = drawn(figure)
        width, height = (float(number) for number in tree.get("viewBox").split()[2:])
        for element in tree.iter("{http://www.w3.org/2000/svg}text"):
            assert 0 <= float(element.get("x")) <= width
            assert 0 <= float(element.get("y")) <= height
            assert float(element.get("font-size")) >= 13
        for element in tree.iter("{http://www.w3.org/2000/svg}circle"):
            assert 0 <= float(element.get("cx")) <= width
            assert 0 <= float(element.get("cy")) <= height


def test_the_band_includes_its_edge():
    ratio = value(answer(**SINGLE, burette_error="0"), "lowest_ratio").nominal_value
    assert "out of reach" not in answer(**SINGLE, target=f"{ratio + 0.2:.9f}", pieces="0; 0; 0; 1").headline
    assert missed(**SINGLE, target=f"{ratio + 0.2001:.9f}", pieces="0; 0; 0; 1")


def test_says_which_stacks_the_readings_cannot_part():
    found = answer(**SINGLE, thickness="1; 1.02", pieces="1; 1", most_pieces="1")
    assert [notice for notice in notices(found) if "told apart" in notice] == [
        "7.58 and 7.57 cannot be told apart with these readings: whether 1.00 mm or 1.02 mm brings cylinder 1 nearer "
        "to 7.6 is not proved. Most of the ± 0.03 comes from the burette."
    ]


def test_says_where_the_readings_cannot_part_the_ends_of_the_band():
    (notice,) = (notice for notice in notices(answer(burette_error="2")) if "told apart" in notice)
    assert notice.startswith("7.4 and 7.8 cannot be told apart with these readings of cylinder 4. Most of the ± ")
    assert notice.endswith(" comes from the burette.")
    assert not any("told apart" in notice for notice in notices(answer()))


BARE = {"thickness": "", "pieces": "", "least_deck": "0", "tolerance": "2", "most_deck": "", "target": "8"}

test_the_ratios_go_as_physics_sends_them = goes_as_physics_sends_it(
    lambda **typed: answer(**BARE | typed),
    falls("chamber", (44, 48), "highest_ratio", "a large one squeezes less", written="49.1; 49.5; {:.6f}; 48.6"),
    falls("deck", (0.6, 1.6), "lowest_ratio", "a deeper deck is more room", written="0.42; 0.38; 0.45; {:.6f}"),
)
test_a_ratio_is_in_only_with_its_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    lambda **typed: answer(**BARE | typed),
    Judged(
        "tolerance",
        lambda found: value(found, "highest_ratio").nominal_value - 8,
        number("highest_ratio"),
        lambda found: {row["verdict"] for row in rows(found)} == {"in"},
        lambda typed, found: 8 + typed,
    ),
)
test_tops_are_level_only_with_the_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    lambda **typed: answer(barrel_length="104; 104.04; ; ", **typed),
    Judged("height_tolerance", meets("step_1"), number("step_1"), says("level_1")),
)


def test_the_answer_says_what_two_manuals_set_between_piston_and_head():
    """0.0217/0.0256 inch (0.55/0.65 mm): US Army TM 10-4320-310-14, page 5-22; TM 10-4320-318-14, page 6-14.

    Both air-cooled diesels, both read in a stored copy.
    """
    (said,) = (note for note in answer().notes if "other air-cooled engines" in note)
    assert "0.55 to 0.65 mm" in said
    page = (ROOT / "docs" / "reference" / "published-limits.md").read_text(encoding="utf-8")
    for manual in ("TM 10-4320-310-14", "TM 10-4320-318-14"):
        assert manual in said
        assert any("0.55 to 0.65 mm" in row and manual in row for row in page.splitlines())
    for inches, millimetres in ((0.0217, 0.55), (0.0256, 0.65)):
        assert quantity(inches, "in").to("mm").magnitude == pytest.approx(millimetres, abs=2e-3)
