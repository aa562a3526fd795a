"""What moves with the heads."""

from functools import partial

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered
from tests.answers import rows

FOUR = {"cylinders": "4", "heads": "1 2 / 3 4", "spacer": "1; 1; 1.25; 1.25"}


shift = partial(answered, "compression.head_shift", **FOUR)


def test_heads_move_out_by_their_spacers_less_those_before():
    # 1 − 0.5 and 1.25 − 0.5; × 1.15
    found = shift(before="0.5", rocker_ratio="1.15")
    assert [row["shift"] for row in rows(found)] == pytest.approx([0.5, 0.75])
    assert [row["lash"] for row in rows(found)] == pytest.approx([0.575, 0.8625])
    assert found.headline == "Heads move out by up to 0.75 mm"
    assert rows(shift())[0]["lash"] is None


def test_unlike_spacers_under_one_head_move_it_by_their_mean():
    assert rows(shift(spacer="1; 1.5; 1; 1"))[0]["shift"] == pytest.approx(1.25)


def test_heads_that_move_in_are_warned_of():
    found = shift(before="2")
    assert found.headline == "Heads move in by up to 1.00 mm"
    (notice,) = found.warnings
    assert notice.signal == "notice"
    assert "closes the lash" in notice.text


def test_heads_that_move_out_want_their_tubes_looked_at():
    assert [caution.signal for caution in shift().warnings] == ["notice"]
    assert shift(spacer="1; 1; 1; 1", before="1").warnings == ()


def test_it_takes_the_chosen_spacers():
    found = answered(
        "compression.head_shift", bore="80", stroke="74", cylinders="4", heads="1 2 / 3 4",
        chamber="49.1; 49.5; 48.2; 48.6", deck="0.42; 0.38; 0.45; 0.41", thickness="0.25; 0.5; 0.75; 1.0",
        pieces="4; 4; 2; 4", target="7.6",
    )  # fmt: skip
    assert [row["shift"] for row in rows(found)] == pytest.approx([1, 1.25])
    assert "moves out by 1.25 mm" in found.drawing.svg


def test_heads_name_each_cylinder_once():
    with pytest.raises(InputErrors, match="Cylinders under each head must name each cylinder from 1 to 4 once"):
        shift(heads="1 2 / 3")
