"""What is typed becomes values, and every mistake gets its own sentence."""

import re
import time
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import EngineCard, FieldError, InputErrors, magnitude_in, symbol_of, uncertainty_in
from calculators.bench import (
    Answer,
    Question,
    Row,
    Table,
    choice,
    count,
    day,
    grouped,
    length,
    listed,
    number,
    optional,
    torque,
    volume,
)
from calculators.bench.asking import answer_of, beyond_the_rows, readings_of
from calculators.bench.desk import Desk, Origin, Reading
from calculators.bench.entries import either_way
from calculators.bench.kinds import Choice, Measure, Number, Series, Wrong
from calculators.bench.question import questions
from tests.examples import examples
from tests.processor import is_within

SEEN = {}


class Engine(Question):
    """A made-up question with an entry of every kind."""

    class Barrel(Row):
        chamber = volume("Chamber volume", 10, 200, why="burettes", card="dimensions.chamber_volume")
        dome = optional(volume("Dome", -50, 50, why="pistons"))
        fills = optional(listed(volume("Fills", 10, 200, why="burettes", example="49.5 49.6"), 1, 3))

    class Spacer(Row):
        thickness = length("Thickness", 0.1, 5, why="spacers", example="0.25; 0.5")
        pieces = count("Number of pieces", 1, 20, why="a drawer", example="4; 2")

    asks = "What engine is this?"
    bore = length("Bore", 30, 200, why="engines of this kind", card="dimensions.bore", example="83")
    deck = length("Deck height", -5, 10, why="gauges", usual="0.4 mm")
    torque = torque("Torque", 1, 400, why="wrenches", example="34 N·m")
    cylinders = count("Number of cylinders", 1, 4, why="engines", card="layout.cylinders")
    ratio = number("Target ratio", 5, 12, why="petrol", usual="7.6", to_one=True)
    shape = choice("Crown", {"flat": "Flat crown", "dish": "Dished"}, usual="flat")
    order = listed(count("Firing order", 1, 8, why="cylinders", usual="1 4 3 2"), 2, 4, like="1 4 3 2")
    gaps = optional(listed(length("Gaps", 0, 2, why="feelers"), 1, 3, like="0.1; 0.2"))
    banks = grouped(count("Heads", 1, 8, why="cylinders", usual="1 2 / 3 4"), 4)
    limit = either_way(length("Error limit", 0, 2, why="a test", exact=True, usual="0.1 mm"))
    start = day("Day", date(2000, 1, 1), date(2099, 12, 31), why="this century", usual="2026-11-25")
    barrels = Table(Barrel, each="Cylinder {}", most=4, count="cylinders")
    drawer = Table(Spacer, each="Spacer {}", most=3)

    def answer(self) -> Answer:
        SEEN["it"] = self
        return Answer(headline="1", says="One.")


@pytest.fixture(autouse=True)
def _known(monkeypatch):
    monkeypatch.setitem(questions(), Engine.name, Engine)


CARD = EngineCard(
    "own",
    {
        "dimensions": {
            "bore": {"value": "80 mm", "source": "seen"},
            "chamber_volume": {"value": "49.5 cm³; 50.5 cm³", "source": "seen"},
        },
        "layout": {"cylinders": {"value": 2, "source": "seen"}},
    },
)
WHOLE = {"bore": "80", "torque": "34", "cylinders": "2", "chamber": "50; 51", "thickness": "0.5", "pieces": "4"}


def read(card=None, units=None, **typed):
    """Return the question as it was asked with these texts, some with a unit chosen beside their box."""
    texts = {**WHOLE, **{key.replace("__", "."): text for key, text in typed.items()}}
    readings = readings_of(Engine, (f"{key}={text}" for key, text in texts.items() if text is not None))
    for key, unit in (units or {}).items():
        for path, reading in readings.items():
            if path.removeprefix(f"{Engine.name}.").partition(".")[0] == key:
                readings[path] = Reading(reading.text, unit)
    desk = Desk(readings, card)
    if beyond := beyond_the_rows(desk, Engine, readings):
        raise InputErrors(*beyond)
    answer_of(desk, Engine)
    return SEEN["it"]


