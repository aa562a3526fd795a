"""Reading numbers as people type them, and printing them as a workshop reads them."""

import itertools
import math
import time

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat

from calculators import Quantity, magnitude_in, measured, printed, quantity, symbol_of, uncertainty_in, unit
from calculators.bench.units import (
    _UNITS,
    NotANumber,
    Typed,
    UnknownUnit,
    bare,
    figures,
    named,
    plain,
    printed_bare,
    read_number,
    spelled,
    spread_alone,
    units_of,
    with_plus_minus,
)
from tests.examples import examples
from tests.processor import is_within

SYMBOLS = [unit.symbol for unit in _UNITS]
SAME_KIND = [(one.symbol, other.symbol) for one, other in itertools.product(_UNITS, _UNITS) if one.kind == other.kind]


@pytest.mark.parametrize(
    ("text", "number", "symbol"),
    [
        ("83", 83, None),
        ("83.5", 83.5, None),
        ("0,15 mm", 0.15, "mm"),
        ("1,23", 1.23, None),
        (".5", 0.5, None),
        (",5 mm", 0.5, "mm"),
        ("5.", 5, None),
        ("+12", 12, None),
        ("  12  mm  ", 12, "mm"),
        ("12\u00a0mm", 12, "mm"),
        ("37 Nm", 37, "N·m"),
        ("37Nm", 37, "N·m"),
        ("37,5 N.m", 37.5, "N·m"),
        ("37 N·m", 37, "N·m"),
        ("37 newton metres", 37, "N·m"),
        ("27 lb ft", 27, "lbf·ft"),
        ("27 lb-ft", 27, "lbf·ft"),
        ("27 lbs ft", 27, "lbf·ft"),
        ("27 ft-lbs", 27, "lbf·ft"),
        ("27 ft. lb.", 27, "lbf·ft"),
        ("27 lbf ft", 27, "lbf·ft"),
        ("27 foot-pounds", 27, "lbf·ft"),
        ("27 pounds feet", 27, "lbf·ft"),
        ("27 lb/ft", 27, "lbf·ft"),
        ("27 ft/lbs", 27, "lbf·ft"),
        ("3,4 daNm", 3.4, "daN·m"),
        ("3.4 m.daN", 3.4, "daN·m"),
        ("300 in lb", 300, "lbf·in"),
        ("300 lbs in", 300, "lbf·in"),
        ("3.5 mkg", 3.5, "kgf·m"),
        ("3.5 kgm", 3.5, "kgf·m"),
        ("6 thou", 6, "thou"),
        ("6 mil", 6, "thou"),
        ('0.006"', 0.006, "in"),
        ("3/8 in", 0.375, "in"),
        ("3/8in", 0.375, "in"),
        ("3 / 8", 0.375, None),
        ("3⁄8", 0.375, None),
        ("½", 0.5, None),
        ("1½ in", 1.5, "in"),
        ("1 1/2 in", 1.5, "in"),
        ("-1 1/2", -1.5, None),
        ("-3/8", -0.375, None),
        ("−0,5 mm", -0.5, "mm"),
        ("–0.5 mm", -0.5, "mm"),
        ("18 cm2", 18, "cm²"),
        ("2.8 sq in", 2.8, "in²"),
        ("908 mm²", 908, "mm²"),
        ("49.5 cc", 49.5, "cm³"),
        ("49.5 cm3", 49.5, "cm³"),
        ("49.5 ml", 49.5, "cm³"),
        ("3 cu. in.", 3, "in³"),
        ("7 deg", 7, "°"),
        ("40%", 40, "%"),
        ("850 rpm", 850, "r/min"),
        ("850 rev/min", 850, "r/min"),
        ("30 PSI", 30, "psi"),
        ("2.8 bar", 2.8, "bar"),
        ("6 ft", 6, "ft"),
        ("6'", 6, "ft"),
        ("12 kN", 12, "kN"),
        ("32.1 N/mm", 32.1, "N/mm"),
        ("180 lb/in", 180, "lbf/in"),
        ("180 lbf/in", 180, "lbf/in"),
        ("640 MPa", 640, "MPa"),
        ("640 N/mm²", 640, "MPa"),
        ("1013 mbar", 1013, "hPa"),
        ("29.92 in Hg", 29.92, "inHg"),
        ("250 mm Hg", 250, "mmHg"),
        ("90 mm H2O", 90, "mmH₂O"),
        ("20 °C", 20, "°C"),
        ("20°C", 20, "°C"),
        ("20 C", 20, "°C"),
        ("−5 deg C", -5, "°C"),
        ("20 degrees Celsius", 20, "°C"),
        ("20 ℃", 20, "°C"),
        ("68 °F", 68, "°F"),
        ("68 deg. F", 68, "°F"),
        ("293.15 K", 293.15, "K"),
        ("60 km/h", 60, "km/h"),
        ("20 mins", 20, "min"),
        ("24 hrs", 24, "h"),
        ("2 days", 2, "d"),
        ("37 mph", 37, "mph"),
        ("12 m/s", 12, "m/s"),
        ("1.2 kg/m3", 1.2, "kg/m³"),
        ("0.0765 lb/ft³", 0.0765, "lb/ft³"),
    ],
)
def test_reads_a_number_as_it_is_typed(text, number, symbol):
    typed = read_number(text)
    assert typed.number == pytest.approx(number, rel=1e-15)
    assert (typed.unit.symbol if typed.unit else None) == symbol
    assert typed.plus_minus is None


