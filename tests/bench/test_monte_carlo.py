"""Every printed ± against a Monte Carlo of its readings, for every question that there is.

The true readings are drawn inside the ± typed and inside the limits of the instruments, the answer is worked out for
each draw, and counted where it lies within the ± printed (JCGM 101:2008): nine in ten at least, and not all. What is
drawn is found and not listed: every uncertain number comes from a maker that throws dice here. So what one instrument
is off by is drawn once, whoever asks; that it is, is a test of its own, limit by limit.
"""

import inspect
import math
import operator
import sys
from collections import Counter, defaultdict
from decimal import Decimal
from functools import cache
from statistics import median

import numpy as np
import pytest
import uncertainties
from hypothesis import settings
from uncertainties import UFloat, Variable, umath
from uncertainties.core import AffineScalarFunc, LinearCombination

from calculators import unit
from calculators.bench import Figure, Scatter, desk, instruments, units
from calculators.bench.asking import readings_of
from calculators.bench.desk import Desk
from calculators.bench.entries import cell_of
from calculators.bench.kinds import Series
from calculators.bench.printing import said_whole
from calculators.bench.question import entries_and_columns, questions
from calculators.bench.units import bare, magnitude_in, number_in, quantity, read_number, symbol_of, uncertainty_in
from calculators.compression import made
from calculators.formulas import shim_choice, spacer_choice
from calculators.springs import readings as spring_readings
from tests.cards import MARRAM as CARD
from tests.examples import IS_NIGHT, IS_WIDE

DRAWS = 20_000 if IS_NIGHT else max(50, 2 * settings.default.max_examples)
SEED = 20261130
LEAST, MOST = 0.90, 0.99
SLACK = 3.0
"""Standard deviations by which a count may miss its share by chance, √(p q ÷ n) each: below 90 per cent by 4.5 with 400
draws and by 0.6 with 20,000; above what few rectangles cover, 95.7 per cent of three alike, by 3.0 and by 0.4."""
LOOKS = () if IS_WIDE else (100, 200)
"""After so many draws it is asked whether the rest could still change the verdict."""
SURE, MISSED = 0.93, 3
"""What a look must find of each ±, to be the last: it holds in so many, and misses so often unless few rectangles make
it up. One that all of the draws would find too narrow, 85.5 per cent, passes a look at 100 once in 60, one of 80 per
cent once in 5,000; one too wide, 99.5 per cent, misses three in 100 once in 70 (binomial)."""
COMPARED = 3
"""So many draws are worked out with whole uncertain numbers as well as with what was thrown alone."""

DECISIONS = (
    made.each_height,
    spacer_choice.best_choice,
    spacer_choice._unstinted_choice,
    spacer_choice.candidates,
    spacer_choice.stacks_of,
    shim_choice.even_shims,
)
"""Made once, by the readings as they were typed: what they make of the true engine is what the ± is of."""

