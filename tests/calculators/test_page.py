"""HTML of every question: well-formed, labelled, nothing inline, and what people type stays text."""

import json
import re
from html.parser import HTMLParser
from urllib.parse import unquote

import pytest

from calculators import EngineCard
from calculators.bench.desk import Desk, Reading, path_of
from calculators.bench.entries import length
from calculators.bench.kinds import Measure
from calculators.bench.markup import shown, unbroken
from calculators.bench.page import View, changes, inner_html, question_html
from calculators.bench.question import entries_and_columns, questions
from calculators.bench.units import magnitude_in
from calculators.browser import answer_message
from tests.cards import MARRAM

HOSTILE = '"><img src=x onerror=alert(1)><script>alert(1)</script>'
VOID = {"input", "img", "br", "hr", "line", "rect", "circle", "path"}
every = pytest.mark.parametrize("of", [pytest.param(of, id=name) for name, of in questions().items()])


class Reader(HTMLParser):
    """Elements in order, and whether each is closed where it was opened."""

    def __init__(self, html):
        super().__init__()
        self.elements, self.open = [], []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attributes):
        self.elements.append({"tag": tag, **dict(attributes)})
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.elements.append({"tag": tag, **dict(attributes)})

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def elements(html, tag=None):
    reader = Reader(html)
    assert not reader.open
    return [element for element in reader.elements if tag in (None, element["tag"])]


def whole(of, readings=None, card=MARRAM):
    return question_html(Desk(readings or {}, card, example=True).ask(of.name), "Marram F4", "marram-f4")


@every
def test_a_question_is_well_formed_and_every_id_is_its_own(of):
    ids = [element["id"] for element in elements(whole(of)) if "id" in element]
    assert len(ids) == len(set(ids))


@every
def test_every_control_has_a_name_for_who_hears_it_and_every_description_is_there(of):
    found = elements(whole(of))
    ids = {element["id"] for element in found if "id" in element}
    labelled = {element["for"] for element in found if element["tag"] == "label" and "for" in element}
    for control in found:
        if control["tag"] in ("input", "select") and "data-step" not in control and control.get("type") != "hidden":
            assert control.get("aria-label") or control.get("id") in labelled, control
        assert set(control.get("aria-describedby", "").split()) <= ids


@every
def test_nothing_is_inline_script_or_style(of):
    for element in elements(whole(of)):
        assert element["tag"] not in ("script", "style")
        assert not [name for name in element if name.startswith("on") or name == "style"]


@every
def test_hostile_text_in_any_box_stays_text(of):
    paths = [path_of(of, entry, 1 if table else 0) for entry, table in entries_and_columns(of)]
    html = whole(of, {path: Reading(HOSTILE) for path in paths})
    assert not elements(html, "img")
    assert not elements(html, "script")
    for element in elements(html, "input"):
        assert element.get("value", "") in ("", HOSTILE) or "data-step" in element


def test_a_hostile_card_stays_text():
    data = json.loads(json.dumps(MARRAM.data))
    data["torques"]["cylinder_head"]["value"] = HOSTILE
    data["name"] = HOSTILE
    html = whole(questions()["torque.wrench"], card=EngineCard("odd", data))
    assert not elements(html, "img")


@every
def test_boxes_keep_what_was_typed_and_its_unit(of):
    for entry, table in entries_and_columns(of):
        if not isinstance(entry.kind, Measure) or len(entry.measure.units) < 2:
            continue
        unit = entry.measure.units[1].symbol
        path = path_of(of, entry, 1 if table else 0)
        (box,) = [one for one in elements(whole(of, {path: Reading("12,5", unit)})) if one.get("data-path") == path]
        assert box["value"] == "12,5"
        return


@pytest.mark.parametrize("text", ["½ in", "3 ½ in", "3/8 in", "4 in ± 0.01 in", "4 ± 0.01 in"])
def test_parting_number_and_unit_loses_nothing(text):
    entry = length("A", 1, 200, why="x")
    box, beside = shown(entry, text)
    assert magnitude_in(entry.kind.read(box, str, beside), "mm") == magnitude_in(entry.kind.read(text, str), "mm")


def test_a_number_pad_is_offered_where_no_minus_can_occur():
    shown = elements(whole(questions()["torque.wrench"]), "input")
    boxes = {one["data-path"]: one for one in shown if "name" in one}
    assert boxes["head_torque"]["inputmode"] == "decimal"
    assert boxes["torque.wrench.passes"]["inputmode"] == "numeric"
    assert {one["inputmode"] for one in shown if "data-part" in one} == {"decimal"}
    assert {box["type"] for box in boxes.values()} == {
        "text",
        "hidden",
    }  # several boxes are one reading, carried unseen


@pytest.mark.parametrize(
    "text",
    [
        "7.53 to 7.61\u00a0: 1",
        "34\u00a0N·m (25.1\u00a0lbf·ft)",
        "3 more turns",
        "4 inches",
        "20\u00a0°C",
        "5 hours",
        "5\u00a0h.",
    ],
)
def test_no_number_parts_from_its_unit_at_the_end_of_a_line(text):
    assert unbroken(text.replace("\u00a0", " ")) == text


def test_a_message_is_answered_with_a_message():
    asked = {
        "want": "questions",
        "questions": [{"name": "torque.wrench", "opened": [], "rows": {}, "whole": False}],
        "quotes": ["torque.wrench.order"],
        "card": {"name": MARRAM.name, "data": MARRAM.data},
        "readings": {
            "head_torque": {"text": "20", "unit": "lbf·ft", "when": "2026-11-25T10:00:00Z"},
            "wrench_step": {"text": "1", "unit": "N·m", "when": "2026-11-25T10:00:00Z"},
        },
        "example": True,
    }
    answer = json.loads(answer_message(json.dumps(asked)))
    assert "27 N·m" in answer["questions"]["torque.wrench"]["answer"].replace("\u00a0", " ")  # NIST SP 811, B.8
    assert answer["quotes"]["torque.wrench.order"]["whose"] == "example"


def test_a_fold_that_is_closed_on_the_page_is_sent_empty_and_an_open_one_open_and_whole():
    asked = Desk({}, MARRAM, example=True).ask("torque.wrench")
    shut, opened = (changes(View(asked, "Marram F4", folds), {})["folds"] for folds in ((), ("working",)))
    assert "bench-formula" not in shut
    assert re.search(r'data-fold="working" open>', opened)
    assert "bench-formula" in opened


@every
def test_a_file_to_take_away_is_in_its_link_to_the_letter(of):
    asked = Desk({}, MARRAM, example=True).ask(of.name)
    links = [one for one in elements(inner_html(View(asked, "Marram F4"))) if "download" in one]
    assert [link["download"] for link in links] == [item.name for item in asked.answer.attachments]
    for link, item in zip(links, asked.answer.attachments, strict=True):
        head, _, text = link["href"].partition(",")
        assert (head, unquote(text)) == (f"data:{item.media_type};charset=utf-8", item.text)
