"""What changes the ratio, and by how much."""

from functools import partial

import pytest

from calculators import InputErrors, magnitude_in, uncertainty_in
from calculators.bench.asking import answered
from tests.answers import rows

FOUR = {"bore": "80", "stroke": "74", "cylinders": "4", "clearance": "56.238; 56.437; 56.745; 56.944"}


levers = partial(answered, "compression.levers", **FOUR)


def test_each_change_by_hand():
    # at 56.745 cm³: 371.965 ÷ (56.745 + 0.50265) − 371.965 ÷ 56.745 = −0.05756; ÷ 57.745: −0.11352; − 0.50265: 0.05859
    found = levers()
    changes = [found.value(key).quantity.nominal_value for key in ("per_spacer", "per_chamber", "per_skim")]
    assert changes == pytest.approx([-0.05756, -0.11352, 0.05859], abs=2e-5)
    assert found.headline == "0.1 mm of spacer −0.06 · 1 cm³ of chamber −0.11"
    assert "0.1 mm off the face +0.06" in found.drawing.svg


def test_the_other_lever_by_hand():
    # clearances 56.238, 56.437, 56.745, 56.944; for 7.6: 371.965 ÷ 6.6 = 56.358
    lever = rows(levers(target="7.6"))
    assert [row["to_even"] for row in lever[:3]] == pytest.approx([0.706, 0.507, 0.199], abs=2e-3)
    assert lever[3]["to_even"] is None
    assert [row["to_target"] for row in lever] == pytest.approx([0.120, -0.079, -0.387, -0.586], abs=2e-3)
    assert lever[0]["skim"] is None
    assert lever[3]["skim"] == pytest.approx(0.586 / 5.02655, abs=1e-3)


def test_without_a_ratio_wanted_only_the_evening_is_told():
    found = levers()
    assert [row["to_target"] for row in rows(found)] == [None] * 4
    assert not any("needs" in note for note in found.notes)


def test_what_would_have_to_change_is_said_for_each_cylinder():
    # 371.965/8 − 51.410 = −4.91 cm³; over 50.2655 cm² that is 0.98 mm
    found = levers(cylinders="1", clearance="51.410", target="9")
    assert found.notes == (
        "For 9 : 1, cylinder 1 at 8.24 : 1 needs 4.9 cm³ less room above the piston: spacers 0.98 mm thinner, "
        "a skim of the face, or that volume in chamber or crown.",
    )
    assert found.warnings[0].text.startswith("Skimming brings the piston nearer")
    assert "thicker, or that volume" in levers(cylinders="1", clearance="51.410", target="7").notes[0]


def test_what_one_burette_is_off_by_drops_out_between_two_chambers():
    # two own errors of ± 0.02 cm³, U = 2 · 0.02 · √2/√3 = 0.0327
    found = answered(
        "compression.levers", bore="80", stroke="74", cylinders="2", chamber="50.0; 50.5", deck="0.4; 0.4",
        burette_error="0.4", depth_read_to="0",
    )  # fmt: skip
    cell = found.tables[0].rows[0].cells[2]
    assert magnitude_in(cell, "cm³") == pytest.approx(0.5)
    assert uncertainty_in(cell, "cm³") == pytest.approx(0.0327, abs=1e-4)


def test_each_cylinder_is_asked_for():
    with pytest.raises(InputErrors, match="Enter the clearance volume of cylinder 2, in cubic centimetres"):
        levers(cylinders="2", clearance="56")


def test_a_volumes_own_error_never_exceeds_its_whole():
    # a volume known better than ± 0.02 cm³ has no error of the burette's left
    found = answered(
        "compression.levers", bore="80", stroke="74", cylinders="2", chamber="50.0 ± 0.01; 50.5 ± 0.01",
        deck="0.4; 0.4", burette_error="0.4", depth_read_to="0",
    )  # fmt: skip
    assert uncertainty_in(found.tables[0].rows[0].cells[2], "cm³") == pytest.approx(2 * 0.01 * 2**0.5 / 3**0.5)
