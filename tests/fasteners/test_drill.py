"""Drills for a thread, for its insert, and for a stud to pass."""

from functools import partial

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answered
from calculators.formulas.threads import FASTENERS
from tests.physics import falls, goes_as_physics_sends_it

answer = partial(answered, "fasteners.drill", thread="M8 × 1.25")


def rows(**typed):
    (table,) = answer(**typed).tables
    return table.rows


def test_it_gives_the_drills():
    found = answer()
    assert found.headline == "6.8 mm to tap · 8.4 mm for an insert"
    assert found.says == "M8 × 1.25: drill 6.8 mm to tap it, 8.4 mm for a wire insert, 9.0 mm as a clearance hole."


def test_drills_leave_about_the_share_wanted():
    for row in rows(thread="M10 × 1.5", share="75")[:2]:
        assert magnitude_in(row.cells[3], "%") == pytest.approx(75, abs=3)
    through = rows(thread="M10 × 1.5")[2].cells
    assert magnitude_in(through[1], "mm") == 11
    assert through[3] is None


def test_less_thread_wants_a_larger_drill():
    most, least = (magnitude_in(answer(share=share).value("tapping_drill").quantity, "mm") for share in ("60", "90"))
    assert most > least


@pytest.mark.parametrize("thread", FASTENERS)
def test_every_thread_has_its_holes_drawn(thread):
    found = answer(thread=thread)
    assert thread in found.drawing.svg
    assert len(found.headline) <= 60


def test_swarf_is_warned_of_before_the_drill():
    (warning,) = answer().warnings
    assert warning.signal == "warning"
    assert "magnesium burns" in warning.text


test_the_drill_goes_as_physics_sends_it = goes_as_physics_sends_it(
    answer, falls("share", (40, 95), "drills 1 wanted", "a deeper thread leaves a smaller hole")
)
