"""Lash setting held against handbook factors, common practice, a solver, and valves stepped one by one."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants
from scipy.optimize import Bounds, LinearConstraint, milp

from calculators import magnitude_in, read_card
from calculators._catalogue import calculator
from calculators._units import read_number
from calculators.formulas.feeler_blades import nearest_stack
from calculators.formulas.firing import even_intervals, on_overlap, stops

CARD = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
LASH = calculator("lash-turn-plan")

COMPANIONS = {
    # common practice, no source: cylinders that share a top dead centre, by firing order
    (1, 4, 3, 2): {(1, 3), (2, 4)},
    (1, 3, 4, 2): {(1, 4), (2, 3)},
    (1, 5, 3, 6, 2, 4): {(1, 6), (2, 5), (3, 4)},
    (1, 8, 4, 3, 6, 5, 7, 2): {(1, 6), (5, 8), (4, 7), (2, 3)},
}


def rows(**typed):
    table = LASH.answer(typed, CARD).tables[0]
    return table.as_data()["rows"]


def blades(**typed):
    return next(value for value in LASH.answer(typed, CARD).values if value.key == "inlet_blades").texts[0]


def test_a_flat_four_turned_backwards_is_set_in_the_order_of_its_numbers():
    # common practice, no source
    stations = rows(turning="backwards", firing_order="1 4 3 2", firing_intervals="")[:-1]
    assert [row["cylinder"] for row in stations] == [1, 2, 3, 4]
    assert [row["turn"] for row in stations[1:]] == [180, 180, 180]
    assert [row["rotor"].partition("°")[0] for row in stations[1:]] == ["90", "180", "270"]


def test_an_inline_four_turned_forwards_is_set_in_its_firing_order():
    # common practice, no source
    stations = rows(firing_order="1 3 4 2", banks="1 2 3 4", firing_intervals="")[:-1]
    assert [row["cylinder"] for row in stations] == [1, 3, 4, 2]
    assert {row["cylinder"]: row["overlap"] for row in stations} == {1: 4, 4: 1, 2: 3, 3: 2}


@pytest.mark.parametrize(("order", "pairs"), COMPANIONS.items())
@pytest.mark.parametrize("backwards", [False, True])
def test_companions_stand_one_turn_apart(order, pairs, backwards):
    plan = stops(order, even_intervals(len(order)), backwards)
    found = {tuple(sorted((cylinder, on_overlap(cylinder, plan)))) for cylinder in order}
    assert found == pairs
    crank = {stop.cylinder: stop.crank for stop in plan}
    assert all(abs(crank[one] - crank[other]) == 360 for one, other in pairs)


@pytest.mark.parametrize(("thou", "blade"), [(4, "0.10 mm"), (6, "0.15 mm"), (8, "0.20 mm"), (12, "0.30 mm")])
def test_the_customary_gaps_in_thou_are_the_customary_blades(thou, blade):
    # common practice, no source
    assert blades(inlet_clearance=f"{thou} thou") == blade


def test_a_thou_is_a_thousandth_of_an_inch():
    # NIST SP 811 (2008), Appendix B.8: mil (0.001 in) to millimetre, 2.54 E-02, exact; scipy.constants agrees
    report = LASH.answer({"inlet_clearance": "6 thou"}, CARD)
    gap = next(value.quantity for value in report.values if value.key == "inlet_clearance")
    assert magnitude_in(gap, "mm") == pytest.approx(6 * 2.54e-2, rel=1e-12)
    assert magnitude_in(gap, "m") == pytest.approx(6 * constants.mil, rel=1e-12)


def solved(gap, sizes, within, most):
    """The rule for blades as one lexicographic objective, by mixed-integer programming (scipy, HiGHS).

    First make the gap within the tolerance; failing that be no closer than the gap (wider
    is safer: common practice, no source); then the least error; then the fewest blades.
    Lengths are whole numbers. Unknowns: each blade, the error, ``far`` (beyond the
    tolerance) and ``close`` (closer than is allowed: the gap less the tolerance, or just
    the gap where far). Each weight exceeds all that the lower ones can come to.
    """
    count, big = len(sizes), gap + sum(sizes)
    lengths = np.array(sizes, dtype=float)
    result = milp(
        np.array([1.0] * count + [10.0, 1e5, 1e5]),
        integrality=np.ones(count + 3),
        bounds=Bounds(0, [1] * count + [np.inf, 1, 1]),
        constraints=[
            LinearConstraint([*lengths, -1, 0, 0], -np.inf, gap),
            LinearConstraint([*lengths, 1, 0, 0], gap, np.inf),
            LinearConstraint([*np.ones(count), 0, 0, 0], 1, most),
            LinearConstraint([*np.zeros(count), 1, -big, 0], -np.inf, within),
            LinearConstraint([*lengths, 0, -within, big], gap - within, np.inf),
        ],
    )
    error, far, close = (round(found) for found in result.x[count:])
    return far + close, error, round(sum(result.x[:count]))


@given(st.integers(2, 100), st.lists(st.integers(1, 60), min_size=1, max_size=14), st.integers(1, 4))
@settings(max_examples=60, deadline=None)
def test_no_stack_serves_the_gap_better_than_ours(gap, sizes, within):
    stack = nearest_stack(gap, sizes, within)
    kind = 0 if stack.near else 1 if stack.error > 0 else 2
    assert (kind, abs(stack.error), len(stack.chosen)) == solved(gap, sizes, within, 3)
    assert sum(sizes[index] for index in stack.chosen) == stack.thickness


RAMP = 30
"""Assumed: how far beyond its timed events, in degrees of crank, a valve may still be off its seat."""


class Valve:
    """One valve with a clock of its own: degrees of crank after its own cylinder's firing top dead centre."""

    def __init__(self, opens, closes, clock):
        self.opens, self.closes, self.clock = opens, closes, clock

    def step(self, degrees):
        self.clock = (self.clock + degrees) % 720

    @property
    def shut(self):
        return not self.opens - RAMP <= self.clock <= self.closes + RAMP