def errors_of(**typed):
    with pytest.raises(InputErrors) as caught:
        read(**typed)
    return list(caught.value.errors)


def error_of(**typed):
    (error,) = errors_of(**typed)
    return error.field, error.message


def test_reads_an_entry_of_every_kind():
    values = read()
    assert magnitude_in(values.bore, "mm") == 80
    assert magnitude_in(values.deck, "mm") == 0.4
    assert (values.cylinders, values.ratio, values.shape) == (2, 7.6, "flat")
    assert values.order == (1, 4, 3, 2)
    assert values.banks == ((1, 2), (3, 4))
    assert values.gaps is None
    assert values.start == date(2026, 11, 25)
    assert [magnitude_in(barrel.chamber, "cm³") for barrel in values.barrels] == [50, 51]
    assert [barrel.dome for barrel in values.barrels] == [None, None]


# The sentences of the house: empty, not a number, wrong kind of unit, out of range.
@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"bore": ""}, "Enter the bore, in millimetres"),
        ({"bore": "   "}, "Enter the bore, in millimetres"),
        ({"bore": "wide"}, "Bore must be a number, like 83"),
        ({"bore": "1,234.5"}, "Bore must be a number, like 83"),
        ({"bore": "83 N"}, "Bore must use a unit of length, like mm or in"),
        ({"bore": "83 furlong"}, "Bore must use a unit of length, like mm or in"),
        ({"bore": "29.9"}, "Bore must be between 30 mm and 200 mm"),
        ({"bore": "200.1"}, "Bore must be between 30 mm and 200 mm"),
        ({"bore": "9 in"}, "Bore must be between 30 mm and 200 mm"),
        ({"deck": "-6"}, "Deck height must be between −5 mm and 10 mm"),
        ({"torque": ""}, "Enter the torque, in newton metres"),
        ({"torque": "34 ± 2"}, "Torque must be a single figure without a ±, like 34"),
        ({"cylinders": "two"}, "Number of cylinders must be a number, like 1"),
        ({"cylinders": "2.5"}, "Number of cylinders must be a whole number, like 1"),
        ({"cylinders": "2 mm"}, "Number of cylinders must be a number without a unit"),
        ({"cylinders": "5"}, "Number of cylinders must be between 1 and 4"),
        ({"cylinders": "0"}, "Number of cylinders must be between 1 and 4"),
        ({"ratio": "4.9"}, "Target ratio must be between 5 and 12"),
        ({"ratio": "7.6 ± 0.2"}, "Target ratio must be a single figure without a ±, like 7.6"),
        ({"shape": "domed"}, "Crown must be one of: flat, dish"),
        ({"order": "1 4 x 2"}, "Firing order must be numbers in a row, like 1 4 3 2, not 4 x"),
        ({"order": "1 9"}, "Firing order must each be between 1 and 8, not 9"),
        ({"order": f"{'x' * 12} 1"}, f"Firing order must be numbers in a row, like 1 4 3 2, not {'x' * 12}"),
        ({"order": f"{'x' * 13} 1"}, "Firing order must be numbers in a row, like 1 4 3 2"),
        ({"order": f"1 {'9' * 12}"}, f"Firing order must each be between 1 and 8, not {'9' * 12}"),
        ({"order": f"1 {'9' * 13}"}, "Firing order must each be between 1 and 8"),
        ({"order": "9"}, "Firing order must each be between 1 and 8"),
        ({"order": "x"}, "Firing order must be numbers in a row, like 1 4 3 2"),
        ({"order": "1"}, "Firing order must have 2 to 4 entries, not 1"),
        ({"order": "1 2 3 4 5"}, "Firing order must have 2 to 4 entries, not 5"),
        ({"order": "1 2 3 4 9 9"}, "Firing order must have 2 to 4 entries, not 6"),
        ({"gaps": "0.1 N"}, "Gaps must be numbers in a row, like 0.1; 0.2"),
        ({"banks": "1 2 / x"}, "Heads must be whole numbers in groups with a slash between, like 1 2 / 3 4"),
        ({"banks": "1 2 / 3 4 5"}, "Heads must be whole numbers in groups with a slash between, like 1 2 / 3 4"),
        ({"banks": "1 / 2 / 3 / 4 / 5"}, "Heads must be whole numbers in groups with a slash between, like 1 2 / 3 4"),
        ({"banks": "/"}, "Heads must be whole numbers in groups with a slash between, like 1 2 / 3 4"),
        ({"start": "25 Nov"}, "Day must be a date with a four-figure year, like 2026-11-25"),
        ({"start": "31.6.2026"}, "Day must be a real date, like 2026-11-25"),
    ],
)
def test_each_mistake_gets_its_sentence(typed, message):
    assert error_of(**typed) == (next(iter(typed)), message)