@pytest.mark.parametrize(
    ("text", "number", "symbol", "plus_minus"),
    [
        ("12 ± 0.1", 12, None, 0.1),
        ("12±0,1 mm", 12, "mm", 0.1),
        ("12 mm ± 0.1", 12, "mm", 0.1),
        ("12 mm ± 0.1 mm", 12, "mm", 0.1),
        ("12 +/- 0.1 mm", 12, "mm", 0.1),
        ("12 +- 0.1", 12, None, 0.1),
        ("49.5 cm3 ± 0.2 cm³", 49.5, "cm³", 0.2),
        ("1 1/2 in ± 0.01 in", 1.5, "in", 0.01),
    ],
)
def test_reads_what_a_reading_may_be_off_by(text, number, symbol, plus_minus):
    typed = read_number(text)
    assert (typed.number, typed.plus_minus) == (number, plus_minus)
    assert (typed.unit.symbol if typed.unit else None) == symbol


@pytest.mark.parametrize(
    "text",
    [
        *["1/2/3", "1.5 1/2", "½½", "--5", "0,1-0,2", "5/"],
        "",
        "   ",
        "abc",
        "mm",
        "nan",
        "inf",
        "-",
        ".",
        ",",
        "/",
        "±0.1",
        "1,234.5",
        "1.234,5",
        "1 234",
        "1 000,5",
        "1/0",
    ],
)
def test_refuses_what_is_no_number_or_could_be_two(text):
    with pytest.raises(NotANumber):
        read_number(text)


@pytest.mark.parametrize("length", [61, 1_000_000])
@pytest.mark.parametrize("sign", ["9", "½", " ", "1 "])
def test_refuses_a_text_longer_than_any_number(sign, length):
    with pytest.raises(NotANumber):
        read_number(sign * length)


@pytest.mark.parametrize("text", ["12 furlong", "20 °X", "1e5", "0x10", "1_000", "27 lb/mi", "12 in ± 0.1 mm"])
def test_refuses_what_is_no_unit_of_ours(text):
    with pytest.raises(UnknownUnit):
        read_number(text)


def test_a_comma_is_never_a_thousands_mark():
    assert read_number("1,23").number != 123
    assert read_number("1,234").number == 1.234


@given(
    st.one_of(
        st.text(max_size=80),
        st.text(alphabet="0123456789.,/-+±½¼ −–mNftlb·\"' ", max_size=61),
    )
)
@settings(max_examples=examples(600), deadline=None)
def test_any_text_is_read_or_refused_quickly(text):
    started = time.process_time()
    try:
        typed = read_number(text)
    except (NotANumber, UnknownUnit):
        pass
    else:
        assert isinstance(typed, Typed)
        assert math.isfinite(typed.number)
        assert typed.plus_minus is None or typed.plus_minus >= 0
    taken = time.process_time() - started
    assert is_within(taken, 0.1)


@given(st.decimals(-9999, 9999, places=3, allow_nan=False), st.sampled_from(SYMBOLS), st.sampled_from([".", ","]))
def test_reads_back_every_number_in_every_unit(number, symbol, mark):
    typed = read_number(f"{number} {symbol}".replace(".", mark) if symbol.isascii() else f"{number} {symbol}")
    assert (typed.number, typed.unit.symbol) == (float(number), symbol)


@pytest.mark.parametrize("found", _UNITS, ids=SYMBOLS)
def test_every_spelling_belongs_to_one_unit(found):
    for spelling in (found.symbol, *found.spellings):
        assert spelled(spelling) is found
        assert spelled(spelling.upper()) is found


@pytest.mark.parametrize(("one", "other"), SAME_KIND)
def test_there_and_back_is_exact(one, other):
    there = magnitude_in(quantity(37.3, one), other)
    assert magnitude_in(quantity(there, other), one) == pytest.approx(37.3, rel=1e-12)