def event(name):
    return read_number(CARD.text(f"cam_events.{name}")).number


@pytest.mark.parametrize("turning", ["forwards", "backwards"])
@pytest.mark.parametrize(
    ("order", "intervals"),
    [
        ((1, 4, 3, 2), (180,) * 4),
        ((1, 3, 4, 2), (180,) * 4),
        ((1, 5, 3, 6, 2, 4), (120,) * 6),
        ((1, 2), (315, 405)),
        ((1, 4, 2, 5, 3, 6), (90, 150) * 3),
    ],
)
def test_both_valves_named_at_each_stop_are_shut(order, intervals, turning):
    # stages of the four-stroke cycle after firing top dead centre: 180 bottom, 360 overlap, 540 bottom
    exhaust = (180 - event("exhaust_opens_before_bottom"), 360 + event("exhaust_closes_after_top"))
    inlet = (360 - event("inlet_opens_before_top"), 540 + event("inlet_closes_after_bottom"))
    valves = {}
    fires = 0
    for cylinder, interval in zip(order, intervals, strict=True):
        valves[cylinder] = [Valve(*exhaust, clock=-fires % 720), Valve(*inlet, clock=-fires % 720)]
        fires += interval
    way = 1 if turning == "forwards" else -1
    plan = rows(
        cylinders=str(len(order)),
        banks=" ".join(map(str, sorted(order))),
        firing_order=" ".join(map(str, order)),
        firing_intervals=" ".join(map(str, intervals)),
        turning=turning,
    )
    for row in plan[:-1]:
        for _ in range(0 if row["turn"] == "start" else round(row["turn"])):
            for pair in valves.values():
                for valve in pair:
                    valve.step(way)
        assert all(valve.shut for valve in valves[row["cylinder"]])
        assert all(valve.clock == 0 for valve in valves[row["cylinder"]])
        if row["overlap"]:
            assert not any(valve.shut for valve in valves[row["overlap"]])
