"""Forms: what is typed becomes values, and every mistake gets its own sentence."""

import re
import time
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import (
    Choice,
    Field,
    FieldError,
    Form,
    Groups,
    InputErrors,
    Measure,
    Number,
    Rows,
    Section,
    Series,
    magnitude_in,
    symbol_of,
    uncertainty_in,
)
from calculators._kinds import Wrong
from tests.examples import examples

FACTS = {"dimensions.bore": "80 mm", "chambers": "49.5 cm³; 50.5 cm³", "layout.cylinders": "2"}


class Card:
    """A card that knows three facts."""

    def text(self, path):
        return FACTS.get(path)

    def inherited(self, path):
        return False


BORE = Field(
    key="bore",
    label="Bore",
    kind=Measure(own="mm", low=30, high=200, why="engines of this kind"),
    card="dimensions.bore",
    example="83",
)
DECK = Field(key="deck", label="Deck height", kind=Measure(own="mm", low=-5, high=10, why="gauges"), default="0.4 mm")
TORQUE = Field(
    key="torque",
    label="Torque",
    kind=Measure(own="N·m", low=1, high=400, why="wrenches", exact=True),
    example="34 N·m",
)
CYLINDERS = Field(
    key="cylinders", label="Number of cylinders", kind=Number(low=1, high=4, why="engines"), card="layout.cylinders"
)
RATIO = Field(key="ratio", label="Target ratio", kind=Number(low=5, high=12, why="petrol", whole=False), default="7.6")
SHAPE = Field(key="shape", label="Crown", kind=Choice(options={"flat": "Flat crown", "dish": "Dished"}), default="flat")
ORDER = Field(
    key="order",
    label="Firing order",
    kind=Series(of=Number(low=1, high=8, why="cylinders"), fewest=2, most=4),
    default="1 4 3 2",
)
GAPS = Field(
    key="gaps",
    label="Gaps",
    kind=Series(of=Measure(own="mm", low=0, high=2, why="feelers"), fewest=1, most=3, like="0.1; 0.2"),
    optional=True,
)
BANKS = Field(
    key="banks", label="Heads", kind=Groups(of=Number(low=1, high=8, why="cylinders"), most=4), default="1 2 / 3 4"
)
CHAMBER = Field(
    key="chamber",
    label="Chamber volume",
    kind=Measure(own="cm³", low=10, high=200, why="burettes"),
    card="chambers",
)
DOME = Field(key="dome", label="Dome", kind=Measure(own="cm³", low=-50, high=50, why="pistons"), optional=True)
THICKNESS = Field(
    key="thickness", label="Thickness", kind=Measure(own="mm", low=0.1, high=5, why="spacers"), example="0.25; 0.5"
)
PIECES = Field(key="pieces", label="Number of pieces", kind=Number(low=1, high=20, why="a drawer"), example="4; 2")

FORM = Form(
    (
        Section(title="Engine", fields=(BORE, DECK, TORQUE, CYLINDERS, RATIO, SHAPE, ORDER, GAPS, BANKS)),
        Rows(
            key="barrels",
            title="Each cylinder",
            fields=(CHAMBER, DOME),
            each="Cylinder {}",
            most=4,
            count="cylinders",
        ),
        Rows(key="drawer", title="Drawer", fields=(THICKNESS, PIECES), each="Spacer {}", most=3),
    )
)
REPEATED = Form(
    (
        Section(title="Engine", fields=(replace(CYLINDERS, card=None),)),
        Rows(
            key="fills",
            title="Fills",
            fields=(
                Field(
                    key="fill",
                    label="Fills",
                    kind=Series(of=CHAMBER.kind, fewest=1, most=3),
                    example="49.5 49.6; 48.2 48.1",
                ),
            ),
            each="Cylinder {}",
            most=4,
            count="cylinders",
        ),
    )
)
WHOLE = {"bore": "80", "torque": "34", "cylinders": "2", "chamber": "50; 51", "thickness": "0.5", "pieces": "4"}


