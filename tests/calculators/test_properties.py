"""What holds for every calculator, whatever the readings: one answer in all units, and the way physics sends it."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from decimal import Decimal
from math import isclose
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from uncertainties import ufloat
from uncertainties.core import AffineScalarFunc, Variable

from calculators import InputErrors, Rows, Series, magnitude_in, measured, quantity, read_card, uncertainty_in, unit
from calculators._catalogue import catalogue
from calculators._units import _UNITS, units_of
from tests.examples import examples

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
KINDS = sorted({one.kind for one in _UNITS})
every_calculator = pytest.mark.parametrize("found", catalogue().values(), ids=list(catalogue()))
unhurried = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]

# What the worked example leaves empty, so that every field with a unit is read in some set-up.
MORE_TYPED = {
    "air-and-mixture": [
        {"air_pressure": "935 hPa", "vacuum.1": "60 kPa", "vacuum.2": "52 kPa", "flow.1": "", "flow.2": ""}
    ],
    "chamber-volume": [
        {
            "fill_start.1": "0.2 0.1 0.1",
            "piston_depth.1": "10 mm",
            "crown_fill.1": "45 45.1",
            "crown_fill_start.1": "0 0",
            "crown_depth.2": "0.5 mm",
            "crown_diameter": "79 mm",
        },
        {
            "dome_diameter": "76 mm",
            "dome_height": "22 mm",
            "cone_wide": "76 mm",
            "cone_narrow": "40 mm",
            "cone_height": "10 mm",
            "step_diameter": "78 mm",
            "step_height": "1.5 mm",
            "parts": "-2 cm³",
        },
    ],
    "compression-and-spacers": [
        {"crown.1": "1 cm³", "barrel_length.1": "104 mm", "barrel_length.2": "104.02 mm", "most_deck": "2.5 mm"}
        | {"gasket_thickness": "0.3 mm", "gasket_bore": "82 mm"}
    ],
    "deck-height": [{"circle": "70 mm"}],
    "fits-and-wear": [
        {f"{gas}_{part}.1": text for gas in ("inlet", "exhaust") for part, text in parts.items()}
        | {"face_gaps.1": "0.02 0.03"}
        for parts in [
            {
                "stem": "7.95",
                "guide": "8.01",
                "rock": "0.2",
                "stem_runout": "0.01",
                "margin": "1.2",
                "seat_width": "1.4",
            }
            | {
                "line": "0.6",
                "rocker_bush": "18.05",
                "rocker_shaft": "17.99",
                "tappet_bore": "19.06",
                "tappet": "18.98",
            }
            | {"tappet_gap": "0.05", "pushrod_runout": "0.1"}
        ]
    ],
    "lash-turn-plan": [
        {"ramp": "20°", "inlet_last.1": "0.15", "inlet_found.1": "0.13", "inlet_left.1": "0.15"}
        | {"exhaust_last.1": "0.20", "exhaust_found.1": "0.22", "exhaust_left.1": "0.20"}
    ],
    "marks-and-timing": [
        {
            "more_marks": "-10 15",
            "firing_intervals": "180 180 180 180",
            "stop_forwards": "",
            "stop_backwards": "",
            "dwell_read": "",
            "dwell_read_share": "58 %",
        }
        | {"rim_forwards": "-47 mm", "rim_backwards": "56 mm", "gap_second": "0.45 mm", "dwell_second": "46°"}
        | {"bend_speed.1": "2000 r/min", "bend_advance.1": "20°", "inlet_opens_read": "7°", "inlet_closes_read": "41°"}
        | {"exhaust_opens_read": "43°", "exhaust_closes_read": "5°"}
    ],
    "port-match": [
        {
            "pipe_shape": "rounded",
            "pipe_corner": "12 mm",
            "pipe_across": "0.2 mm",
            "pipe_up": "-0.1 mm",
            "gasket_across": "0.1 mm",
            "gasket_up": "0.3 mm",
            "port_shape": "rounded",
            "port_corner": "14 mm",
            "crown.1": "1 cm³",
        },
        {
            f"{edge}_{part}": text
            for edge in ("pipe", "gasket", "port")
            for part, text in {"shape": "traced", "trace": "18 0 9 15 -9 15 -18 0 -9 -15 9 -15"}.items()
        },
    ],
    "pushrods-and-tubes": [{"new_length": "277 mm"}],
    "run-in-plan": [{"fast_idle": "2000 2500", "read_idle": "1.2 bar", "read_hot": "3.2 bar"}],
    "sealing-plan": [{"least_crush.1": "10 %", "most_crush.1": "30 %"}],
    "stud-clamp": [
        {"condition": "own", "least_friction": "0.1", "most_friction": "0.16", "face": "16 mm", "hole": "10.5 mm"}
    ],
    "torque-stages": [
        {
            "screws": "2",
            "screw_torque": "9 N·m",
            "screw_across.1": "10",
            "screw_up.1": "0",
            "screw_across.2": "-10",
            "screw_up.2": "0",
        },
        {
            "wrench_low": "5 N·m",
            "wrench_high": "60 N·m",
            "nip": "8 N·m",
            "extension": "50 mm",
            "wrench_length": "300 mm",
        }
        | {"small_step": "0.5 N·m", "small_low": "2 N·m", "small_high": "25 N·m", "small_length": "200 mm"},
        {"turns": "30 60", "nip": "10 N·m"},
        {"shares": "50 75 100"},
        {
            f"{way}.{stud}": str(place)
            for way, places in {"across": (0, 90, 90, 0), "up": (0, 0, 80, 80)}.items()
            for stud, place in enumerate(places, 1)
        }
        | {"posts": "2", "post_torque": "20 N·m"},
    ],
    "units-and-fasteners": [
        {"length": "12 mm", "volume": "50 cm³", "force": "100 N", "pressure": "7 bar", "torque": "25 N·m"}
    ],
    "valve-springs": [
        {"length_a.1": "38 mm", "load_a.1": "264 N", "length_b.1": "30 mm", "load_b.1": "487 N"},
    ],
}

SET_UPS = [(name, more) for name in catalogue() for more in ({}, *MORE_TYPED.get(name, []))]
every_set_up = pytest.mark.parametrize(("name", "more"), SET_UPS, ids=[name for name, _ in SET_UPS])

# Answers that follow the unit typed, so that another unit rightly gives another: why, by calculator and key.
FOLLOWS_THE_UNIT = {
    "compression-and-spacers": dict.fromkeys(
        ("spacers_1", "spacers_2", "made_1", "made_2"),
        "a spacer is named as its drawer is marked: 1.00 mm or 0.0394 in",
    ),
}


def example(name, more=None):
    return catalogue()[name].form.prefilled(MARRAM, example=True) | (more or {})


def outcome(name, typed):
    """The report, or the fields that were refused."""
    try:
        return catalogue()[name].answer(typed, MARRAM)
    except InputErrors as wrong:
        return {error.field for error in wrong.errors}


def fields_of(name):
    """Each field with the keys that it can be typed under: one, or one a row."""
    for section in catalogue()[name].form.sections:
        for one in section.fields:
            rows = range(1, section.most + 1) if isinstance(section, Rows) else ()
            yield one, [f"{one.key}.{row}" for row in rows] or [one.key]


def entries(one, text, chosen):
    """What a text means, value by value, in the field's own terms."""
    read = one.kind.read(text, lambda: one.like(chosen), chosen)
    return read if isinstance(one.kind, Series) else (read,)