@pytest.mark.parametrize("text", ["30", "200", "3 cm", "200.0000000001"])
def test_limits_themselves_are_allowed(text):
    assert 30 <= round(magnitude_in(read(bore=text).bore, "mm"), 6) <= 200


def test_a_limit_met_in_another_unit_is_not_missed_by_rounding():
    edge = Measure(own="in", low=1, high=2, why="a test")
    for text in ("25.4 mm", "50.8 mm"):
        assert edge.read(text, str) is not None


def test_an_entry_that_was_not_given_takes_the_card_then_what_is_usual():
    assert magnitude_in(read(CARD, bore=None).bore, "mm") == 80
    assert magnitude_in(read(CARD).deck, "mm") == 0.4
    assert [magnitude_in(barrel.chamber, "cm³") for barrel in read(CARD, chamber=None).barrels] == [49.5, 50.5]
    assert magnitude_in(read(CARD, bore=" ").bore, "mm") == 80  # an emptied box counts as never typed


def test_an_example_is_never_taken_for_a_reading():
    with pytest.raises(InputErrors, match="Enter the torque, in newton metres"):
        read(CARD, torque=None)


def test_every_wrong_entry_is_named_at_once_in_the_order_in_which_they_are_asked():
    assert [error.field for error in errors_of(bore="x", order="y", chamber="50; z")] == ["bore", "order", "chamber.2"]


# 1 in = 25.4 mm: 30 mm = 1.1811 in, 200 mm = 7.8740 in, 10 mm = 393.70 thou; 34 N·m = 25.08 lbf·ft (NIST SP 811, B.8)
@pytest.mark.parametrize(
    ("key", "text", "unit", "message"),
    [
        ("bore", "9", "in", "Bore must be between 1.19 in and 7.87 in"),
        ("bore", "300 mm", "in", "Bore must be between 1.19 in and 7.87 in"),
        ("bore", "2", "cm", "Bore must be between 3 cm and 20 cm"),
        ("deck", "9", "in", "Deck height must be between −0.196 in and 0.393 in"),
        ("deck", "999", "thou", "Deck height must be between −196 thou and 393 thou"),
        ("bore", "wide", "in", "Bore must be a number, like 3.27"),
        ("bore", "wide", "mm", "Bore must be a number, like 83"),
        ("torque", "20 ± 1", "lbf·ft", "Torque must be a single figure without a ±, like 25.1"),
        ("gaps", "1 99", "thou", "Gaps must each be between 0 thou and 78.7 thou, not 99"),
        ("bore", "80", "N", "Bore must use a unit of length, like mm or in"),
        ("torque", "25", "furlong", "Torque must use a unit of torque, like N·m or lbf·ft"),
        ("torque", "25", "mm", "Torque must use a unit of torque, like N·m or lbf·ft"),
    ],
)
def test_an_error_speaks_the_unit_chosen_beside_the_box(key, text, unit, message):
    assert error_of(**{key: text}, units={key: unit}) == (key, message)


