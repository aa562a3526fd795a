import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators.formulas.base_circle import ORDINARY_CAM, timed_cam, valves
from calculators.formulas.firing import firing_angles
from calculators.formulas.lash_stops import plan
from tests.examples import examples

METHODS = ("own", "companion", "opening", "two", "fewest")
FOUR = firing_angles((1, 3, 4, 2), (180.0,) * 4)
SHORT = timed_cam(inlet_opens=8, inlet_closes=40, exhaust_opens=42, exhaust_closes=6, ramp=30)


def planned(method, fires, cam=SHORT, backwards=False, each=1, slack=0.0):
    every = valves(fires, cam, {"inlet": (each,) * len(fires), "exhaust": (each,) * len(fires)})
    return plan(method, fires, every, cam, backwards, slack)


def told(found):
    return [(stop.turn, stop.cylinders("inlet"), stop.cylinders("exhaust")) for stop in found.stops]


@st.composite
def engines(draw):
    count = draw(st.integers(1, 12))
    order = (1, *draw(st.permutations(range(2, count + 1))))
    shares = draw(st.lists(st.integers(1, 20), min_size=count, max_size=count))
    return firing_angles(order, tuple(720 * share / sum(shares) for share in shares))


cams = st.builds(
    lambda *angles: timed_cam(
        **dict(zip(("inlet_opens", "inlet_closes", "exhaust_opens", "exhaust_closes", "ramp"), angles, strict=True))
    ),
    *(st.integers(-30, 110) for _ in range(4)),
    st.integers(0, 90),
)


def test_each_cylinder_at_its_own_place_in_the_sense_of_the_hand():
    assert told(planned("own", FOUR)) == [
        (turn, (one,), (one,)) for turn, one in [(0, 1), (180, 3), (180, 4), (180, 2)]
    ]
    assert [stop.settings[0].valve.cylinder for stop in planned("own", FOUR, backwards=True).stops] == [1, 2, 4, 3]


def test_the_companion_tells_the_place():
    assert [stop.signs for stop in planned("companion", FOUR).stops] == [
        ((4, "rocks"),),
        ((2, "rocks"),),
        ((1, "rocks"),),
        ((3, "rocks"),),
    ]


def test_a_place_is_told_by_all_who_stand_at_a_dead_centre_there():
    first, second = planned("two", FOUR).stops
    assert first.signs == ((1, "fires"), (4, "rocks"))
    assert second.signs == ((1, "rocks"), (4, "fires"))


def test_a_cylinder_without_a_companion_tells_its_own_place():
    # of three that fire 240 degrees apart none is a whole turn from another
    found = planned("companion", firing_angles((1, 3, 2), (240.0,) * 3))
    assert [stop.signs for stop in found.stops] == [((one, "fires"),) for one in (1, 3, 2)]


def test_the_opening_exhaust_tells_the_inlet_and_the_closing_inlet_the_exhaust():
    (first, second) = planned("opening", {1: 0.0}).stops
    assert (first.signs, first.cylinders("inlet"), first.cylinders("exhaust")) == (((1, "exhaust opens"),), (1,), ())
    assert (second.signs, second.cylinders("exhaust")) == (((1, "inlet closes"),), (1,))
    # the exhaust leaves its base circle at 108 and is open at 138: seen at 123, give or take 15
    assert (first.crank, second.crank) == (123, 595)
    # the inlet rests from 610 to 1042, which is 123 + 720 = 843: 233 back and 199 on, less 15
    assert (first.settings[0].behind, first.settings[0].ahead) == (218, 184)


def test_places_that_fall_together_are_one_stop():
    # the exhaust of 1 is seen to open at 123; the inlet of 2 is seen to close at 595 + 248 = 843, which is 123
    assert len(planned("opening", {1: 0.0, 2: 248.25}).stops) == 3  # and so near that one mark does for both
    found = planned("opening", {1: 0.0, 2: 248.0})
    assert len(found.stops) == 3
    (both,) = (stop for stop in found.stops if len(stop.signs) == 2)
    assert both.signs == ((1, "exhaust opens"), (2, "inlet closes"))
    assert [one.valve.words for one in both.settings] == ["1 inlet", "2 exhaust"]


@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize("method", ["fewest", "opening"])
@pytest.mark.parametrize("intervals", [(240.0, 240.0, 240.0), (200.0, 210.0, 310.0), (310.0, 250.0, 160.0)])
def test_a_turning_counts_from_the_dead_centre_that_is_nearest_to_all(intervals, method, backwards):
    fires = firing_angles((1, 3, 2), intervals)
    found = planned(method, fires, backwards=backwards)
    way = -1 if backwards else 1
    turnings = {one: max(way * (stop.crank - start) % 720 for stop in found.stops) for one, start in fires.items()}
    assert found.stops[-1].turned == pytest.approx(min(turnings.values()))
    assert turnings[found.begin] == pytest.approx(min(turnings.values()))
    assert [stop.turned for stop in found.stops] == pytest.approx(
        sorted(way * (stop.crank - fires[found.begin]) % 720 for stop in found.stops)
    )


def test_keeps_so_far_inside_as_the_hand_may_miss():
    tight = timed_cam(inlet_opens=50, inlet_closes=90, exhaust_opens=90, exhaust_closes=50, ramp=80)
    fires = firing_angles((1, 3, 2), (240.0,) * 3)
    assert planned("fewest", fires, tight).shallowest.least < 10
    assert planned("fewest", fires, tight, slack=10.0).shallowest.least >= 10 - 1e-6


def test_dead_centres_are_taken_where_they_are_as_few():
    found = planned("fewest", firing_angles((1, 2), (315.0, 405.0)), ORDINARY_CAM)
    assert all(min(abs(stop.crank - top) for top in (0, 315, 360, 675)) < 1e-6 for stop in found.stops)


@given(engines(), cams, st.sampled_from(METHODS), st.booleans(), st.integers(1, 2))
@settings(max_examples=examples(300), deadline=None)
def test_every_valve_is_set_once_within_two_turns_and_its_proof_adds_up(fires, cam, method, backwards, each):
    found = planned(method, fires, cam, backwards, each)
    settings_ = [one for stop in found.stops for one in stop.settings]
    assert len({one.valve for one in settings_}) == len(settings_) == 2 * each * len(fires)
    assert sum(stop.turn for stop in found.stops) == pytest.approx(found.stops[-1].turned)
    assert found.stops[-1].turned <= 720
    assert all(stop.turn >= 0 for stop in found.stops)
    if method == "fewest":
        assert found.shallowest.least >= -1e-5
    if method != "opening":
        assert all(one.behind + one.ahead == pytest.approx(one.valve.window.length) for one in settings_)


@given(engines(), cams, st.sampled_from(["own", "companion", "two"]))
@settings(max_examples=examples(100), deadline=None)
def test_either_sense_of_the_hand_holds_the_crank_at_the_same_places(fires, cam, method):
    ahead, behind = planned(method, fires, cam), planned(method, fires, cam, backwards=True)
    assert sorted(stop.crank for stop in ahead.stops) == sorted(stop.crank for stop in behind.stops)
    assert ahead.shallowest.least == behind.shallowest.least
