"""What every calculator owes: a page, a test, limits with reasons, sources, figures in words, and no surprises."""

import json
import math
import re
import statistics
import time
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calculators import (
    Choice,
    Date,
    Groups,
    InputErrors,
    Measure,
    Number,
    Report,
    Rows,
    Series,
    Source,
    UnknownCalculator,
    read_card,
)
from calculators._catalogue import calculator, catalogue
from calculators._report import given_text
from calculators._text import report_text
from tests.examples import examples

ROOT = Path(__file__).parents[2]
MARRAM = read_card(ROOT / "docs/engines/marram-f4.yml")
SVG = "{http://www.w3.org/2000/svg}"
LEAST_TEXT = 13

every_calculator = pytest.mark.parametrize("found", catalogue().values(), ids=list(catalogue()))


def example(found):
    return found.form.prefilled(MARRAM, example=True)


def worked_example(found):
    return found.answer(example(found), MARRAM)


def test_there_are_calculators_in_the_order_of_the_alphabet():
    assert "torque-stages" in catalogue()
    assert list(catalogue()) == sorted(catalogue())


def test_a_calculator_is_found_by_its_name():
    assert calculator("torque-stages") is catalogue()["torque-stages"]
    assert calculator("torque_stages") is catalogue()["torque-stages"]


def test_an_unknown_calculator_is_named_with_those_there_are():
    with pytest.raises(UnknownCalculator, match=r"There is no calculator horoscope; there are .*torque-stages"):
        calculator("horoscope")


@every_calculator
def test_has_a_title_and_a_purpose(found):
    assert re.fullmatch(r"[A-Z].*[^.]", found.title)
    assert re.fullmatch(r"[A-Z].{10,}[^.]", found.purpose)


@every_calculator
def test_has_a_page_that_holds_it(found):
    path = f"docs/calculators/{found.name}.md"
    assert (ROOT / path).is_file(), f"write {path}"
    page = (ROOT / path).read_text(encoding="utf-8")
    block = rf"^```calculator\nname: {found.name}$"
    assert re.search(block, page, re.MULTILINE), f"put a calculator block with name: {found.name} into {path}"


@every_calculator
def test_has_its_line_in_the_navigation(found):
    navigation = (ROOT / "mkdocs.yml").read_text(encoding="utf-8").partition("\nnav:")[2]
    line = f"calculators/{found.name}.md"
    assert line in navigation, f"add a line to nav in mkdocs.yml: {found.title}: {line}"


@every_calculator
def test_has_a_test_of_its_own(found):
    path = f"tests/calculators/test_{found.name.replace('-', '_')}.py"
    assert (ROOT / path).is_file(), f"write {path}"


_IDLE = re.compile(r"± 0(\.0+)?(?![.\d])")
_LONG = re.compile(r"(?<!± )\b\d+\.\d{7}|± \d+\.\d*[1-9]\d{3}")


@every_calculator
@pytest.mark.parametrize("limit", ["", " ± 0.003", " ± 0.03", " ± 0.0004"])
def test_every_plus_minus_is_a_number_with_few_figures_and_says_its_factor(found, limit):
    typed = example(found)
    for section in found.form.sections:
        for field in section.fields:
            text = typed.get(field.key)
            if isinstance(field.kind, Measure) and not field.kind.exact and not field.kind.plus_minus and text:
                typed[field.key] = text + limit
    report = found.answer(typed, MARRAM)
    given = [given_text(one.given) for one in (*report.values, *report.tables)]
    texts = [*report_text(found.title, report).splitlines(), *given]
    for line in texts:
        assert not _IDLE.search(line), line
        assert not _LONG.search(line), line
    marked = any(re.search(r"\d ± \d", line) for line in texts if line not in report.notes)
    told = [note for note in report.notes if "k = 2" in note or "as it was typed" in note]
    assert len(told) == marked, report.notes


