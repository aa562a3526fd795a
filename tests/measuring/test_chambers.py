"""What each chamber holds: fills, marks, warm liquid, the plate's hole, and what goes on."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk, Reading
from tests.answers import wrong
from tests.examples import examples
from tests.physics import falls, goes_as_physics_sends_it, rises

FILLS = "49.2 49.1 49.0; 49.5 49.5 49.6; 48.2 48.3 48.1; 48.6 48.6 48.7"
ONE = {"cylinders": "1", "fill": "49.2 49.1 49.0"}
EXACT = {"burette_error": "0", "hole": "0", "temperature_error": "0", "step": "0.001"}


def answer(**typed):
    given = {"cylinders": "4", "fill": FILLS, "burette_error": "0.1 cm³"} | typed
    return answered("measuring.chambers", **{key: text for key, text in given.items() if text is not None})


def volume(found, key="chamber_1"):
    return magnitude_in(found.value(key).quantity, "cm³")


def wide(found, key="chamber_1"):
    return uncertainty_in(found.value(key).quantity, "cm³")


def cautions(found):
    return [(caution.signal, caution.text) for caution in found.warnings]


def test_leads_with_the_volumes_and_their_band():
    found = answer()
    assert found.headline == "49.10 · 49.53 · 48.20 · 48.63 cm³"
    assert found.says == (
        "The chambers of cylinders 1, 2, 3 and 4 hold 49.10, 49.53, 48.20 and 48.63 cm³, each ± 0.18 cm³ or less."
    )


def test_one_chamber_is_spoken_of_alone():
    assert answer(**ONE).says == "The chamber of cylinder 1 holds 49.10 cm³, ± 0.21 cm³."


def test_of_many_the_headline_has_the_ends():
    twelve = "; ".join(f"{48 + row / 10:.1f}" for row in range(12))
    assert answer(cylinders="12", fill=twelve).headline == "48.00 to 49.10 cm³"


def test_a_starting_mark_is_taken_off():
    for starts in ("0.5", "0.5 0.5 0.5"):
        assert volume(answer(**ONE, fill_start=starts)) == pytest.approx(48.6)
    assert volume(answer(**ONE, fill_start="0.2 0.1 0.0")) == pytest.approx(49.0)


def test_warm_liquid_shrinks_to_the_heads_temperature():
    # 49.1 · (1 − 1.09e-3 · 10) = 48.56481; 25 °C is 77 °F
    for warm in ("25", "77 °F"):
        found = answer(**ONE, liquid="spirit", liquid_temperature=warm, head_temperature="15")
        assert volume(found) == pytest.approx(48.56481, abs=1e-6)


def test_liquid_up_to_the_top_of_the_hole_is_not_chamber():
    # π/4 · 0.6² · 0.8 = 0.226195
    assert volume(answer(**ONE, hole="6", plate="8", level="top")) == pytest.approx(49.1 - 0.226195, abs=1e-6)
    assert volume(answer(**ONE, hole="6", plate="8")) == pytest.approx(49.1)


def test_a_chamber_larger_than_the_burette_costs_a_second_filling():
    # burette ± 0.1 rectangular, twice: 2 · 0.1/√3; the marks' share of it is 0.001/√12 · 2
    exact = EXACT | {"burette_error": "0.1", "cylinders": "1", "fill": "49.1"}
    assert wide(answer(**exact, capacity="49.1")) == pytest.approx(0.2 / math.sqrt(3), rel=1e-4)
    assert wide(answer(**exact, capacity="49")) == pytest.approx(0.4 / math.sqrt(3), rel=1e-4)


def test_a_chamber_filled_once_takes_its_scatter_from_the_others():
    found = answer(cylinders="2", fill="49.2 49.1 49.0; 48.2", **EXACT)
    # s 0.1 with ν 2, so k is 4.53: by hand 4.53 · 0.1 ÷ √3 and 4.53 · 0.1
    assert wide(found) == pytest.approx(4.53 * 0.1 / math.sqrt(3), rel=1e-3)
    assert wide(found, "chamber_2") == pytest.approx(4.53 * 0.1, rel=1e-3)
    assert any("4.53 u" in note for note in found.notes)


def test_more_fills_narrow_the_band():
    assert wide(answer(cylinders="1", fill="49.2 49.1 49.0 49.2 49.1 49.0 49.2 49.1 49.0")) < wide(answer(**ONE))


def test_every_volume_says_which_reading_it_owes_its_uncertainty_to():
    budget = dict(answer().value("chamber_1").budget)
    assert set(budget) == {
        "The burette", "Scatter of the readings", "Reading of the scale", "The thermometer",
        "Level in the plate's hole",
    }  # fmt: skip
    assert sum(budget.values()) == pytest.approx(1)


def test_a_chamber_without_a_fill_comes_from_its_dimensions_or_not_at_all():
    # π/4 · 8² · 1 = 50.265482
    some = {"cylinders": "2", "fill": None, "fill.1": "49.2 49.1"}
    found = answer(**some, step_diameter="80", step_height="10")
    assert volume(found, "chamber_2") == pytest.approx(50.265482, abs=1e-6)
    assert found.tables[0].as_data()["rows"][1]["fills"] == "from dimensions"
    alone = answer(**some)
    assert alone.value("chamber_2") is None
    assert [worked.name for worked in alone.worked] == ["chamber.1"]
    assert 'label="Chamber volumes: cylinder 1' in alone.drawing.svg


def test_without_any_fill_it_is_lacking_and_not_wrong():
    asked = asked_with("measuring.chambers", ["cylinders=2"])
    assert (asked.answer, asked.errors) == (None, ())
    assert [error.field for error in asked.lacking] == ["fill.1"]


def test_answers_in_the_unit_that_the_burette_is_marked_in():
    assert re.fullmatch(
        r"3\.000 ± 0\.\d{3} in³", answer(cylinders="1", fill="3.00 3.01 2.99 in³").value("chamber_1").texts[0]
    )


@pytest.mark.parametrize("liquid", ["spirit", "paraffin"])
def test_a_liquid_that_burns_is_warned_of(liquid):
    assert cautions(answer(liquid=liquid))[0][0] == "warning"
    assert "catch fire" in cautions(answer(liquid=liquid))[0][1]
    assert not any("catch fire" in text for _, text in cautions(answer(liquid="water")))


def test_fills_too_far_apart_are_no_one_volume():
    said = [text for _, text in cautions(answer(**ONE | {"fill": "49.0 49.4"})) if text.startswith("Fills")]
    assert said == [
        "Fills of the chamber of cylinder 1 lie 0.40 cm³ apart. "
        "Look for a bubble or a leak: seal the plate again and fill again."
    ]
    assert not any(text.startswith("Fills") for _, text in cautions(answer(**ONE | {"fill": "49.0 49.3"})))


def test_a_single_fill_is_told_what_it_hides():
    assert any("No chamber was filled twice" in text for _, text in cautions(answer(cylinders="1", fill="49.1")))
    assert not any("No chamber was filled twice" in text for _, text in cautions(answer()))


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        (
            {"fill_start": "0.1 0.2"},
            "fill_start.1",
            "Starting marks of cylinder 1 must be one for all its readings, or 3, one for each; there are 2",
        ),
        ({"fill_start": "49.05"}, "fill.1", "Burette readings of cylinder 1 must be more than their starting marks"),
        (
            {"fill": None, "fill_start": "0.1"},
            "fill_start.1",
            "Starting marks of cylinder 1 must be empty if nothing was filled",
        ),
        (
            {"fill": "0.1", "level": "top"},
            "fill.1",
            "Burette readings of cylinder 1 must be more than the hole in the plate holds",
        ),
        ({"fill": "49.1 ± 0.1"}, "fill.1", "Burette readings of cylinder 1 must be numbers in a row, like"),
        ({"fill": "2001"}, "fill.1", "Burette readings of cylinder 1 must each be between 0 cm³ and 2000 cm³"),
        ({"fill": "49 " * 11}, "fill.1", "Burette readings of cylinder 1 must have 1 to 10 entries, not 11"),
    ],
)
def test_each_mistake_is_said_beside_its_box(typed, field, message):
    errors = wrong(answer, **ONE | typed)
    assert errors[field].startswith(message)
    assert len(errors) == 1


def chain(*texts, question="compression.ratio"):
    return asked_with(question, texts)


CHAIN = (
    "bore=80", "stroke=74", "deck=0.4; 0.4", "spacer=1; 1", "burette_error=0.4 cm³", "capacity=100 cm³",
    "step=0.02 cm³", "hole=0 mm", "temperature_error=0", "depth_error=0", "depth_read_to=0", "bore_error=0",
)  # fmt: skip


def test_the_whole_chain_works_in_one_line():
    """1 + 371.964 ÷ (50 + 50.2655 · 0.14) = 7.522."""
    asked = chain(*CHAIN, "cylinders=1", "fill=50 50 50")
    assert asked.answer.value("ratio").quantity.nominal_value == pytest.approx(7.5219, abs=5e-4)
    assert asked.known["chamber.1"].by == "measuring.chambers"


def test_one_burettes_error_adds_up_in_chamber_and_crown_also_when_both_were_filled():
    """Chamber 44.0, crown 3.947 (liquid 54.212 less 50.265): 371.965 ÷ 55.02² × 2 × 0.4 ÷ √3 × 2 = 0.1135."""
    filled = 3.947 + math.pi / 4 * 64
    asked = chain(
        *CHAIN[:2], "deck=0.4", "spacer=1", *CHAIN[4:], "cylinders=1", "fill=44.0 44.0 44.0", "piston_depth=10",
        f"crown_fill={filled:.4f} {filled:.4f} {filled:.4f}", "target=7.76", "tolerance=0.1",
    )  # fmt: skip
    ratio = asked.answer.value("ratio").quantity
    assert ratio.nominal_value == pytest.approx(7.765, abs=1e-3)
    assert 2 * ratio.std_dev == pytest.approx(0.114, abs=1e-3)
    assert asked.answer.tables[0].rows[0].cells[-1] == "too close to call"
    assert {asked.known[key].by for key in ("chamber.1", "crown.1")} == {"measuring.chambers", "measuring.crowns"}


def test_what_one_burette_filled_is_told_apart():
    """Steps of 0.02 read to half, two marks a fill: 2 · 0.01 · √2 · √2/√3 = 0.0231 on 0.50."""
    fills = ("cylinders=2", "fill=50 50 50; 50.5 50.5 50.5")
    even = chain(*CHAIN[4:9], *fills, question="measuring.even").answer.value("difference").quantity
    assert magnitude_in(even, "cm³") == pytest.approx(0.50)
    assert uncertainty_in(even, "cm³") == pytest.approx(0.0231, abs=3e-4)
    found = chain(*CHAIN, *fills).answer
    spread = found.value("spread").quantity
    assert spread.nominal_value > 10 * spread.std_dev
    assert not any("told apart" in note for note in found.notes)


def test_a_typed_volume_goes_before_the_one_that_was_filled():
    desk = Desk(
        {
            "cylinders": Reading("1"),
            "measuring.chambers.fill.1": Reading("44 44 44"),
            "chamber.1": Reading("50"),
            "bore": Reading("80"),
            "stroke": Reading("74"),
            "deck.1": Reading("0.4"),
        }
    )
    assert desk.ask("compression.ratio").known["chamber.1"].text == "50"
    # 1 + 371.964 ÷ (50 + 50.2655 · 0.04) = 8.152
    assert desk.ask("compression.ratio").answer.value("ratio").quantity.nominal_value == pytest.approx(8.152, abs=1e-3)


def test_few_fills_are_remembered_down_the_chain():
    """One pair of fills 0.2 apart: s 0.1414 on one degree, k 13.97; of a difference with the burette gone."""
    texts = ("cylinders=2", "fill=49.9 50.1; 50.5", "hole=0", "temperature_error=0", "step=0.001", "capacity=100")
    even = chain(*texts, question="measuring.even").answer.value("difference").quantity
    assert uncertainty_in(even, "cm³") == pytest.approx(13.97 * 0.1414 * math.sqrt(0.5 + 1), rel=1e-3)


def test_instruments_without_error_leave_no_band():
    assert wide(answer(**EXACT | {"cylinders": "1", "fill": "49.1 49.1"})) < 0.001


@settings(max_examples=examples(50), deadline=None)
@given(st.floats(20, 60), st.floats(0, 5), st.floats(0, 5))
def test_a_larger_error_limit_never_narrows_the_band(fill, one, other):
    small, large = sorted((one, other))
    bands = [wide(answer(cylinders="1", fill=f"{fill:.2f}", burette_error=f"{limit:.3f}")) for limit in (small, large)]
    assert bands[0] <= bands[1]


def test_chart_tells_every_fill_in_words():
    said = "Chamber volumes: cylinder 1 49.10 ± 0.21 cm³ from fills of 49.20, 49.10, 49.00."
    assert said in answer(**ONE).drawing.svg


test_a_chamber_goes_as_physics_sends_it = goes_as_physics_sends_it(
    lambda **typed: answer(**{"cylinders": "1", "fill": "49"} | typed),
    rises("fill", (40, 60), "chamber_1", "what the burette gave is in the chamber"),
    falls("fill_start", (0, 5), "chamber_1", "the burette gave less"),
)