def test_a_limit_in_another_unit_never_lies_outside_the_real_one():
    for symbol in ("in", "thou", "cm", "m"):
        for text in Engine.bore.kind.limits_in(symbol):
            read(bore=text)


@pytest.mark.parametrize(
    "text", ["34-36", "34-36 Nm", "34 – 36 N·m", "34 Nm to 36 Nm", "34 to 36", "34,5 … 36", "34..36"]
)
def test_a_range_is_told_from_a_number(text):
    assert error_of(torque=text) == ("torque", "Torque must be a single figure, not a range")


def test_a_range_of_a_bare_number_is_told_too():
    assert error_of(cylinders="2-4") == ("cylinders", "Number of cylinders must be a single figure, not a range")


@pytest.mark.parametrize("text", ["7.6:1", "7.6 : 1", "7,6 to 1", "7.6to1", " 7.6 ∶ 1 ", "7.6"])
def test_a_ratio_may_be_typed_to_one(text):
    assert read(ratio=text).ratio == 7.6


@pytest.mark.parametrize("text", ["7.6:2", "7.6:", ":1", "to 1"])
def test_a_ratio_to_anything_else_is_no_ratio(text):
    assert error_of(ratio=text)[0] == "ratio"


@pytest.mark.parametrize("text", ["±0.2", "± 0.2", "+/-0.2", "+- 0,2", "0.2"])
def test_half_a_band_may_be_typed_with_its_plus_minus(text):
    assert magnitude_in(read(limit=f"{text} mm").limit, "mm") == 0.2


def test_a_reading_is_not_half_a_band():
    assert error_of(deck="± 0.2")[0] == "deck"


@pytest.mark.parametrize(
    ("text", "order"),
    [("1432", (1, 4, 3, 2)), ("12", (1, 2)), ("1 12", (1, 12)), ("153624", (1, 5, 3, 6, 2, 4)), ("1", (1,))],
)
def test_digits_without_a_gap_are_an_entry_each_where_the_entry_says_so(text, order):
    kind = Series(of=Number(low=1, high=12, why="cylinders"), fewest=1, most=12, run_on=True)
    assert kind.read(text, str) == order
    with pytest.raises(InputErrors, match="must each be between 1 and 8"):
        read(order="1432")


def test_a_unit_typed_wins_over_the_one_chosen_beside_the_box():
    chosen = read(bore="3", units={"bore": "in"}).bore
    assert (symbol_of(chosen), round(magnitude_in(chosen, "mm"), 9)) == ("in", 76.2)
    assert magnitude_in(read(bore="80 mm", units={"bore": "in"}).bore, "mm") == pytest.approx(80)
    assert symbol_of(read(torque="25", units={"torque": "ft-lbs"}).torque) == "lbf·ft"


def test_a_plus_minus_is_carried_as_uncertainty():
    # JCGM 100:2008 (GUM), 4.3.7: half-width 0.05 mm gives U = 2 × 0.05/√3 = 0.0577 mm
    assert uncertainty_in(read(bore="80 ± 0.05").bore, "mm") == pytest.approx(0.05774, abs=1e-5)
    assert uncertainty_in(read(bore="80").bore, "mm") is None


def test_two_boxes_with_one_text_are_two_readings_however_often_they_are_read():
    for _ in range(2):
        found = read(chamber="50 ± 0.3; 50 ± 0.3", deck="2 ± 0.3", dome__1="2 ± 0.3")
        one, other = (barrel.chamber for barrel in found.barrels)
        # JCGM 100:2008 (GUM), 5.1.2: the variances of independent readings add, u² = 2 × (0.3/√3)² = 0.06 mm²
        assert uncertainty_in(one - other, "cm³") == pytest.approx(2 * 0.06**0.5)
        assert uncertainty_in(one - one, "cm³") == 0
        assert not set(found.deck.magnitude.derivatives) & set(found.barrels[0].dome.magnitude.derivatives)


