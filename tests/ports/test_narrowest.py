"""The narrowest place on the way in: port, throat, curtain, or two that cannot be told apart."""

import math
from functools import partial

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered
from tests.answers import bare_number
from tests.physics import falls, goes_as_physics_sends_it, rises

VALVE = {"valve_head": "34 mm", "valve_lift": "8 mm", "throat": "30 mm", "stem": "8 mm"}


narrowest = partial(answered, "ports.narrowest")


def test_areas_of_the_valve():
    answer = narrowest(**VALVE, port_area="907.920 mm²")
    # by hand: π · 34 · 8; π ÷ 4 · (30² − 8²)
    assert bare_number(answer, "curtain") == pytest.approx(854.513, abs=1e-3)
    assert bare_number(answer, "throat") == pytest.approx(656.593, abs=1e-3)
    assert bare_number(answer, "full_lift") == pytest.approx(656.593 / (math.pi * 34), abs=1e-4)
    assert bare_number(answer, "narrowest") == pytest.approx(100 * 656.593 / 907.920, abs=1e-3)
    assert answer.headline == "Throat: 657 mm²"
    assert answer.says == (
        "The throat is the narrowest: 657 mm², 72% of the port. "
        "From 6.15 mm of lift on, the throat is narrower than the curtain."
    )


def test_at_low_lift_the_curtain_is_the_narrow_place():
    # by hand: π · 34 · 4
    answer = narrowest(**VALVE | {"valve_lift": "4 mm"}, port_area="908 mm²")
    assert answer.headline == "Curtain: 427 mm²"
    assert answer.value("narrowest").label == "Curtain against port"


def test_a_port_can_be_the_narrow_place():
    assert narrowest(**VALVE, port_area="600 mm²").headline == "Port: 600 mm²"


def test_without_a_stem_the_throat_is_whole():
    typed = {key: text for key, text in VALVE.items() if key != "stem"}
    assert bare_number(narrowest(**typed), "throat") == pytest.approx(math.pi / 4 * 900, abs=1e-3)


def test_the_port_comes_from_its_sizes():
    answer = narrowest(**VALVE, port_width="34 mm", edge_error="0 mm")
    assert bare_number(answer, "narrowest") == pytest.approx(100 * 656.593 / 907.920, abs=1e-3)


@pytest.mark.parametrize(("doubt", "alike"), [("0.1", False), ("2", True)])
def test_two_places_within_their_error_are_not_told_apart(doubt, alike):
    # by hand: π ÷ 4 · 30² = 706.9; a port of 30.4 mm is 19 mm² more; edges off by 2 mm: U = 141 mm², by 0.1: 7 mm²
    answer = narrowest(valve_head="34 mm", throat="30 mm", port_width="30.4 mm", edge_error=doubt)
    assert ("too close to call" in answer.says) is alike
    assert answer.headline == ("Throat or port: 707 mm²" if alike else "Throat: 707 mm²")


def test_one_place_alone_is_told():
    answer = narrowest(valve_head="34 mm", valve_lift="8 mm")
    assert (answer.headline, answer.says) == ("Curtain: 855 mm²", "The curtain has 855 mm².")
    assert narrowest(valve_head="34 mm", port_area="900").value("port").texts[0] == "900 mm²"


def test_a_stem_that_fills_the_throat_is_refused():
    with pytest.raises(InputErrors, match="Stem diameter must be below the throat diameter"):
        narrowest(valve_head="34 mm", throat="8 mm", stem="9 mm")


def test_the_drawing_marks_the_narrowest_and_is_to_scale():
    assert "narrowest the throat" in narrowest(**VALVE, port_area="908").drawing.svg
    # a throat wider than the head, and a lift beyond any drawing, are drawn all the same
    assert narrowest(valve_head="20 mm", throat="40 mm", valve_lift="30 mm", stem="25 mm").drawing.svg


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    lambda **typed: narrowest(**VALVE | typed),
    rises("valve_lift", (4, 12), "curtain", "a curtain grows with its height"),
    falls("stem", (5, 12), "throat", "the stem stands in the throat"),
)
