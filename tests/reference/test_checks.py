"""The outside checks of the page *Sources and checks*: right here, known by what it names, and none lacking."""

from __future__ import annotations

import datetime
import decimal
import fractions
import itertools
import math
import statistics
import textwrap

import ambiance
import fluids
import icalendar
import numpy as np
import pint
import psychrolib
import pytest
import scipy
import scipy.spatial.transform
import shapely
import shapely.affinity
import uncertainties
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI
from dateutil.relativedelta import relativedelta
from scipy import constants, integrate, linalg, optimize, stats

from calculators.checks import agrees, repeated
from scripts import check_list

psychrolib.SetUnitSystem(psychrolib.SI)
LIBRARIES = {
    "HAPropsSI": HAPropsSI,
    "PropsSI": PropsSI,
    "ambiance": ambiance,
    "constants": constants,
    "datetime": datetime,
    "decimal": decimal,
    "fluids": fluids,
    "fractions": fractions,
    "icalendar": icalendar,
    "integrate": integrate,
    "itertools": itertools,
    "linalg": linalg,
    "math": math,
    "np": np,
    "optimize": optimize,
    "pint": pint,
    "psychrolib": psychrolib,
    "relativedelta": relativedelta,
    "scipy": scipy,
    "shapely": shapely,
    "statistics": statistics,
    "stats": stats,
    "textwrap": textwrap,
    "uncertainties": uncertainties,
}
CHECKS = check_list.checks()
BY_LIBRARY = [check for check in CHECKS if check.theirs]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: f"{check.subject}-{check.ours[:60]}")
def test_agrees_with_what_stands_outside(check):
    """Worked out anew, as in the reader's browser: what the page shows was worked out when this file was read."""
    assert repeated(check.message()) == {"agrees": True, "same": "bits"}


@pytest.mark.parametrize("check", BY_LIBRARY, ids=lambda check: f"{check.subject}-{check.ours[:60]}")
def test_the_library_says_what_the_check_says_it_does(check):
    """The expected value is kept, so that a page can be built without the library; here the library gives it again."""
    given = eval(check.theirs, dict(LIBRARIES))  # noqa: S307 (our own data)
    assert agrees(_plain(given), check.expected, check.within / 2, max(check.share / 2, 1e-9))


def _plain(found):
    if isinstance(found, np.ndarray | np.generic):
        return _plain(found.tolist())
    if isinstance(found, list | tuple):
        return [_plain(one) for one in found]
    if isinstance(found, fractions.Fraction | decimal.Decimal):
        return float(found)
    return found


def test_every_formula_and_every_question_has_one():
    lacking = check_list.unchecked()
    assert not lacking, f"write into tests/reference/checks a check for {', '.join(lacking)}"


def test_every_check_stands_on_one_page():
    pages = {str(path): path.read_text(encoding="utf-8") for path in check_list.ROOT.glob("docs/reference/*.md")}
    wrong = check_list.misplaced(pages)
    assert not wrong, f"name in the line of one docs/reference/checks-of-*.md, and of one only: {', '.join(wrong)}"


def test_there_are_enough_from_enough_sources():
    outside = {check.source for check in CHECKS if check.source.kind not in ("practice", "identity")}
    assert len(CHECKS) >= 240
    assert len(outside) >= 28


def test_every_source_is_used_and_every_library_gives_its_values_again():
    assert set(check_list.sources().values()) == {check.source for check in CHECKS}
    for check in CHECKS:
        if check.known == "library":
            assert check.theirs or "run once" in check.place, check.ours


OUGHT = "expected: 85, source: one, place: '1', known: read}"


@pytest.mark.parametrize(
    ("written", "message"),
    [
        (
            f"- {{ours: 'slider_crank.piston_travel(180, 86.0, 143.0)', {OUGHT}",
            ".*piston_travel.*got 86.0, expected 85",
        ),
        (
            f'- {{ours: \'value("fasteners.drill", "drill", thread="M8 × 1.25")\', {OUGHT}',
            ".*there is no drill; there are tapping_drill, ",
        ),
        (f"{{ours: '85', {OUGHT}", "must be a list of checks"),
        ("", "must be a list of checks"),
    ],
)
def test_a_wrong_check_stops_the_build_by_name(tmp_path, monkeypatch, written, message):
    (tmp_path / "wrong.yml").write_text(written)
    (tmp_path / "sources.yml").write_text("one: {title: One, kind: handbook}")
    monkeypatch.setattr(check_list, "CHECKS", tmp_path)
    check_list.checks.cache_clear()
    check_list.sources.cache_clear()
    try:
        with pytest.raises(check_list.CheckError, match=rf"wrong\.yml: {message}"):
            check_list.module()
    finally:
        check_list.checks.cache_clear()
        check_list.sources.cache_clear()
