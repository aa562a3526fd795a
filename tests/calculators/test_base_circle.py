import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.base_circle import ORDINARY_CAM, Window, depth, inside, timed_cam, valves

CAM = timed_cam(inlet_opens=8, inlet_closes=40, exhaust_opens=42, exhaust_closes=6, ramp=30)
windows = st.builds(Window, st.floats(0, 719), st.floats(1, 600))
angles = st.floats(-720, 1440)


def test_a_cam_is_off_its_base_circle_from_ramp_to_ramp():
    inlet, exhaust = CAM["inlet"], CAM["exhaust"]
    assert (inlet.leaves, inlet.opens, inlet.closes, inlet.returns) == (322, 352, 580, 610)
    assert (exhaust.leaves, exhaust.opens, exhaust.closes, exhaust.returns) == (108, 138, 366, 396)
    assert (inlet.rest, exhaust.rest) == (432, 432)


def test_a_later_opening_and_an_earlier_closing_are_told_by_a_minus():
    late = timed_cam(inlet_opens=-10, inlet_closes=-5, exhaust_opens=-20, exhaust_closes=-8, ramp=0)
    assert (late["inlet"].opens, late["inlet"].closes) == (370, 535)
    assert (late["exhaust"].opens, late["exhaust"].closes) == (200, 352)


def test_the_ordinary_cam_is_off_longer_than_the_demonstration_engines():
    for kind in ("inlet", "exhaust"):
        assert ORDINARY_CAM[kind].leaves < CAM[kind].leaves
        assert ORDINARY_CAM[kind].returns > CAM[kind].returns


def test_valves_are_counted_cylinder_by_cylinder():
    every = valves({1: 0.0, 3: 360.0, 2: 540.0}, CAM, {"inlet": (1, 2, 1), "exhaust": (1, 1, 3)})
    assert [one.words for one in every] == [
        *("1 inlet", "1 exhaust"),
        *("2 inlet 1", "2 inlet 2", "2 exhaust"),
        *("3 inlet", "3 exhaust 1", "3 exhaust 2", "3 exhaust 3"),
    ]
    assert [one.window.start for one in every if one.kind == "inlet"] == [610, 430, 430, 250]


@pytest.mark.parametrize("counts", [(1,), (1, 1, 1)])
def test_every_cylinder_has_its_own_count_of_valves(counts):
    with pytest.raises(ValueError, match="zip"):
        valves({1: 0.0, 2: 360.0}, CAM, {"inlet": counts, "exhaust": (1, 1)})


@pytest.mark.parametrize(
    ("crank", "behind", "ahead"),
    [(700, 0, 100), (0, 20, 80), (80, 100, 0), (90, 110, -10), (690, -10, 110), (389, 409, -309), (391, -309, 409)],
)
def test_tells_both_sides_and_the_nearer_edge_outside(crank, behind, ahead):
    assert inside(Window(700, 100), crank) == (behind, ahead)


@given(windows, angles)
def test_both_sides_make_the_window_and_a_cycle_changes_nothing(window, crank):
    behind, ahead = inside(window, crank)
    assert behind + ahead == pytest.approx(window.length)
    assert depth(window, crank + 720) == pytest.approx(depth(window, crank), abs=1e-6)
    assert -(720 - window.length) / 2 - 1e-6 <= depth(window, crank) <= window.length / 2 + 1e-6
