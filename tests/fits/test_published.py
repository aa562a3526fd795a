"""Published limits: each stands on its page as it is in the code, in the unit of its manual too, and in its answer."""

import re

import pytest

from calculators import quantity
from calculators.bench.asking import answered
from calculators.fits.published import PUBLISHED
from tests.site.conftest import ROOT

PAGE = (ROOT / "docs" / "reference" / "published-limits.md").read_text(encoding="utf-8")
ROWS = [[cell.strip() for cell in row.split("|")[1:-1]] for row in PAGE.splitlines() if row.startswith("| ")]
LIMITS = [(key, *limit) for key, known in PUBLISHED.items() for limit in known.limits]


@pytest.mark.parametrize("key", PUBLISHED)
def test_a_range_has_two_manuals_at_least(key):
    assert len({manual for manual, _ in PUBLISHED[key].limits}) >= 2


@pytest.mark.parametrize(("key", "manual", "limit"), LIMITS)
def test_each_limit_stands_on_its_page_with_manual_and_figure(key, manual, limit):
    found = [row for row in ROWS if manual in row[-1]]
    said = [float(text) for row in found for text in re.findall(rf"([\d.]+) {PUBLISHED[key].unit}", row[1])]
    assert pytest.approx(limit, abs=5e-4) in said


def test_wear_is_the_share_of_the_bore_that_its_row_prints():
    """The manuals print inches: a limit less the largest new bore, and the bore."""
    shares = [
        (float(share), float(wear) / float(bore) * 1000)
        for share, wear, bore in re.findall(
            r"at most ([\d.]+) thousandths of the bore: ([\d.]+) in.*? on ([\d.]+) in", PAGE
        )
    ]
    assert [share for share, _ in shares] == [1.22, 1.18, 1.49]
    assert all(share == pytest.approx(worked_out, abs=5e-3) for share, worked_out in shares)


@pytest.mark.parametrize("row", [row for row in ROWS if " in (" in row[1]], ids=lambda row: row[0])
def test_inches_and_millimetres_of_a_row_are_one_length(row):
    pairs = re.findall(r"([\d.]+) in \(([\d.]+) mm\)", row[1])
    assert pairs
    for inches, millimetres in pairs:
        assert quantity(float(inches), "in").to("mm").magnitude == pytest.approx(float(millimetres), abs=6e-4)


@pytest.mark.parametrize(
    ("asked", "typed", "said"),
    [
        (
            "fits.bore",
            {"cylinders": "1", "bore_across": "80.06 80.04", "bore_along": "80.04 80.03", "bore_new": "80"},
            (
                "Bore wear: greatest on other engines 1.00 to 1.49 thousandths of the bore",
                "Bore out-of-round: greatest on other engines 0.051 to 0.076 mm",
            ),
        ),
        (
            "fits.valve_rock",
            {"cylinders": "1", "exhaust_rock": "0.3", "guide_length": "50", "overhang": "34"},
            ("Clearance by rock: greatest on other engines 0.150 to 0.178 mm",),
        ),
    ],
)
def test_what_is_judged_has_the_range_of_the_manuals_beside_it(asked, typed, said):
    notes = answered(asked, **typed).notes
    assert [text for text in said if not any(note.startswith(text) for note in notes)] == []


def test_an_answer_names_the_range_and_its_manuals():
    notes = answered("fits.tappet", cylinders="1", exhaust_tappet_bore="19.05", exhaust_tappet="19.00").notes
    (note,) = (note for note in notes if "other engines" in note)
    assert note.startswith("Tappet clearance: greatest on other engines 0.100 to 0.229 mm")
    assert "TM 10-3930-653-14&P and US Army TM 5-3810-206-35" in note