@every_calculator
def test_every_field_has_a_label_and_every_limit_a_reason(found):
    for field in found.form.described(MARRAM):
        label = field["label"]
        reads_well = re.fullmatch(r"(?!(The|An?|Enter|How|What|Which|Is) )[A-Z±].*[^.:?!]", label)
        assert reads_well, f"{label!r} must read well in: Enter the {label}; and in: {label} must be between … and …"
        if field["kind"] == "choice":
            assert len(field["options"]) > 1
        else:
            assert all(field["limits"][key].strip() for key in ("low", "high", "why"))


@every_calculator
def test_every_default_and_example_is_inside_its_own_limits(found):
    for form in (found.form.prefilled(None, example=True), example(found)):
        try:
            found.answer(form, MARRAM)
        except InputErrors as wrong:
            pytest.fail(f"{wrong}")


@every_calculator
def test_counted_rows_can_hold_the_highest_count(found):
    for rows in found.form.rows:
        if rows.count:
            counter = next(field for field in found.form.fields if field.key == rows.count)
            assert isinstance(counter.kind, Number)
            assert counter.kind.high <= rows.most


@every_calculator
def test_every_fact_it_asks_the_card_for_is_on_the_demonstration_card(found):
    for field in found.form.fields:
        if field.card:
            assert MARRAM.text(field.card) is not None, field.card


@every_calculator
def test_worked_example_gives_a_whole_report(found):
    report = worked_example(found)
    assert isinstance(report, Report)
    assert re.search(r"\d", report.lead), f"the lead says no number: {report.lead}"
    assert report.lead.endswith(".")
    assert any(value.lead for value in report.values), "mark the value that answers the question with lead=True"
    keys = [item.key for item in (*report.values, *report.tables, *report.figures)]
    assert len(keys) == len(set(keys))


@every_calculator
def test_every_answer_has_formula_and_source(found):
    report = worked_example(found)
    for item in (*report.values, *report.tables):
        assert item.formula.strip()
        assert isinstance(item.source, Source)
        assert not re.search(r"https?:|www\.", str(item.source))


@every_calculator
def test_every_value_prints_and_no_number_is_missing(found):
    report = worked_example(found)
    text = report_text(found.title, report)
    assert report.lead in text
    assert not re.search(r"\b(nan|inf|None|Quantity)\b|\+/-|\d+[.]\d{7}", text)


@every_calculator
def test_report_as_data_is_json(found):
    data = worked_example(found).as_data()
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert all(value["formula"] and value["source"] for value in data["values"])


@every_calculator
def test_cautions_use_the_four_signal_words(found):
    # ANSI Z535.6 and ISO 3864-2 grade by these words and no others
    for caution in worked_example(found).cautions:
        assert caution.signal in {"danger", "warning", "caution", "notice"}
        assert caution.text.endswith(".")


@every_calculator
def test_figures_are_plain_drawings_with_an_alternative_in_words(found):
    report = worked_example(found)
    assert report.figures, "a report has a figure at the least"
    for figure in report.figures:
        assert figure.title.strip()
        root = ElementTree.fromstring(figure.svg)  # noqa: S314 (our own text)
        assert root.tag == f"{SVG}svg"
        assert root.get("role") == "img"
        assert len(root.get("aria-label")) >= 10
        for element in root.iter():
            assert element.tag.removeprefix(SVG) in {"svg", "g", "line", "rect", "circle", "path", "text", "tspan"}
            assert not {"id", "style", "fill", "stroke", "href"} & set(element.keys())
            assert not any(name.startswith("on") for name in element.attrib)


@every_calculator
def test_figures_are_legible_on_a_phone(found):
    for figure in worked_example(found).figures:
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


@every_calculator
def test_one_answer_is_quick(found):
    typed = example(found)
    found.answer(typed, MARRAM)
    taken = []
    for _ in range(7):
        started = time.process_time()
        found.answer(typed, MARRAM)
        taken.append(time.process_time() - started)
    assert statistics.median(taken) < 0.020


@every_calculator
def test_same_input_gives_the_same_answer(found):
    first = json.dumps(worked_example(found).as_data())
    assert json.dumps(worked_example(found).as_data()) == first


