"""Contact breaker points: the verdict on the dwell, and the gap from two gaps tried."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import error_of, read_off, signals
from tests.physics import Judged, falls, goes_as_physics_sends_it, is_in_only_with_its_whole_uncertainty

TWO_GAPS = {"dwell": "50", "dwell_read": "53", "gap_fitted": "0.35", "gap_second": "0.45"}


answer = partial(answered, "timing.points", lobes="4")


def test_dwell_is_judged_and_told_in_per_cent():
    # by hand: 50° of 90° is 55.6 %; 57 − 50 = 7° more than ± 3° allow
    found = answer(dwell="50", dwell_read="57")
    assert found.headline == "Dwell 57.0°: out"
    assert found.value("dwell_share").texts == ("55.6%",)
    assert found.value("dwell_verdict").quantity == "out"
    assert found.says == "Dwell of 57.0° is out: set the gap before the timing."
    assert read_off(found, "spark_later", "°") == pytest.approx(-7)
    assert signals(found, "Dwell first, then timing") == ["notice"]
    assert signals(found, "ignition off before you touch") == ["warning"]
    assert "read 57.0°" in found.drawing.svg


@pytest.mark.parametrize(
    ("read", "verdict"), [("50", "in"), ("51.7", "in"), ("52.5", "too close to call"), ("54.5", "out")]
)
def test_dwell_is_in_only_with_all_of_its_uncertainty(read, verdict):
    # by hand: ± 3° less U of 2 √(1² + 0.5²) / √3, 1.29°
    found = answer(dwell="50", dwell_read=read)
    assert found.value("dwell_verdict").quantity == verdict
    assert bool(signals(found, "cannot tell")) == (verdict == "too close to call")
    assert bool(signals(found, "Dwell first")) == (verdict != "in")
    assert ("leave the gap as it is" in found.says) == (verdict == "in")


def test_a_share_and_its_angle_read_alike():
    # by hand: 60 % of 60° is 36°
    for typed in ({"dwell_read": "36"}, {"dwell_read_share": "60"}):
        found = answer(dwell="36", lobes="6", **typed)
        assert (found.value("dwell_verdict").quantity, read_off(found, "spark_later", "°")) == ("in", pytest.approx(0))
    # a share typed with its own ± keeps it: 2 · 1 % of 60° / √3
    found = answer(dwell="36", lobes="6", dwell_read_share="60 ± 1")
    assert uncertainty_in(found.value("spark_later").quantity, "°") == pytest.approx(2 * 0.6 / 3**0.5)


def test_one_of_the_two_is_answered_by_itself():
    found = answer(dwell="50")
    assert found.headline == "Dwell 50.0° is 55.6%"
    assert found.value("dwell_verdict") is None
    found = answer(dwell_read="54")
    # by hand: 54 of 90°
    assert found.headline == "Dwell 54.0° is 60.0%"
    assert found.value("spark_later") is None
    asked = asked_with("timing.points", ["lobes=4"])
    assert [error.message for error in asked.lacking] == ["Enter the dwell read, in degrees"]


def test_two_gaps_tell_the_third():
    # by hand: from 53° at 0.35 mm to 48° at 0.45 mm, 50° is at 0.41 mm
    found = answer(**TWO_GAPS, dwell_second="48")
    assert found.headline == "Set the gap to 0.41 mm"
    assert magnitude_in(found.value("gap_to_set").quantity, "mm") == pytest.approx(0.41)
    # by hand: what the meter is off by moves both readings, and the gap by 0.1 mm for 5°: 0.02 mm a degree
    alike = answer(**TWO_GAPS, dwell_second="48", dwell_read_to="0").value("gap_to_set").quantity
    assert uncertainty_in(alike, "mm") == pytest.approx(2 * 0.02 / 3**0.5)


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"dwell": "90"}, "dwell", "Dwell wanted must be less than 90°, from lobe to lobe"),
        ({"dwell_read": "60", "lobes": "6"}, "dwell_read", "Dwell read must be less than 60°, from lobe to lobe"),
        (
            TWO_GAPS | {"dwell_second": "90"},
            "dwell_second",
            "Dwell at the second gap must be less than 90°, from lobe to lobe",
        ),
        (
            {"dwell_read": "50", "dwell_read_share": "55"},
            "dwell_read_share",
            "Dwell read in per cent must be empty if it was read in degrees",
        ),
        (TWO_GAPS, "dwell_second", "Enter the dwell at the second gap, in degrees"),
        (
            TWO_GAPS | {"gap_second": "", "dwell_second": "48"},
            "gap_second",
            "Enter the second gap, in millimetres",
        ),
        (
            TWO_GAPS | {"dwell_second": "55"},
            "dwell_second",
            "Dwell at the second gap must be less with the wider gap, by half a degree or more. Check both",
        ),
        (
            TWO_GAPS | {"dwell_second": "52.6"},
            "dwell_second",
            "Dwell at the second gap must be less with the wider gap, by half a degree or more. Check both",
        ),
        (
            TWO_GAPS | {"dwell_second": "52.5", "dwell": "20"},
            "dwell_second",
            "No gap from 0.1 to 1.5 mm gives 20° by these two readings. Check them",
        ),
    ],
)
def test_each_mistake_gets_its_sentence(typed, field, message):
    found = error_of(answer, **typed)
    assert found[0] == field
    assert found[1].startswith(message.removesuffix(", like 50"))


@pytest.mark.parametrize("lobes", ["1", "3", "8"])
def test_each_lobe_has_its_bars(lobes):
    svg = answer(lobes=lobes, dwell="30", dwell_read="31").drawing.svg
    assert svg.count('class="chosen"') == int(lobes)
    assert svg.count('class="spacer"') == int(lobes)


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    lambda **typed: answer(dwell="50", **typed),
    falls("dwell_read", (20, 70), "spark_later", "points shut for longer open later"),
)

test_in_is_said_only_with_the_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    lambda **typed: answer(dwell="50", **{"dwell_read": "53"} | typed),
    Judged(
        "dwell_read",
        lambda found: 53,
        lambda found: (
            50 - read_off(found, "spark_later", "°"),
            uncertainty_in(found.value("spark_later").quantity, "°"),
        ),
        lambda found: found.value("dwell_verdict").quantity == "in",
        limit=lambda typed, found: 53,
    ),
)
