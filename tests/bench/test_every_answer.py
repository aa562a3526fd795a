"""What every answer owes: sources, figures in words, few figures behind a ±, and no surprise whatever is typed."""

import json
import math
import re
import statistics
import time
from functools import cache
from xml.etree import ElementTree

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calculators.bench.command_line import answer_text
from calculators.bench.desk import Desk, Reading, path_of
from calculators.bench.kinds import Choice, Date, Groups, Measure, Number, Series
from calculators.bench.question import entries_and_columns, questions
from calculators.bench.report import Source, given_text
from calculators.bench.units import all_units, quantity, unit, units_of
from tests.cards import MARRAM as CARD
from tests.examples import examples
from tests.processor import is_within

SVG = "{http://www.w3.org/2000/svg}"
LEAST_TEXT = 13
KINDS = sorted({one.kind for one in all_units()})
SLOWEST = 0.020  # s of this processor for one answer, with all that it rests on
every = pytest.mark.parametrize("of", [pytest.param(of, id=name) for name, of in questions().items()])
unhurried = list(HealthCheck)


EXAMPLE = Desk({}, CARD, example=True)


def asked(of, readings=None):
    """Ask a question, with some typed; what rests on none of it is the example's and not worked out once more.

    That nothing else comes of it holds ``test_kept_answers.py``.
    """
    if readings:
        EXAMPLE.ask(of.name)
    return Desk(readings or {}, CARD, example=True, before=EXAMPLE if readings else None).ask(of.name)


def worked_example(of):
    return EXAMPLE.ask(of.name).answer


def fields_of(of):
    """Yield each entry with the path of its first box."""
    for entry, table in entries_and_columns(of):
        yield entry, path_of(of, entry, 1 if table else 0)


@every
def test_every_entry_has_a_label_and_every_limit_a_reason(of):
    for entry, _ in entries_and_columns(of):
        reads_well = re.fullmatch(r"(?!(The|An?|Enter|How|What|Which|Is) )[A-Z±].*[^.:?!]", entry.label)
        assert reads_well, (
            f"{entry.label!r} must read well in: Enter the {entry.label}; and in: {entry.label} must be …"
        )
        one = entry.each
        if isinstance(one, Choice):
            assert len(one.options) > 1
        else:
            assert all(text.strip() for text in (*one.limits, one.why))


@every
def test_a_counted_table_can_hold_the_highest_count(of):
    for table in of.tables():
        counter = next((entry for entry in of.entries() if entry.key == table.count), None)
        if counter and isinstance(counter.kind, Number):
            assert counter.kind.high <= table.most


@every
def test_every_fact_it_asks_the_card_for_is_on_the_demonstration_card(of):
    for entry, _ in entries_and_columns(of):
        assert not entry.facts.card or CARD.text(entry.facts.card) is not None, entry.facts.card


@every
def test_every_value_and_table_has_its_formula_and_its_source(of):
    answer = worked_example(of)
    for item in (*answer.values, *answer.tables):
        assert item.formula.strip()
        assert isinstance(item.source, Source)
        assert not re.search(r"https?:|www\.", str(item.source))
    keys = [item.key for item in (*answer.values, *answer.tables, *answer.figures)]
    assert len(keys) == len(set(keys))


@every
def test_every_value_prints_and_no_number_is_missing(of):
    text = answer_text(asked(of))
    assert worked_example(of).says in text
    assert not re.search(r"\b(nan|inf|None|Quantity)\b|\+/-|\d+[.]\d{7}", text.partition("\nTaken\n")[0])


@every
def test_an_answer_as_data_is_json_and_the_same_each_time(of):
    data = asked(of).answer.as_data()
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert asked(of).answer.as_data() == data


@every
def test_every_value_is_of_the_quantity_of_its_unit(of):
    for value in worked_example(of).values:
        assert len({unit(symbol).kind for symbol in value.units}) <= 1, value.key
        for symbol in value.units:
            assert value.quantity.dimensionality == quantity(1, symbol).dimensionality, (value.key, symbol)


@every
def test_warnings_use_the_four_signal_words(of):
    # ANSI Z535.6 and ISO 3864-2 grade by these words and no others
    for caution in worked_example(of).warnings:
        assert caution.signal in {"danger", "warning", "caution", "notice"}
        assert caution.text.endswith(".")