MORE_TYPED = {
    "air.air_worth": [{"air_pressure": "935 hPa"}],
    "air.balance": [{"vacuum.1": "60 kPa", "vacuum.2": "52 kPa", "flow.1": "", "flow.2": ""}],
    "air.main_jet": [{"air_pressure": "935 hPa"}],
    "compression.made": [{f"barrel_length.{row}": f"{104 + row / 100} mm" for row in range(1, 5)}],
    "compression.spacers": [{f"barrel_length.{row}": f"{104 + row / 100} mm" for row in range(1, 5)}],
    "fasteners.convert": [
        {"torque": "", key: text}
        for key, text in {"length": "12 mm", "volume": "50 cm³", "force": "100 N", "pressure": "7 bar"}.items()
    ],
    "measuring.crowns": [
        {"crown_fill.1": "", "piston_depth.1": "", "crown_depth.1": "0.5 mm", "crown_diameter": "79 mm"}
    ],
    "pushrods.length": [{"new_length": "277 mm"}],
    "running_in.oil_pressure": [{"read_idle": "1.2 bar", "read_hot": "3.2 bar"}],
    "springs.bind": [{"inner_wire": "2.6 mm", "inner_total": "7"}],
    "springs.loads": [
        {"length_a": "38 mm", "load_a": "264 N", "length_b": "30 mm", "load_b": "487 N"},
        {"inner_free_length": "44 mm", "inner_wire": "2.6 mm", "inner_outside": "20 mm", "inner_total": "7"}
        | {"inner_active": "5"},
        {"inner_length_a": "36 mm", "inner_load_a": "120 N", "inner_length_b": "28 mm", "inner_load_b": "220 N"},
    ],
    "springs.shims": [{"inner_rate": "12 N/mm", "inner_begins": "44 mm", "inner_solid": "19 mm"}],
    "springs.speed": [
        {"inner_rate": "12 N/mm", "inner_open_load": "180 N", "inner_wire": "2.6 mm", "inner_outside": "20 mm"}
        | {"inner_total": "7", "inner_active": "5", "inner_free_length": "44 mm"}
    ],
    "springs.stress": [{"inner_open_load": "180 N", "inner_wire": "2.6 mm", "inner_outside": "20 mm"}],
    "timing.cam": [{"exhaust_opens_read": "43°", "exhaust_closes_read": "5°"}],
    "timing.light": [{"bend_speed.1": "2000 r/min", "bend_advance.1": "20°"}],
    "timing.points": [
        {"dwell_read": "", "dwell_read_share": "58 %"},
        {"gap_second": "0.45 mm", "dwell_second": "46°"},
    ],
    "timing.top_dead_centre": [
        {"stop_forwards": "", "stop_backwards": "", "rim_forwards": "-47 mm", "rim_backwards": "56 mm"}
    ],
    "torque.rocker_posts": [
        {"extension": "50 mm", "wrench_length": "300 mm", "small_step": "0.5 N·m", "small_low": "2 N·m"}
        | {"small_high": "25 N·m", "small_length": "200 mm"}
    ],
    "torque.wrench": [
        {"extension": "50 mm", "wrench_length": "300 mm", "small_step": "0.5 N·m", "small_low": "2 N·m"}
        | {"small_high": "25 N·m", "small_length": "200 mm"}
    ],
}
"""What the worked example leaves empty, so that each reading of each question is read in some set-up."""

GASKET = {"gasket_thickness": "0.3 mm", "gasket_bore": "82 mm", "crown.1": "1 cm³"}
for name in (
    "compression.cranking",
    "compression.levers",
    "compression.made",
    "compression.ratio",
    "compression.spacers",
):
    MORE_TYPED.setdefault(name, []).append(GASKET)
for name, of in questions().items():
    columns = {entry.key: entry.facts.example for entry, table in entries_and_columns(of) if table}
    inlets = [key for key in columns if key.startswith("inlet_") and not columns[key]]
    if name.startswith("fits.") and inlets:
        exhausts = {key: columns[key.replace("inlet_", "exhaust_")] for key in inlets}
        MORE_TYPED[name] = [{f"{key}.1": cell_of(text, 1) for key, text in exhausts.items()}]

SET_UPS = [(name, more) for name in questions() for more in ({}, *MORE_TYPED.get(name, []))]


