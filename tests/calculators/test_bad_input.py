"""Ten thousand strings that no careful person types: each has an answer or a message, quickly, and stays text."""

import json
import time
from html.parser import HTMLParser
from itertools import cycle
from pathlib import Path

import pytest

from calculators import InputErrors, Rows, read_card
from calculators._catalogue import catalogue
from calculators._page import calculator_html, live_answer
from calculators._questions import answer_message
from tests.bad_input import LONGEST, bad_strings

COUNT = 10_000
SLOWEST = 0.050  # s of this processor for one answer; the browser's Python takes about four times as long
FILES = ("data:text/calendar;", "data:text/csv;", "data:image/svg+xml;")  # to take away, made by us
ASK_FOR_ROWS = 10  # every tenth page lacks the rows of its tables, so that typed text comes back as HTML
MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
EXAMPLES = {name: found.form.prefilled(MARRAM, example=True) for name, found in catalogue().items()}


class Markup(HTMLParser):
    """What HTML is made of: tags with their attributes' names, and the texts of the controls."""

    def __init__(self, html):
        super().__init__()
        self.made_of, self.values, self.links, self.text = set(), {}, [], ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.made_of |= {tag} | {(tag, name) for name, _ in attributes}
        found = dict(attributes)
        if tag == "input" and "name" in found:
            self.values[found["name"]] = found["value"]
        self.links += [target for name, target in attributes if name in ("href", "src", "action")]

    def handle_comment(self, data):
        self.made_of.add("comment")

    def handle_decl(self, decl):
        self.made_of.add("declaration")

    def handle_data(self, data):
        self.text += data


def html_of(answer):
    return answer["answer"] + answer["summary"] + "".join(rows["more"] for rows in answer["rows"].values())


def ask(name, typed, rows_shown=99):
    found = catalogue()[name]
    rows = {section.key: rows_shown for section in found.form.rows}
    question = {"calculator": name, "typed": typed, "card": {"name": MARRAM.name, "data": MARRAM.data}}
    return json.loads(answer_message(json.dumps(question | {"prefix": name, "rows": rows, "opened": []})))


def every_control():
    """Every name that a page of ours can send: each field, the unit beside it, each cell of each row."""
    for name, found in catalogue().items():
        for section in found.form.sections:
            for field in section.fields:
                cells = range(1, section.most + 1) if isinstance(section, Rows) else ()
                yield from ((name, f"{field.key}.{row}") for row in cells[:5])
                if not cells:
                    yield name, field.key
                if field.own_unit:
                    yield name, f"{field.key}.unit"


def every_list():
    """Every column of a table typed as one list, as the command line takes it."""
    for name, found in catalogue().items():
        yield from ((name, field.key) for section in found.form.rows for field in section.fields)


CONTROLS = [*every_control(), *every_list()]
LISTS = set(every_list())


def read_alike(control):
    """What decides how a text is read: two lengths are read by the same lines, in whatever calculator."""
    name, key = control
    field_key, _, part = key.partition(".")
    field = next(field for field in catalogue()[name].form.fields if field.key == field_key)
    return type(field.kind), type(field.entry), field.card is None, part, control in LISTS


ONE_OF_A_KIND = list({read_alike(control): control for control in CONTROLS}.values())


def typed_with(name, control, text):
    others = EXAMPLES[name]
    if (name, control) in LISTS:
        others = {key: kept for key, kept in others.items() if not key.startswith(f"{control}.")}
    return others | {control: text}


def known_markup():
    """Every tag and attribute that our own templates and drawings use, seen in examples and in an error."""
    known = set()
    for name, found in catalogue().items():
        known |= Markup(calculator_html(found, MARRAM, name)).made_of
        known |= Markup(html_of(ask(name, EXAMPLES[name] | {next(iter(EXAMPLES[name])): ""}, rows_shown=0))).made_of
    return known


def seconds(name, typed):
    """Return the processor time of one answer; the best of three, as a busy machine slows all of them."""
    found, best = catalogue()[name], float("inf")
    for _ in range(3):
        started = time.process_time()
        live_answer(found, typed, MARRAM, name, {})
        best = min(best, time.process_time() - started)
        if best < SLOWEST:
            break
    return best


@pytest.fixture(scope="module")
def known():
    return known_markup()


def test_ten_thousand_strings_end_as_an_answer_or_a_message_and_stay_text(known):
    answered, refused = 0, 0
    for number, ((name, control), text) in enumerate(zip(cycle(CONTROLS), bad_strings(COUNT), strict=False)):
        typed, what = typed_with(name, control, text), f"{name}, {control}: {text[:80]!r}"
        started = time.process_time()
        answer = ask(name, typed, rows_shown=0 if number % ASK_FOR_ROWS == 0 else 99)
        if time.process_time() - started > SLOWEST:
            assert seconds(name, typed) < SLOWEST, what
        assert bool(answer["lead"]) != bool(answer["errors"]), what
        for error in answer["errors"]:
            assert error["field"].partition(".")[0] in {field.key for field in catalogue()[name].form.fields}, what
            assert error["message"][0].isupper(), what
            assert len(error["message"]) < 400, what
        read = Markup(html_of(answer))
        assert read.made_of <= known, what
        assert all(target.startswith(("#", *FILES)) for target in read.links), what
        assert "Traceback" not in read.text, what
        if control in read.values:  # a unit that is the column's own stands beside the box
            assert text.strip().startswith(read.values[control].strip()), what
        answered, refused = answered + bool(answer["lead"]), refused + bool(answer["errors"])
    assert answered + refused == COUNT
    assert answered > COUNT / 50  # the strings are not all so wild that no sum is ever tried
    assert refused > COUNT / 2


@pytest.mark.parametrize("opening", ["", "1", "a"])
@pytest.mark.parametrize(
    "repeated",
    [
        " ",
        "1 ",
        "1  ",
        "1-",
        "1,",
        "1, ",
        "1;",
        "1/",
        "1 / 2 3 / ",
        "1 ± 1 ",
        "± ",
        "+/- ",
        "½",
        "\n",
        "1\n",
        "<p>",
        "\0",
    ],
    ids=repr,
)
def test_a_line_as_long_as_a_book_costs_no_more_than_its_length(repeated, opening):
    """Reading time may grow with the length, never with its square: 100 kB of each pattern, in every field."""
    for length in (LONGEST // 10, LONGEST):  # the shorter first, so that a square shows before it takes minutes
        text = (opening + repeated * length)[: length - 1] + "x"
        for name, control in ONE_OF_A_KIND:
            if not control.endswith((".2", ".3", ".4", ".5")):  # these are as the first row
                assert seconds(name, typed_with(name, control, text)) < SLOWEST, (name, control, length)


@pytest.mark.parametrize("name", catalogue())
def test_one_string_in_every_field_at_once_names_every_field(name):
    found = catalogue()[name]
    typed = dict.fromkeys((control for owner, control in every_control() if owner == name), '"><b>\0🔧')
    with pytest.raises(InputErrors) as wrong:
        found.answer(typed, MARRAM)
    plain = {field.key for section in found.form.sections if not isinstance(section, Rows) for field in section.fields}
    assert plain <= {error.field for error in wrong.value.errors}
