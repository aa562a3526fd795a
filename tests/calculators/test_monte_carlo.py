"""Every printed ± against a Monte Carlo of its readings, for every calculator that there is.

The true readings are drawn inside the ± typed and inside the limits of the instruments, the answer is worked out for
each draw, and counted where it lies within the ± printed (JCGM 101:2008): nine in ten at least, and not all. What is
drawn is found and not listed: every uncertain number of a calculator comes from a maker that throws dice here. So what
one instrument is off by is drawn once, if it is made once; that it is, is a test of its own, limit by limit.
"""

import math
import sys
from collections import Counter
from decimal import Decimal
from functools import cache

import numpy as np
import pytest
import uncertainties
from calculators._catalogue import catalogue
from hypothesis import settings
from tests.calculators.test_properties import MARRAM, SET_UPS, entries, example, fields_of, in_unit

from calculators import InputErrors, _form, magnitude_in, quantity, uncertainty_in, unit
from calculators._units import bare, number_in, read_number, units_of
from calculators.formulas import shim_choice, spacer_choice
from tests.examples import ORDINARY

DRAWS = 20_000 if settings.default.max_examples > ORDINARY else max(100, 2 * settings.default.max_examples)
"""In the nightly profile, and in the ordinary run: as many as a minute takes for all calculators together."""
SEED = 20261130
LEAST, MOST = 0.90, 0.99
SLACK = 3.0
"""Standard deviations by which a count may miss its share by chance, √(p q ÷ n) each: below 90 per cent by 4.5 with 400
draws and by 0.6 with 20,000; above what few rectangles cover, 95.7 per cent of three alike, by 3.0 and by 0.4."""

DECISIONS = (
    spacer_choice.best_choice,
    spacer_choice._unstinted_choice,
    spacer_choice.candidates,
    shim_choice.even_shims,
)
"""Made once, by the readings as they were typed: what they make of the true engine is what the ± is of."""

NOT_COVERED = {
    ("pushrods-and-tubes", "left"): "which travel of the adjuster is left turns with the way that the head moved",
}
"""By calculator and key or column: why a draw may be another question, and its answer no test of the ±."""

WIDER = dict.fromkeys(
    (("deck-height", "tilt"), ("deck-height", "worst_tilt")),
    "the scatter is known from few readings: its k is Student's, above 2 (JCGM 100:2008, G.4.1)",
)
"""By calculator and key or column: why more lie within than nine in ten and the shape would have."""

SEVERAL = {
    ("air-and-mixture", "analyser_error"): "a sensor of its own for each gas",
    ("chamber-volume", "depth_error"): "depth of the piston and height of the crown are two set-ups of the gauge",
    ("chamber-volume", "dimension_error"): "sizes of one shape, each at another place of the calliper",
    ("compression-and-spacers", "bore_error"): "bore, stroke and gasket are read by three gauges",
    ("compression-and-spacers", "depth_error"): "decks are taken over as they were read, each a result of its own",
    ("cylinder-tests", "leak_error"): "two gauges, before and behind the orifice",
    ("fits-and-wear", "expansion_error"): "two metals",
    ("fits-and-wear", "temperature_error"): "two guesses",
    ("lash-growth", "coefficient_error"): "a metal for each part",
    ("lash-growth", "temperature_error"): "a guess for each part",
    ("lash-growth", "valve_coefficient_error"): "two valves",
    ("lash-setting", "gap_error"): "each gap is another stack of blades",
    ("lash-turn-plan", "gap_limit"): "each gap is another stack of blades",
    ("marks-and-timing", "dwell_error"): "the points bounce as they like at each reading",
    ("marks-and-timing", "light_error"): "each speed is another reading of a flickering mark",
    ("marks-and-timing", "rim_error"): "two chalk marks",
    ("marks-and-timing", "wheel_error"): "its zero drops out by the method: what is left is the reading of the scale",
    ("port-match", "edge_error"): "each edge is traced by itself",
    ("pushrods-and-tubes", "length_error"): "inside, outside and depth are read by different gauges",
    ("sealing-plan", "thickness_error"): "a groove is read by another gauge than a ring",
    ("valve-springs", "coils_error"): "counts, each by itself",
}
"""Limits that stand for more than one unknown, and why. A scatter always does: its key says so."""