class Dice:
    """Makes uncertain numbers as the questions do, and throws the middle of each inside its limits."""

    def __init__(self):
        self.still = True
        self.read_again = False  # the scatter is in the readings themselves, which are drawn each time
        self.begin()
        self.again()

    def begin(self):
        self.made, self.thrown, self.middles = [], {}, {}

    def again(self):
        self.throws = self._throws()

    @staticmethod
    def _throws():
        dice = np.random.default_rng(SEED)
        while True:
            yield from dice.uniform(-math.sqrt(3), math.sqrt(3), 4096).tolist()

    def __call__(self, middle, deviation, tag=None):
        middle = self.middles.get(middle, middle)  # what is said to be off on its own is thrown on its own
        lies_still = self.still or (self.read_again and isinstance(tag, Scatter))
        number = Variable(middle + (0.0 if lies_still else deviation * next(self.throws)), deviation, tag)
        self.middles[number.nominal_value] = middle
        self.made.append(number)
        return number

    def read(self, value):
        """Throw what was read from a text: a quantity with the ± typed behind it, or several."""
        if isinstance(value, tuple):
            return tuple(map(self.read, value))
        typed = getattr(value, "magnitude", None)
        if not isinstance(typed, Variable):
            return value
        number = self(typed.nominal_value, typed._std_dev, typed.tag)
        self.thrown[id(number)] = number, number.nominal_value - typed.nominal_value, typed._std_dev
        return quantity(number, symbol_of(value))

    def note(self, number, reading, share):
        """Note that a number is so many times one that was read."""
        if id(reading) in self.thrown:
            _, thrown, wide = self.thrown[id(reading)]
            self.thrown[id(number)] = number, thrown * share, abs(wide * share)
        return number


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
        if self.asked > len(self.made):  # only the words of an answer that the typed readings do not give
            return self.decide(*asked)
        return self.made[self.asked - 1]


def modules():
    return tuple(sorted(name for name in sys.modules if name.startswith("calculators.")))


@cache
def places_of(one, among):
    """Where a function stands: in which modules, by which names."""
    found = [(sys.modules[name], key) for name in among for key, held in vars(sys.modules[name]).items() if held is one]
    assert found
    return found


def everywhere(monkeypatch, one, other):
    """Put another function in the place of one, in all modules of the calculators."""
    for module, name in places_of(one, modules()):
        monkeypatch.setattr(module, name, other)


@cache
def drawing_places(among):
    """Where functions that return a figure stand: in which modules and classes, by which names."""
    owners = [sys.modules[name] for name in among]
    owners += {thing: None for module in owners for thing in vars(module).values() if inspect.isclass(thing)}
    return [
        (owner, name)
        for owner in owners
        for name, found in vars(owner).items()
        if callable(found) and getattr(found, "__annotations__", {}).get("return") == "Figure"
    ]


def undrawn(monkeypatch):
    """Leave out what draws: a figure is no number, and takes a good part of an answer's time."""
    blank = Figure(key="blank", title="Blank", svg="<svg/>")
    for owner, name in drawing_places(modules()):
        monkeypatch.setattr(owner, name, lambda *_, **__: blank)


NOTHING = LinearCombination({})


class Alone(AffineScalarFunc):
    """An uncertain number of which only the middle is known and, where it is a reading in another unit, its width."""

    __slots__ = ("wide",)


def alone(number, wide=1e-12):
    made = Alone(number, NOTHING)
    made.wide = wide
    return made


def middle_of(number):
    return number._nominal_value if isinstance(number, UFloat) else number


def hasten(monkeypatch):
    """Work with middles alone: how wide each number is was known before the dice were thrown."""
    some = {Variable(0.0, 1e-12, "Some reading"): 1e-12}
    monkeypatch.setattr(UFloat, "std_dev", property(lambda one: getattr(one, "wide", 1e-12)))
    monkeypatch.setattr(UFloat, "error_components", lambda _: some)

    def times(one, other):
        wide = abs(one._std_dev * other) if isinstance(one, Variable) and not isinstance(other, UFloat) else 1e-12
        return alone(one._nominal_value * middle_of(other), wide)

    for name in ("add", "sub", "truediv", "pow"):
        worked = getattr(operator, name)
        monkeypatch.setattr(
            UFloat, f"__{name}__", lambda one, other, of=worked: alone(of(one._nominal_value, middle_of(other)))
        )
        monkeypatch.setattr(
            UFloat, f"__r{name}__", lambda one, other, of=worked: alone(of(middle_of(other), one._nominal_value))
        )
    for name in ("__mul__", "__rmul__"):
        monkeypatch.setattr(UFloat, name, times)
    for name in ("lt", "le", "gt", "ge"):
        compared = getattr(operator, name)
        monkeypatch.setattr(
            UFloat, f"__{name}__", lambda one, other, of=compared: of(one._nominal_value, middle_of(other))
        )
    monkeypatch.setattr(UFloat, "__abs__", lambda one: alone(abs(one._nominal_value)))
    for name in ("sqrt", "sin", "cos", "acos", "exp"):
        plain = getattr(math, name)
        monkeypatch.setattr(
            umath, name, lambda one, of=plain: alone(of(one._nominal_value)) if isinstance(one, UFloat) else of(one)
        )


