"""Lash setting held against common practice, a solver, and valves stepped one by one."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from calculators.bench.asking import answered, example_texts
from calculators.bench.question import question
from calculators.bench.units import read_number
from calculators.formulas.base_circle import Window, depth, timed_cam, valves
from calculators.formulas.feeler_blades import nearest_stack
from calculators.formulas.fewest_stops import deepest_stops
from calculators.formulas.firing import even_intervals, firing_angles
from tests.cards import MARRAM as CARD
from tests.examples import IS_WIDE

EXAMPLE = dict(example_texts(question("lash.plan"), CARD))


def rows(**typed):
    found = answered("lash.plan", **{key: text for key, text in (EXAMPLE | typed).items() if text})
    return found.tables[0].as_data()["rows"]


def engine(order, cam, each=1):
    fires = firing_angles(order, even_intervals(len(order)))
    counts = (each,) * len(order)
    return fires, valves(fires, cam, {"inlet": counts, "exhaust": counts})


ORDERS = {
    # common practice, no source: the valves of these engines lie mirrored about the middle of the head
    9: (1, 3, 4, 2),
    13: (1, 5, 3, 6, 2, 4),
}


@pytest.mark.parametrize(("total", "order"), ORDERS.items())
def test_valves_whose_numbers_add_up_to_nine_or_thirteen_rest_while_the_other_is_full_open(total, order):
    """Common practice, no source: with valve n fully open, set valve 9 − n of a four, 13 − n of a six.

    Valves are numbered along the head, exhaust outermost and then turn about: E I I E E I I E.
    """
    kinds = ["exhaust", "inlet", "inlet", "exhaust"] * 3
    kinds = kinds[: len(order)] + kinds[: len(order)][::-1]
    cam = timed_cam(inlet_opens=8, inlet_closes=40, exhaust_opens=42, exhaust_closes=6, ramp=60)
    _, every = engine(order, cam)
    along = {
        number: next(one for one in every if (one.cylinder, one.kind) == ((number + 1) // 2, kind))
        for number, kind in enumerate(kinds, 1)
    }
    assert len(along) == total - 1
    for number, valve in along.items():
        full_open = valve.window.start + valve.window.length / 2 + 360
        other = along[total - number]
        assert depth(other.window, full_open) == pytest.approx(other.window.length / 2)


def test_companion_cylinders_add_up_to_one_more_than_their_number():
    # common practice, no source: the sums of nine and thirteen, told of cylinders: five of a four, seven of a six
    for order in ORDERS.values():
        stations = rows(
            cylinders=str(len(order)),
            banks=" ".join(map(str, sorted(order))),
            firing_order=" ".join(map(str, order)),
            firing_intervals="",
            method="companion",
        )[:-1]
        for row in stations:
            assert row["look"].startswith(f"both valves of {len(order) + 1 - row['cylinder']} rock")


def solved_cover(windows, places):
    """The least number of places that meet every window, by mixed-integer programming (scipy, HiGHS)."""
    meets = np.array([[depth(window, place) >= -1e-6 for place in places] for window in windows], dtype=float)
    result = milp(
        np.ones(len(places)),
        integrality=np.ones(len(places)),
        bounds=Bounds(0, 1),
        constraints=[LinearConstraint(meets, 1, np.inf)],
    )
    return None if result.x is None else round(result.fun)


def random_windows(random):
    if random.random() < 0.5:  # any windows at all
        count = random.integers(1, 25)
        return [Window(float(random.integers(720)), float(random.integers(1, 560))) for _ in range(count)]
    order = random.permutation(random.integers(1, 13)) + 1  # an engine, at times uneven
    shares = random.integers(1, 4, len(order)) if random.random() < 0.5 else np.ones(len(order))
    fires = firing_angles(tuple(map(int, order)), tuple(map(float, 720 * shares / shares.sum())))
    names = ("inlet_opens", "inlet_closes", "exhaust_opens", "exhaust_closes")
    events = {name: float(random.integers(-30, 111)) for name in names}
    cam = timed_cam(**events, ramp=float(random.integers(91)))
    return [one.window for one in valves(fires, cam, {kind: (1,) * len(order) for kind in ("inlet", "exhaust")})]


ENGINES = 2_000 if IS_WIDE else 300


def test_the_solver_needs_as_many_stops_on_hundreds_of_engines():
    # a smallest set can stand at ends of windows, so the ends are all that the other solver needs
    random = np.random.default_rng(720)
    counts = set()
    for _ in range(ENGINES):
        windows = random_windows(random)
        ends = sorted({(window.start + window.length) % 720 for window in windows})
        wanted = solved_cover(windows, ends)
        assert len(deepest_stops(windows)) == wanted
        counts.add(wanted)
    assert counts >= {1, 2, 3, 4}


def test_the_solver_needs_as_many_stops_among_given_places():
    random = np.random.default_rng(360)
    for _ in range(ENGINES // 4):
        windows = random_windows(random)
        places = [float(place) for place in random.choice(720, random.integers(1, 13), replace=False)]
        found = deepest_stops(windows, places)
        assert (len(found) if found else None) == solved_cover(windows, places)


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
@pytest.mark.parametrize("method", ["own", "companion", "opening", "two", "fewest"])
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
def test_every_valve_named_at_a_stop_is_shut_while_its_crank_is_stepped_by_hand(order, intervals, method, turning):
    # stages of the four-stroke cycle after firing top dead centre: 180 bottom, 360 overlap, 540 bottom
    exhaust = (180 - event("exhaust_opens_before_bottom"), 360 + event("exhaust_closes_after_top"))
    inlet = (360 - event("inlet_opens_before_top"), 540 + event("inlet_closes_after_bottom"))
    gear = {}
    fires = 0
    for cylinder, interval in zip(order, intervals, strict=True):
        gear[cylinder] = {
            "exhaust": Valve(*exhaust, clock=-fires % 720),
            "inlet": Valve(*inlet, clock=-fires % 720),
        }
        fires += interval
    way = 1 if turning == "forwards" else -1
    typed = {
        "cylinders": str(len(order)),
        "banks": " ".join(map(str, sorted(order))),
        "firing_order": " ".join(map(str, order)),
        "firing_intervals": " ".join(map(str, intervals)),
        "turning": turning,
        "method": method,
        "ramp": str(RAMP),
    }
    if method == "companion" and len(set(intervals)) > 1:
        typed["method"] = "own"  # no cylinder of these two has a companion
    table = rows(**typed)
    begin = table[-1]["crank"]
    for pair in gear.values():  # the hand begins at the dead centre to which the table comes back
        for valve in pair.values():
            valve.step(begin)
    done = []
    for row in table[:-1]:
        step_by_step = 0 if row["turn"] == "start" else round(row["turn"])
        for _ in range(step_by_step):
            for pair in gear.values():
                for valve in pair.values():
                    valve.step(way)
        for kind in ("inlet", "exhaust"):
            told = row["cylinder"] if "cylinder" in row else row[f"set_{kind}"]
            for cylinder in map(int, str(told or "").split()):
                assert gear[cylinder][kind].shut
                done.append((cylinder, kind))
        if row.get("overlap"):
            assert not any(valve.shut for valve in gear[row["overlap"]].values())
    assert sorted(done) == sorted((cylinder, kind) for cylinder in order for kind in ("inlet", "exhaust"))
