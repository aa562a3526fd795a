"""What the lock-nut adds: the sum, its uncertainty, the gaps to set, and what cannot be set."""

from functools import partial

import pytest

from calculators import uncertainty_in
from calculators.bench.asking import answered
from tests.answers import errors_of, read_off
from tests.physics import falls, goes_as_physics_sends_it, rises

GAPS = {"inlet_clearance": "0.15 mm", "exhaust_clearance": "0.20 mm"}


answer = partial(answered, "lash.lock_nut", **GAPS)


def test_what_the_nut_adds_is_taken_off_the_gap_to_set():
    found = answer(gap_before="0.15", gap_after="0.18")
    assert read_off(found, "pull") == pytest.approx(0.03)
    assert read_off(found, "inlet_loose") == pytest.approx(0.12)
    assert read_off(found, "exhaust_loose") == pytest.approx(0.17)
    assert found.headline == "+0.03 mm · nut loose: IN 0.12, EX 0.17 mm"


def test_a_nut_that_closes_the_gap_leaves_a_wider_one_to_set():
    found = answer(gap_before="0.20", gap_after="0.17")
    assert read_off(found, "inlet_loose") == pytest.approx(0.18)
    assert found.headline == "−0.03 mm · nut loose: IN 0.18, EX 0.23 mm"


def test_says_which_reading_it_is_unsure_by():
    pull = answer(gap_before="0.15 ± 0.03", gap_after="0.18 ± 0.01").value("pull")
    # JCGM 100:2008, 5.1.2: variances add, 0.03² to 0.01²
    assert dict(pull.budget) == pytest.approx({"Gap before tightening": 0.9, "Gap after tightening": 0.1})


def test_each_gap_is_felt_anew_so_their_errors_add():
    # two readings good to 0.01 mm each: U = 2 · √2 · 0.01 ÷ √3
    pull = answer(gap_before="0.15", gap_after="0.18").value("pull").quantity
    assert uncertainty_in(pull, "mm") == pytest.approx(2 * 2**0.5 * 0.01 / 3**0.5)


def test_it_goes_on_as_a_value_with_its_uncertainty():
    (worked,) = answer(gap_before="0.15", gap_after="0.18").worked
    assert worked.name == "locknut_adds"
    assert uncertainty_in(worked.value, "mm") > 0


@pytest.mark.parametrize(("after", "told"), [("0.16", True), ("0.20", False)])
def test_an_addition_too_small_to_tell_is_said_to_be(after, told):
    texts = [caution.text for caution in answer(gap_before="0.15", gap_after=after).warnings]
    assert any("too small for these readings to tell from zero" in text for text in texts) == told


def test_blades_off_the_gap_with_the_nut_loose_say_by_how_much():
    found = answer(gap_before="0.15", gap_after="0.18", blades="0.15 0.20")
    assert found.value("inlet_loose_blades").texts == ("0.15 mm, 0.03 mm too wide",)


def test_a_nut_that_adds_more_than_the_gap_is_refused():
    assert errors_of(answer, gap_before="0.15", gap_after="0.30") == [
        (
            "gap_after",
            "The lock-nut adds 0.15 mm, which leaves less than 0.02 mm to set the inlet valves to. "
            "Clean or change the screw and the nut, then try again.",
        )
    ]


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    lambda **typed: answer(**{"gap_before": "0.15", "gap_after": "0.17"} | typed),
    rises("gap_after", (0.16, 0.27), "pull", "the nut pulls the screw by what the gap grows"),
    falls("gap_before", (0.05, 0.16), "pull", "the nut pulls the screw by what the gap grows"),
)
