"""A cam from its four events."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.formulas.cam_events import cam_late, duration, lobe_centre, lobe_separation, overlap, tooth

events = st.floats(-30, 90)


def test_events_at_the_dead_centres_give_half_a_turn():
    assert duration(0.0, 0.0) == 180
    assert lobe_centre(0.0, 180.0) == 90
    assert overlap(0.0, 0.0) == 0


@given(events, events, st.floats(-10, 10))
def test_an_error_of_both_flanks_alike_drops_out_of_the_centre(opens, closes, error):
    centre = lobe_centre(opens, duration(opens, closes))
    assert lobe_centre(opens + error, duration(opens + error, closes + error)) == pytest.approx(centre, abs=1e-9)


@given(events, events, events, events, st.floats(-20, 20))
def test_a_cam_set_late_moves_both_centres_and_neither_duration(i_opens, i_closes, e_opens, e_closes, late):
    inlet, exhaust = duration(i_opens, i_closes), duration(e_opens, e_closes)
    assert duration(i_opens - late, i_closes + late) == pytest.approx(inlet)
    assert duration(e_opens - late, e_closes + late) == pytest.approx(exhaust)
    found = cam_late(
        lobe_centre(i_opens - late, inlet),
        lobe_centre(i_opens, inlet),
        lobe_centre(e_closes + late, exhaust),
        lobe_centre(e_closes, exhaust),
    )
    assert found == pytest.approx(late, abs=1e-9)


def test_one_valve_alone_tells_and_none_does_not():
    assert cam_late(110.0, 106.0, None, 108.0) == 4.0
    assert cam_late(None, 106.0, 110.0, 108.0) == -2.0
    assert cam_late(None, 106.0, None, 108.0) is None


def test_separation_is_in_degrees_of_the_cam():
    # by hand: 106° after and 108° before the same dead centre are 214° of crank, 107° of cam
    assert lobe_separation(106.0, 108.0) == 107.0


def test_a_tooth_is_worth_twice_at_the_crank_what_it_is_at_the_cam():
    assert tooth(36) == 20.0
