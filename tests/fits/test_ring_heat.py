"""What heat takes of a ring's end gap."""

from functools import partial

import pytest

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from tests.answers import errors_of, read_off

ASKED = "fits.ring_heat"
SURE = {"temperature_error": "0", "expansion_error": "0"}


sure = partial(answered, ASKED, **SURE, bore="80")


def test_the_ring_grows_more_than_its_barrel():
    answer = answered(ASKED, **SURE, bore="80", ring_temperature="320", barrel_temperature="120")
    # by hand: π · 80 · 11.4e-6 · (300 − 100) = 0.573
    assert read_off(answer, "closed") == pytest.approx(0.573, abs=5e-4)
    assert answer.headline == "0.573 mm"
    assert "heat closes 0.573 mm, so a cold gap of just that is gone when hot" in answer.drawing.svg


def test_what_heat_closes_is_known_no_better_than_temperatures_and_expansions():
    closed = answered(ASKED, bore="80").value("closed").quantity
    # by hand: π · 80 · 11.4e-6 · (230 − 130); halves π · 80 · 11.4e-6 · 20 twice, and 5 % of 230 and of 130 K
    part = 3.14159265 * 80 * 11.4e-6
    assert magnitude_in(closed, "mm") == pytest.approx(part * 100)
    halves = (20, 20, 0.05 * 230, 0.05 * 130)
    assert uncertainty_in(closed, "mm") == pytest.approx(2 / 3**0.5 * part * sum(half**2 for half in halves) ** 0.5)


@pytest.mark.parametrize(
    ("key", "texts"),
    [
        ("ring_temperature", ("160", "250", "400")),
        ("barrel_temperature", ("240", "150", "80")),
        ("ring_expansion", ("10", "11.4", "11.7")),
        ("barrel_expansion", ("12", "11.4", "10")),
        ("cold_temperature", ("20", "10", "0")),
        ("bore", ("70", "80", "100")),
    ],
)
def test_the_hotter_the_ring_and_the_cooler_its_barrel_the_more_of_the_gap_is_closed(key, texts):
    """A cold workshop adds the same rise to both, and closes nothing where both expand alike."""
    typed = SURE | {"bore": "80"}
    closed = [read_off(answered(ASKED, **typed | {key: text}), "closed") for text in texts]
    if key == "cold_temperature":
        assert closed == pytest.approx([closed[0]] * 3)
    else:
        assert closed[0] < closed[1] < closed[2]


def test_a_barrel_that_grows_more_closes_nothing():
    answer = answered(ASKED, **SURE, bore="80", barrel_expansion="23.6", barrel_temperature="250")
    assert read_off(answer, "closed") == 0
    assert answer.headline == "Nothing"
    assert "the barrel grows as much as the ring" in answer.says


def test_the_mean_of_the_measured_bores_is_the_bore_of_its_rings():
    typed = ["cylinders=1", "bore_across=90", "bore_along=90", "temperature_error=0"]
    closed = asked_with(ASKED, typed).answer.value("closed").quantity
    # by hand: π · 90 · 11.4e-6 · 100
    assert magnitude_in(closed, "mm") == pytest.approx(0.32233, abs=1e-5)


def test_without_a_bore_it_asks_for_one():
    assert errors_of(sure, bore="") == [("bore", "Enter the bore, in millimetres")]
