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
    said = [float(text) for row in found for text in re.findall(r"([\d.]+) mm", row[1])]
    assert pytest.approx(limit, abs=5e-4) in said


@pytest.mark.parametrize("row", [row for row in ROWS if " in (" in row[1]], ids=lambda row: row[0])
def test_inches_and_millimetres_of_a_row_are_one_length(row):
    pairs = re.findall(r"([\d.]+) in \(([\d.]+) mm\)", row[1])
    assert pairs
    for inches, millimetres in pairs:
        assert quantity(float(inches), "in").to("mm").magnitude == pytest.approx(float(millimetres), abs=6e-4)


def test_an_answer_names_the_range_and_its_manuals():
    notes = answered("fits.tappet", cylinders="1", exhaust_tappet_bore="19.05", exhaust_tappet="19.00").notes
    (note,) = (note for note in notes if "other engines" in note)
    assert note.startswith("Tappet clearance: greatest on other engines 0.100 to 0.229 mm")
    assert "TM 10-3930-653-14&P and US Army TM 5-3810-206-35" in note