APART = {name: {"filled_from": "several"} for name in ("compression-and-spacers", "port-match")}
"""What is typed besides, so that each ± typed is of its own reading, as it is drawn here; volumes of one burette are
drawn in tests/reference/test_compression.py."""


class Dice:
    """Makes uncertain numbers as the calculators do, and throws the middle of each inside its limits."""

    def __init__(self):
        self.throws = np.random.default_rng(SEED)
        self.still = True
        self.made = []

    def __call__(self, middle, deviation, tag=None):
        self.made.append((deviation, tag))
        if not self.still:
            middle += deviation * math.sqrt(3) * self.throws.uniform(-1, 1)
        return uncertainties.ufloat(middle, deviation, tag)


class Kept:
    """A decision that is made while the dice lie still, and kept while they are thrown."""

    def __init__(self, decide, dice):
        self.decide, self.dice = decide, dice
        self.made, self.asked = [], 0

    def begin(self):
        self.asked = 0
        if self.dice.still:
            self.made = []

    def __call__(self, *asked):
        self.asked += 1
        if self.dice.still:
            self.made.append(self.decide(*asked))
        return self.made[self.asked - 1]


def everywhere(monkeypatch, one, other):
    """Put another function in the place of one, in all modules of the calculators."""
    for module in [module for name, module in sys.modules.items() if name.startswith("calculators.")]:
        for name in [name for name, found in vars(module).items() if found is one]:
            monkeypatch.setattr(module, name, other)


@pytest.fixture
def work_out(monkeypatch):
    """What a calculator's numbers are for what is typed, with the dice that were thrown for it."""
    dice = Dice()
    everywhere(monkeypatch, uncertainties.ufloat, dice)
    monkeypatch.setattr(_form, "_value", _form._value.__wrapped__)  # what was read once would not be thrown again
    kept = [Kept(decide, dice) for decide in DECISIONS]
    for one in kept:
        everywhere(monkeypatch, one.decide, one)

    def worked_out(name, typed):
        dice.made = []
        for one in kept:
            one.begin()
        return dict(numbers(catalogue()[name].answer(typed, MARRAM)))

    worked_out.dice = dice
    return worked_out


def numbers(report):
    """Each number of a report by its place: a value's key, or a table's with its row and its column."""
    for value in report.values:
        if not isinstance(value.quantity, str):
            yield (value.key,), number_in(value.quantity, value.units[0]) if value.units else value.quantity
    for table in report.tables:
        for place, row in enumerate(table.rows, 1):
            for column, cell in zip(table.columns, row.cells, strict=True):
                if cell is not None and not isinstance(cell, str):
                    yield (table.key, place, column.key), number_in(cell, column.unit) if column.unit else cell


def with_spreads(name, typed):
    """The same readings, each that takes a ± with one: a ten-thousandth of a length, a two-hundredth of the rest."""
    found, form = typed | APART.get(name, {}), catalogue()[name].form
    for one, keys in fields_of(name):
        if not one.measure or one.measure.exact or one.measure.plus_minus or one.key in form.sets_aside:
            continue
        share = 1e-4 if unit(one.own_unit).kind == "length" else 5e-3
        for key in keys:
            if typed.get(key, "").strip():
                values = entries(one, typed[key], typed.get(f"{one.key}.unit"))
                found[key] = "; ".join(_with_spread(value, one.own_unit, share) for value in values)
                found[f"{one.key}.unit"] = ""
    return found


def _with_spread(value, symbol, share):
    best = magnitude_in(value, symbol)
    if uncertainty_in(value, symbol) or not best:
        return in_unit(value, symbol, named=True)
    return f"{Decimal(repr(best)):f} ± {Decimal(repr(abs(best) * share)):f} {symbol}"


def slack(share):
    return SLACK * math.sqrt(share * (1 - share) / DRAWS)


@cache
def covered_by_rectangles(parts):
    """How often a sum of so many rectangles, by their deviations, lies within twice its own: all, where one is much."""
    throws = np.random.default_rng(SEED).uniform(-1, 1, (20_000, len(parts)))
    return float(np.mean(abs(throws @ np.array(parts)) * math.sqrt(3) <= 2 * math.hypot(*parts)))