def read(card=None, **typed):
    return FORM.read(WHOLE | {key.replace("__", "."): text for key, text in typed.items()}, card)


def errors_of(card=None, form=FORM, **typed):
    with pytest.raises(InputErrors) as caught:
        form.read(WHOLE | {key.replace("__", "."): text for key, text in typed.items()}, card)
    return list(caught.value.errors)


def error_of(**typed):
    errors = errors_of(**typed)
    assert len(errors) == 1
    return errors[0].field, errors[0].message


def test_reads_a_whole_form():
    values = read()
    assert magnitude_in(values.bore, "mm") == 80
    assert magnitude_in(values.deck, "mm") == 0.4
    assert (values.cylinders, values.ratio, values.shape) == (2, 7.6, "flat")
    assert values.order == (1, 4, 3, 2)
    assert values.banks == ((1, 2), (3, 4))
    assert values.gaps is None
    assert [magnitude_in(volume, "cm³") for volume in values.chamber] == [50, 51]
    assert values.dome == (None, None)
    assert values.card is None


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
        ({"torque": "34 ± 2"}, "Torque must be one figure without a ±, like 34"),
        ({"cylinders": ""}, "Enter the number of cylinders"),
        ({"cylinders": "two"}, "Number of cylinders must be a number, like 1"),
        ({"cylinders": "2.5"}, "Number of cylinders must be a whole number, like 1"),
        ({"cylinders": "2 mm"}, "Number of cylinders must be a number without a unit"),
        ({"cylinders": "5"}, "Number of cylinders must be between 1 and 4"),
        ({"cylinders": "0"}, "Number of cylinders must be between 1 and 4"),
        ({"ratio": "4.9"}, "Target ratio must be between 5 and 12"),
        ({"ratio": "7.6 ± 0.2"}, "Target ratio must be one figure without a ±, like 7.6"),
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
        ({"banks": "1 2 / x"}, "Heads must be whole numbers in groups parted by a stroke, like 1 2 / 3 4"),
        ({"banks": "1 2 / 3 4 5"}, "Heads must be whole numbers in groups parted by a stroke, like 1 2 / 3 4"),
        ({"banks": "1 / 2 / 3 / 4 / 5"}, "Heads must be whole numbers in groups parted by a stroke, like 1 2 / 3 4"),
        ({"banks": "/"}, "Heads must be whole numbers in groups parted by a stroke, like 1 2 / 3 4"),
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
        form = Form((Section(title="T", fields=(Field(key="a", label="A", kind=edge),)),))
        assert form.read({"a": text}).a is not None


def test_an_absent_field_takes_the_card_then_its_default():
    typed = {key: text for key, text in WHOLE.items() if key != "bore"}
    assert magnitude_in(FORM.read(typed, Card()).bore, "mm") == 80
    assert magnitude_in(FORM.read(typed, Card()).deck, "mm") == 0.4


def test_an_example_is_never_taken_for_a_reading():
    typed = {key: text for key, text in WHOLE.items() if key != "torque"}
    with pytest.raises(InputErrors, match="Enter the torque, in newton metres"):
        FORM.read(typed, Card())


def test_a_field_left_blank_is_an_error_even_where_the_card_knows_better():
    with pytest.raises(InputErrors, match="Enter the bore, in millimetres"):
        read(card=Card(), bore="")


def test_an_optional_field_left_blank_is_none():
    assert read(gaps=" ").gaps is None


def test_every_wrong_field_is_named_at_once_in_the_order_of_the_form():
    errors = errors_of(bore="x", order="y", chamber="50; z")
    assert [error.field for error in errors] == ["bore", "order", "chamber.2"]


