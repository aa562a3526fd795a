"""Whether the pistons under one head stand alike."""

from functools import partial

import pytest

from calculators import InputErrors, magnitude_in, uncertainty_in
from calculators.bench.asking import answered

DEPTHS = "0.43 0.46 0.41 0.38; 0.38 0.40 0.39 0.36; 0.45 0.43 0.45 0.47; 0.41 0.43 0.42 0.40"


level = partial(answered, "measuring.level", cylinders="4", heads="1 2 / 3 4", depth=DEPTHS)


def test_decks_under_one_head_are_compared_without_the_gauges_own_error():
    fine, coarse = (level(gauge_error=limit).value("difference_1").quantity for limit in ("0.02", "0.5"))
    assert magnitude_in(fine, "mm") == pytest.approx(0.0375)
    assert uncertainty_in(coarse, "mm") == pytest.approx(uncertainty_in(fine, "mm"))


def test_typed_decks_have_what_each_is_read_to():
    """Two readings ± 0.01 mm: 2 · 0.01 · √2/√3 = 0.0163 mm."""
    found = answered("measuring.level", cylinders="2", heads="1 2", deck="0.42; 0.38", depth_error="0.3")
    assert uncertainty_in(found.value("difference_1").quantity, "mm") == pytest.approx(0.0163, abs=1e-4)


@pytest.mark.parametrize(
    ("allowed", "verdict", "headline", "signal", "words"),
    [
        ("0.02", "out", "unlike", "notice", "a rod is bent"),
        ("0.036", "too close to call", "too close to call", "notice", "too close to what is"),
        ("0.08", "in", "alike", None, ""),
    ],
)
def test_decks_are_judged_with_their_band(allowed, verdict, headline, signal, words):
    found = level(difference_allowed=allowed)
    assert found.value("verdict_1").quantity == verdict
    assert found.headline.endswith(f"apart: {headline}")
    said = [caution for caution in found.warnings if "cylinders 1 and 2 differ by 0.037 mm" in caution.text]
    assert [caution.signal for caution in said] == ([signal] if signal else [])
    assert all(words in caution.text for caution in said)


def test_a_head_over_one_barrel_has_nothing_to_compare():
    assert level(heads="1 2 / 3 / 4").value("difference_3") is None
    with pytest.raises(InputErrors, match="must include one head with two or more"):
        level(heads="1/2/3/4")


def test_the_worst_head_leads():
    found = level(depth="0.4 0.4 0.4; 0.4 0.4 0.4; 0.4 0.4 0.4; 0.6 0.6 0.6")
    assert found.headline.startswith("0.200 ± ")
    assert "Head over 1 2: 0.400, 0.400, 0.000 mm apart, alike" in found.drawing.svg


@pytest.mark.parametrize("heads", ["1 2 / 3", "1 2 / 3 3", "1 2 3 4 / 4"])
def test_each_cylinder_is_under_one_head(heads):
    with pytest.raises(InputErrors, match="must name each cylinder from 1 to 4 once"):
        level(heads=heads)


def test_a_difference_allowed_beyond_reason_is_refused():
    with pytest.raises(InputErrors, match="Allowed difference under one head must be between 0 mm and 5 mm"):
        level(difference_allowed="6")
