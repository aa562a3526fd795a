"""Up to which speed the inlet valve fills the cylinder."""

from functools import partial

import pytest

from calculators.bench.asking import answered
from tests.answers import bare_number
from tests.physics import falls, goes_as_physics_sends_it, rises

ENGINE = {"bore": "86 mm", "stroke": "86 mm", "valve_head": "33 mm", "inlet_temperature": "20 °C"}


filling = partial(answered, "ports.filling", **ENGINE)


def test_the_index_and_the_speed_at_its_limit():
    answer = filling(engine_speed="6000")
    # by hand: (86 ÷ 33)² · 17.2 ÷ (0.35 · 343.23) = 0.97240; 6000 · 0.6 ÷ 0.97240
    assert bare_number(answer, "piston_speed") == pytest.approx(17.2)
    assert bare_number(answer, "mach_index") == pytest.approx(0.97240, abs=2e-5)
    assert bare_number(answer, "filling_speed") == pytest.approx(3702.2, abs=0.2)
    assert answer.headline == "Fills up to about 3700 r/min"
    assert "above 0.6: the cylinder fills badly" in answer.says
    assert ["above 0.6" in caution.text for caution in answer.warnings] == [True]


def test_the_speed_at_the_limit_does_not_depend_on_the_speed_asked_about():
    assert bare_number(filling(engine_speed="2000"), "filling_speed") == pytest.approx(
        bare_number(filling(engine_speed="7000"), "filling_speed")
    )


@pytest.mark.parametrize(("speed", "said"), [("3650", "fills."), ("3750", "fills badly.")])
def test_below_the_limit_it_fills(speed, said):
    answer = filling(engine_speed=speed)
    assert answer.says.endswith(said)
    assert bool(answer.warnings) == (said == "fills badly.")


def test_near_the_limit_a_rough_bore_decides_nothing():
    answer = filling(engine_speed="3650", bore="86 ± 2 mm")
    assert answer.says.endswith("too close to 0.6 to call.")
    assert answer.warnings == ()


def test_warmer_charge_and_better_flow_fill_further():
    plain = bare_number(filling(engine_speed="4000"), "filling_speed")
    assert bare_number(filling(engine_speed="4000", inlet_temperature="60 °C"), "filling_speed") > plain
    assert bare_number(filling(engine_speed="4000", flow_coefficient="0.45"), "filling_speed") > plain


test_goes_as_physics_sends_it = goes_as_physics_sends_it(
    filling,
    rises("engine_speed", (1000, 6000), "mach_index", "the same valve passes more in the same time"),
    rises("stroke", (50, 100), "piston_speed", "it goes twice the stroke each turn", typed={"engine_speed": "4000"}),
    falls(
        "inlet_temperature",
        (-20, 120),
        "mach_index",
        "sound is faster in warmer air",
        typed={"engine_speed": "4000"},
    ),
)