# 1 in = 25.4 mm: 30 mm = 1.1811 in, 200 mm = 7.8740 in, 10 mm = 393.70 thou; 34 N·m = 25.08 lbf·ft (NIST SP 811, B.8)
@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"bore": "", "bore__unit": "in"}, "Enter the bore, in inches"),
        ({"bore": "", "bore__unit": "thou"}, "Enter the bore, in thousandths of an inch"),
        ({"bore": "9", "bore__unit": "in"}, "Bore must be between 1.19 in and 7.87 in"),
        ({"bore": "300 mm", "bore__unit": "in"}, "Bore must be between 1.19 in and 7.87 in"),
        ({"bore": "9", "bore__unit": "cm"}, None),
        ({"bore": "2", "bore__unit": "cm"}, "Bore must be between 3 cm and 20 cm"),
        ({"deck": "9", "deck__unit": "in"}, "Deck height must be between −0.196 in and 0.393 in"),
        ({"deck": "999", "deck__unit": "thou"}, "Deck height must be between −196 thou and 393 thou"),
        ({"bore": "wide", "bore__unit": "in"}, "Bore must be a number, like 3.27"),
        ({"bore": "wide", "bore__unit": "mm"}, "Bore must be a number, like 83"),
        ({"torque": "20 ± 1", "torque__unit": "lbf·ft"}, "Torque must be one figure without a ±, like 25.1"),
        ({"gaps": "0.1 9", "gaps__unit": "thou"}, None),
        ({"gaps": "1 99", "gaps__unit": "thou"}, "Gaps must each be between 0 thou and 78.7 thou, not 99"),
        ({"bore": "", "bore__unit": "N"}, "Bore must use a unit of length, like mm or in"),
    ],
)
def test_an_error_speaks_the_unit_chosen_beside_the_field(typed, message):
    if message is None:
        read(**typed)
    else:
        assert error_of(**typed) == (next(iter(typed)), message)


def test_a_limit_in_another_unit_never_lies_outside_the_real_one():
    for symbol in ("in", "thou", "cm", "m"):
        low, high = BORE.kind.limits_in(symbol)
        for text in (low, high):
            read(bore=text)


def test_every_cell_of_a_column_speaks_the_unit_chosen_over_it():
    errors = errors_of(chamber="; 99", chamber__unit="in³")
    assert [error.message for error in errors] == [
        "Enter the chamber volume of cylinder 1, in cubic inches",
        "Chamber volume of cylinder 2 must be between 0.611 in³ and 12.2 in³",
    ]


@pytest.mark.parametrize(
    "text", ["34-36", "34-36 Nm", "34 – 36 N·m", "34 Nm to 36 Nm", "34 to 36", "34,5 … 36", "34..36"]
)
def test_a_range_is_told_from_a_number(text):
    assert error_of(torque=text) == ("torque", "Torque must be one figure, not a range")


def test_a_range_of_a_bare_number_is_told_too():
    assert error_of(cylinders="2-4") == ("cylinders", "Number of cylinders must be one figure, not a range")


@pytest.mark.parametrize("text", ["7.6:1", "7.6 : 1", "7,6 to 1", "7.6to1", " 7.6 ∶ 1 ", "7.6"])
def test_a_ratio_may_be_typed_to_one(text):
    form = Form((Section(title="T", fields=(replace(RATIO, kind=replace(RATIO.kind, to_one=True)),)),))
    assert form.read({"ratio": text}).ratio == 7.6


@pytest.mark.parametrize("text", ["7.6:2", "7.6:", ":1", "to 1"])
def test_a_ratio_to_anything_else_is_no_ratio(text):
    form = Form((Section(title="T", fields=(replace(RATIO, kind=replace(RATIO.kind, to_one=True)),)),))
    with pytest.raises(InputErrors):
        form.read({"ratio": text})


@pytest.mark.parametrize("text", ["±0.2", "± 0.2", "+/-0.2", "+- 0,2", "0.2"])
def test_half_a_band_may_be_typed_with_its_plus_minus(text):
    half = Measure(own="mm", low=0, high=2, why="a test", exact=True, plus_minus=True)
    bare = Number(low=0, high=2, why="a test", whole=False, plus_minus=True)
    form = Form(
        (Section(title="T", fields=(Field(key="a", label="A", kind=half), Field(key="b", label="B", kind=bare))),)
    )
    read = form.read({"a": f"{text} mm", "b": text})
    assert (magnitude_in(read.a, "mm"), read.b) == (0.2, 0.2)


