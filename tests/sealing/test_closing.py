"""One joint and its clock: deadlines rounded down, waits up."""

from functools import partial

import pytest

from calculators import InputErrors, magnitude_in
from calculators.bench import Clock
from calculators.bench.asking import answered, asked_with

SHEET = {"open_time": "10 min", "setting": "60 min", "cure": "24 h", "shop_temperature": "23 °C"}


answer = partial(answered, "sealing.closing", **SHEET)


def test_without_a_clock_it_tells_the_waits():
    found = answer()
    assert found.headline == "Shut within 10 min · oil after 24 h"
    assert found.says == (
        "Close the joint within 10 min of the first bead. It may be loaded 60 min after the last bolt. "
        "Oil may touch it 24 h after the last bolt."
    )


def test_with_a_clock_it_tells_the_hours():
    # by hand: 9:30 + 10 min; from there 60 min and 24 h
    found = answer(hour="9", minute="30")
    assert found.headline == "Shut by 09:40 · oil from day 2, 09:40"
    assert [found.value(key).quantity for key in ("open", "setting", "cure")] == ["09:40", "10:40", "day 2, 09:40"]
    assert "shut it, until last bolt by 09:40" in found.drawing.svg


def test_a_deadline_is_rounded_down_and_a_wait_up():
    # by hand: 10 min · 2 ^ −1.5 is 3.54 min; 24 h · 2 ^ 0.3 is 29.55 h, or 1772.9 min
    assert answer(shop_temperature="38 °C").headline.startswith("Shut within 3.5 min")
    assert answer(shop_temperature="38 °C", hour="9").headline.startswith("Shut by 09:03 ")
    cold = answer(shop_temperature="20 °C")
    assert cold.headline.endswith("oil after 29.6 h")
    assert magnitude_in(cold.value("cure_here").quantity, "h") == pytest.approx(29.548, abs=0.001)
    # by hand: 9:10 + 29 h 33 min, begun minutes counted
    assert answer(shop_temperature="20 °C", hour="9").headline.endswith("oil from day 2, 14:43")


@pytest.mark.parametrize(
    ("shop", "minutes", "warned"),
    [("38 °C", 3.536, True), ("33 °C", 5, True), ("91.4 °F", 5, True), ("23 °C", 10, False), ("13 °C", 10, False)],
)
def test_warmth_shortens_the_open_time_and_the_cold_lengthens_none(shop, minutes, warned):
    found = answer(shop_temperature=shop)
    assert magnitude_in(found.value("open_here").quantity, "min") == pytest.approx(minutes, abs=0.001)
    assert any("a bead skins sooner" in caution.text for caution in found.warnings) == warned


def test_warmth_shortens_no_cure():
    assert magnitude_in(answer(shop_temperature="33 °C").value("cure_here").quantity, "h") == pytest.approx(24)


def test_what_the_sheet_does_not_name_is_left_out():
    found = answer(open_time="", setting="")
    assert found.headline == "Oil after 24 h"
    assert found.value("open_here") is None
    assert found.value("setting") is None
    assert not any("skins" in caution.text for caution in answer(open_time="", shop_temperature="38 °C").warnings)


def test_no_cure_is_no_wait():
    found = answer(cure="0", setting="0")
    assert found.headline == "Shut within 10 min · oil at once"
    assert found.says.endswith("It may be loaded at once. Oil may touch it at once.")
    nothing = answer(cure="0", setting="", open_time="")
    assert nothing.headline == "Oil at once"
    assert "no waiting time" in nothing.drawing.svg


def test_a_short_wait_is_told_in_minutes():
    assert answer(cure="1.5 h").headline.endswith("oil after 90 min")
    assert answer(cure="2 h").headline.endswith("oil after 2 h")


def test_cold_is_warned_of_and_frost_refused():
    assert any("do not cure at all" in caution.text for caution in answer(shop_temperature="2 °C").warnings)
    with pytest.raises(InputErrors, match="this cold, a sealer would take 10 times as long"):
        answer(shop_temperature="-10 °C")
    with pytest.raises(InputErrors, match="this warm, a bead would skin in 2% of its open time"):
        answer(shop_temperature="50 °C", doubling="5")


def test_it_warns_of_vapour_and_of_oil_too_soon():
    signals = {caution.signal: caution.text for caution in answer().warnings}
    assert "catches fire" in signals["warning"]
    assert "lifts a sealer that has not cured" in signals["notice"]


def test_the_temperature_is_asked_once_for_all_sealing():
    assert asked_with("sealing.closing", ["cure=1 h"]).of.shop_temperature.facts.shared_as == (
        asked_with("sealing.order").of.shop_temperature.facts.shared_as
    )


def test_its_clocks_count_from_the_bead_and_from_the_last_bolt():
    """A deadline never runs longer than the sheet allows, a wait never shorter."""
    clocks = answer(open_time="10 min", setting="61.2 min", cure="24 h", shop_temperature="23", sheet_temperature="23")
    found = {clock.waits_for: clock.minutes for clock in clocks.clocks}
    assert found == {"Shut the joint, last bolt": 10, "The joint may be loaded": 62, "Oil may meet the joint": 1440}
    assert [clock.starts.partition(":")[0] for clock in clocks.clocks] == [
        "First bead now",
        "Sealed now, last bolt",
        "Sealed now, last bolt",
    ]
    assert len(answer(cure="0", setting="", open_time="").clocks) == 0


def test_a_clock_runs_for_some_time_and_says_what_for():
    for waits_for, minutes in (("Oil may meet the joint", 0), ("Cure", 5)):
        with pytest.raises(ValueError, match="a clock runs"):
            Clock(waits_for=waits_for, starts="now", minutes=minutes)