class Work:
    """What a question's numbers are for what is typed, with the dice that were thrown for it."""

    def __init__(self, monkeypatch):
        self.dice = Dice()
        everywhere(monkeypatch, uncertainties.ufloat, self.dice)
        undrawn(monkeypatch)
        self.kept = [Kept(decide, self.dice) for decide in DECISIONS]
        for one in self.kept:
            everywhere(monkeypatch, one.decide, one)
        read, typed_in, split = desk._read, instruments._typed, instruments._split
        turned = UFloat.__neg__

        def number_noted(value, symbol):
            step, _ = units._conversion(value, symbol)
            return self.dice.note(number_in(value, symbol), value.magnitude, step)

        def typed_noted(number, instrument):
            if self.dice.still:
                return typed_in(number, instrument)
            return number if id(number) in self.dice.thrown else None

        def split_and_thrown_apart(number, typed, own, instrument):
            """What is the instrument's of a ± typed with a reading is thrown with the instrument."""
            if self.dice.still:
                return split(number, typed, own, instrument)
            _, thrown, whole = self.dice.thrown[id(number)]
            if whole <= own:
                return number
            middle = number.nominal_value - thrown
            return (
                middle
                + (number - middle) * (own / whole)
                + math.sqrt(whole**2 - own**2) * instruments._unknown(instrument)
            )

        monkeypatch.setattr(desk, "_read", lambda *asked: self.dice.read(read(*asked)))
        monkeypatch.setattr(instruments, "number_in", number_noted)
        monkeypatch.setattr(instruments, "_typed", typed_noted)
        monkeypatch.setattr(instruments, "_split", split_and_thrown_apart)
        monkeypatch.setattr(UFloat, "__neg__", lambda one: self.dice.note(turned(one), one, -1.0))

    def out(self, name, readings, example=True):
        self.dice.begin()
        for one in self.kept:
            one.begin()
        for shared in SHARED:
            shared.cache_clear()
        answer = Desk(readings, CARD, example=example).ask(name).answer
        return dict(numbers(answer)) if answer else {}


def numbers(answer):
    """Each number of an answer by its place: a value's key, or a table's with its row and its column."""
    for value in answer.values:
        if not isinstance(value.quantity, str):
            yield (value.key,), number_in(value.quantity, value.units[0]) if value.units else value.quantity
    for table in answer.tables:
        for place, row in enumerate(table.rows, 1):
            for column, cell in zip(table.columns, row.cells, strict=True):
                if cell is not None and not isinstance(cell, str):
                    yield (table.key, place, column.key), number_in(cell, column.unit) if column.unit else cell


@pytest.fixture
def work(monkeypatch):
    return Work(monkeypatch)


def set_up(name, more, spreads):
    """The desk's readings for the worked example with some more typed; each reading with a ± of its own, if so wanted.

    What is emptied is the example's no longer: the rest of it is typed then.
    """
    of = questions()[name]
    texts = {key: text for key, text in more.items() if text}
    example = len(texts) == len(more)
    if not example:
        whole = Desk({}, CARD, example=True).ask(name).known
        rest = {key: known.text or said_whole(known.value) for key, known in whole.items() if known.value is not None}
        texts = {key: text for key, text in rest.items() if key not in more} | texts
    if spreads:
        texts |= with_spreads(of, asked(of, texts, example).known)
    return readings_of(of, map("=".join, texts.items())), example


def asked(of, texts, example):
    found = Desk(readings_of(of, map("=".join, texts.items())), CARD, example=example).ask(of.name)
    assert found.answer, (found.errors, found.lacking)
    return found