def test_a_reading_is_not_half_a_band():
    assert error_of(deck="± 0.2")[0] == "deck"


@pytest.mark.parametrize(
    ("text", "order"),
    [("1432", (1, 4, 3, 2)), ("12", (1, 2)), ("1 12", (1, 12)), ("153624", (1, 5, 3, 6, 2, 4)), ("1", (1,))],
)
def test_digits_without_a_gap_are_an_entry_each_where_the_field_says_so(text, order):
    kind = Series(of=Number(low=1, high=12, why="cylinders"), fewest=1, most=12, run_on=True)
    form = Form((Section(title="T", fields=(Field(key="order", label="Order", kind=kind),)),))
    assert form.read({"order": text}).order == order
    with pytest.raises(InputErrors, match="must each be between 1 and 8"):
        read(order="1432")


def test_a_unit_typed_wins_over_the_one_chosen_beside_the_field():
    chosen = read(bore="3", bore__unit="in").bore
    assert (symbol_of(chosen), round(magnitude_in(chosen, "mm"), 9)) == ("in", 76.2)
    assert magnitude_in(read(bore="80 mm", bore__unit="in").bore, "mm") == pytest.approx(80)


def test_a_chosen_unit_may_be_spelled_as_people_spell_it():
    assert symbol_of(read(torque="25", torque__unit="ft-lbs").torque) == "lbf·ft"


@pytest.mark.parametrize("unit", ["furlong", "mm"])
def test_a_chosen_unit_of_another_kind_is_never_passed_over(unit):
    assert error_of(torque="25", torque__unit=unit) == (
        "torque",
        "Torque must use a unit of torque, like N·m or lbf·ft",
    )


def test_a_plus_minus_is_carried_as_uncertainty():
    # JCGM 100:2008 (GUM), 4.3.7: half-width 0.05 mm gives U = 2 × 0.05/√3 = 0.0577 mm
    assert uncertainty_in(read(bore="80 ± 0.05").bore, "mm") == pytest.approx(0.05774, abs=1e-5)
    assert uncertainty_in(read(bore="80").bore, "mm") is None


def test_two_boxes_with_one_text_are_two_readings_however_often_they_are_read():
    for _ in range(2):
        found = read(chamber="50 ± 0.3; 50 ± 0.3", deck="2 ± 0.3", dome__1="2 ± 0.3")
        one, other = found.chamber
        # JCGM 100:2008 (GUM), 5.1.2: the variances of independent readings add, u² = 2 × (0.3/√3)² = 0.06 mm²
        assert uncertainty_in(one - other, "cm³") == pytest.approx(2 * 0.06**0.5)
        assert uncertainty_in(one - one, "cm³") == 0
        assert not set(found.deck.magnitude.derivatives) & set(found.dome[0].magnitude.derivatives)


@pytest.mark.parametrize("text", ["dish", "Dished", " DISH "])
def test_a_choice_is_taken_by_its_value_or_its_words(text):
    assert read(shape=text).shape == "dish"


def test_a_reading_below_nought_in_a_list_is_below_nought():
    assert [magnitude_in(dome, "cm³") for dome in read(dome="0.4 -0.1").dome] == [0.4, -0.1]


def test_rows_are_read_cell_by_cell_or_as_one_list():
    del_list = {key: text for key, text in WHOLE.items() if key != "chamber"}
    by_cell = FORM.read(del_list | {"chamber.1": "50", "chamber.2": "51,5"})
    assert [magnitude_in(volume, "cm³") for volume in by_cell.chamber] == [50, 51.5]
    by_list = FORM.read(del_list | {"chamber": "50; 51,5"})
    assert [magnitude_in(volume, "cm³") for volume in by_list.chamber] == [50, 51.5]


