"""The ratio of each cylinder: volumes, spacers, the band, and what the readings can tell."""

from functools import partial

import pytest

from calculators import InputErrors, magnitude_in, uncertainty_in
from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk
from calculators.compression import spacers
from tests.answers import cautions
from tests.cards import MARRAM
from tests.physics import goes_as_physics_sends_it, rises

ONE = {"bore": "80", "stroke": "74", "cylinders": "1", "chamber": "49.5", "deck": "0.4"}
FOUR = ONE | {"cylinders": "4", "chamber": "49.1; 49.5; 48.2; 48.6", "deck": "0.42; 0.38; 0.45; 0.41"}
EXACT = {"burette_error": "0", "burette_read_to": "0", "depth_error": "0", "depth_read_to": "0", "bore_error": "0"}


ratio = partial(answered, "compression.ratio")


def row(found, number=0):
    return found.tables[0].as_data()["rows"][number]


def test_card_s_engine_by_hand():
    # 80 × 74: π/4 · 8² · 7.4 = 371.965; 49.5 + 50.2655 · (0.04 + 0.1) = 56.537; ratio 7.5791
    found = ratio(**ONE, spacer="1")
    assert found.value("ratio").quantity.nominal_value == pytest.approx(7.5791, abs=5e-5)
    assert magnitude_in(found.value("displacement").quantity, "cm³") == pytest.approx(371.965, abs=5e-4)
    assert row(found)["clearance"] == pytest.approx(56.537, abs=5e-4)
    assert row(found)["deck"] == pytest.approx(1.4)
    assert found.headline == "7.58 : 1"


def test_crown_and_gasket_count():
    # dish 2 cm³, gasket 0.5 mm of 82 mm: 49.5 + 2 + 2.6405 + 50.2655 · 0.04 = 56.151 without spacer
    found = ratio(**ONE, crown="2", gasket_thickness="0.5", gasket_bore="82")
    assert row(found)["clearance"] == pytest.approx(56.151, abs=1e-3)
    assert row(found)["deck"] == pytest.approx(0.9)


def test_gasket_bore_left_empty_is_the_cylinder_s():
    empty, typed = ratio(**ONE, gasket_thickness="0.5"), ratio(**ONE, gasket_thickness="0.5", gasket_bore="80")
    assert row(empty)["clearance"] == pytest.approx(row(typed)["clearance"], rel=1e-12)
    # the same bore twice leans the same way; two bores measured apart do not
    assert empty.value("ratio").quantity.std_dev != typed.value("ratio").quantity.std_dev


def test_error_limits_are_half_widths_of_rectangular_bands():
    # only the chamber's 0.3 cm³ left: u = 0.3/√3; U(clearance) = 2u = 0.3464 (JCGM 100:2008, 4.3.7 and 6.2)
    found = ratio(**ONE | EXACT | {"burette_error": "0.3"})
    cells = found.tables[0].rows[0].cells
    assert uncertainty_in(cells[2], "cm³") == pytest.approx(0.3464, abs=5e-5)
    assert uncertainty_in(cells[3], "mm") is None


def test_readings_without_any_error_have_no_plus_minus():
    found = ratio(**FOUR, **EXACT, spacer="1; 1; 1.25; 1.25", target="7.6")
    assert "±" not in " ".join(text for value in found.values for text in value.texts)
    assert [row(found, number)["verdict"] for number in range(4)] == ["in"] * 4


def test_what_the_cylinders_have_in_common_drops_out_of_their_spread():
    found = ratio(**FOUR | EXACT | {"bore_error": "0.02", "depth_error": "0.02", "burette_error": "0.4"})
    # swept and clearance move alike; what is left of 0.13 is the difference of two sensitivities
    assert 2 * found.value("spread").quantity.std_dev < 0.003
    assert found.value("spread").quantity.nominal_value == pytest.approx(0.13, abs=0.01)


def test_a_ratio_s_budget_names_each_reading():
    names = [name for name, _ in ratio(**FOUR).value("lowest_ratio").budget]
    assert names[0] == "The burette"
    assert set(names) == {
        "The burette", "The bore gauge", "The depth gauge", "The stroke gauge", "Reading the burette",
        "Reading the depth gauge",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("target", "verdict", "signal"),
    [
        ("7.58", "in", None),
        ("7.76", "too close to call", "notice"),
        ("8.5", "out", "notice"),
        ("7.0", "out", "notice"),
    ],
)
def test_a_ratio_is_judged_with_its_band(target, verdict, signal):
    found = ratio(**ONE, spacer="1", target=target)
    assert row(found)["verdict"] == verdict
    about = [one.signal for one in found.warnings if "wanted" in one.text]
    assert about == ([signal] if signal else [])


def test_without_a_target_nothing_is_judged_and_knock_is_warned_of():
    found = ratio(**ONE, spacer="1")
    assert row(found)["verdict"] == "–"
    assert cautions(found, "warning")[0].startswith("A ratio too high for the fuel")
    assert not cautions(ratio(**ONE, spacer="1", target="7.6"), "warning")


@pytest.mark.parametrize(
    ("chamber", "words"), [("58", "lowest grade"), ("51", "regular"), ("44", "premium"), ("38", "any pump petrol")]
)
def test_cautions_of_the_fuel_by_the_ratio_reached(chamber, words):
    # 371.965 ÷ (58 + 7.04) + 1 = 6.7; 7.4; 8.3; 9.3
    fuel = [
        text for text in cautions(ratio(**ONE | {"chamber": chamber}, spacer="0.5"), "notice") if "no promise" in text
    ]
    assert len(fuel) == 1
    assert words in fuel[0]


