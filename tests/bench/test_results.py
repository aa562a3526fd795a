"""What answers are made of: no value without formula and source; plain data and print from the same numbers."""

import json

import pytest
from uncertainties import ufloat

from calculators import (
    COMMON_PRACTICE,
    GEOMETRY,
    Caution,
    Column,
    Row,
    Source,
    Stage,
    Step,
    Table,
    Value,
    Walk,
    measured,
    quantity,
)
from calculators.bench.answer import PLUS_MINUS, Answer
from calculators.bench.plain_text import table_lines
from calculators.bench.report import given_text

HANDBOOK = Source("A handbook, 3rd edition, table 2")


def value(found=None, **more):
    given = {"key": "torque", "label": "Torque", "quantity": found, "formula": "T = F·l", "source": HANDBOOK}
    return Value(**given | more)


def table(rows, columns=None):
    columns = columns or (Column(key="pass", label="Pass"), Column(key="mark", label="Mark", unit="N·m", places=1))
    return Table(key="passes", title="Passes", columns=columns, rows=rows, formula="share × T", source=HANDBOOK)


@pytest.mark.parametrize("formula", ["", "   "])
def test_a_value_cannot_be_built_without_its_formula(formula):
    with pytest.raises(ValueError, match="torque: a value needs its formula and its source"):
        value(quantity(37, "N·m"), formula=formula)


def test_a_value_cannot_be_built_without_its_source():
    with pytest.raises(ValueError, match="needs its formula and its source"):
        value(quantity(37, "N·m"), source="a book")


def test_a_table_cannot_be_built_without_formula_and_source():
    with pytest.raises(ValueError, match="a table needs its formula and its source"):
        Table(key="t", title="T", columns=(), rows=(), formula="", source=HANDBOOK)
    with pytest.raises(ValueError, match="a table needs its formula and its source"):
        Table(key="t", title="T", columns=(), rows=(), formula="x", source=None)


def test_a_source_cannot_be_built_without_a_name():
    with pytest.raises(ValueError, match="a source needs a name"):
        Source("  ")


@pytest.mark.parametrize(
    ("source", "words"),
    [
        (HANDBOOK, "A handbook, 3rd edition, table 2"),
        (Source("scipy.integrate", "library"), "scipy.integrate (computed by a library that we did not write)"),
        (GEOMETRY, "plane and solid geometry (follows from the definitions)"),
        (COMMON_PRACTICE, "common practice, no source"),
        (Source("an engine maker's book", "memory"), "an engine maker's book (quoted from memory, not seen)"),
    ],
)
def test_a_source_says_how_sure_it_is(source, words):
    assert str(source) == words


def test_a_row_must_fill_its_columns():
    with pytest.raises(ValueError, match="every row needs 2 cells"):
        table((Row(cells=("Pass 1",)),))


@pytest.mark.parametrize(
    ("found", "more", "texts"),
    [
        (quantity(37, "N·m"), {"units": ("N·m", "lbf·ft")}, ("37.0 N·m", "27.3 lbf·ft")),
        (quantity(37, "N·m"), {"units": ("N·m",), "places": 0}, ("37 N·m",)),
        ("A – D – B – C", {}, ("A – D – B – C",)),
        (7.58342, {"places": 2}, ("7.58",)),
        (4, {}, ("4",)),
        (ufloat(7.58342, 0.02), {"places": 2}, ("7.58 ± 0.04",)),
    ],
)
def test_a_value_prints_in_the_units_asked_for(found, more, texts):
    assert value(found, **more).texts == texts


def test_a_value_as_data_is_unrounded_and_carries_its_uncertainty():
    data = value(quantity(ufloat(37.123456, 0.5), "N·m"), units=("N·m", "lbf·ft")).as_data()
    assert data == {
        "key": "torque",
        "label": "Torque",
        "magnitude": 37.123456,
        "unit": "N·m",
        "uncertainty": 1.0,
        "coverage": 0.95,
        "words": None,
        "formula": "T = F·l",
        "given": "",
        "source": "A handbook, 3rd edition, table 2",
    }


def test_words_stand_in_print_for_the_first_unit_and_data_keep_the_number():
    packed = value(quantity(0.35, "mm"), units=("mm", "thou"), words="0.30 mm + 0.05 mm = 0.35 mm")
    assert packed.texts == ("0.30 mm + 0.05 mm = 0.35 mm", "13.8 thou")
    assert (packed.as_data()["magnitude"], packed.as_data()["unit"]) == (0.35, "mm")
    assert packed.as_data()["words"] == "0.30 mm + 0.05 mm = 0.35 mm"


def test_a_bare_value_as_data_is_plain_and_carries_its_uncertainty():
    data = value(ufloat(7.58, 0.02)).as_data()
    assert (data["magnitude"], data["unit"], data["uncertainty"]) == (7.58, None, 0.04)
    assert value("in words").as_data()["magnitude"] == "in words"
    assert value(4).as_data()["magnitude"] == 4


