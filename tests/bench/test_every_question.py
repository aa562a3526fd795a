"""What holds for every question; a new one is held to it without being listed anywhere."""

import importlib
from pathlib import Path

import pytest
from markupsafe import escape

from calculators.bench.asking import rests_on
from calculators.bench.desk import Desk, Origin, Reading, cells_of, path_of, units_beside
from calculators.bench.kinds import Choice, Measure, Number
from calculators.bench.page import View, changes, question_html
from calculators.bench.printing import said_whole
from calculators.bench.question import MOST_BESIDE_A_TABLE, MOST_OPEN, entries_and_columns, questions, room_title, rooms
from calculators.bench.report import COMMON_PRACTICE
from calculators.bench.units import magnitude_in
from tests.cards import MARRAM as CARD

ROOT = Path(__file__).resolve().parents[2]
EVERY = [pytest.param(of, id=name) for name, of in questions().items()]
every = pytest.mark.parametrize("of", EVERY)


EXAMPLE = Desk({}, CARD, example=True)


def example(of):
    return EXAMPLE.ask(of.name)


def typed_into_the_example(of, readings):
    """Ask with some typed; what rests on none of it is not worked out once more (``test_kept_answers.py``)."""
    example(of)
    return Desk(readings, CARD, example=True, before=EXAMPLE).ask(of.name)


def typed_from(asked):
    """Return the readings that type an example as a person would, box by box."""
    readings = {}
    for entry in asked.of.entries():
        known = asked.known.get(entry.key)
        if known and known.value is not None:
            readings[path_of(asked.of, entry)] = Reading(known.text or said_whole(known.value))
    for table in asked.of.tables():
        for column in table.columns:
            for row in range(1, table.most + 1):
                known = asked.known.get(f"{column.key}.{row}")
                if known and known.value is not None:
                    readings[path_of(asked.of, column, row)] = Reading(known.text or said_whole(known.value))
    return readings


@every
def test_asks_one_thing_in_the_readers_words(of):
    assert of.asks[0].isupper()
    assert of.asks.endswith("?")
    assert of.__doc__, "say in the docstring where the answer stops to hold"
    assert room_title(of.name.partition(".")[0])


@every
def test_heads_a_paper_by_what_it_finds_out(of):
    """On paper a heading is no question; that of a procedure's step has its procedure, where the docs ask it."""
    assert of.tells[0].isupper()
    assert len(of.tells) <= 40
    assert not of.tells.endswith((".", "?"))
    for page in of.procedures:
        assert of.name in (ROOT / "docs" / f"{page}.md").read_text(encoding="utf-8"), page
    answer = example(of).answer
    strip = bool(answer) and any(walk.on_paper for walk in answer.walks)
    assert bool(of.procedures) is strip


def test_no_two_questions_have_one_heading_in_their_room():
    heads = [(name.partition(".")[0], of.tells) for name, of in questions().items()]
    assert len(set(heads)) == len(heads)


@every
def test_asks_few_things_at_once(of):
    entries = [entry for entry in of.entries() if not entry.facts.refines]
    tables = [table for table in of.tables() if not table.refines]
    assert len(tables) <= 1
    assert len(entries) <= (MOST_BESIDE_A_TABLE if tables else MOST_OPEN)


@every
def test_its_example_has_an_answer_with_all_that_belongs_to_it(of):
    asked = example(of)
    assert asked.answer, (asked.errors, asked.lacking)
    assert asked.is_example
    assert asked.answer.says.rstrip().endswith((".", "!", "?"))
    assert asked.answer.values
    assert asked.answer.drawing, "an answer is shown, not only said"
    for worked in asked.answer.worked:
        assert worked.name.partition(".")[0] in of.works_out
    for name in of.works_out:
        assert any(worked.name.partition(".")[0] == name for worked in asked.answer.worked), name


@every
def test_an_answer_from_typed_entries_alone_is_the_readers(of):
    asked = Desk(typed_from(example(of)), None).ask(of.name)
    if not asked.answer:
        pytest.skip("it asks the card for more than entries")
    assert not asked.is_example


