"""Old springs against a new one."""

from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answered, asked_with
from tests.springs.test_loads import SURE, TWO_LOADS

ONE = {"free_length": "47.5", "new_load": "265 N"}
EXACT = {key: text for key, text in SURE.items() if key not in ("wire_error", "coils_error", "modulus_error")}
LOADS = TWO_LOADS | {"fitted_length": "38 mm", "valve_lift": "8 mm", "free_length": "47.5"}


answer = partial(answered, "springs.old", **ONE | EXACT)


def from_loads(**typed):
    """Ask with the new spring's two loads: its seat load and rate come as they are."""
    return answered("springs.old", **(LOADS | EXACT | typed))


def verdicts(found):
    return [row.cells[-1] for row in found.tables[0].rows]


@pytest.mark.parametrize(
    ("free", "load", "verdict", "headline"),
    [
        ("47.4", "262 N", "keep", "Keep it"),
        ("46.0", "262 N", "replace", "Replace it"),
        ("47.4", "230 N", "replace", "Replace it"),
        ("46.5 ± 0.2", "", "too close to call", "Too close to call"),
        ("", "238.5 ± 4", "too close to call", "Too close to call"),
        ("", "230 ± 4", "replace", "Replace it"),
    ],
)
def test_an_old_spring_is_kept_or_replaced_by_what_it_has_lost(free, load, verdict, headline):
    # by hand: 265 N less 10 % is 238.5 N; 47.5 mm less 1 mm is 46.5 mm
    found = answer(old_free=free, old_load=load)
    assert verdicts(found) == [verdict]
    assert found.headline == headline
    assert verdict in found.drawing.svg


@pytest.mark.parametrize(("load", "verdict"), [("244 N", "too close to call"), ("252 N", "keep"), ("226 N", "replace")])
def test_an_old_load_is_held_against_a_new_one_that_is_not_exact(load, verdict):
    # by hand: 90 % of 265 ± 8.1 N (± 7 N as typed) less 265 N's own; 244 lies 5.5 above 238.5 with U 7.3
    assert verdicts(from_loads(old_load=load, load_a="265 ± 7 N", load_b="489 ± 7 N")) == [verdict]
    assert verdicts(from_loads(old_load="244 N")) == ["keep"]


def test_an_old_load_carries_the_error_of_its_length():
    # by hand: the new spring's two loads come from a tester without error; 28 N/mm · 0.3 mm is 8.4 N
    typed = {"length_a": "38 ± 0.001", "length_b": "30 ± 0.001"}
    assert verdicts(from_loads(old_load="244 N", stop_error="0.3 mm", **typed)) == ["too close to call"]
    assert verdicts(from_loads(old_load="244 N", **typed)) == ["keep"]


def test_a_tester_off_alike_in_old_and_new_counts_by_what_the_limit_leaves_of_it():
    # by hand: 20 N of the tester are in the old load whole and in the least one by nine tenths: U 2/√3 · 2 N is 2.3 N
    assert verdicts(from_loads(old_load="242 N", load_error="20 N")) == ["keep"]
    assert verdicts(answer(old_load="242 N", load_error="20 N")) == ["too close to call"]


def test_old_and_new_length_of_one_calliper_differ_by_its_scatter_alone():
    # by hand: 47.5 less 1 mm is 46.5 mm; 46.6 is 0.1 mm above, and two scatters of 0.05 mm have U 0.08 mm
    assert verdicts(answer(old_free="46.6", length_error="0.5 mm", length_scatter="0.05 mm")) == ["keep"]
    assert verdicts(answer(old_free="46.6", length_scatter="0.1 mm")) == ["too close to call"]


def test_several_are_told_by_their_numbers():
    found = answer(old_free="47.4; 46.0; 46.5 ± 0.2; 47.3")
    assert found.headline == "Replace 2; 3 too close"
    assert found.says == "Of the old springs replace 2; keep 1 and 4; too close to call: 3."
    assert [caution.signal for caution in found.warnings] == ["warning", "notice", "notice"]
    assert answer(old_free="47.4; 47.3").headline == "Keep all 2"
    assert answer(old_free="46.0; 46.1").headline == "Replace all 2"
    assert [caution.signal for caution in answer(old_free="47.4").warnings] == ["warning"]
    many = answer(old_free="; ".join(["46.0"] * 20 + ["47.4"] * 4))
    assert many.headline == "Replace 20 of 24"


def test_the_allowed_losses_decide():
    # by hand: 46 N of 265 N is 17.4 %
    assert verdicts(answer(old_load="219 N")) == ["replace"]
    assert verdicts(answer(old_load="219 N", loss_of_load="20 %")) == ["keep"]
    assert verdicts(answer(old_free="46.0", loss_of_length="2 mm")) == ["keep"]
    least = answer(old_free="46.0", loss_of_length="2 mm").value("least_free").quantity
    assert magnitude_in(least, "mm") == pytest.approx(45.5)


def test_what_it_needs_of_a_new_one_is_what_was_found_of_the_old():
    assert answer(old_free="47", new_load="").value("least_load") is None
    asked = asked_with("springs.old", ["old_load=250 N", "free_length=47.5"])
    assert [error.message for error in asked.lacking] == [
        "Enter the load of a new one at the fitted length, in newtons"
    ]
    asked = asked_with("springs.old", ["old_free=47", "new_load=265 N"])
    assert [error.message for error in asked.lacking] == ["Enter the free length of a new one, in millimetres"]


def test_without_an_old_spring_it_says_what_it_needs():
    asked = asked_with("springs.old", ["free_length=47.5", "new_load=265 N"])
    assert [error.message for error in asked.lacking] == ["Enter the free length found or the load, one row a spring"]
    asked = asked_with("springs.old", ["free_length=47.5", "old_free.2=47"])
    assert [error.message for error in asked.lacking] == ["Enter the free length or the load of old spring 1"]
