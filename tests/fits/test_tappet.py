"""A tappet in its bore."""

import pytest

from calculators import InputErrors, magnitude_in
from calculators.bench.asking import answered

ASKED = "fits.tappet"
ONE = {"cylinders": "1", "guide_error": "0", "micrometer_error": "0", "tappet_most": "0.13 mm"}


def test_the_bore_less_the_tappet():
    answer = answered(ASKED, **ONE, inlet_tappet_bore="22.10", inlet_tappet="21.95")
    assert magnitude_in(answer.value("tappet").quantity, "mm") == pytest.approx(0.15)
    assert answer.headline == "0.150 mm · out"


@pytest.mark.parametrize(("tappet", "verdict"), [("21.97", "in"), ("21.96", "out")])
def test_the_limit_itself_is_allowed(tappet, verdict):
    answer = answered(ASKED, **ONE, exhaust_tappet_bore="22.10", exhaust_tappet=tappet)
    assert answer.headline.endswith(f" · {verdict}")


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({"inlet_tappet": "22"}, "Enter the tappet bore of inlet tappet 1, in millimetres"),
        (
            {"exhaust_tappet": "22.1", "exhaust_tappet_bore": "22"},
            "Tappet diameter of exhaust tappet 1 must be at most its tappet bore",
        ),
    ],
)
def test_what_cannot_be_is_refused(typed, error):
    with pytest.raises(InputErrors, match=error):
        answered(ASKED, **ONE, **typed)