def in_unit(value, symbol, *, named):
    """A value as it would be typed in a unit, to the last digit, with the ± that stood behind it."""
    best = Decimal(repr(magnitude_in(value, symbol)))
    text, spread = f"{best:f}", uncertainty_in(value, symbol)
    if spread:
        text += f" ± {Decimal(repr(spread / 2 * 3**0.5)):f}"  # the half-width of a rectangle: GUM 4.3.7
    return f"{text} {symbol}" if named else text


@st.composite
def other_units(draw, name, typed):
    """The same readings, some of them in other units: behind each number, or chosen beside the field."""
    found = dict(typed)
    for one, keys in fields_of(name):
        keys = [key for key in keys if typed.get(key, "").strip()]
        if not keys or not one.measure or not draw(st.booleans()):
            continue
        symbol = draw(st.sampled_from([other.symbol for other in one.measure.units]))
        beside = draw(st.booleans())
        for key in keys:
            values = entries(one, typed[key], typed.get(f"{one.key}.unit"))
            found[key] = "; ".join(in_unit(value, symbol, named=not beside) for value in values)
        found[f"{one.key}.unit"] = symbol if beside else ""
    return found


@st.composite
def near(draw, name, typed):
    """The worked example with a few readings up to a tenth off, so that not one engine alone is tried."""
    measured = [
        (one, key)
        for one, keys in fields_of(name)
        for key in keys
        if one.measure and not isinstance(one.kind, Series) and typed.get(key, "").strip()
    ]
    found = dict(typed)
    for one, key in draw(st.lists(st.sampled_from(measured), max_size=3, unique_by=lambda pair: pair[1])):
        (value,) = entries(one, typed[key], None)
        number = magnitude_in(value, one.own_unit) * draw(st.floats(0.9, 1.1))
        found[key] = f"{number:.6f}"
    return found


