"""How far each head moves, and the pushrods that it asks for."""

from functools import partial
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered
from calculators.bench.desk import Desk
from calculators.pushrods.moved_heads import spoken
from tests.answers import drawn_words, wrong
from tests.cards import MARRAM as CARD
from tests.examples import examples
from tests.physics import falls, goes_as_physics_sends_it, rises

ONE = {
    "cylinders": "4",
    "heads": "1 2 / 3 4",
    "spacer_height": "1; 1; 1.25; 1.25",
    "pushrod_length": "276 mm",
    "pushrod_slope": "8°",
}


answer = partial(answered, "pushrods.length", **ONE)


def column(found, key):
    (table,) = found.tables
    place = [column.key for column in table.columns].index(key)
    return [magnitude_in(row.cells[place], "mm") for row in table.rows]


def test_each_head_has_its_pushrod():
    found = answer()
    # by hand: √(276² + 2 · 276 · 1.25 · cos 8° + 1.25²) = 277.23789
    assert magnitude_in(found.value("pushrod_2").quantity, "mm") == pytest.approx(277.2379, abs=5e-5)
    assert column(found, "reach") == pytest.approx([0.9903, 1.2379], abs=5e-5)
    assert found.headline == "277.0 and 277.2 mm"
    assert found.says == (
        "The head over cylinders 1 and 2 moves out 1.00 mm; the head over cylinders 3 and 4 moves out 1.25 mm. "
        "Pushrods of 277.0 and 277.2 mm keep the rockers where they were."
    )
    assert drawn_words(found) == (
        "Side of the engine with cylinder 3, case at the left. Head moves out 1.25 mm. Pushrod 276.0 mm before, "
        "277.2 mm after."
    )


def test_it_says_once_where_all_heads_move_alike():
    assert answer(spacer_height="1; 1; 1; 1").says.startswith("Each head moves out 1.00 mm. ")
    assert answer(spacer_height="0; 0; 0; 0").says.startswith("Each head stays where it was. ")
    assert answer(spacer_height="0.5; 0.5; 0.5; 0.5", before="1").says.startswith("Each head moves in 0.50 mm. ")


def test_spacers_before_and_other_changes_count():
    assert column(answer(before="0.5", other_shift="-0.2"), "shift") == pytest.approx([0.3, 0.55])


def test_unlike_spacers_under_one_head_count_by_their_mean_and_are_told():
    found = answer(spacer_height="1; 1.25; 1; 1")
    assert column(found, "shift")[0] == pytest.approx(1.125)
    assert any("Under cylinders 1 and 2 are different spacers" in caution.text for caution in found.warnings)
    assert [caution.signal for caution in answer().warnings] == ["notice"]


def test_an_old_pushrods_error_drops_out():
    (table,) = answer().tables
    assert uncertainty_in(table.rows[0].cells[3], "mm") is None


def test_old_and_new_of_one_calliper_differ_by_what_each_is_read_to():
    # two readings, each to ± 0.05 by itself: 2 · √(2 · 0.05²/3) is 0.0816 (JCGM 100:2008, 4.3.7, 5.1.2, 5.2 and 6.2);
    # the calliper's own 0.1 mm is in both
    (table,) = answer(new_length="276").tables
    assert uncertainty_in(table.rows[0].cells[3], "mm") == pytest.approx(0.0816, abs=2e-4)
    # a typed ± is the calliper's but for what a reading is read to, so it drops out alike
    (table,) = answer(pushrod_length="276 ± 0.1", new_length="276 ± 0.1").tables
    assert uncertainty_in(table.rows[0].cells[3], "mm") == pytest.approx(0.0816, abs=2e-4)


def test_new_pushrods_are_held_against_those_wanted():
    found = answer(new_length="276.99", spacer_height="1; 1; 1; 1")
    assert column(found, "reach") == pytest.approx([0, 0], abs=1e-3)
    assert found.says.endswith("The new ones are right at cylinders 1 and 2; right at cylinders 3 and 4.")
    assert found.notes == ()
    found = answer(new_length="277.1")
    assert found.says.endswith("0.11 mm long at cylinders 1 and 2; 0.14 mm short at cylinders 3 and 4.")
    assert magnitude_in(found.value("short_2").quantity, "mm") == pytest.approx(0.1379, abs=5e-5)
    assert answer().notes


def test_what_each_head_moved_goes_on():
    worked = {one.name: magnitude_in(one.value, "mm") for one in answer().worked}
    assert worked == pytest.approx(
        {"head_shift.1": 1, "pushrod_reach.1": 0.9903, "head_shift.2": 1.25, "pushrod_reach.2": 1.2379}, abs=5e-5
    )


def test_the_card_tells_length_and_slope():
    asked = Desk({}, CARD, example=True).ask("pushrods.length")
    assert magnitude_in(asked.known["pushrod_slope"].value, "°") == 8
    assert asked.answer.headline == "277.0 and 277.2 mm"


def test_one_head_alone_has_one_pushrod():
    found = answered("pushrods.length", spacer_height="1; 1", cylinders="2", heads="1 2", pushrod_length="276")
    assert found.headline == "277.0 mm"
    assert found.says.startswith("The head over cylinders 1 and 2 moves out 1.00 mm.")


def test_heads_name_each_cylinder_once():
    message = "Cylinders under each head must name each cylinder from 1 to 4 once"
    assert wrong(answer, heads="1 2 / 3")["heads"] == message


def test_a_wrong_spacer_is_named_by_its_cylinder():
    assert wrong(answer, spacer_height="1; 1; x; 1") == {
        "spacer_height.3": "Spacers fitted now of cylinder 3 must be a number, like 1.25"
    }


def test_many_lengths_are_told_by_their_ends():
    assert spoken((277.0, 277.04, 277.1)) == "277.0 and 277.1 mm"
    assert spoken((277.4, 277.0, 277.1, 277.2)) == "277.0 to 277.4 mm"


@settings(max_examples=examples(60), deadline=None)
@given(st.lists(st.floats(0, 30), min_size=4, max_size=4), st.floats(0, 30), st.floats(0, 45))
def test_any_stack_has_a_figure_that_fits(heights, before, slope):
    found = answer(
        spacer_height="; ".join(f"{height:.2f}" for height in heights),
        before=f"{before:.2f}",
        pushrod_slope=f"{slope:.1f}",
    )
    tree = ElementTree.fromstring(found.drawing.svg)  # noqa: S314 (we drew it)
    width, height = (float(number) for number in tree.get("viewBox").split()[2:])
    for element in tree.iter():
        for name, most in (("x", width), ("x1", width), ("x2", width), ("cx", width), ("y", height), ("cy", height)):
            if element.get(name) is not None:
                assert 0 <= float(element.get(name)) <= most


@settings(max_examples=examples(30), deadline=None)
@given(st.floats(0.05, 3), st.floats(0.05, 3))
def test_thicker_spacers_ask_for_longer_pushrods(thin, more):
    first, second = (
        column(answer(spacer_height="; ".join([f"{height:.4f}"] * 4)), "pushrod")[0] for height in (thin, thin + more)
    )
    assert second > first


test_the_pushrod_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer,
    rises("spacer_height", (0.2, 3), "pushrods 1 shift", "the head stands on it", written="{:.6f}; 1; 1; 1"),
    falls("before", (0, 0.8), "pushrods 1 shift", "only the difference moves the head"),
    rises("pushrod_length", (200, 300), "pushrods 1 pushrod", "the same is added to a longer one"),
    falls("pushrod_slope", (1, 40), "pushrods 1 pushrod", "a leaning rod gets less of the shift along it"),
)