def with_spreads(of, known):
    """Each reading as it would be typed with its ±, or with a usual one: a ten-thousandth of a length or 0.003 mm."""
    texts = {}
    for entry, _ in entries_and_columns(of):
        measure, symbol = entry.measure, entry.own_unit
        if not measure or measure.exact or measure.plus_minus:
            continue
        length = unit(symbol).kind == "length"
        share, least = (1e-4, magnitude_in(quantity(0.003, "mm"), symbol)) if length else (5e-3, 0.0)
        for key, found in known.items():
            if key.partition(".")[0] == entry.key and found.value is not None:
                values = found.value if isinstance(entry.kind, Series) else (found.value,)
                texts[key] = "; ".join(with_spread(value, symbol, share, least) for value in values)
    return texts


def with_spread(value, symbol, share, least):
    best, spread = magnitude_in(value, symbol), uncertainty_in(value, symbol)
    limit = spread / 2 * math.sqrt(3) if spread else max(abs(best) * share, least)  # half of a rectangle: GUM 4.3.7
    return f"{plainly(best)} ± {plainly(limit)} {symbol}"


def plainly(number):
    return f"{Decimal(repr(float(number))):f}"


def slack(share, draws=DRAWS):
    return SLACK * math.sqrt(share * (1 - share) / draws)


def can_be_too_wide(shape):
    covered = covered_by_rectangles(shape)
    return covered + slack(covered) < 1


@cache
def covered_by_rectangles(parts):
    """How often a sum of so many rectangles, by their deviations, lies within twice its own: all, where one is much."""
    throws = np.random.default_rng(SEED).uniform(-1, 1, (20_000, len(parts)))
    return float(np.mean(abs(throws @ np.array(parts)) * math.sqrt(3) <= 2 * math.hypot(*parts)))


def shape(number):
    """What a number's ± is made of, each part by its share of the whole."""
    parts = [part for part in number.error_components().values() if part]
    return tuple(sorted(round(part / math.hypot(*parts), 3) for part in parts))


def from_few_readings(number):
    """Whether a scatter known from a few readings has a say: its k is Student's, above 2 (JCGM 100:2008, G.4.1)."""
    return any(isinstance(unknown.tag, Scatter) for unknown, part in number.error_components().items() if part)


SHARED = (instruments._unknown, spring_readings.own_error)
"""Remembered uncertain numbers, one for all who ask: thrown anew for each draw."""

NOT_COVERED = {
    ("compression.levers", "to_even"): "which chamber is the largest turns with the readings",
}
"""By question and key or column: why a draw may be another question, and its answer no test of the ±."""
WIDER = {
    ("compression.spacers", "lowest_ratio"): "the lowest of four that change places lies nearer its middle than each",
}
"""By question and key or column: why more lie within than nine in ten and the shape would have."""


COVERED = defaultdict(list)


@pytest.fixture(scope="module", autouse=True)
def told(said):
    """Say for each room how often the ± of its answers held."""
    yield
    for room, shares in COVERED.items():
        least, middle, most = (f"{100 * share:.1f}" for share in (min(shares), median(shares), max(shares)))
        held = f"held in {least}, {middle}, {most} % (least, median, most)"
        said(f"{room}: {len(shares)} ± by up to {DRAWS} draws each; {held}")


def excused(name, place):
    return (name, place[-1]) in NOT_COVERED