NUMBERS = st.one_of(
    st.integers(-5, 500).map(str),
    st.decimals(-5, 500, places=2, allow_nan=False).map(str),
    st.sampled_from(["1/2", "½", "3 1/4", "0,15", "12 ± 0.1", "0", "1e5", "", " ", "nan", "−1", "1,234.5", "٣"]),
)
UNITS = st.sampled_from(["", " mm", " in", " thou", " N·m", " ft-lb", " cm³", "°", " %", " furlong", " N", " r/min"])
SCALARS = st.one_of(st.text(max_size=20), st.builds(lambda number, unit: number + unit, NUMBERS, UNITS))
LINES = st.one_of(SCALARS, st.lists(SCALARS, max_size=6).map("; ".join), st.lists(NUMBERS, max_size=6).map(" ".join))


def inside(kind):
    """Texts that a kind of field takes, so that compute is reached and not only the reading."""
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


def typed_texts(found, texts):
    """A few fields of a form, filled by ``texts(field)``; the others keep the worked example."""
    fields = {}
    for section in found.form.sections:
        for field in section.fields:
            fields[field.key] = texts(field)
            if isinstance(section, Rows):
                fields |= {f"{field.key}.{row}": texts(field) for row in (1, 2)}
            if field.own_unit:
                fields[f"{field.key}.unit"] = st.sampled_from(["mm", "in", "N·m", "cm³", "furlong", field.own_unit])
    chosen = st.lists(st.sampled_from(sorted(fields)), min_size=1, max_size=4, unique=True)
    return chosen.flatmap(lambda keys: st.fixed_dictionaries({key: fields[key] for key in keys}))


def holds_or_names_the_field(found, typed, card):
    known = {field.key for field in found.form.fields}
    try:
        report = found.answer(typed, card)
    except InputErrors as wrong:
        assert wrong.errors
        for error in wrong.errors:
            assert error.field.partition(".")[0] in known, error
            assert error.message[0].isupper(), error
            assert not re.search(r"please|invalid|nan\b|None|Traceback|\d\.\d{7}", error.message), error
        report = wrong.report
    if report is not None:
        data = json.dumps(report.as_data(), allow_nan=False)
        assert data
        for figure in report.figures:
            ElementTree.fromstring(figure.svg)  # noqa: S314
        report_text(found.title, report)


@every_calculator
@given(data=st.data())
@settings(max_examples=examples(60), deadline=None, suppress_health_check=list(HealthCheck))
def test_any_text_in_any_field_is_answered_or_refused_by_name(found, data):
    typed = example(found) | data.draw(typed_texts(found, lambda field: LINES))
    holds_or_names_the_field(found, typed, MARRAM)


@every_calculator
@given(data=st.data())
@settings(max_examples=examples(60), deadline=None, suppress_health_check=list(HealthCheck))
def test_any_value_inside_its_limits_is_answered_or_refused_by_name(found, data):
    typed = example(found) | data.draw(typed_texts(found, lambda field: inside(field.kind)))
    holds_or_names_the_field(found, typed, MARRAM)


@every_calculator
def test_an_empty_form_without_a_card_is_refused_field_by_field(found):
    typed = {field.key: "" for field in found.form.fields}
    with pytest.raises(InputErrors) as caught:
        found.answer(typed)
    assert all(error.message.startswith("Enter the ") for error in caught.value.errors)


@every_calculator
@pytest.mark.parametrize("edge", ["low", "high"])
def test_every_limit_can_be_typed_without_a_surprise(found, edge):
    for section in found.form.sections:
        for field in section.fields:
            of = field.entry
            if not isinstance(of, Measure | Number):
                continue
            limit = getattr(of, edge)
            text = f"{limit:.10g}" if math.isfinite(limit) else ""
            key = f"{field.key}.1" if isinstance(section, Rows) else field.key
            typed = example(found)
            typed.pop(field.key, None)
            holds_or_names_the_field(found, typed | {key: text}, MARRAM)
