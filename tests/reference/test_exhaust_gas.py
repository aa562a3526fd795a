"""Exhaust gas against balanced atoms."""

import pytest
from scipy.optimize import brentq

from calculators.formulas.exhaust_gas import HYDROGEN, OXYGEN, WATER_GAS, air_ratio


def dry_exhaust(ratio, hydrogen, oxygen, water_gas):
    """CO, CO₂ and O₂, % of the dry gas, of CH_yO_z burnt with λ: atom balance and, where rich, the water-gas shift.

    Nitrogen is 3.773 to one of oxygen (Heywood, 1988, 3.2). No nitric oxide, nothing left unburnt.
    """
    air = ratio * (1 + hydrogen / 4 - oxygen / 2)
    total = oxygen + 2 * air

    def rest(co):
        h2o = total - 2 * (1 - co) - co
        return co * h2o - water_gas * (1 - co) * (hydrogen / 2 - h2o)

    if ratio >= 1:
        co, h2, o2 = 0.0, 0.0, (total - 2 - hydrogen / 2) / 2
    else:
        lowest = max(0.0, 2 - total)  # no water less than none
        co = brentq(rest, lowest + 1e-12, min(1.0, 2 - total + hydrogen / 2) - 1e-12)
        h2, o2 = hydrogen / 2 - (total - 2 + co), 0.0
    dry = 1 + h2 + o2 + 3.773 * air
    return tuple(100 * part / dry for part in (co, 1 - co, o2))


@pytest.mark.parametrize("ratio", [0.75, 0.8, 0.85, 0.9, 0.95, 0.99, 1.0, 1.05, 1.1, 1.3])
def test_lambda_is_what_the_atoms_were_balanced_with(ratio):
    co, co2, o2 = dry_exhaust(ratio, HYDROGEN, OXYGEN, WATER_GAS)
    assert air_ratio(co, co2, o2, 0.0) == pytest.approx(ratio, rel=1e-6)


@pytest.mark.parametrize("ratio", [0.8, 0.9, 1.0, 1.1])
def test_lambda_holds_for_other_petrol_and_another_equilibrium(ratio):
    # CH1.87 and K = 3.7, as a university's course program on exhaust composition has them: within 2 %
    co, co2, o2 = dry_exhaust(ratio, 1.87, 0.0, 3.7)
    assert air_ratio(co, co2, o2, 0.0) == pytest.approx(ratio, rel=0.02)