@pytest.mark.parametrize("spreads", [False, True], ids=["instruments", "typed"])
@pytest.mark.parametrize(("name", "more"), SET_UPS, ids=[name for name, _ in SET_UPS])
def test_nine_true_answers_in_ten_lie_within_the_printed_spread_and_not_all(name, more, spreads, work, monkeypatch):
    job = set_up(name, more, spreads)
    said = {place: one for place, one in work.out(name, *job).items() if bare(one)[1]}
    if not said:
        return
    bounds = {place: bare(one) for place, one in said.items()}
    shapes = {place: shape(one) for place, one in said.items()}
    excepted = {place for place, one in said.items() if (name, place[-1]) in WIDER or from_few_readings(one)}
    work.dice.still = False
    whole = [middles(work.out(name, *job), said) for _ in range(COMPARED)]
    work.dice.again()
    with monkeypatch.context() as quick:
        hasten(quick)
        for one in whole:
            assert middles(work.out(name, *job), said) == pytest.approx(one)
        within, seen = Counter(), Counter()
        for draws in range(1, DRAWS + 1):
            drawn = work.out(name, *job)
            for place, (middle, spread) in bounds.items():
                if place in drawn:
                    seen[place] += 1
                    within[place] += abs(middle_of(drawn[place]) - middle) <= spread * (1 + 1e-9)
            if draws in LOOKS and all(
                within[place] >= SURE * draws
                and (place in excepted or seen[place] - within[place] >= MISSED or not can_be_too_wide(shapes[place]))
                for place in said
            ):
                break
    unseen = {place: seen[place] for place in said if seen[place] < 0.8 * draws and not excused(name, place)}
    assert not unseen, "drawn answers that are missing: a decision that goes by the readings belongs to DECISIONS"
    covered = {place: within[place] / seen[place] for place in said if seen[place]}
    COVERED[name.partition(".")[0]] += covered.values()
    narrow = {place: share for place, share in covered.items() if share < LEAST - slack(LEAST, draws)}
    assert not narrow, "the ± printed is too narrow"
    wide = {
        place: share
        for place, share in covered.items()
        if place not in excepted
        and share > MOST
        and share > (shaped := covered_by_rectangles(shapes[place])) + slack(shaped, draws)
    }
    assert not wide, "the ± printed is too wide, and not because a few rectangles make it up"


def middles(drawn, said):
    return {place: middle_of(drawn[place]) for place in said if place in drawn}


REPEATED = {
    "measuring.chambers": ("fill", (49.1, 49.5, 48.2, 48.6), 3, 0.15, "cm³", "chamber_"),
    "measuring.decks": ("depth", (0.42, 0.38, 0.45, 0.41), 4, 0.03, "mm", "deck_"),
}
"""Questions that find the scatter from the readings: their column, what is true, how often it is read, how it
scatters, the value. The true answer is what readings without any scatter give."""


@pytest.mark.parametrize("name", REPEATED)
def test_few_repeated_readings_hold_nine_true_answers_in_ten(name, work):
    """JCGM 100:2008, G.3.2: readings that scatter as a normal distribution does, and k from Student's for so few."""
    column, true, count, scatter, symbol, value = REPEATED[name]
    normal = np.random.default_rng(SEED)

    def read(wide):
        texts = {
            f"{column}.{row}": "; ".join(
                f"{plainly(round(middle + wide * one, 4))} {symbol}" for one in normal.normal(size=count)
            )
            for row, middle in enumerate(true, 1)
        }
        return readings_of(questions()[name], map("=".join, texts.items()))

    said = work.out(name, read(0.0))
    truth = {place: middle_of(said[place]) for place in said if place[0].startswith(value)}
    assert len(truth) == len(true)
    work.dice.read_again = True
    within = Counter()
    draws = min(DRAWS, 4000)
    for _ in range(draws):
        readings = read(scatter)
        work.dice.still = True
        spreads = {place: bare(one)[1] for place, one in work.out(name, readings).items() if place in truth}
        work.dice.still = False
        drawn = work.out(name, readings)
        for place, middle in truth.items():
            within[place] += abs(middle_of(drawn[place]) - middle) <= spreads[place]
    for place in truth:
        assert LEAST - slack(LEAST) <= within[place] / draws <= MOST, (place, within[place] / draws)


@pytest.mark.parametrize("name", questions())
def test_each_reading_that_takes_a_spread_is_read_in_some_set_up(name):
    of = questions()[name]
    unread = {
        entry.key
        for entry, _ in entries_and_columns(of)
        if entry.measure and not entry.measure.exact and not entry.measure.plus_minus
    }
    for more in ({}, *MORE_TYPED.get(name, [])):
        readings, example = set_up(name, more, True)
        known = Desk(readings, CARD, example=example).ask(name).known
        unread -= {key.partition(".")[0] for key, found in known.items() if found.value is not None}
    assert not unread