def test_a_whole_column_takes_the_unit_chosen_over_it():
    values = read(chamber="3; 3.1", chamber__unit="in³")
    assert [round(magnitude_in(volume, "cm³"), 3) for volume in values.chamber] == [49.161, 50.8]


@pytest.mark.parametrize("text", ["3 3.1 in³", "3; 3.1 in³", "3 in³; 3.1 in³"])
def test_a_unit_typed_once_behind_a_list_is_meant_for_every_cell(text):
    assert [round(magnitude_in(volume, "cm³"), 3) for volume in read(chamber=text).chamber] == [49.161, 50.8]
    preset = FORM.prefilled(Card(), {"chamber": text})
    assert [round(magnitude_in(volume, "cm³"), 3) for volume in FORM.read(WHOLE | {"chamber": text}).chamber] == [
        round(magnitude_in(volume, "cm³"), 3)
        for volume in FORM.read({key: text for key, text in (WHOLE | preset).items() if key != "chamber"}).chamber
    ]


def test_a_cell_may_hold_a_line_of_readings():
    values = REPEATED.read({"cylinders": "2", "fill.1": "49.5 49.6 49.4 cm³", "fill.2": "48,2; 48,4"})
    assert [[magnitude_in(volume, "cm³") for volume in line] for line in values.fill] == [
        [49.5, 49.6, 49.4],
        [48.2, 48.4],
    ]
    assert [len(line) for line in REPEATED.read({"cylinders": "2", "fill": "49.5 49.6; 3 3.1 in³"}).fill] == [2, 2]
    assert REPEATED.prefilled(None, {"fill": "49.5 49.6; 48.2"}) == {"fill.1": "49.5 49.6", "fill.2": "48.2"}


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"fill": "49.5 49.6"}, "fill.2", "Enter the fills of cylinder 2, in cubic centimetres"),
        (
            {"fill": "49.5; about 50"},
            "fill.2",
            "Fills of cylinder 2 must be numbers in a row, like 49.5 49.6, not about",
        ),
        ({"fill": "9; 50"}, "fill.1", "Fills of cylinder 1 must each be between 10 cm³ and 200 cm³"),
        ({"fill": "50; 50 51 52 53"}, "fill.2", "Fills of cylinder 2 must have 1 to 3 entries, not 4"),
        ({"fill": "50; 50; 50"}, "fill", "Fills must have 2 entries, not 3"),
    ],
)
def test_a_mistake_in_a_line_of_readings_names_its_row(typed, field, message):
    with pytest.raises(InputErrors) as caught:
        REPEATED.read({"cylinders": "2"} | typed)
    assert [(error.field, error.message) for error in caught.value.errors] == [(field, message)]


def test_a_list_of_thousands_is_counted_and_not_read():
    started = time.process_time()
    error = error_of(chamber=f"{'; '.join(f'50.{number}' for number in range(20_000))} in³")
    assert error == ("chamber", "Chamber volume must have 2 entries, not 20000")
    assert time.process_time() - started < 0.05


@pytest.mark.parametrize("text", ["3 in³; 3.1", "3 in³ 3.1", "3 in³; 50.8 cm³", "49.161; 50.8", "49.161 cm³; 3.1 in³"])
def test_the_first_cell_s_unit_holds_for_the_list_unless_another_is_typed(text):
    # NIST SP 811 (2008), B.8: 1 in³ is 16.387 064 cm³
    assert [magnitude_in(volume, "cm³") for volume in read(chamber=text).chamber] == pytest.approx(
        [49.161, 50.8], abs=5e-4
    )


def test_the_first_line_s_unit_holds_for_lines_that_have_none():
    values = REPEATED.read({"cylinders": "2", "fill": "3 in³ 3.1; 3.1 3"})
    assert [[round(magnitude_in(volume, "cm³"), 2) for volume in line] for line in values.fill] == [
        [49.16, 50.8],
        [50.8, 49.16],
    ]