def alike(one, other):
    return isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)


@every_set_up
@given(data=st.data())
@settings(max_examples=examples(16), suppress_health_check=unhurried)
def test_the_unit_of_a_reading_does_not_change_the_answer(name, more, data):
    typed = data.draw(near(name, example(name, more)))
    other = data.draw(other_units(name, typed))
    before, after = outcome(name, typed), outcome(name, other)
    if isinstance(before, set):
        assert after == before
        return
    assert [value.key for value in after.values] == [value.key for value in before.values]
    for was, now in zip(before.values, after.values, strict=True):
        if was.key in FOLLOWS_THE_UNIT.get(name, {}):
            continue
        if isinstance(was.quantity, str):
            assert now.quantity == was.quantity, was.key
        elif was.units:
            own = units_of(unit(was.units[0]).kind)[0].symbol
            assert alike(magnitude_in(now.quantity, own), magnitude_in(was.quantity, own)), was.key
            spreads = [uncertainty_in(value.quantity, own) or 0.0 for value in (was, now)]
            assert alike(*spreads), was.key
        else:
            assert alike(now.as_data()["magnitude"], was.as_data()["magnitude"]), was.key


def test_every_field_with_a_unit_is_read_in_some_set_up():
    read, asked = set(), set()
    for name, more in SET_UPS:
        typed = example(name, more)
        for one, keys in fields_of(name):
            if one.measure:
                asked.add((name, one.key))
                read |= {(name, one.key) for key in keys if typed.get(key, "").strip()}
    assert asked == read


def test_every_set_up_is_answered():
    for name, more in SET_UPS:
        assert not isinstance(found := outcome(name, example(name, more)), set), (name, found)