@every
def test_one_entry_of_the_example_makes_the_answer_the_examples(of):
    typed = typed_from(example(of))
    for path in typed:
        others = {other: reading for other, reading in typed.items() if other != path}
        asked = Desk(others, CARD, example=True).ask(of.name)
        missing = [known for known in asked.known.values() if known.origin is Origin.EXAMPLE]
        if asked.answer and missing:
            assert asked.is_example, path


def in_another_unit(entry, text):
    """Return a reading's text in another unit of its kind, or None where there is none or it is no single number."""
    others = [symbol for symbol in units_beside(entry) if symbol not in text]
    if not others or not isinstance(entry.kind, Measure):
        return None
    value = entry.kind.read(text, str, None)
    return f"{magnitude_in(value, others[0]):.12g} {others[0]}"


@every
def test_the_same_readings_in_other_units_give_the_same_answer(of):
    """Only words may differ: a wrench's marks, a blade's thickness are said in the unit that was typed."""
    asked = example(of)
    typed = typed_from(asked)
    entries = {path_of(of, entry): entry for entry in of.entries()}
    entries |= {path_of(of, column, row): column for table, row, column in cells_of(of, asked)}
    other = {path: in_another_unit(entries[path], reading.text) for path, reading in typed.items()}
    retyped = {path: Reading(other[path] or reading.text) for path, reading in typed.items()}
    one, same = (Desk(readings, CARD, example=True).ask(of.name).answer for readings in (typed, retyped))
    assert same, Desk(retyped, CARD, example=True).ask(of.name).errors
    numbers = {value.key: value for value in one.values if not isinstance(value.quantity, str)}
    for value in same.values:
        if value.key in numbers and value.units and value.key not in getattr(of, "in_the_unit_typed", ()):
            before = magnitude_in(numbers[value.key].quantity, value.units[0])
            assert magnitude_in(value.quantity, value.units[0]) == pytest.approx(before, rel=1e-6, abs=1e-9), value.key


@every
def test_without_the_example_nothing_of_it_is_taken(of):
    asked = Desk({}, CARD).ask(of.name)
    for key, known in asked.known.items():
        assert known.value is None or known.origin in (Origin.USUAL, Origin.WORKED_OUT), key
        assert not known.is_example, key
    assert not asked.is_example


def errors_at(of, entry, table, text):
    """Return how an entry is called in its sentences, and what is wrong with it where this is typed into its box."""
    row = 1 if table else 0
    asked = typed_into_the_example(of, {path_of(of, entry, row): Reading(text)})
    key = f"{entry.key}.1" if table else entry.key
    label = f"{entry.label} of {table.each.format(1).lower()}" if table else entry.label
    return label, [error.message for error in asked.errors if error.field == key]


@every
def test_what_is_no_number_or_beyond_the_limits_of_a_box_is_told_so(of):
    for entry, table in entries_and_columns(of):
        kind = entry.kind
        if isinstance(kind, Measure | Number):
            step = 1 if isinstance(kind, Number) and kind.whole else (kind.high - kind.low) / 1000
            beyond = f"must be between {kind.limits[0]} and {kind.limits[1]}"
            for text in (f"{kind.low - step:.9f}", f"{kind.high + step:.9f}"):
                label, errors = errors_at(of, entry, table, text)
                assert errors == [f"{label} {beyond}"]
            for text in (f"{kind.low:.9f}", f"{kind.high:.9f}"):
                label, errors = errors_at(of, entry, table, text)
                assert f"{label} {beyond}" not in errors
            label, (error,) = errors_at(of, entry, table, "wide")
            assert error.startswith(f"{label} must be a number, like ")