def test_one_number_with_a_decimal_comma_is_one_cell():
    assert FORM.prefilled(None, {"dome": "0,15", "chamber": "49,5; 50,5"}) == FORM.prefilled(None) | {
        "dome.1": "0,15",
        "chamber.1": "49,5",
        "chamber.2": "50,5",
    }
    assert error_of(chamber="49,5") == ("chamber.2", "Enter the chamber volume of cylinder 2, in cubic centimetres")


def test_a_bad_cell_leaves_the_others_their_unit():
    assert error_of(chamber="3 in³; three") == (
        "chamber.2",
        "Chamber volume of cylinder 2 must be a number, like 10 cm³",
    )


@pytest.mark.parametrize("text", ["5,280", "+5,280 ft", "5,280 m", "1,500m ± 1"])
def test_a_comma_that_can_part_thousands_is_asked_about(text):
    far = Measure(own="m", low=-100, high=9000, why="roads")
    with pytest.raises(Wrong) as caught:
        far.read(text, str)
    large, small = ("1500", "1.5") if "1,5" in text else ("5280", "5.28")
    assert str(caught.value) == f"must say what its comma means: {text} can be {large} or {small}. Type one of them"


@pytest.mark.parametrize(
    ("text", "number"),
    [("0,150", 0.15), ("33,3", 33.3), ("7,625 in", 7.625), ("7,6250", 7.625), ("80,125 mm", 80.125), (",125", 0.125)],
)
def test_a_comma_that_cannot_part_thousands_is_the_decimal_mark(text, number):
    # 7625 in is no bore, 80125 mm neither
    assert Measure(own="mm", low=0, high=250, why="bores").read(text, str).magnitude == pytest.approx(number)


def test_thousands_of_feet_are_asked_about_in_a_field_of_any_limits():
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
            "must say what its comma means: 1,500 can be 1500 or 1.5. Type one of them",
        ),
    ],
)
def test_numbers_and_lists_ask_about_such_a_comma_too(kind, text, words):
    with pytest.raises(Wrong, match=re.escape(words)):
        kind.read(text, str)


def test_a_plus_minus_with_such_a_comma_is_refused_where_it_can_be_thousands():
    kind = Measure(own="m", low=0, high=9000, why="x")
    assert error_text(kind, "5280 ± 1,000") == "must be a number, like "
    assert uncertainty_in(kind.read("2.5 ± 1,125", str), "m") == pytest.approx(2 * 1.125 / 3**0.5)


def error_text(kind, text):
    with pytest.raises(Wrong) as caught:
        kind.read(text, str)
    return str(caught.value)


def test_absent_rows_take_the_card():
    typed = {key: text for key, text in WHOLE.items() if key != "chamber"}
    assert [magnitude_in(volume, "cm³") for volume in FORM.read(typed, Card()).chamber] == [49.5, 50.5]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"chamber": "50"}, "chamber.2", "Enter the chamber volume of cylinder 2, in cubic centimetres"),
        ({"chamber": "50; "}, "chamber.2", "Enter the chamber volume of cylinder 2, in cubic centimetres"),
        ({"chamber": "50; 9"}, "chamber.2", "Chamber volume of cylinder 2 must be between 10 cm³ and 200 cm³"),
        ({"chamber": "50; 51; 52"}, "chamber", "Chamber volume must have 2 entries, not 3"),
        ({"thickness": "0.5; 0.6"}, "pieces.2", "Enter the number of pieces of spacer 2"),
        (
            {"thickness": "1; 2; 3; 4", "pieces": "1; 1; 1; 1"},
            "thickness",
            "Thickness must have at most 3 entries, not 4",
        ),
    ],
)
def test_each_mistake_in_a_row_names_the_row(typed, field, message):
    assert error_of(**typed) == (field, message)


def test_cells_beyond_the_count_wait_without_complaint():
    typed = {key: text for key, text in WHOLE.items() if key != "chamber"}
    values = FORM.read(typed | {"chamber.1": "50", "chamber.2": "51", "chamber.3": "nonsense"})
    assert len(values.chamber) == 2