def test_the_spread_of_a_reading_counts_or_the_reader_is_told_that_it_does_not(monkeypatch):
    """It counts where a result carries it, or where its size is asked for: a verdict may go either way."""
    asked = set()

    def noting(of):
        return property(lambda value: asked.update(one.tag for one in value.derivatives) or of.fget(value), of.fset)

    for kind in (AffineScalarFunc, Variable):
        monkeypatch.setattr(kind, "std_dev", noting(kind.std_dev))
    counts, said = set(), set()
    for name, more in SET_UPS:
        typed, found = example(name, more), catalogue()[name]
        open_to_all = replace(found, form=replace(found.form, sets_aside=()))
        for one, keys in fields_of(name):
            key = next((key for key in keys if typed.get(key, "").strip()), None)
            if not key or not one.measure or one.measure.exact:
                continue
            said.add((name, one.key))
            values = entries(one, typed[key], typed.get(f"{one.key}.unit"))
            wide = [measured(value, quantity(1e-3, one.own_unit)) for value in values]
            typed_wide = "; ".join(in_unit(value, one.own_unit, named=True) for value in wide)
            asked.clear()
            open_to_all.answer(typed | {key: typed_wide}, MARRAM).as_data()
            if any(tag and tag.startswith(one.label) for tag in asked):
                counts.add((name, one.key))
    aside = {(name, key) for name, found in catalogue().items() for key in found.form.sets_aside}
    assert said - counts == aside


@every_set_up
def test_every_value_is_of_the_quantity_of_its_unit(name, more):
    for value in outcome(name, example(name, more)).values:
        assert len({unit(symbol).kind for symbol in value.units}) <= 1, value.key
        for symbol in value.units:
            assert value.quantity.dimensionality == quantity(1, symbol).dimensionality, (value.key, symbol)


@every_calculator
def test_a_unit_of_another_kind_is_refused_in_every_field(found):
    for one, keys in fields_of(found.name):
        if not one.measure:
            continue
        for kind in KINDS:
            own, foreign = unit(one.own_unit).kind, units_of(kind)[-1].symbol
            if kind == own:
                continue
            typed = example(found.name) | {keys[0]: f"{one.measure.high} {foreign}"}
            with pytest.raises(InputErrors) as wrong:
                found.answer(typed, MARRAM)
            message = {error.field: error.message for error in wrong.value.errors}[keys[0]]
            said = "must be numbers in a row" if isinstance(one.kind, Series) else f"must use a unit of {own}, like"
            assert said in message, (one.key, foreign)


@dataclass(frozen=True)
class Trend:
    """An answer that physics lets go one way only with a reading."""

    calculator: str
    reading: str
    between: tuple[float, float]
    answer: str
    rises: bool
    because: str
    typed: dict[str, str] = field(default_factory=dict)
    strictly: bool = True
    written: str = "{:.6f}"

    def __str__(self):
        return f"{self.calculator}-{self.reading}-{self.answer}"


def rises(*row, **more):
    return Trend(*row[:4], True, *row[4:], **more)


def falls(*row, **more):
    return Trend(*row[:4], False, *row[4:], **more)


GAS_LAW = "a given volume of air holds less of it where pressure is lower or temperature higher"
BARE_STACK = {f"pieces.{row}": "0" for row in range(1, 5)} | {"least_deck": "0", "tolerance": "2", "most_deck": ""}
LONG_WRENCH = {"wrench_length": "300 mm", "graduation": "0.01 N·m"}

