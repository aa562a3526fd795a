"""Ten thousand strings that no careful person types: each has an answer or a message, quickly, and stays text."""

import json
import time
from html.parser import HTMLParser
from itertools import cycle

import pytest

from calculators.bench.desk import Desk, Reading, path_of
from calculators.bench.page import question_html
from calculators.bench.question import entries_and_columns, questions
from calculators.browser import answer_message
from tests.bad_input import LONGEST, bad_strings
from tests.cards import MARRAM

COUNT = 10_000
SLOWEST = 0.050  # s of this processor for one answer; the browser's Python takes about four times as long
FILES = ("data:text/calendar;", "data:text/csv;", "data:image/svg+xml;")  # to take away, made by us
WHOLE_PAGE = 10  # every tenth question is asked for with its boxes, so that typed text comes back as HTML


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
        if tag == "input" and "data-path" in found:
            self.values[found["data-path"]] = found["value"]
        self.links += [target for name, target in attributes if name in ("href", "src", "action")]

    def handle_comment(self, data):
        self.made_of.add("comment")

    def handle_decl(self, decl):
        self.made_of.add("declaration")

    def handle_data(self, data):
        self.text += data


def boxes():
    """Yield every box that a page of ours has: each entry, and the first rows of each table."""
    for of in questions().values():
        for entry, table in entries_and_columns(of):
            for row in range(1, min(table.most, 3) + 1) if table else (0,):
                yield of, entry, path_of(of, entry, row)


BOXES = list(boxes())
ONE_OF_A_KIND = list(
    {(type(entry.kind), type(entry.each), "." in path): (of, entry, path) for of, entry, path in BOXES}.values()
)


def ask(of, path, text, whole):
    asked = {
        "want": "questions",
        "questions": [{"name": of.name, "opened": [], "rows": {}, "whole": whole}],
        "quotes": [],
        "card": {"name": MARRAM.name, "data": MARRAM.data},
        "readings": {path: {"text": text, "when": "2026-11-25T10:00:00Z"}},
        "example": True,
    }
    return json.loads(answer_message(json.dumps(asked)))["questions"][of.name]


def seconds(of, path, text):
    """Return the processor time of one answer; the best of three, as a busy machine slows all of them."""
    best = float("inf")
    for _ in range(3):
        started = time.process_time()
        Desk({path: Reading(text)}, MARRAM, example=True).ask(of.name)
        best = min(best, time.process_time() - started)
        if best < SLOWEST:
            break
    return best


@pytest.fixture(scope="module")
def known():
    """Every tag and attribute that our own templates and drawings use, seen in examples and in errors."""
    found = set()
    for of in questions().values():
        for readings in ({}, {path_of(of, entry): Reading("?") for entry in of.entries()}):
            asked = Desk(readings, MARRAM, example=True).ask(of.name)
            found |= Markup(question_html(asked, "Marram F4", "marram-f4")).made_of
    return found


def test_ten_thousand_strings_end_as_an_answer_or_a_message_and_stay_text(known):
    answered, refused = 0, 0
    for number, ((of, _, path), text) in enumerate(zip(cycle(BOXES), bad_strings(COUNT), strict=False)):
        what = f"{of.name}, {path}: {text[:80]!r}"
        whole = number % WHOLE_PAGE == 0
        started = time.process_time()
        answer = ask(of, path, text, whole)
        if time.process_time() - started > 4 * SLOWEST:
            assert seconds(of, path, text) < SLOWEST, what
        errors = [box["error"] for box in answer["boxes"].values() if box["error"]]
        assert all(error[0].isupper() and len(error) < 400 for error in errors), what
        assert answer["state"] in ("example", "mixed", "yours", "lacking", "wrong"), what
        read = Markup(answer["answer"] + answer["folds"] + answer.get("html", ""))
        assert read.made_of <= known, what
        assert all(target.startswith(("#", *FILES)) for target in read.links), what
        assert "Traceback" not in read.text, what
        if path in read.values and text.strip() and not {"\r", "\0"} & set(text):  # these no HTML holds
            assert read.values[path] == text, what
        answered, refused = answered + (not errors), refused + bool(errors)
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
    """Reading time may grow with the length, never with its square: 100 kB of each pattern, in every kind of entry."""
    for length in (LONGEST // 10, LONGEST):  # the shorter first, so that a square shows before it takes minutes
        text = (opening + repeated * length)[: length - 1] + "x"
        for of, _, path in ONE_OF_A_KIND:
            assert seconds(of, path, text) < SLOWEST, (of.name, path, length)


@pytest.mark.parametrize("name", questions())
def test_one_string_in_every_box_at_once_names_every_box(name):
    of = questions()[name]
    paths = {path for asked, _, path in BOXES if asked is of}
    asked = Desk(dict.fromkeys(paths, Reading('"><b>\0🔧')), MARRAM, example=True).ask(name)
    plain = {entry.key for entry in of.entries()}
    assert plain <= {error.field for error in asked.errors}
