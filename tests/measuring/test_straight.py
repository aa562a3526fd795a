"""Whether each barrel stands straight, by the tilt along its pin."""

import math
from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered
from tests.answers import rows, wrong
from tests.physics import Judged, is_in_only_with_its_whole_uncertainty, meets, number, says

DEPTHS = "0.43 0.46 0.41 0.38; 0.38 0.40 0.39 0.36; 0.45 0.43 0.45 0.47; 0.41 0.43 0.42 0.40"


straight = partial(answered, "measuring.straight", cylinders="4", bore="80", depth=DEPTHS)


def one(depth, **typed):
    return straight(cylinders="1", depth=depth, **typed)


def test_no_barrel_stands_crooked():
    assert straight().headline == "No barrel stands crooked"
    assert one("0.43 0.46 0.41 0.38", tilt_allowed="1").says == "The barrel stands straight."


def test_tilt_is_taken_across_the_bore_along_the_pin():
    # 0.50 − 0.36 = 0.14 between opposite points on the bore's own circle; 0.08 across the pin
    row = rows(one("0.50 0.46 0.36 0.38"))[0]
    assert row["tilt"] == pytest.approx(0.14)
    assert row["rock"] == pytest.approx(0.08)


def test_points_on_a_smaller_circle_show_less_of_the_tilt():
    # similar triangles: 0.14 · 80 ÷ 60
    assert rows(one("0.50 0.46 0.36 0.38", circle="60"))[0]["tilt"] == pytest.approx(0.14 * 80 / 60)


@pytest.mark.parametrize(
    ("depth", "stands", "headline"),
    [
        ("0.42 0.48 0.42 0.36", "straight", "The barrel stands straight"),
        ("0.45 0.46 0.40 0.39", "too close to call", "Barrel 1: too close to call"),
        ("0.39 0.46 0.44 0.39", "too close to call", "Barrel 1: too close to call"),
        ("0.52 0.46 0.36 0.42", "crooked", "Barrel 1 stands crooked"),
        ("0.36 0.46 0.52 0.42", "crooked", "Barrel 1 stands crooked"),
    ],
)
def test_a_barrel_is_judged_by_its_tilt_along_the_pin_with_its_band(depth, stands, headline):
    found = one(depth)
    assert rows(found)[0]["verdict"] == stands
    assert found.headline == headline
    notices = [caution.text for caution in found.warnings if caution.signal == "notice"]
    assert any("too close to 0.050 mm to call" in text for text in notices) == (stands == "too close to call")


def test_a_piston_that_only_rocks_leaves_the_barrel_straight():
    row = rows(one("0.42 0.62 0.42 0.22"))[0]
    assert (row["verdict"], row["rock"]) == ("straight", pytest.approx(0.4))


def test_a_crooked_barrel_is_cautioned_with_the_remedy():
    found = straight(depth="0.52 0.46 0.36 0.42; 0.38 0.40 0.39 0.37; 0.52 0.46 0.36 0.42; 0.41 0.43 0.42 0.40")
    assert found.headline == "Barrels 1 and 3 stand crooked"
    assert any(
        caution.text.startswith("Barrels 1 and 3 stand crooked, or their connecting rod is bent. Clean under them")
        for caution in found.warnings
    )


def test_largest_tilt_names_its_barrel_and_its_deeper_end():
    worst = dict(straight().value("worst_tilt").given)
    assert (worst["barrel"], worst["deeper at the"]) == (1, "pulley end")
    other = one("0.38 0.42 0.46 0.42").value("worst_tilt")
    assert magnitude_in(other.quantity, "mm") == pytest.approx(0.08)
    assert dict(other.given)["deeper at the"] == "end away from the pulley"


def test_band_of_the_tilt_by_hand():
    # left over from the plane ± 0.001 four times, ν 1: s 0.002, k 13.97; across the bore twice s · √(2/4)
    tilt = one("0.421 0.419 0.421 0.419", step="0.0001").value("worst_tilt").quantity
    assert uncertainty_in(tilt, "mm") == pytest.approx(13.97 * 2 * 0.002 * math.sqrt(2 / 4), rel=1e-3)


def test_the_gauges_own_error_does_not_touch_a_tilt():
    fine, coarse = (
        uncertainty_in(straight(gauge_error=limit).value("worst_tilt").quantity, "mm") for limit in ("0", "0.5")
    )
    assert fine == pytest.approx(coarse)


def test_fingers_are_warned_of_always():
    assert straight().warnings[0].text.startswith("Pistons move as the crank turns")


def test_the_points_lie_within_the_bore():
    message = "Diameter of the circle of points must be at most the bore"
    assert wrong(straight, circle="81") == {"circle": message}


test_it_is_straight_only_with_the_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    straight, Judged("tilt_allowed", meets("worst_tilt"), number("worst_tilt"), says("barrels 1 verdict", "straight"))
)