TRENDS = [
    falls("air-and-mixture", "altitude", (0, 3000), "density", GAS_LAW),
    falls("air-and-mixture", "altitude", (0, 3000), "main_jet", "thinner air wants less fuel"),
    falls("air-and-mixture", "air_temperature", (-20, 45), "density", GAS_LAW),
    falls("air-and-mixture", "air_humidity", (0, 100), "density", "water vapour is lighter than dry air"),
    falls("air-and-mixture", "air_humidity", (0, 100), "charge", "vapour takes the place of dry air"),
    rises("air-and-mixture", "o2", (0.1, 6), "lambda", "oxygen left over is air that found no fuel"),
    falls("air-and-mixture", "co", (0.1, 6), "lambda", "carbon monoxide is fuel that found no air"),
    rises("chamber-volume", "fill.1", (40, 60), "chamber_1", "what the burette gave is in the chamber"),
    falls("chamber-volume", "fill_start.1", (0, 5), "chamber_1", "the burette gave less", {"fill.1": "49"}),
    rises("chamber-volume", "fill.2", (50, 60), "difference", "the largest chamber grows further from the least"),
    rises("compression-and-spacers", "bore", (78, 82), "displacement", "a wider cylinder holds more"),
    rises("compression-and-spacers", "stroke", (72, 76), "displacement", "a longer cylinder holds more"),
    falls("compression-and-spacers", "chamber.3", (44, 48), "highest_ratio", "a large one squeezes less", BARE_STACK),
    falls("compression-and-spacers", "deck.4", (0.6, 1.6), "lowest_ratio", "a deeper deck is more room", BARE_STACK),
    falls("compression-and-spacers", "altitude", (0, 3000), "cranking_pressure", GAS_LAW),
    rises("compression-and-spacers", "exponent", (1.12, 1.28), "cranking_pressure", "less heat is lost in squeezing"),
    falls("compression-and-spacers", "inlet_closing", (10, 80), "effective_ratio", "squeezing begins later"),
    falls("compression-and-spacers", "rod_length", (100, 200), "effective_ratio", "a longer rod is higher up"),
    falls("cylinder-tests", "held.4", (1, 3.4), "worst_leak", "less pressure is lost where less leaks"),
    rises("cylinder-tests", "dry.1", (7.5, 9), "spread", "the highest goes further from the lowest"),
    falls("cylinder-tests", "altitude", (0, 3000), "air_pressure", GAS_LAW),
    falls("cylinder-tests", "altitude", (0, 3000), "least_here", "less air is there to squeeze"),
    falls("cylinder-tests", "inlet_closing", (10, 80), "expected", "squeezing begins later"),
    rises("cylinder-tests", "ratio.1", (5, 7.5), "expected", "it is squeezed further"),
    rises("deck-height", "depth.1", (0.2, 1.5), "deck_1", "the gauge reads the depth", written="{:.6f} 0.43 0.46"),
    falls("deck-height", "zero", (-0.2, 0.2), "deck_1", "the zero is taken off every reading"),
    falls("fits-and-wear", "bore_new", (79.5, 80), "worst_wear", "wear is what the bore has grown by"),
    falls("fits-and-wear", "piston.3", (79.5, 79.9), "worst_piston_clearance", "a larger piston fills more"),
    rises("fits-and-wear", "ring_temperature", (160, 400), "closed", "a hotter ring is longer"),
    falls("fits-and-wear", "barrel_temperature", (80, 240), "closed", "a hotter barrel is wider round the ring"),
    falls("lash-growth", "exhaust_hot", (100, 700), "exhaust_running", "a hotter valve is longer"),
    falls("lash-growth", "pushrod_hot", (20, 200), "inlet_running", "a hotter pushrod is longer"),
    falls("lash-growth", "tappet_hot", (20, 200), "inlet_running", "a hotter tappet is longer"),
    rises("lash-growth", "barrel_hot", (20, 250), "inlet_running", "a hotter barrel lifts the rocker away"),
    rises("lash-growth", "case_hot", (20, 150), "exhaust_running", "a hotter case lifts the rocker away"),
    rises("lash-growth", "inlet_clearance", (0.05, 0.4), "inlet_running", "the gap begins wider"),
    falls("lash-setting", "screw_pitch", (0.5, 2), "per_hundredth", "a coarser screw moves further in a turn"),
    rises("lash-setting", "gap_after", (0.16, 0.27), "pull", "the nut pulls the screw by what the gap grows"),
    falls("lash-setting", "gap_before", (0.05, 0.16), "pull", "the nut pulls the screw by what the gap grows"),
    falls("lash-turn-plan", "ramp", (1, 40), "least_inside", "a ramp takes from the base circle"),
    falls("lash-turn-plan", "exhaust_opens", (42, 70), "least_inside", "it lies shut for less of the turn"),
    rises("marks-and-timing", "diameter", (100, 250), "mark_2", "an arc grows with its radius"),
    rises("marks-and-timing", "static_advance", (1, 25), "mark_1", "an arc grows with its angle"),
    rises("marks-and-timing", "stroke", (50, 100), "stop_depth", "at one angle the piston has come further"),
    falls("marks-and-timing", "rod_length", (110, 250), "stop_depth", "a longer rod leans less"),
    falls("marks-and-timing", "dwell_read", (20, 70), "spark_later", "points shut for longer open later"),
    rises("port-match", "engine_speed", (1000, 6000), "mach_index", "the same valve passes more in the same time"),
    rises("port-match", "stroke", (50, 100), "piston_speed", "it goes twice the stroke each turn"),
    falls("port-match", "inlet_temperature", (-20, 120), "mach_index", "sound is faster in warmer air"),
    rises("port-match", "valve_lift", (4, 12), "curtain", "a curtain grows with its height"),
    falls("port-match", "stem", (5, 12), "throat", "the stem stands in the throat"),
    rises("pushrods-and-tubes", "spacer_height.1", (0.2, 3), "shift_1", "the head stands on it"),
    falls("pushrods-and-tubes", "before", (0, 0.8), "shift_1", "only the difference moves the head"),
    rises("pushrods-and-tubes", "pushrod_length", (200, 300), "pushrod", "the same is added to a longer one"),
    falls("pushrods-and-tubes", "pushrod_slope", (1, 40), "pushrod", "a leaning rod gets less of the shift along it"),
    rises("pushrods-and-tubes", "rocker_ratio", (1, 1.6), "lash_change", "the rocker makes the gap wider at the valve"),
    rises("run-in-plan", "share", (50, 90), "ceiling", "a ceiling is a share of the highest speed", strictly=False),
    rises("run-in-plan", "stroke", (50, 120), "piston_speed", "it goes twice the stroke each turn"),
    rises("run-in-plan", "pressure_hot", (1, 5), "least_pressure", "the limit lies on the line to the hot pressure"),
    rises("sealing-plan", "work.1", (10, 120), "hands", "work on one joint is hands busy"),
    rises("sealing-plan", "cure.1", (25, 60), "elapsed", "oil waits for the slowest cure", strictly=False),
    falls("sealing-plan", "shop_temperature", (5, 40), "elapsed", "cures are quicker where it is warm", strictly=False),
    rises("stud-clamp", "torque", (5, 60), "pull", "a screw turns torque into pull"),
    falls("stud-clamp", "wrench_error", (0, 20), "least_pull", "the wrench may have stopped earlier"),
    rises("stud-clamp", "wrench_error", (0, 20), "most_pull", "the wrench may have stopped later"),
    falls("torque-stages", "extension", (20, 400), "passes 3 mark", "a longer lever needs less", LONG_WRENCH),
    rises("torque-stages", "wrench_length", (150, 900), "passes 3 mark", "the extension is less of a longer wrench",
          {"extension": "60 mm", "graduation": "0.01 N·m"}),
    rises("torque-stages", "target", (20, 60), "applied", "more is wanted", {"graduation": "0.01 N·m"}),
    falls("units-and-fasteners", "share", (40, 95), "drills 1 wanted", "a deeper thread leaves a smaller hole"),
    rises("valve-springs", "wire.1", (3.5, 4.5), "rate", "thicker wire is stiffer"),
    falls("valve-springs", "active.1", (4, 6), "rate", "more coils share the travel"),
    falls("valve-springs", "outside.1", (31, 36), "rate", "a wider coil is softer"),
    falls("valve-springs", "fitted_length", (37, 42), "seat_load", "a spring let out pushes less"),
    rises("valve-springs", "valve_lift", (5, 9), "open_load", "a spring pushed further pushes more"),
    falls("valve-springs", "valve_lift", (5, 9), "margin", "the coils come nearer"),
    falls("valve-springs", "mass", (60, 250), "follow_speed", "more mass needs more force to turn it round"),
]  # fmt: skip


