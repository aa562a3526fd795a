"""What to grind from each chamber, and where a wall stops it."""

from functools import partial

import pytest

from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk, Reading
from calculators.bench.units import uncertainty_in
from tests.answers import bare_number, rows

FOUR = {
    "cylinders": "4",
    "chamber": "49.1; 49.5; 48.2; 48.6",
    "wall": "5; 5; 5; 4.4",
    "least_wall": "4 mm",
    "grind_area": "18 cm²",
}


chambers = partial(answered, "ports.chambers", **FOUR)


def test_chambers_are_evened_to_the_largest_and_stop_at_the_wall():
    answer = chambers(wall_error="0.1 mm")
    found = rows(answer)
    # by hand: 18 cm² · (4.4 − 0.1 − 4.0) mm = 0.54 cm³, where 0.9 would even it
    assert [row["out"] for row in found] == pytest.approx([0.4, 0.0, 1.3, 0.54])
    assert [row["why"] for row in found] == ["even with the largest"] * 3 + ["stopped by the wall"]
    assert found[2]["depth"] == pytest.approx(1.3 / 18 * 10)
    assert [row["chosen"] for row in found] == [True, False, True, True]
    assert bare_number(answer, "spread") == pytest.approx(1.3)
    assert bare_number(answer, "spread_then") == pytest.approx(0.36)
    assert answer.headline == "Cyl 3: 1.3 cm³ · Cyl 4: 0.5 cm³ · Cyl 1: 0.4 cm³"
    assert any("Cylinder 4 cannot be brought" in caution.text for caution in answer.warnings)


def test_grinding_is_warned_of_before_it_is_planned():
    assert [caution.signal for caution in chambers().warnings][:2] == ["warning", "notice"]


def test_what_the_burette_is_off_by_drops_out_of_the_spread():
    """Each filling read to ± 0.02 cm³ by itself: 2 · √2 · 0.02 ÷ √3."""
    spread = chambers(burette_error="2 cm³").value("spread").quantity
    assert uncertainty_in(spread, "cm³") == pytest.approx(2 * 2**0.5 * 0.02 / 3**0.5, rel=1e-6)


@pytest.mark.parametrize(("source", "expanded"), [("one", 0.0327), ("several", 0.6532)])
def test_what_one_burette_does_drops_out_between_two_chambers_typed_with_their_spread(source, expanded):
    # by hand: each has ± 0.02 cm³ of its own, U = 2 · 0.02 · √2/√3 = 0.0327; of two burettes 2 · 0.4 · √2/√3 = 0.6532
    answer = chambers(chamber="50.0 ± 0.4; 50.5 ± 0.4; ; ", wall="5; 5; ; ", volumes_from=source)
    assert bare_number(answer, "spread") == pytest.approx(0.5)
    assert uncertainty_in(answer.value("spread").quantity, "cm³") == pytest.approx(expanded, abs=1e-4)


@pytest.mark.parametrize(
    ("allowed", "verdict"), [("2 cm³", "in"), ("1.3 cm³", "too close to call"), ("0.5 cm³", "out")]
)
def test_the_difference_of_the_chambers_is_judged(allowed, verdict):
    answer = chambers(may_differ=allowed)
    assert answer.value("spread").label == f"Chambers differ by ({verdict})"
    assert any("nothing has to be ground" in caution.text for caution in answer.warnings) == (verdict == "in")


def test_without_an_allowed_difference_nothing_is_judged():
    assert chambers().value("spread").label == "Chambers differ by"


def test_the_ratio_falls_by_what_is_taken_out():
    """Bore 8 cm, stroke 7.4 cm: 371.964 cm³ swept; 7.7339 : 1 is 55.2372 cm³ of room; 1.3 cm³ more of it."""
    answer = chambers(bore="80", stroke="74", ratio="7.8; 7.7; 7.7339; 7.7")
    assert rows(answer)[2]["ratio"] == pytest.approx(7.7339)
    assert rows(answer)[2]["ratio_then"] == pytest.approx(1 + 371.964 / 56.5372, abs=1e-4)
    assert rows(answer)[1]["ratio_then"] == pytest.approx(7.7)


def test_the_ratio_now_is_the_one_worked_out_from_the_volumes():
    measured = {"deck": "0.42; 0.38; 0.45; 0.41", "bore": "80", "stroke": "74"}
    now = [row["ratio"] for row in rows(chambers(**measured))]
    ratio = answered("compression.ratio", cylinders="4", chamber=FOUR["chamber"], **measured)
    assert now == pytest.approx([row["ratio"] for row in ratio.tables[0].as_data()["rows"]])


def test_without_bore_and_stroke_the_ratio_is_left_out():
    assert [row["ratio_then"] for row in rows(chambers(ratio="7; 7; 7; 7"))] == [None] * 4


def test_a_wall_that_was_not_measured_is_left_alone():
    answer = chambers(wall="5; 5; ; 5")
    assert rows(answer)[2]["why"] == "wall not measured"
    assert rows(answer)[2]["out"] == 0


def test_chambers_that_are_alike_need_nothing():
    answer = chambers(chamber="49; 49; 49; 49")
    assert answer.says == "Nothing to take from any of 4 chambers."
    assert answer.warnings == ()


def test_a_chamber_keeps_its_number_where_others_are_empty():
    assert [row["cylinder"] for row in rows(chambers(chamber="49; ; 48; 49", wall="5; ; 5; 5"))] == [1, 3, 4]


def test_of_many_chambers_the_headline_names_only_the_most():
    volumes = "; ".join(f"{40 + number}" for number in range(12))
    answer = chambers(cylinders="12", chamber=volumes, wall="; ".join(["50"] * 12))
    assert answer.headline == "Up to 11.0 cm³, from 11 chambers"


def test_the_drawing_says_what_it_shows():
    assert "cylinder 4: 0.5 cm³, 0.4 short, wall allows 0.5" in chambers().drawing.svg


def test_with_no_chamber_measured_it_says_what_it_needs():
    desk = Desk({"cylinders": Reading("2"), "chamber_wall_least": Reading("4"), "grind_area": Reading("18")})
    asked = desk.ask("ports.chambers")
    assert (asked.answer, asked.errors) == (None, ())
    assert [error.field for error in asked.lacking] == ["chamber.1"]


def test_a_ratio_is_above_one():
    asked = asked_with("ports.chambers", [f"{key}={text}" for key, text in (FOUR | {"ratio": "1; 7; 7; 7"}).items()])
    assert [error.message for error in (*asked.errors, *asked.lacking)] == [
        "Ratio now of cylinder 1 must be above 1 : 1"
    ]


def test_an_area_may_be_typed_in_square_inches():
    # by hand: 2.79 in² are 18.00 cm²
    assert rows(chambers(grind_area="2.79 in²"))[3]["out"] == pytest.approx(0.54, abs=1e-3)
    assert not asked_with("ports.chambers", ["grind_area=2.79 sq in"]).errors


def test_an_error_limit_may_be_typed_with_its_sign():
    plain, signed = (chambers(wall_error=typed) for typed in ("0.2 mm", "± 0.2 mm"))
    assert signed.as_data() == plain.as_data() != chambers().as_data()
