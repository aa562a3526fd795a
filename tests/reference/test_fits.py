"""Fits held against tables, closed forms and geometry solved by scipy and shapely."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq
from shapely.affinity import rotate
from shapely.geometry import box
from uncertainties import ufloat

from calculators._fits.findings import find
from calculators._fits.kinds import BARRELS
from calculators.fits_and_wear import FORM
from calculators.formulas.worn_fit import closing_gap, gap_of_wear, out_of_round_pair, rocked_clearance, taper_pair


def test_a_closed_circumference_grows_by_this_much():
    # identity: π · 86 mm · 11.4e-6 /K · 200 K = 0.616 003 mm
    assert closing_gap(86.0, (11.4e-6, 200.0), (11.4e-6, 0.0)) == pytest.approx(0.616003, abs=1e-6)


def test_a_gap_opens_by_pi_times_the_growth_of_the_bore():
    # identity: 0.314 159 mm for each 0.1 mm
    assert gap_of_wear(0.1) == pytest.approx(0.314159, abs=1e-6)


def test_the_taper_of_a_cone():
    # identity: 86.020 to 86.000 over 100 mm: 0.020, half angle 0.005 730°
    greatest, least = taper_pair((86.020, 86.000), (86.020, 86.000), float)
    assert greatest - least == pytest.approx(0.020)
    assert math.degrees(math.atan((greatest - least) / 2 / 100)) == pytest.approx(0.005730, abs=1e-6)


def test_two_points_see_nothing_of_three_lobes():
    # r = 43 + 0.005 cos 3θ: opposite points are always 86 apart (numpy), though the bore is out of round by 10 µm
    def diameter(angle):
        return sum(43 + 0.005 * np.cos(3 * (angle + turn)) for turn in (0, np.pi))

    one, other = out_of_round_pair((diameter(0.3),), (diameter(0.3 + np.pi / 2),), float)
    assert one - other == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("clearance", "length", "overhang"), [(0.08, 46.0, 34.0), (0.16, 40.0, 20.0), (0.05, 60.0, 0.0)]
)
def test_a_stem_leaning_in_its_guide_swings_as_far_as_solved(clearance, length, overhang):
    # scipy.optimize.brentq finds the lean at which shapely's stem just fits between the guide's walls
    stem = 8.0
    bore = stem + clearance

    def room(lean):
        leaning = rotate(box(-stem / 2, -500, stem / 2, 500), lean, origin=(0, 0), use_radians=True)
        inside = leaning.intersection(box(-100, -length / 2, 100, length / 2))
        return bore - (inside.bounds[2] - inside.bounds[0])

    lean = brentq(room, 0, 0.1, xtol=1e-12)
    swing = 2 * (length / 2 + overhang) * math.tan(lean)
    assert rocked_clearance(swing, length, overhang) == pytest.approx(clearance, rel=2e-3)


def test_uncertainties_of_the_findings_are_those_of_the_package():
    # uncertainties: the same sums of rectangular readings
    typed = {"cylinders": "1", "bore_new": "80", "bore_across": "80.06 80.04 80.02", "bore_along": "80.04 80.03 80.02"}
    findings = {found.kind.key: found for found in find(FORM.read(typed | {"piston": "79.93"})).findings}
    gauge, micrometer = 0.005 / 3**0.5, 0.004 / 3**0.5
    across = [ufloat(best, gauge) for best in (80.06, 80.04, 80.02)]
    clearance = sum(across) / 3 - ufloat(79.93, micrometer)
    assert findings["piston_clearance"].best == pytest.approx(clearance.nominal_value)
    assert findings["piston_clearance"].expanded == pytest.approx(2 * clearance.std_dev)
    taper = across[0] - across[2]
    assert findings["taper"].expanded == pytest.approx(2 * taper.std_dev)
    assert findings["wear"].expanded == pytest.approx(2 * gauge)
    for found in findings.values():
        assert found.group is BARRELS
        number = found.measured.magnitude
        assert (number.nominal_value, 2 * number.std_dev) == pytest.approx((found.best, found.expanded))


@pytest.mark.parametrize(
    ("bore", "piston", "least", "most"),
    [("25.000", "24.993", 0.007, 0.041), ("25.021", "24.980", 0.007, 0.041)],
)
def test_a_running_fit_lies_within_the_clearances_of_its_tolerances(bore, piston, least, most):
    # ISO 286-2: 25 H7 +21/0 µm, g6 −7/−20 µm (values agreed by two packages): clearance 7 to 41 µm. Rockers as the bush
    typed = {
        "cylinders": "1",
        "inlet_rocker_bush": bore,
        "inlet_rocker_shaft": piston,
        "guide_error": "0",
        "micrometer_error": "0",
        "bush_most": f"{most} mm",
    }
    (found,) = find(FORM.read(typed)).findings
    assert least - 1e-9 <= found.best <= most + 1e-9
    assert found.verdict == "in"