@pytest.mark.parametrize("text", ["dish", "Dished", " DISH "])
def test_a_choice_is_taken_by_its_value_or_its_words(text):
    assert read(shape=text).shape == "dish"


def volumes(**typed):
    return [magnitude_in(barrel.chamber, "cm³") for barrel in read(**typed).barrels]


def test_a_reading_below_nought_in_a_list_is_below_nought():
    assert [magnitude_in(barrel.dome, "cm³") for barrel in read(dome="0.4 -0.1").barrels] == [0.4, -0.1]


def test_rows_are_read_cell_by_cell_or_as_one_list():
    assert volumes(chamber=None, chamber__1="50", chamber__2="51,5") == [50, 51.5]
    assert volumes(chamber="50; 51,5") == [50, 51.5]


@pytest.mark.parametrize("text", ["3 3.1 in³", "3; 3.1 in³", "3 in³; 3.1 in³"])
def test_a_unit_typed_once_behind_a_list_is_meant_for_every_cell(text):
    assert volumes(chamber=text) == pytest.approx([49.161, 50.8], abs=5e-4)


@pytest.mark.parametrize("text", ["3 in³; 3.1", "3 in³ 3.1", "3 in³; 50.8 cm³", "49.161; 50.8", "49.161 cm³; 3.1 in³"])
def test_the_first_cell_s_unit_holds_for_the_list_unless_another_is_typed(text):
    # NIST SP 811 (2008), B.8: 1 in³ is 16.387 064 cm³
    assert volumes(chamber=text) == pytest.approx([49.161, 50.8], abs=5e-4)


def lines(text):
    return [[round(magnitude_in(fill, "cm³"), 2) for fill in barrel.fills] for barrel in read(fills=text).barrels]


def test_a_cell_may_hold_a_line_of_readings():
    assert lines("49.5 49.6 49.4; 48,2 48,4") == [[49.5, 49.6, 49.4], [48.2, 48.4]]
    assert lines("3 in³ 3.1; 3.1 3") == [[49.16, 50.8], [50.8, 49.16]]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"fills": "49.5; about 50"}, "fills.2", "Fills of cylinder 2 must be numbers in a row, like 49.5 49.6"),
        ({"fills": "9; 50"}, "fills.1", "Fills of cylinder 1 must each be between 10 cm³ and 200 cm³"),
        ({"fills": "50; 50 51 52 53"}, "fills.2", "Fills of cylinder 2 must have 1 to 3 entries, not 4"),
        ({"fills": "50; 50; 50"}, "fills", "Fills must have 2 entries, not 3"),
        ({"chamber": "50"}, "chamber.2", "Enter the chamber volume of cylinder 2, in cubic centimetres"),
        ({"chamber": "50; "}, "chamber.2", "Enter the chamber volume of cylinder 2, in cubic centimetres"),
        ({"chamber": "49,5"}, "chamber.2", "Enter the chamber volume of cylinder 2, in cubic centimetres"),
        ({"chamber": "50; 9"}, "chamber.2", "Chamber volume of cylinder 2 must be between 10 cm³ and 200 cm³"),
        ({"chamber": "3 in³; three"}, "chamber.2", "Chamber volume of cylinder 2 must be a number, like 10 cm³"),
        ({"chamber": "50; 51; 52"}, "chamber", "Chamber volume must have 2 entries, not 3"),
        ({"cylinders": "1", "chamber": "50; 51"}, "chamber", "Chamber volume must have 1 entry, not 2"),
        ({"thickness": "0.5; 0.6"}, "pieces.2", "Enter the number of pieces of spacer 2"),
        ({"thickness": "1; 2; 3; 4", "pieces": "1"}, "thickness", "Thickness must have at most 3 entries, not 4"),
    ],
)
def test_each_mistake_in_a_row_names_the_row(typed, field, message):
    found, words = error_of(**typed)
    assert (found, words.startswith(message)) == (field, True), words


