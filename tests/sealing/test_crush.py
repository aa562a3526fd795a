"""The crush of one seal: what it wants, and what it has."""

from functools import partial
from xml.etree import ElementTree

import pytest

from calculators import magnitude_in
from calculators.bench.asking import answered
from tests.answers import messages_of

ONE = {"seal": "o_ring", "free": "3.00 mm", "thickness_error": "0"}


answer = partial(answered, "sealing.crush", **ONE)


def test_without_a_fitted_thickness_it_tells_what_to_leave():
    # by hand: 3 mm less 30 % and less 10 %
    found = answer()
    assert found.headline == "2.10 to 2.70 mm thick when tight"
    assert found.value("crush") is None
    assert found.warnings == ()


@pytest.mark.parametrize(
    ("fitted", "headline", "signals"),
    [
        # by hand, of 3 mm: 20 %, exactly 10 %, exactly 30 %, 9 %, 31 %, none
        ("2.40", "Seals: 20%, wants 10 to 30%", []),
        ("2.70", "Seals: 10%, wants 10 to 30%", []),
        ("2.10", "Seals: 30%, wants 10 to 30%", []),
        ("2.73", "Too little: 9%, wants 10 to 30%", ["notice"]),
        ("2.07", "Too much: 31%, wants 10 to 30%", ["notice"]),
        ("3.20", "Too little: −7%, wants 10 to 30%", ["notice"]),
    ],
)
def test_crush_is_judged_by_its_band(fitted, headline, signals):
    found = answer(fitted=fitted)
    assert found.headline == headline
    assert [caution.signal for caution in found.warnings] == signals


@pytest.mark.parametrize(
    # by hand, k = 2: 2 × 0.05 ÷ √3 ÷ 3 mm is 1.9 %, and 2.6 % with the free thickness off as well
    ("typed", "told"),
    [({"fitted": "2.69", "thickness_error": "0.05"}, "10 ± 3%"), ({"fitted": "2.69 ± 0.05 mm"}, "10 ± 2%")],
)
def test_what_the_gauge_cannot_tell_is_too_close_to_call(typed, told):
    found = answer(**typed)
    assert found.headline == f"Too close to call: {told}, wants 10 to 30%"
    assert found.value("verdict").quantity == "too close to call"
    assert [caution.signal for caution in found.warnings] == ["notice"]


def test_free_and_fitted_are_read_by_two_instruments():
    """Two errors of 0.05 mm at most, k = 2: √(1 + 0.8²) ÷ 3 mm × 2 × 0.05 ÷ √3."""
    spread = 2 * answer(fitted="2.40", thickness_error="0.05").value("crush").quantity.magnitude.std_dev
    assert spread == pytest.approx(100 * (1 + 0.8**2) ** 0.5 / 3 * 2 * 0.05 / 3**0.5, rel=1e-6)


def test_the_makers_band_wins():
    assert answer(fitted="2.40", least_crush="25%", most_crush="30%").headline == "Too little: 20%, wants 25 to 30%"
    # by hand: 3 mm less 25 %
    assert magnitude_in(answer(least_crush="25%").value("thickest").quantity, "mm") == pytest.approx(2.25)


def test_the_usual_bands_are_listed_and_the_kind_asked_about_marked():
    (table,) = answer().tables
    assert [row.cells[0] for row in table.rows if row.chosen] == ["O-ring in a groove"]
    assert len(table.rows) == 6


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"least_crush": "35%"}, "Least crush must be no more than the most, 30%"),
        ({"least_crush": "30%", "most_crush": "20%"}, "Most crush must be no less than the least, 30%"),
    ],
)
def test_each_mistake_gets_its_sentence(typed, message):
    assert messages_of(answer, **typed) == [message]


def test_the_band_is_shaded_between_its_ends():
    # 3 mm are 96 units tall: 10 to 30 % of them
    drawn = ElementTree.fromstring(answer(fitted="2.40").drawing.svg)  # noqa: S314 (our own text)
    band = next(shape for shape in drawn if shape.get("class") == "band")
    assert float(band.get("height")) == pytest.approx(0.2 * 96, abs=0.1)


@pytest.mark.parametrize("fitted", ["", "0.05", "3.0", "30"])
def test_any_seal_is_drawn(fitted):
    assert "to be pressed to 2.10 to 2.70 mm" in answer(fitted=fitted).drawing.svg