@given(st.floats(-1e6, 1e6), st.sampled_from(SAME_KIND))
def test_there_and_back_keeps_any_number(number, pair):
    one, other = pair
    there = magnitude_in(quantity(number, one), other)
    # a temperature passes through the other scale's nought, hundreds of degrees away
    grain = 1e-9 if unit(one).kind == "temperature" else 1e-300
    assert math.isclose(magnitude_in(quantity(there, other), one), number, rel_tol=1e-12, abs_tol=grain)


@pytest.mark.parametrize("symbol", SYMBOLS)
def test_a_quantity_is_what_pint_s_own_constructor_makes(symbol):
    ours, theirs = quantity(37.5, symbol), Quantity(37.5, unit(symbol).definition)
    assert ours == theirs
    assert (ours.units, ours.dimensionality, str(ours)) == (theirs.units, theirs.dimensionality, str(theirs))
    assert hash(ours) == hash(theirs)


def test_a_ratio_and_a_sum_of_quantities_are_pint_s():
    # by hand: 25.4 mm and 1 in are alike
    assert magnitude_in(quantity(25.4, "mm") + quantity(1, "in"), "mm") == pytest.approx(50.8)
    assert (quantity(25.4, "mm") / quantity(1, "in")).m_as("") == pytest.approx(1)


def test_temperatures_do_not_add_up():
    with pytest.raises(pint.OffsetUnitCalculusError):
        quantity(20, "°C") + quantity(20, "°C")


def test_a_plus_minus_of_a_temperature_is_a_difference():
    # JCGM 100:2008 (GUM), 4.3.7: u = a/√3; 0.5 K is 0.9 °F
    value = measured(quantity(20, "°C"), quantity(0.9, "°F"))
    assert uncertainty_in(value, "°C") == pytest.approx(2 * 0.5 / math.sqrt(3), rel=1e-9)
    assert uncertainty_in(value, "°F") == pytest.approx(2 * 0.9 / math.sqrt(3), rel=1e-9)
    assert (magnitude_in(value, "K"), symbol_of(value)) == (293.15, "°C")


def test_a_torque_is_not_a_length():
    with pytest.raises(pint.DimensionalityError):
        magnitude_in(quantity(37, "N·m"), "mm")


def test_symbol_of_gives_the_unit_as_printed():
    assert [symbol_of(quantity(1, symbol)) for symbol in SYMBOLS] == SYMBOLS


def test_an_unknown_symbol_is_a_bug():
    with pytest.raises(KeyError):
        unit("furlong")


def test_units_of_a_kind_come_in_the_order_offered():
    assert [unit.symbol for unit in units_of("torque")] == ["N·m", "lbf·ft", "lbf·in", "kgf·m", "daN·m"]
    # an error shows the first two: one of each system
    assert [unit.symbol for unit in units_of("length")][:2] == ["mm", "in"]
    assert [unit.symbol for unit in units_of("volume")][:2] == ["cm³", "in³"]
    assert [unit.symbol for unit in units_of("temperature")] == ["°C", "°F", "K"]
    assert [unit.symbol for unit in units_of("speed")] == ["km/h", "mph", "m/s"]
    assert [unit.symbol for unit in units_of("spring rate")][:2] == ["N/mm", "lbf/in"]


def test_instrument_limit_becomes_a_rectangular_distribution():
    # JCGM 100:2008 (GUM), 4.3.7: u = a/√3; for a = 0.05, u = 0.028 867 5, and U = 2u (6.2)
    value = measured(quantity(80, "mm"), quantity(0.05, "mm"))
    assert uncertainty_in(value, "mm") == pytest.approx(0.0577350, abs=1e-7)
    assert uncertainty_in(value, "in") == pytest.approx(0.0577350 / 25.4, abs=1e-8)
    assert magnitude_in(value, "mm") == 80


def test_instrument_limit_may_be_in_another_unit():
    value = measured(quantity(80, "mm"), quantity(0.001, "in"))
    assert uncertainty_in(value, "mm") == pytest.approx(2 * 0.0254 / math.sqrt(3), rel=1e-12)


def test_two_readings_are_independent_and_one_reading_is_itself():
    # GUM 5.1.2: independent contributions add in quadrature; x − x carries none
    one, other = (measured(quantity(80, "mm"), quantity(0.05, "mm")) for _ in range(2))
    assert uncertainty_in(one - other, "mm") == pytest.approx(math.sqrt(2) * 0.0577350, abs=1e-7)
    assert uncertainty_in(one - one, "mm") == 0