def cell(report, path):
    """A number of a report: a value's by its key, or a table's by table, row and column."""
    if " " not in path:
        return next(value for value in report["values"] if value["key"] == path)["magnitude"]
    table, row, column = path.split()
    return next(one for one in report["tables"] if one["key"] == table)["rows"][int(row) - 1][column]


def test_every_calculator_has_a_trend():
    lacking = set(catalogue()) - {trend.calculator for trend in TRENDS}
    assert not lacking, f"add to TRENDS a line (a reading, the answer that it moves, and why) for {lacking}"


@pytest.mark.parametrize("trend", TRENDS, ids=str)
@given(where=st.floats(0, 0.9), further=st.floats(0.05, 1))
@settings(max_examples=examples(10), suppress_health_check=unhurried)
def test_an_answer_goes_the_way_that_physics_sends_it(trend, where, further):
    low, high = trend.between
    shares = where, where + further * (1 - where)
    answers = []
    for share in shares:
        reading = trend.written.format(low + share * (high - low))
        typed = example(trend.calculator, trend.typed | {trend.reading: reading})
        answers.append(cell(catalogue()[trend.calculator].answer(typed, MARRAM).as_data(), trend.answer))
    smaller, larger = answers if trend.rises else reversed(answers)
    assert smaller < larger if trend.strictly else smaller <= larger, trend.because