def test_one_entry_is_an_entry():
    assert error_of(cylinders="1", chamber="50; 51") == ("chamber", "Chamber volume must have 1 entry, not 2")


def test_a_cell_stands_in_its_own_unit_and_not_in_that_of_its_column():
    typed = {key: text for key, text in WHOLE.items() if key != "chamber"}
    cells = {"chamber.unit": "l", "chamber.1": "0.05", "chamber.2": "51", "chamber.2.unit": "cm³"}
    values = FORM.read(typed | cells)
    assert [magnitude_in(chamber, "cm³") for chamber in values.chamber] == pytest.approx([50, 51])


def test_a_count_that_cannot_be_read_is_the_only_complaint_about_its_rows():
    assert error_of(cylinders="x", chamber="nonsense")[0] == "cylinders"


@pytest.mark.parametrize(
    "key",
    [
        "boar",
        "bore.1",
        "bore.units",
        "shape.unit",
        "chamber.0",
        "chamber.5",
        "chamber.01",
        "",
        "chamber.x",
        "chamber.1.x",
        "chamber.5.unit",
    ],
)
def test_a_field_that_the_form_lacks_is_named(key):
    (error,) = errors_of(**{key: "1"})
    assert error.field == key
    assert error.message.startswith(f"There is no field {key}; this calculator has bore, deck,")


def test_a_row_number_of_absurd_length_is_no_row():
    (error,) = errors_of(**{"chamber." + "9" * 5000: "1"})
    assert "There is no field" in error.message


@pytest.mark.parametrize(
    ("typed", "count"),
    [
        ({"cylinders": "3"}, 3),
        ({"cylinders": ""}, 1),
        ({"cylinders": "x", "chamber.3": "50"}, 3),
        ({"cylinders": "9", "chamber.999": "50"}, 4),
    ],
)
def test_a_counted_table_shows_as_many_rows_as_the_number_says(typed, count):
    assert FORM.row_count(FORM.rows[0], typed) == count


@pytest.mark.parametrize(
    ("typed", "count"),
    [
        ({}, 1),
        ({"thickness.1": "0.5"}, 2),
        ({"pieces.2": "4"}, 3),
        ({"thickness.3": "1"}, 3),
        ({"thickness.1": " "}, 1),
    ],
)
def test_a_free_table_shows_one_empty_row_more_than_are_filled(typed, count):
    assert FORM.row_count(FORM.rows[1], typed) == count


def test_a_fresh_form_shows_card_default_and_only_when_asked_the_example():
    fresh = FORM.prefilled(Card())
    assert fresh["bore"] == "80 mm"
    assert fresh["deck"] == "0.4 mm"
    assert "torque" not in fresh
    assert (fresh["chamber.1"], fresh["chamber.2"]) == ("49.5 cm³", "50.5 cm³")
    example = FORM.prefilled(None, example=True)
    assert (example["bore"], example["torque"]) == ("83", "34 N·m")
    assert (example["thickness.2"], example["pieces.1"]) == ("0.5", "4")


def test_an_empty_preset_blanks_what_the_card_and_the_default_would_fill():
    blank = FORM.prefilled(Card(), {"bore": "", "deck": " ", "chamber": ""})
    assert (blank["bore"], blank["deck"].strip()) == ("", "")
    assert not any(key.startswith("chamber.") for key in blank)
    assert {error.field for error in errors_of(Card(), **{key: blank[key] for key in ("bore", "chamber")})} == {
        "bore",
        "chamber.1",
        "chamber.2",
    }


def test_presets_win_over_card_and_default_and_a_wrong_one_is_not_lost():
    texts = FORM.prefilled(Card(), {"bore": "90", "thickness": "1; 2", "bore.unit": "mm", "boar": "1"})
    assert texts["bore"] == "90"
    assert (texts["thickness.1"], texts["thickness.2"]) == ("1", "2")
    assert texts["bore.unit"] == "mm"
    with pytest.raises(InputErrors, match="There is no field boar"):
        FORM.read(texts)