@pytest.mark.parametrize(
    ("column", "cell", "text", "data"),
    [
        (Column(key="a", label="A"), "words", "words", "words"),
        (Column(key="a", label="A"), None, "–", None),
        (Column(key="a", label="A"), 4, "4", 4),
        (Column(key="a", label="A", places=2), 7.584, "7.58", 7.584),
        (Column(key="a", label="A", places=2), ufloat(7.584, 0.02), "7.58 ± 0.04", 7.584),
        (Column(key="a", label="A", unit="mm"), quantity(1.5, "mm"), "1.50 mm", 1.5),
        (Column(key="a", label="A", unit="in"), quantity(25.4, "mm"), "1.0000 in", pytest.approx(1)),
        (Column(key="a", label="mm", unit="mm"), quantity(1.5, "mm"), "1.50", 1.5),
        (Column(key="a", label="A", unit="mm"), None, "–", None),
        (Column(key="a", label="A", unit="mm"), "none", "none", "none"),
    ],
)
def test_a_cell_prints_and_answers_in_its_column_s_unit(column, cell, text, data):
    assert column.text(cell) == text
    assert column.data(cell) == data


def whole_answer(**more):
    return Answer(
        headline="12 N·m",
        says="Set the wrench to 12 N·m.",
        values=(value(quantity(37, "N·m"), units=("N·m", "lbf·ft"), lead=True),),
        tables=(table((Row(cells=("Pass 1", quantity(12, "N·m"))), Row(cells=("Confirm", None), chosen=True))),),
        warnings=(Caution("warning", "Stop when the stud keeps turning."),),
        notes=("Go round once more.",),
        **more,
    )


def test_an_answer_as_data_goes_through_json_unchanged():
    data = whole_answer().as_data()
    assert json.loads(json.dumps(data)) == data
    assert data["tables"][0]["rows"] == [
        {"pass": "Pass 1", "mark": 12.0, "chosen": False},
        {"pass": "Confirm", "mark": None, "chosen": True},
    ]
    assert data["warnings"] == [{"signal": "warning", "text": "Stop when the stud keeps turning."}]


def test_a_headline_can_be_read_at_two_metres():
    for words in ("", "x" * 61):
        with pytest.raises(ValueError, match="a headline has 1 to 60 characters"):
            Answer(headline=words, says="So.")


def test_a_table_as_text_stands_in_columns_its_answer_marked():
    assert table_lines(whole_answer().tables[0]) == ["  Pass     Mark", "  Pass 1   12.0 N·m", "* Confirm  –"]


def test_a_budget_names_the_readings_by_their_share_of_the_variance():
    # JCGM 100:2008 (GUM), 5.1.3: the variances of a sum add; 3² and 4² of 5²
    length = measured(quantity(100, "mm"), quantity(3, "mm"), "Barrel")
    length = length + measured(quantity(50, "mm"), quantity(4, "mm"), "Spacer")
    assert value(length, units=("mm",)).budget == (
        ("Spacer", pytest.approx(16 / 25)),
        ("Barrel", pytest.approx(9 / 25)),
    )


def test_readings_of_one_name_are_one_line_of_the_budget():
    both = ufloat(1, 0.1, "Blade") + ufloat(1, 0.1, "Blade") + ufloat(1, 0.1)
    assert value(both).budget == (("Blade", pytest.approx(2 / 3)), ("a reading", pytest.approx(1 / 3)))


@pytest.mark.parametrize("found", [quantity(37, "N·m"), "A – B"])
def test_what_is_not_measured_has_no_budget(found):
    assert value(found).budget == ()


def test_what_was_put_in_is_printed_as_the_page_prints_it():
    given = (("bore", quantity(80, "mm")), ("pieces", 4), ("share", quantity(0.5, "%")), ("turned", "by hand"))
    assert given_text(given) == "bore 80.00 mm; pieces 4; share 0.5%; turned by hand"


def step(key, **more):
    return Step(**{"key": key, "label": key, "words": f"Tighten {key}", "large": key} | more)


def test_a_walk_needs_steps_each_with_a_key_of_its_own():
    with pytest.raises(ValueError, match="each with a key of its own"):
        Walk(key="w", title="W", stages=(Stage(title="1", steps=(step("A"),)), Stage(title="2", steps=(step("A"),))))
    with pytest.raises(ValueError, match="a walk needs steps"):
        Walk(key="w", title="W", stages=(Stage(title="1", steps=()),))


def test_walks_are_data_too():
    walk = Walk(key="w", title="W", stages=(Stage(title="Pass 1", steps=(step("A", minutes=20),)),))
    data = whole_answer(steps=walk).as_data()
    steps = [{"key": "A", "label": "A", "words": "Tighten A", "minutes": 20}]
    assert json.loads(json.dumps(data))["steps"] == [
        {"key": "w", "title": "W", "stages": [{"title": "Pass 1", "steps": steps}]}
    ]


def test_an_answer_says_once_what_its_plus_minus_means():
    bare, measured = (
        Answer(
            headline="1", says="Set it.", values=(value(quantity(magnitude, "N·m"), units=("N·m",)),), notes=("Oil.",)
        )
        for magnitude in (37, ufloat(37, 0.5))
    )
    assert bare.every_note == ("Oil.",)
    # by hand: U = 2 · 1/√3 of a limit of 1 is 1.15 (JCGM 100:2008, 4.3.7 and 6.2)
    assert measured.every_note == ("Oil.", PLUS_MINUS)
    assert "± 1.15" in PLUS_MINUS
    assert measured.as_data()["notes"] == ["Oil.", PLUS_MINUS]


def test_a_value_is_printed_in_its_own_unit_where_none_is_named():
    assert value(quantity(34.0, "N·m")).texts == ("34.0 N·m",)
    assert value(quantity(5.0, "%")).texts == ("5.0%",)
    assert value(7.6).texts == ("7.6",)