def drawings_of(answer):
    stages = (stage.drawing for walk in answer.walks for stage in walk.stages)
    return [figure for figure in (answer.drawing, *answer.figures, *stages) if figure]


@every
def test_drawings_are_plain_with_an_alternative_in_words(of):
    for figure in drawings_of(worked_example(of)):
        assert figure.title.strip()
        root = ElementTree.fromstring(figure.svg)  # noqa: S314 (our own text)
        assert root.tag == f"{SVG}svg"
        assert root.get("role") == "img"
        assert len(root.get("aria-label")) >= 10, "Say in the text beside a drawing what it shows."
        for element in root.iter():
            assert element.tag.removeprefix(SVG) in {"svg", "g", "line", "rect", "circle", "path", "text", "tspan"}
            assert not {"id", "style", "fill", "stroke", "href"} & set(element.keys())
            assert not any(name.startswith("on") for name in element.attrib)


@every
def test_drawings_are_legible_on_a_phone(of):
    for figure in drawings_of(worked_example(of)):
        root = ElementTree.fromstring(figure.svg)  # noqa: S314
        left, top, width, height = map(float, root.get("viewBox").split())
        assert width <= 360
        for text in root.iter(f"{SVG}text"):
            size = float(text.get("font-size"))
            assert size >= LEAST_TEXT, text.text
            # a letter of a plain face is about half as wide as it is high; nothing may run off the paper
            long = 0.5 * size * len("".join(text.itertext()))
            x, y = float(text.get("x")), float(text.get("y"))
            start = {"start": x, "middle": x - long / 2, "end": x - long}[text.get("text-anchor", "start")]
            assert left - 4 <= start, text.text
            assert start + long <= left + width + 4, text.text
            assert top + 0.6 * size <= y <= top + height, text.text


@every
def test_one_answer_is_quick(of):
    asked(of)
    taken = []
    for _ in range(7):
        started = time.process_time()
        asked(of)
        taken.append(time.process_time() - started)
        if sum(one < SLOWEST for one in taken) > 3:  # whatever the others take, so is their median
            return
    assert is_within(statistics.median(taken), SLOWEST)


_IDLE = re.compile(r"± 0(\.0+)?(?![.\d])")
_LONG = re.compile(r"(?<!± )\b\d+\.\d{7}|± \d+\.\d*[1-9]\d{3}")


@every
@pytest.mark.parametrize("limit", ["", " ± 0.003", " ± 0.03", " ± 0.0004"])
def test_every_plus_minus_is_a_number_with_few_figures_and_says_its_factor(of, limit):
    known = asked(of).known
    readings = {
        path_of(of, entry): Reading(known[entry.key].text + limit)
        for entry in of.entries()
        if isinstance(entry.kind, Measure) and not entry.kind.exact and not entry.kind.plus_minus
        if entry.key in known and known[entry.key].text
    }
    answer = asked(of, readings).answer
    assert answer
    texts = [text for value in answer.values for text in value.texts]
    texts += [given_text(one.given) for one in (*answer.values, *answer.tables)]
    texts += [column.text(cell) for table in answer.tables for row in table.rows for column, cell in cells(table, row)]
    for line in (*texts, answer.says, answer.headline):
        assert not _IDLE.search(line), line
        assert not _LONG.search(line), line
    marked = any(re.search(r"\d ± \d", line) for line in texts)
    assert sum("k = 2" in note for note in answer.every_note) >= marked


def cells(table, row):
    return zip(table.columns, row.cells, strict=True)


NUMBERS = st.one_of(
    st.integers(-5, 500).map(str),
    st.decimals(-5, 500, places=2, allow_nan=False).map(str),
    st.sampled_from(["1/2", "½", "3 1/4", "0,15", "12 ± 0.1", "0", "1e5", "", " ", "nan", "−1", "1,234.5", "٣"]),
)
UNITS = st.sampled_from(["", " mm", " in", " thou", " N·m", " ft-lb", " cm³", "°", " %", " furlong", " N", " r/min"])
SCALARS = st.one_of(st.text(max_size=20), st.builds(lambda number, unit: number + unit, NUMBERS, UNITS))
LINES = st.one_of(SCALARS, st.lists(SCALARS, max_size=6).map("; ".join), st.lists(NUMBERS, max_size=6).map(" ".join))