def test_a_list_of_thousands_is_counted_and_not_read():
    started = time.process_time()
    error = error_of(chamber=f"{'; '.join(f'50.{number}' for number in range(20_000))} in³")
    assert error == ("chamber", "Chamber volume must have at most 4 entries, not 20000")
    assert is_within(time.process_time() - started, 0.05)


@pytest.mark.parametrize(
    "key", ["boar", "bore.1", "bore.units", "chamber.0", "chamber.5", "chamber.01", "", "chamber.x", "chamber.1.x"]
)
def test_an_entry_that_the_question_lacks_is_named(key):
    (error,) = errors_of(**{key.replace(".", "__"): "1"})
    assert error.field == key
    assert error.message.startswith(f"{Engine.name} has no entry {key}; it has bore, deck,")


def test_a_row_number_of_absurd_length_is_no_row():
    (error,) = errors_of(**{f"chamber__{'9' * 5000}": "1"})
    assert "has no entry" in error.message


@pytest.mark.parametrize(
    ("typed", "rows"),
    [
        ({"cylinders": "3"}, (3, 1)),
        ({"cylinders": "9"}, (0, 1)),
        ({"cylinders": "1", "drawer": {1: "0.5"}}, (1, 2)),
        ({"cylinders": "1", "drawer": {2: "4"}}, (1, 3)),
        ({"cylinders": "1", "drawer": {3: "1"}}, (1, 3)),
    ],
)
def test_a_table_shows_as_many_rows_as_are_counted_or_one_more_than_are_filled(typed, rows):
    readings = {f"{Engine.name}.cylinders": Reading(typed["cylinders"])}
    readings |= {f"{Engine.name}.thickness.{row}": Reading(text) for row, text in typed.get("drawer", {}).items()}
    assert tuple(Desk(readings).ask(Engine.name).rows.values()) == rows


@pytest.mark.parametrize("text", ["5,280", "+5,280 ft", "5,280 m", "1,500m ± 1"])
def test_a_comma_that_can_part_thousands_is_asked_about(text):
    far = Measure(own="m", low=-100, high=9000, why="roads")
    with pytest.raises(Wrong) as caught:
        far.read(text, str)
    large, small = ("1500", "1.5") if "1,5" in text else ("5280", "5.28")
    assert str(caught.value) == f"must make its comma clear: {text} can be {large} or {small}. Type one of them"


@pytest.mark.parametrize(
    ("text", "number"),
    [("0,150", 0.15), ("33,3", 33.3), ("7,625 in", 7.625), ("7,6250", 7.625), ("80,125 mm", 80.125), (",125", 0.125)],
)
def test_a_comma_that_cannot_part_thousands_is_the_decimal_mark(text, number):
    # 7625 in is no bore, 80125 mm neither
    assert Measure(own="mm", low=0, high=250, why="bores").read(text, str).magnitude == pytest.approx(number)


def test_thousands_of_feet_are_asked_about_in_an_entry_of_any_limits():
    with pytest.raises(Wrong, match=r"5,280 ft can be 5280 or 5\.28"):
        Measure(own="mm", low=0, high=1e6, why="lengths").read("5,280 ft", str)


@pytest.mark.parametrize(
    ("kind", "text", "words"),
    [
        (Number(low=0, high=20000, why="x"), "10,000", "10,000 can be 10000 or 10. Type one of them"),
        (Number(low=0, high=20000, why="x", whole=False), "10,500", "10,500 can be 10500 or 10.5. Type one of them"),
        (Number(low=0, high=90000, why="x"), "48,250", "must be a whole number, like "),
        (
            Series(of=Measure(own="mm", low=0, high=2000, why="x"), fewest=1, most=3),
            "1,500; 2",
            "must make its comma clear: 1,500 can be 1500 or 1.5. Type one of them",
        ),
    ],
)
def test_numbers_and_lists_ask_about_such_a_comma_too(kind, text, words):
    with pytest.raises(Wrong, match=re.escape(words)):
        kind.read(text, str)