def shape(number):
    """What a number's ± is made of, each part by its share of the whole."""
    parts = [abs(part) for part in number.error_components().values()]
    return tuple(sorted(round(part / math.hypot(*parts), 3) for part in parts))


def excused(name, place):
    return (name, place[-1]) in NOT_COVERED


@pytest.mark.parametrize("spreads", [False, True], ids=["instruments", "typed"])
@pytest.mark.parametrize(("name", "more"), SET_UPS, ids=[name for name, _ in SET_UPS])
def test_nine_true_answers_in_ten_lie_within_the_printed_spread_and_not_all(name, more, spreads, work_out):
    typed = example(name, more)
    if spreads:
        typed = with_spreads(name, typed)
    said = {place: one for place, one in work_out(name, typed).items() if bare(one)[1]}
    bounds = {place: bare(one) for place, one in said.items()}
    work_out.dice.still = False
    within, seen = Counter(), Counter()
    for _ in range(DRAWS):
        try:
            drawn = work_out(name, typed)
        except InputErrors:
            continue
        for place, (middle, spread) in bounds.items():
            if place in drawn:
                seen[place] += 1
                within[place] += abs(bare(drawn[place])[0] - middle) <= spread * (1 + 1e-9)
    unseen = {place: seen[place] for place in said if seen[place] < 0.8 * DRAWS and not excused(name, place)}
    assert not unseen, "drawn answers that are missing: a decision that goes by the readings belongs to DECISIONS"
    covered = {place: within[place] / seen[place] for place in said if not excused(name, place)}
    narrow = {place: share for place, share in covered.items() if share < LEAST - slack(LEAST)}
    assert not narrow, "the ± printed is too narrow"
    wide = {
        place: share
        for place, share in covered.items()
        if (name, place[-1]) not in WIDER
        and share > MOST
        and share > (shaped := covered_by_rectangles(shape(said[place]))) + slack(shaped)
    }
    assert not wide, "the ± printed is too wide, and not because a few rectangles make it up"


def limits_of(name):
    """The fields that hold a limit: the form knows them, as a ± in front of their number is understood."""
    return [one for one in catalogue()[name].form.fields if getattr(one.kind, "plus_minus", False)]


def times(text, factor):
    read = read_number(text.lstrip("±"))
    return f"{read.number * factor:.9f}{f' {read.unit.symbol}' if read.unit else ''}"


@pytest.mark.parametrize(("name", "more"), SET_UPS, ids=[name for name, _ in SET_UPS])
def test_what_one_instrument_is_off_by_is_one_unknown_and_as_large_as_its_limit(name, more, work_out):
    """JCGM 100:2008, 5.2.4: readings of one instrument are not independent, and their mean is no surer than it is."""
    typed = example(name, more)
    for one in limits_of(name):
        text = typed.get(one.key) or one.default
        if not text or one.key.endswith("_scatter") or not read_number(text.lstrip("±")).number:
            continue
        made = []
        for factor in (1, 1.5):
            work_out(name, typed | {one.key: times(text, factor)})
            made.append(list(work_out.dice.made))
        unknowns = [before for before, after in zip(*made, strict=True) if not math.isclose(before[0], after[0])]
        if (name, one.key) in SEVERAL:
            continue
        assert len(unknowns) <= 1, (one.key, [tag for _, tag in unknowns])
        if unknowns and one.own_unit != "%":
            limit, half = read_number(text.lstrip("±")).number, unknowns[0][0] * math.sqrt(3)
            kind = units_of(unit(one.own_unit).kind) if one.own_unit else ()
            steps = [1.0, *(magnitude_in(quantity(1.0, one.own_unit), other.symbol) for other in kind)]
            assert any(1 - 1e-9 <= half / limit / step < 1.5 for step in steps), (one.key, half, limit)


def test_two_like_rectangles_are_a_triangle():
    # by hand: of a triangle from −2 to 2 lie 1 − (1 − √(2 ÷ 3))², 96.6 %, within twice its deviation, 2 · √(2 ÷ 3)
    assert covered_by_rectangles((1.0, 1.0)) == pytest.approx(1 - (1 - math.sqrt(2 / 3)) ** 2, abs=0.005)
    assert covered_by_rectangles((1.0,)) == 1
    assert covered_by_rectangles((1.0,) * 6) == pytest.approx(0.954, abs=0.01)