def test_plus_minus_nought_is_an_exact_value():
    assert uncertainty_in(measured(quantity(80, "mm"), quantity(0, "mm")), "mm") is None


@pytest.mark.parametrize(
    ("value", "symbol", "places", "text"),
    [
        (quantity(37, "N·m"), "lbf·ft", None, "27.3 lbf·ft"),
        (quantity(-0.449, "mm"), "mm", None, "−0.45 mm"),
        (quantity(-0.001, "mm"), "mm", None, "0.00 mm"),
        (quantity(7, "°"), "°", None, "7°"),
        (quantity(20, "°C"), "°F", None, "68 °F"),
        (quantity(ufloat(-40, 0.5), "°F"), "°C", None, "−40.0 ± 0.6 °C"),
        (quantity(40, "%"), "%", 0, "40%"),
        (quantity(0.15, "mm"), "thou", None, "5.9 thou"),
        (quantity(ufloat(80, 0.03), "mm"), "mm", None, "80.00 ± 0.06 mm"),
    ],
)
def test_prints_a_quantity_with_the_decimals_of_the_bench(value, symbol, places, text):
    assert printed(value, symbol, places) == text


@pytest.mark.parametrize(
    ("number", "text"),
    [(80.0, "80"), (0.5, "0.5"), (1e-5, "0.00001"), (-2.5, "−2.5"), (-0.0, "0"), (100, "100"), (1e-12, "0")],
)
def test_prints_a_plain_number_without_idle_noughts(number, text):
    assert plain(number) == text


def test_figures_never_print_minus_nought():
    assert (figures(-0.004, 2), figures(-0.006, 2)) == ("0.00", "−0.01")


@pytest.mark.parametrize(
    ("number", "spread", "places", "text"),
    [
        (80, 0.06, 2, "80.00 ± 0.06"),
        (80, 0.004, 2, "80.000 ± 0.004"),  # and not ± 0.00
        (80, 0.0012, 2, "80.000 ± 0.001"),
        (22.7777777778, 1.0988001104, None, "22.8 ± 1.1"),
        (10, 1.1547, None, "10.0 ± 1.2"),
        (9.4, 0.149, 1, "9.40 ± 0.15"),  # ± 0.1 would be a third too little
        (7.4, 0.231, 1, "7.4 ± 0.2"),
        (-72, 0.4, 0, "−72.0 ± 0.4"),
        (4663, 1114, 0, "4663 ± 1114"),
        (80, 0.00004, 2, "80.00"),  # less than a hundredth of what is read
        (80, 0, 2, "80.00"),
        (80.5, None, None, "80.5"),
        (27.8156287447, None, None, "27.8156"),
        (1234567, None, None, "1234567"),
    ],
)
def test_prints_a_plus_minus_with_the_figures_that_count(number, spread, places, text):
    # JCGM 100:2008 (GUM), 7.2.6: no more than two figures of an uncertainty beyond what is read, the number to agree
    assert with_plus_minus(number, spread, places) == text


@given(
    number=st.floats(-1e4, 1e4),
    spread=st.floats(1e-6, 1e4),
    places=st.one_of(st.none(), st.integers(0, 4)),
)
def test_a_plus_minus_never_reads_as_nought_nor_as_far_more_or_less_than_it_is(number, spread, places):
    text = with_plus_minus(number, spread, places)
    best, mark, said = text.partition(" ± ")
    if not mark:
        assert spread < 10.0 ** -(places + 2)
        return
    # with 5/6 of U, k is 1.65: nine in ten, scipy.stats.norm
    assert float(said) == pytest.approx(spread, rel=1 / 6 + 1e-9)
    assert len(best.partition(".")[2]) == len(said.partition(".")[2])


def test_a_plus_minus_alone_is_printed_as_beside_its_number():
    assert [spread_alone(spread, 2) for spread in (0.18, 0.004, 0.00001)] == ["0.18", "0.004", "0.00"]


def test_a_bare_number_keeps_its_uncertainty():
    assert bare(ufloat(7.58, 0.02)) == (7.58, 0.04)
    assert bare(quantity(50, "%")) == (pytest.approx(0.5), None)
    assert printed_bare(ufloat(7.5834, 0.02), 2) == "7.58 ± 0.04"
    assert printed_bare(4) == "4"


def test_a_reading_is_named_once_and_a_line_of_readings_entry_by_entry():
    first, second = named((quantity(ufloat(1, 0.1), "mm"), ufloat(2, 0.1)), "Bore")
    assert (first.magnitude.tag, second.tag) == ("Bore", "Bore")
    assert named(first, "Stroke").magnitude.tag == "Bore"
    assert named(4, "Cylinders") == 4