def test_a_plus_minus_with_such_a_comma_is_refused_where_it_can_be_thousands():
    kind = Measure(own="m", low=0, high=9000, why="x")
    with pytest.raises(Wrong, match=r"^must be a number, like $"):
        kind.read("5280 ± 1,000", str)
    assert uncertainty_in(kind.read("2.5 ± 1,125", str), "m") == pytest.approx(2 * 1.125 / 3**0.5)


@pytest.mark.parametrize("text", ["M10 × 1.5", "m10x1,5", "M10 X 1.5", " M10×1.5 "])
def test_a_choice_is_understood_however_it_is_written(text):
    kind = Choice(options={"M8 × 1.25": "M8", "M10 × 1.5": "M10 coarse"})
    assert kind.read(text, str) == "M10 × 1.5"
    assert kind.read("m10 COARSE", str) == "M10 × 1.5"
    assert kind.meant("M9") == "M9"


def test_many_options_are_not_read_out_one_by_one():
    kind = Choice(options={f"M{number}": f"M{number}" for number in range(5, 30)})
    with pytest.raises(Wrong, match=r"must be one of the 25 listed, like M5$"):
        kind.read("M99", str)


@pytest.mark.parametrize(
    ("text", "count"),
    [("0,12", 1), ("0,12 ± 0,02", 1), ("0,12 mm", 1), ("0,12 0,15", 2), ("0,12; 0,15", 2), ("50, 75", 2), ("1,2,3", 3)],
)
def test_a_lone_decimal_comma_in_a_list_of_lengths_is_one_number(text, count):
    kind = Series(of=Measure(own="mm", low=0, high=100, why="lengths"), fewest=1, most=5)
    assert len(kind.read(text, str)) == count


def test_a_comma_in_a_list_of_whole_numbers_parts_it():
    assert Series(of=Number(low=1, high=12, why="cylinders"), fewest=1, most=5).read("1,4", str) == (1, 4)


def test_a_minus_is_offered_where_one_can_occur():
    assert [entry.signed for entry in (Engine.deck, Engine.bore, Engine.cylinders)] == [True, False, False]


def test_errors_read_as_one_line():
    assert str(InputErrors(FieldError("bore", "Enter the bore"), FieldError("deck", "Enter the deck"))) == (
        "Enter the bore; Enter the deck"
    )


def test_where_a_value_comes_from_goes_with_it():
    known = Desk({f"{Engine.name}.deck": Reading("1")}, CARD).ask(Engine.name).known
    origins = {key: known[key].origin for key in ("deck", "bore", "ratio")}
    assert origins == {"deck": Origin.TYPED, "bore": Origin.CARD, "ratio": Origin.USUAL}


PATHS = [f"{Engine.name}.{key}" for key in ("bore", "torque", "cylinders", "ratio", "shape", "order", "gaps", "banks")]
PATHS += [f"{Engine.name}.{key}" for key in ("chamber.1", "chamber.2", "dome.1", "thickness.2", "start", "limit")]


@given(
    st.dictionaries(
        st.sampled_from(PATHS), st.text(max_size=30) | st.from_regex(r"[0-9.,±/ -]{0,12}( mm| in)?"), max_size=6
    )
)
@settings(max_examples=examples(200), deadline=None)
def test_any_texts_are_read_or_refused_box_by_box(typed):
    questions()[Engine.name] = Engine
    asked = Desk({path: Reading(text) for path, text in typed.items()}, CARD).ask(Engine.name)
    assert bool(asked.answer) != bool(asked.errors or asked.lacking)
    assert all(error.message and error.field for error in (*asked.errors, *asked.lacking))