def test_a_form_cannot_ask_for_one_key_twice_or_for_an_odd_key():
    with pytest.raises(ValueError, match="bore"):
        Form((Section(title="A", fields=(BORE, BORE)),))
    with pytest.raises(ValueError, match="plain words"):
        Form((Section(title="A", fields=(Field(key="Bore.1", label="Bore", kind=BORE.kind),)),))


def test_described_fields_are_plain_data_with_limits_and_reasons():
    described = {field["key"]: field for field in FORM.described(Card())}
    assert described["bore"]["limits"] == {"low": "30 mm", "high": "200 mm", "why": "engines of this kind"}
    assert described["bore"]["units"] == ["mm", "in", "thou", "cm", "m", "ft"]
    assert described["bore"]["default"] == "80 mm"
    assert described["shape"]["options"] == {"flat": "Flat crown", "dish": "Dished"}
    assert described["chamber"]["each"] == "cylinder"
    assert (described["gaps"]["required"], described["bore"]["required"]) == (False, True)


def test_a_minus_is_offered_where_one_can_occur():
    assert (DECK.signed, BORE.signed, CYLINDERS.signed) == (True, False, False)


def test_errors_carry_field_and_message_and_read_as_one_line():
    wrong = InputErrors(FieldError("bore", "Enter the bore"), FieldError("deck", "Enter the deck"))
    assert str(wrong) == "Enter the bore; Enter the deck"
    assert wrong.report is None


KEYS = ["bore", "deck", "torque", "cylinders", "ratio", "shape", "order", "gaps", "banks", "chamber", "dome"]
KEYS += ["thickness", "pieces", "chamber.1", "chamber.2", "dome.1", "thickness.2", "bore.unit", "chamber.unit"]


@given(st.dictionaries(st.sampled_from(KEYS), st.text(max_size=30) | st.from_regex(r"[0-9.,±/ -]{0,12}( mm| in)?")))
@settings(max_examples=examples(200), deadline=None)
def test_any_texts_are_read_or_refused_field_by_field(typed):
    try:
        FORM.read(typed, Card())
    except InputErrors as wrong:
        assert wrong.errors
        assert all(error.message and error.field for error in wrong.errors)
    for rows in FORM.rows:
        assert 1 <= FORM.row_count(rows, typed) <= rows.most


@pytest.mark.parametrize("text", ["M10 × 1.5", "m10x1,5", "M10 X 1.5", " M10×1.5 "])
def test_a_choice_is_understood_however_it_is_written(text):
    kind = Choice(options={"M8 × 1.25": "M8", "M10 × 1.5": "M10 coarse"})
    assert kind.read(text, str) == "M10 × 1.5"
    assert kind.read("m10 COARSE", str) == "M10 × 1.5"
    assert kind.meant("M9") == "M9"


def test_many_options_are_not_read_out_one_by_one():
    field = Field(key="n", label="Thread", kind=Choice(options={f"M{number}": f"M{number}" for number in range(5, 30)}))
    with pytest.raises(InputErrors, match=r"Thread must be one of the 25 listed, like M5$"):
        Form((Section(title="T", fields=(field,)),)).read({"n": "M99"})


@pytest.mark.parametrize(
    ("text", "count"),
    [("0,12", 1), ("0,12 ± 0,02", 1), ("0,12 mm", 1), ("0,12 0,15", 2), ("0,12; 0,15", 2), ("50, 75", 2), ("1,2,3", 3)],
)
def test_a_lone_decimal_comma_in_a_list_of_lengths_is_one_number(text, count):
    kind = Series(of=Measure(own="mm", low=0, high=100, why="lengths"), fewest=1, most=5)
    assert len(kind.read(text, str)) == count


def test_a_comma_in_a_list_of_whole_numbers_parts_it():
    assert Series(of=Number(low=1, high=12, why="cylinders"), fewest=1, most=5).read("1,4", str) == (1, 4)
