"""How even the chambers are, and what is to come out."""

from functools import partial

import pytest

from calculators import InputErrors, magnitude_in, uncertainty_in
from calculators.bench.asking import answered
from tests.physics import (
    Judged,
    goes_as_physics_sends_it,
    is_in_only_with_its_whole_uncertainty,
    meets,
    number,
    rises,
    says,
)

FILLS = "49.2 49.1 49.0; 49.5 49.5 49.6; 48.2 48.3 48.1; 48.6 48.6 48.7"


even = partial(answered, "measuring.even")


def four(**typed):
    return even(cylinders="4", fill=FILLS, **{"burette_error": "0.1"} | typed)


def test_two_chambers_of_one_burette_are_known_apart():
    """By hand: two readings ± 0.02 cm³, U = 2 · 0.02 · √2/√3 = 0.0327 cm³."""
    for chambers in ("50.0; 50.5", "50.0 ± 0.4; 50.5 ± 0.4"):
        found = even(cylinders="2", chamber=chambers, burette_error="0.4")
        difference = found.value("difference").quantity
        assert magnitude_in(difference, "cm³") == pytest.approx(0.5)
        assert uncertainty_in(difference, "cm³") == pytest.approx(0.0327, abs=1e-4)
        assert found.headline == "0.50 ± 0.03 cm³ apart"
        assert found.value("verdict") is None


def test_two_chambers_of_two_burettes_are_not():
    """Each ± 0.4 and ± 0.02: 2 · √(2 · (0.4² + 0.02²)/3) = 0.654 cm³."""
    found = even(cylinders="2", chamber="50.0; 50.5", burette_error="0.4", volumes_from="several")
    assert uncertainty_in(found.value("difference").quantity, "cm³") == pytest.approx(0.654, abs=1e-3)


@pytest.mark.parametrize(
    ("allowed", "verdict", "headline", "ending"),
    [
        ("2", "in", "allowed", ": 2.00 cm³ is allowed."),
        ("1.4", "too close to call", "too close to call", ", too close to the 1.40 cm³ allowed to call."),
        ("1", "out", "too far apart", ", more than the 1.00 cm³ allowed."),
    ],
)
def test_a_difference_is_judged_with_its_band(allowed, verdict, headline, ending):
    found = four(may_differ=allowed)
    assert found.value("verdict").quantity == verdict
    assert found.headline.endswith(f"apart: {headline}")
    assert found.says.endswith(ending)
    signals = [caution.signal for caution in found.warnings]
    assert signals == {"in": [], "out": ["warning", "notice"], "too close to call": ["notice"]}[verdict]


def test_a_burr_is_warned_of_before_the_roof_and_gloves_are_kept_from_it():
    chips, roof = four(may_differ="1").warnings
    assert "gloves away from the spinning burr" in chips.text
    assert roof.text.startswith("Grind only the roof")


def test_what_is_the_same_for_both_drops_out_of_the_difference():
    fine, coarse = (
        uncertainty_in(four(burette_error=limit).value("difference").quantity, "cm³") for limit in ("0.1", "1")
    )
    assert coarse == pytest.approx(fine, rel=1e-3)


def test_every_chamber_is_opened_to_the_largest():
    """49.0 − 49.0, 49.0 − 48.0, 49.0 − 48.5 by hand."""
    found = even(cylinders="3", chamber="49.0; 48.0; 48.5")
    rows = found.tables[0].as_data()["rows"]
    assert [row["out"] for row in rows] == [None, pytest.approx(1.0), pytest.approx(0.5)]
    assert "cylinder 1 49.00 cm³, leave it; cylinder 2 48.00 cm³, take out 1.00 cm³" in found.drawing.svg


def test_less_than_a_burr_is_left():
    assert "take out" not in even(cylinders="2", chamber="49.00; 48.96").drawing.svg
    assert "take out 0.06" in even(cylinders="2", chamber="49.00; 48.94").drawing.svg


def test_one_chamber_has_nothing_to_compare():
    with pytest.raises(InputErrors, match="Number of cylinders must be 2 or more, to compare chambers"):
        even(cylinders="1", chamber="49")


def test_a_difference_allowed_beyond_reason_is_refused():
    with pytest.raises(InputErrors, match="Allowed difference between chambers must be between 0 cm³ and 100 cm³"):
        even(cylinders="2", chamber="49; 50", may_differ="101")


test_they_are_alike_only_with_the_whole_uncertainty = is_in_only_with_its_whole_uncertainty(
    four, Judged("may_differ", meets("difference"), number("difference"), says("verdict"))
)
test_the_difference_goes_as_physics_sends_it = goes_as_physics_sends_it(
    lambda **typed: even(cylinders="2", burette_error="0.1", **typed),
    rises("fill", (50, 60), "difference", "the largest grows further from the least", written="49.1; {:.6f}"),
)
