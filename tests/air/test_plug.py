"""What the look of a plug says: guidance, marked as common practice."""

import pytest

from calculators import InputErrors
from calculators.air.plug import LOOKS
from calculators.bench import COMMON_PRACTICE
from calculators.bench.asking import answered, asked_with


@pytest.mark.parametrize("look", LOOKS)
def test_each_look_has_its_words(look):
    found = answered("air.plug", plug=look)
    seen, headline, words = LOOKS[look]
    assert found.value("plug").quantity == words
    assert found.value("plug").source is COMMON_PRACTICE
    assert (found.headline, found.says) == (headline, f"{seen}. {words}")
    assert seen.lower() in found.drawing.svg


def test_the_looks_are_told_apart_in_words_and_in_the_drawing():
    found = [answered("air.plug", plug=look) for look in LOOKS]
    assert len({one.headline for one in found}) == len({one.drawing.svg for one in found}) == len(LOOKS)


@pytest.mark.parametrize(("look", "dots", "drops"), [("tan", 0, 0), ("sooty", 11, 0), ("oily", 6, 6), ("wet", 0, 6)])
def test_soot_is_drawn_as_dots_and_what_is_wet_as_drops(look, dots, drops):
    svg, clean = (answered("air.plug", plug=one).drawing.svg for one in (look, "tan"))
    assert svg.count("<circle") - clean.count("<circle") == dots
    assert svg.count("<path") - clean.count("<path") == drops


def test_a_chalk_white_plug_stops_the_hard_driving():
    def signals(look):
        return [caution.signal for caution in answered("air.plug", plug=look).warnings]

    assert signals("white") == ["warning", "warning"]
    assert signals("tan") == ["warning"]


def test_coasting_with_the_engine_cut_is_warned_of():
    assert "locks the steering" in answered("air.plug", plug="tan").warnings[0].text


def test_until_one_was_read_it_says_what_it_needs():
    asked = asked_with("air.plug")
    assert [error.field for error in asked.lacking] == ["plug"]


def test_another_look_is_refused():
    with pytest.raises(InputErrors, match=f"Look of the plug must be one of: {', '.join(LOOKS)}"):
        answered("air.plug", plug="blue")