@dataclass(frozen=True)
class Judged:
    """A verdict, with the reading or limit that decides it and what it is held against.

    ``interval`` gives what is judged and half its width (k = 2), ``limit`` what it must keep,
    ``says_in`` whether the report calls it in; ``start`` is where the field has both meet.
    """

    calculator: str
    field: str
    start: Callable
    interval: Callable
    limit: Callable
    says_in: Callable
    above: bool = True
    per: float = 1  # of the field's unit, for one of what is judged
    typed: dict[str, str] = field(default_factory=dict)

    def __str__(self):
        return f"{self.calculator}-{self.field}"


def instrument(limit, best=None):
    """What a reading typed into the field is judged with: JCGM 100:2008, 4.3.7, k = 2."""
    return lambda typed, report: (typed if best is None else best, 2 * limit / 3**0.5)


def value(key):
    return lambda typed, report: next(
        (one["magnitude"], one["uncertainty"]) for one in report["values"] if one["key"] == key
    )


def same(typed, report):
    return typed


def fixed(number):
    return lambda typed, report: number


def best(interval):
    return lambda report: abs(interval(None, report)[0])


def is_in(path, word="in"):
    return lambda report: cell(report, path) == word


def silent(path, fit):
    """A list of faults: a fit that is in is not named."""
    return lambda report: fit not in cell(report, path)


def pulls(typed, report):
    """The whole range of pulls counts as the interval."""
    least, most = (cell(report, key) for key in ("least_pull", "most_pull"))
    return (least + most) / 2, (most - least) / 2


def crush(typed, report):
    """Of the fibre washer: (1.60 − 1.53) / 1.60, each read within ± 0.02 mm."""
    share = 1 - ufloat(1.53, 0.02 / 3**0.5) / ufloat(1.60, 0.02 / 3**0.5)
    return 100 * share.n, 200 * share.s