@every
def test_another_unit_a_plus_minus_or_another_word_than_a_box_takes_is_told_so(of):
    for entry, table in entries_and_columns(of):
        kind, wrong = entry.kind, {}
        if isinstance(kind, Measure):
            wrong["7 mm" if kind.own == "N·m" else "7 N·m"] = "must use a unit of "
        if isinstance(kind, Number):
            wrong["7 mm"] = "must be a number without a unit"
        if isinstance(kind, Number) or (isinstance(kind, Measure) and kind.exact):
            wrong[f"{kind.low:.9f} ± 1"] = "must be a single figure without a ±, like "
        if isinstance(kind, Choice):
            wrong["nonsense"] = "must be one of"
        for text, words in wrong.items():
            label, (error,) = errors_at(of, entry, table, text)
            assert error.startswith(f"{label} {words}")


@every
def test_what_is_needed_is_asked_for_by_its_label_and_unit(of):
    asked = Desk({}, None).ask(of.name)
    needed = {entry.key: entry for entry in of.entries() if not entry.optional and entry.key not in asked.known}
    told = {error.field: error.message for error in asked.lacking}
    assert needed.keys() <= told.keys()
    for key, entry in needed.items():
        label = entry.label if entry.label[:2].isupper() else entry.label[0].lower() + entry.label[1:]
        assert told[key] == f"Enter the {label}{entry.kind.wanted()}"


@every
def test_the_page_shows_every_box_with_a_label_and_a_place_for_its_error(of):
    html = question_html(example(of), "Marram F4", "marram-f4")
    asked = example(of)
    view = View(asked, "Marram F4")
    for box in view.boxes:
        assert f'data-path="{box.path}"' in html
        assert f'data-box="{box.key}"' in html
    assert changes(view, {})["boxes"].keys() == {box.key for box in view.boxes}
    for entry in (*of.entries(), *(column for table in of.tables() for column in table.columns)):
        assert str(escape(entry.facts.hint)) in html, f"the hint of {entry.key}"


@every
def test_its_steps_can_be_followed_while_their_fold_is_closed(of):
    asked = example(of)
    live = changes(View(asked, "Marram F4", opened=()), {})["answer"]
    stages = [stage for walk in asked.answer.walks for stage in walk.stages]
    assert live.count("data-step=") == sum(len(stage.steps) for stage in stages)


def test_entries_of_one_shared_name_are_of_one_kind():
    kinds = {}
    for of in questions().values():
        for entry in (*of.entries(), *(column for table in of.tables() for column in table.columns)):
            if entry.facts.shared_as:
                kind = (entry.kind.name, entry.own_unit and entry.measure.units)
                known = kinds.setdefault(entry.facts.shared_as, kind)
                assert kind == known, f"{of.name}.{entry.key} shares {entry.facts.shared_as}"


def test_every_page_has_its_room():
    pages = {path.stem.replace("-", "_"): path.read_text() for path in (ROOT / "docs/work-it-out").glob("*.md")}
    pages.pop("index", None)
    assert pages.keys() <= rooms().keys()  # the build makes the page of a room that has none
    for room, text in pages.items():
        assert f"```room\n{room}\n```" in text


def test_a_room_orders_only_questions_that_it_has():
    for room, asked in rooms().items():
        order = getattr(importlib.import_module(f"calculators.{room}"), "ORDER", ())
        assert set(order) <= {of.name.partition(".")[2] for of in asked}, room


def test_no_two_questions_work_out_one_name():
    names = [name for of in questions().values() for name in of.works_out]
    assert len(names) == len(set(names))


def test_common_practice_is_marked_as_such():
    assert COMMON_PRACTICE.standing == "common practice"


@every
def test_a_text_that_says_nothing_is_told_wherever_it_was_typed(of):
    """Also in a question that this one rests on: the page then says what it waits for, and nothing breaks."""
    for under in rests_on(of):
        for entry, table in entries_and_columns(under):
            path = path_of(under, entry, 1 if table else 0)
            asked = typed_into_the_example(of, {path: Reading("nonsense")})
            assert changes(View(asked, "Marram F4", opened=()), {})["boxes"]
            if under is of and (known := asked.known.get(f"{entry.key}.1" if table else entry.key)):
                assert known.text != "nonsense" or asked.errors, path