def test_warns_of_a_clearance_under_a_millimetre_only_where_it_is():
    assert any("1 mm of deck clearance" in text for text in cautions(ratio(**ONE, spacer="0.5"), "notice"))
    assert not any("1 mm of deck clearance" in text for text in cautions(ratio(**ONE, spacer="1"), "notice"))


def test_a_dome_is_cautioned_of_and_a_dish_is_not():
    def domes(crown):
        return any("dome" in text for text in cautions(ratio(**ONE, spacer="1", crown=crown), "notice"))

    assert (domes("1"), domes("0"), domes("-1.5")) == (False, False, True)


def test_says_which_ratios_the_readings_cannot_part():
    apart = ratio(**FOUR | {"chamber": "49.5; 49.43; 49.5; 49.5", "deck": "0.4; 0.4; 0.4; 0.4"}, spacer="1; 1; 1; 1")
    assert apart.notes[0].startswith("7.58 and 7.59, the ratios of cylinders 1 and 2, cannot be told apart")
    assert not any("told apart" in note for note in ratio(**FOUR).notes)
    assert ratio(**FOUR).notes[-1].endswith("comes from: the burette.")


def test_the_chosen_spacers_go_into_the_ratio_as_values():
    texts_ = [f"{key}={text}" for key, text in FOUR.items()]
    drawer = ["heads=1 2 / 3 4", "thickness=0.25; 0.5; 0.75; 1.0", "pieces=4; 4; 2; 4", "target=7.6"]
    asked = asked_with("compression.ratio", [*texts_, *drawer])
    assert {asked.known[f"spacer.{number}"].by for number in range(1, 5)} == {"compression.spacers"}
    assert asked.answer.headline == "7.53 to 7.61 : 1"
    typed = asked_with("compression.ratio", [*texts_, *drawer, "spacer=0; 0; 0; 0"])
    assert typed.answer.headline == "8.24 to 8.37 : 1"


def test_what_lies_behind_the_spacers_is_made_once_somebody_looks_at_them(monkeypatch):
    looked = []
    table = spacers.candidates_table
    monkeypatch.setattr(spacers, "candidates_table", lambda *of: looked.append(of) or table(*of))
    desk = Desk({}, MARRAM, example=True)
    assert desk.ask("compression.ratio").answer.tables
    assert not looked
    answer = desk.ask("compression.spacers").answer
    assert [each.key for each in answer.tables] == [each.key for each in answer.tables[:]]
    assert len(looked) == 2, "one head after the other, once"


def test_keeps_what_other_questions_take():
    found = ratio(**ONE, spacer="1")
    assert [worked.name for worked in found.worked] == ["clearance_volume.1", "deck_clearance.1", "ratio.1"]


def test_decks_in_a_list_take_the_unit_at_its_end():
    # 16 thou = 0.4064 mm, 18 thou = 0.4572 mm (1 thou = 0.0254 mm: NIST SP 811, B.8)
    found = ratio(**ONE | {"cylinders": "2", "chamber": "49; 49", "deck": "16; 18 thou"})
    assert [row(found, number)["deck"] for number in (0, 1)] == pytest.approx([0.4064, 0.4572])


def test_no_room_above_the_piston_is_the_chamber_s_error():
    with pytest.raises(InputErrors, match="Chamber volume of cylinder 1 must be more than piston and crown take up"):
        ratio(**ONE | {"chamber": "5", "crown": "-8"})


@pytest.mark.parametrize("text", ["7.6:1", "7.6 : 1", "7.6 to 1"])
def test_the_ratio_and_its_tolerance_are_taken_as_they_are_written(text):
    usual = ratio(**ONE, spacer="1", target="7.6", tolerance="0.2").as_data()
    assert ratio(**ONE, spacer="1", target=text, tolerance="±0.2", depth_error="± 0.02 mm").as_data() == usual


def test_a_plus_minus_typed_with_a_reading_wins():
    by_burette, typed = ratio(**ONE).value("ratio").quantity, ratio(**ONE | {"chamber": "49.5 ± 1"})
    assert typed.value("ratio").quantity.std_dev > 3 * by_burette.std_dev


def test_one_burette_adds_up_in_chamber_and_crown():
    # by hand: clearance 44 + 3.947 + 5.02655 · 1.4 = 54.984 cm³, swept 371.965 cm³; dr/dV = −0.12304 per cm³; one
    # burette puts 2 · 0.4 cm³ into it: U = 2 · 0.12304 · 0.8/√3 = 0.114, which is more than the 0.1 allowed
    typed = ONE | {"chamber": "44.0", "crown": "3.947", "spacer": "1", "target": "7.76", "tolerance": "0.1"}
    one, apart = (
        ratio(**typed, burette_error="0.4", depth_read_to="0", volumes_from=how) for how in ("one", "several")
    )
    assert one.value("ratio").quantity.nominal_value == pytest.approx(7.765, abs=1e-3)
    assert 2 * one.value("ratio").quantity.std_dev == pytest.approx(0.114, abs=1e-3)
    assert row(one)["verdict"] == "too close to call"
    assert 2 * apart.value("ratio").quantity.std_dev == pytest.approx(0.081, abs=1e-3)  # √2 less
    assert row(apart)["verdict"] == "in"


test_the_displacement_goes_as_physics_sends_it = goes_as_physics_sends_it(
    lambda **typed: ratio(**ONE | typed),
    rises("bore", (78, 82), "displacement", "a wider cylinder holds more"),
    rises("stroke", (72, 76), "displacement", "a longer cylinder holds more"),
)