BARE = BARE_STACK | {"target": "8"}
VERDICTS = [
    Judged("chamber-volume", "may_differ", best(value("difference")), value("difference"), same, is_in("verdict")),
    Judged("compression-and-spacers", "tolerance", lambda report: cell(report, "highest_ratio") - 8,
           value("highest_ratio"), lambda typed, report: 8 + typed,
           lambda report: {row["verdict"] for row in report["tables"][0]["rows"]} == {"in"}, typed=BARE),
    Judged("compression-and-spacers", "height_tolerance", best(value("step_1")), value("step_1"), same,
           is_in("level_1"), typed={"barrel_length.1": "104 mm", "barrel_length.2": "104.04 mm"}),
    Judged("cylinder-tests", "most_leakage", best(value("worst_leak")), value("worst_leak"), same,
           is_in("leakage 4 leak_verdict")),
    Judged("cylinder-tests", "most_spread", best(value("spread")), value("spread"), same,
           lambda report: "Dry readings lie 2.0 bar apart: in" in report["lead"]),
    Judged("cylinder-tests", "least_pressure", lambda report: 5.4, instrument(0.2, 5.4), same,
           is_in("cylinders 4 verdict"), above=False, typed={"most_spread": ""}),
    Judged("deck-height", "tilt_allowed", best(value("worst_tilt")), value("worst_tilt"), same,
           is_in("barrels 1 verdict", "straight")),
    Judged("fits-and-wear", "wear_most", best(value("worst_wear")), value("worst_wear"), same,
           silent("barrels 3 verdict", "bore wear")),
    Judged("fits-and-wear", "gap_least", best(value("worst_narrow_gap")), value("worst_narrow_gap"), same,
           silent("rings 4 verdict", "narrowest end gap"), above=False, typed={"ring_temperature": "150 °C"}),
    Judged("fits-and-wear", "side_most", best(value("worst_side_clearance")), value("worst_side_clearance"), same,
           silent("rings 3 verdict", "ring side clearance")),
    Judged("lash-growth", "exhaust_clearance", lambda report: 0.2 - cell(report, "exhaust_hard"), value("exhaust_hard"),
           fixed(0), is_in("cold_figures 3 exhaust_verdict", "shuts"), above=False),
    Judged("lash-setting", "exhaust_found.1", lambda report: 0.25, instrument(0.01), fixed(0.25),
           lambda report: cell(report, "turns 2 verdict").startswith("in")),
    Judged("marks-and-timing", "dwell_read", lambda report: 53, instrument(1), fixed(53), is_in("dwell_verdict")),
    Judged("marks-and-timing", "mark_limit", best(value("old_mark")), value("old_mark"), same,
           is_in("old_mark_verdict")),
    Judged("port-match", "step_allowed", best(value("step")), value("step"), same, is_in("steps 2 verdict")),
    Judged("run-in-plan", "read_idle", lambda report: 0.8, instrument(0.2), fixed(0.8),
           is_in("pressure 1 verdict", "enough"), above=False,
           typed={"read_idle": "0.8"}),
    Judged("sealing-plan", "least_crush.3", best(crush), crush, same, is_in("seals 3 verdict"), above=False),
    Judged("stud-clamp", "torque", lambda report: 34 * cell(report, "proof_load") / pulls(None, report)[0], pulls,
           lambda typed, report: cell(report, "proof_load"),
           is_in("strength_verdict", "below both over the whole range"), per=34 / 22834),
]  # fmt: skip


@pytest.mark.parametrize("judged", VERDICTS, ids=str)
@given(share=st.floats(-2.5, 2.5))
@settings(max_examples=examples(20), suppress_health_check=unhurried)
def test_in_is_said_only_where_the_whole_uncertainty_keeps_the_limit(judged, share):
    before = outcome(judged.calculator, example(judged.calculator, judged.typed)).as_data()
    start = judged.start(before)
    width = judged.interval(start, before)[1] * judged.per
    typed = round(start + share * width, 9)
    assume(typed > 0)
    report = outcome(judged.calculator, example(judged.calculator, judged.typed | {judged.field: f"{typed:.9f}"}))
    if isinstance(report, set):
        assert share < 0  # refused, where nothing that is wanted keeps the limit
        return
    report = report.as_data()
    middle, half = judged.interval(typed, report)
    edge = abs(middle) + half if judged.above else abs(middle) - half
    limit = judged.limit(typed, report)
    assume(abs(edge - limit) > 1e-6 * max(1, abs(limit)))  # on the limit itself either may be said
    assert judged.says_in(report) == (edge < limit if judged.above else edge > limit)