def inside(kind):
    """Texts that a kind of entry takes, so that the answer is reached and not only the reading."""
    if isinstance(kind, Choice):
        return st.sampled_from(list(kind.options))
    if isinstance(kind, Measure):
        plain = st.floats(kind.low, kind.high).map(lambda number: f"{number:.3f} {kind.own}")
        return plain if kind.exact else plain | plain.map(lambda text: f"{text} ± 0.05")
    if isinstance(kind, Number):
        return st.floats(kind.low, kind.high).map(lambda number: str(round(number) if kind.whole else round(number, 2)))
    if isinstance(kind, Series):
        return st.lists(inside(kind.of), min_size=kind.fewest, max_size=kind.most).map("; ".join)
    if isinstance(kind, Date):
        return st.dates(kind.low, kind.high).map(str)
    assert isinstance(kind, Groups)
    return st.lists(st.lists(inside(kind.of), min_size=1, max_size=3).map(" ".join), min_size=1, max_size=3).map(
        " / ".join
    )


@cache  # a strategy made anew for each example takes longer than the answer
def boxes_of(of, typed):
    """Return what is typed into the boxes of a question, by path: any lines, or what the entry takes."""
    boxes = {}
    for entry, table in entries_and_columns(of):
        for row in (1, 2) if table else (0,):
            units = st.sampled_from([None, None, "mm", "in", "N·m", "cm³", "furlong", entry.own_unit])
            boxes[path_of(of, entry, row)] = st.builds(Reading, typed(entry.kind), units)
    return boxes


@cache
def paths_of(of, typed):
    boxes = sorted(boxes_of(of, typed))
    return st.lists(st.sampled_from(boxes), min_size=1, max_size=4, unique=True) if boxes else st.just([])


def typed_texts(of, typed, data):
    """Fill a few boxes of a question; the others keep the worked example."""
    return {path: data.draw(boxes_of(of, typed)[path], path) for path in data.draw(paths_of(of, typed), "paths")}


def anything(kind):
    return LINES


def holds_or_names_the_entry(of, readings):
    found = asked(of, readings)
    known = {entry.key for entry, _ in entries_and_columns(of)}
    assert bool(found.answer) != bool(found.errors or found.lacking)
    for error in (*found.errors, *found.lacking):
        assert error.field.partition(".")[0] in known, error
        assert error.message[0].isupper(), error
        ours = re.sub(r", not [^,]*$|: .* can be ", "", error.message)  # what was typed is quoted as it was typed
        assert not re.search(r"please|invalid|nan\b|None|Traceback|\d\.\d{7}", ours), error
    if found.answer:
        assert json.dumps(found.answer.as_data(), allow_nan=False)
        for figure in drawings_of(found.answer):
            ElementTree.fromstring(figure.svg)  # noqa: S314
        answer_text(found)


@every
@given(data=st.data())
@settings(max_examples=examples(16, nightly=2_000), deadline=None, suppress_health_check=unhurried)  # of each question
def test_any_text_in_any_box_is_answered_or_refused_by_name(of, data):
    holds_or_names_the_entry(of, typed_texts(of, anything, data))


@every
@given(data=st.data())
@settings(max_examples=examples(16, nightly=1_000), deadline=None, suppress_health_check=unhurried)  # of each question
def test_any_value_inside_its_limits_is_answered_or_refused_by_name(of, data):
    holds_or_names_the_entry(of, typed_texts(of, inside, data))


@every
@pytest.mark.parametrize("edge", ["low", "high"])
def test_every_limit_can_be_typed_without_a_surprise(of, edge):
    for entry, path in fields_of(of):
        one = entry.each
        if isinstance(one, Measure | Number) and math.isfinite(limit := getattr(one, edge)):
            holds_or_names_the_entry(of, {path: Reading(f"{limit:.10g}")})


@every
def test_a_unit_of_another_kind_is_refused_in_every_box(of):
    for entry, path in fields_of(of):
        measure = entry.measure
        if not measure:
            continue
        own = unit(measure.own).kind
        for kind in KINDS:
            if kind == own:
                continue
            foreign = units_of(kind)[-1].symbol
            said = "must be numbers in a row" if isinstance(entry.kind, Series) else f"must use a unit of {own}, like"
            messages = [error.message for error in asked(of, {path: Reading(f"{measure.high} {foreign}")}).errors]
            assert any(said in message for message in messages), (entry.key, foreign)