GROWN = 1.5
OWN = ("_scatter", "read_to")
"""How the key of a limit ends that each reading has for itself."""
SEVERAL = {
    (name, key): why
    for name, of in questions().items()
    for key, why in {
        "bore_error": "bore and stroke, and a gasket's bore, are read by gauges of their own",
        "depth_error": "a gasket's thickness is read by a micrometer",
    }.items()
    if hasattr(of, "gasket_thickness") or name == "compression.levers"
} | {
    ("air.exhaust_gas", "analyser_error"): "a sensor of its own for each gas",
    ("compression.spacers", "depth_error"): "each barrel's length is a setting of the calliper of its own",
    ("cylinders.leakage", "leak_error"): "two gauges, before and behind the orifice",
    ("fits.ring_heat", "expansion_error"): "two metals",
    ("fits.ring_heat", "temperature_error"): "two guesses",
    ("lash.found", "gap_error"): "each gap is another stack of blades",
    ("lash.heat", "coefficient_error"): "a metal for each part",
    ("lash.heat", "hotter"): "two valves",
    ("lash.heat", "temperature_error"): "a guess for each part",
    ("lash.heat", "valve_coefficient_error"): "two valves",
    ("lash.left", "gap_error"): "each gap is another stack of blades",
    ("lash.lock_nut", "gap_error"): "each gap is another stack of blades",
    ("lash.record", "gap_limit"): "each gap is another stack of blades",
    ("ports.steps", "edge_error"): "each edge is traced and read by itself",
    ("pushrods.tubes", "length_error"): "the tube and the room for it are read by callipers of their own",
    ("sealing.crush", "thickness_error"): "the seal is read by a calliper, its groove by a depth gauge",
    ("sealing.seals", "thickness_error"): "the seal is read by a calliper, its groove by a depth gauge",
    ("springs.bind", "coils_error"): "the coils of each spring are counted",
    ("springs.loads", "coils_error"): "the coils of each spring are counted",
    ("springs.speed", "coils_error"): "the coils of each spring are counted",
    ("timing.top_dead_centre", "rim_error"): "two chalk marks",
}
"""Limits that stand for more than one unknown, and why."""


def limits_of(of):
    """The entries that hold a limit: a ± in front of their number is understood."""
    return [entry for entry, table in entries_and_columns(of) if getattr(entry.kind, "plus_minus", False) and not table]


def times(text, factor):
    read = read_number(text.lstrip("±"))
    return f"{plainly(read.number * factor)}{f' {read.unit.symbol}' if read.unit else ''}"


def parts_of(answer, made):
    """How much of each number comes from each uncertain number that was made, by its place among them."""
    places = {unknown: place for place, unknown in enumerate(made)}
    return {
        key: {places[unknown]: part for unknown, part in number.error_components().items()}
        for key, number in answer.items()
        if isinstance(number, UFloat)
    }


@pytest.mark.parametrize(("name", "more"), SET_UPS, ids=[name for name, _ in SET_UPS])
def test_what_one_instrument_is_off_by_is_one_unknown(name, more, work):
    """JCGM 100:2008, 5.2.4: readings of one instrument are not independent, and their mean is no surer than it is."""
    of = questions()[name]
    readings, example = set_up(name, more, False)
    known = Desk(readings, CARD, example=example).ask(name).known
    for entry in limits_of(of):
        text = known[entry.key].text if entry.key in known else ""
        if not text or not read_number(text.lstrip("±")).number:
            continue
        found = []
        for factor in (1, GROWN):
            wider = readings_of(of, [f"{entry.key}={times(text, factor)}"])
            answer = work.out(name, readings | wider, example)
            found.append(parts_of(answer, work.dice.made))
        unknowns = {
            place
            for key in found[0].keys() & found[1].keys()
            for place, part in found[1][key].items()
            if part > found[0][key].get(place, 0) * math.sqrt(GROWN)  # few readings: all parts shrink alike
        }
        if entry.key.endswith(OWN) or (name, entry.key) in SEVERAL:
            continue
        assert len(unknowns) <= 1, (entry.key, [work.dice.made[place].tag for place in unknowns])
