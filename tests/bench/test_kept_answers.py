"""Answers that stand from one key to the next: a desk that takes them over answers as one that begins anew."""

import json
from graphlib import TopologicalSorter
from itertools import chain

import pytest
from hypothesis import given
from hypothesis import settings as options
from hypothesis import strategies as st

from calculators import browser
from calculators.bench.asking import rests_on
from calculators.bench.desk import Desk, Reading, path_of
from calculators.bench.question import entries_and_columns, provider, question, questions, rooms
from tests.cards import MARRAM as CARD
from tests.every_message import TEXTS
from tests.examples import examples

RATIO, RING_HEAT = "compression.ratio", "fits.ring_heat"
OWN = {"name": "mine", "own": True, "data": dict(CARD.data)}
EXAMPLE = {"name": CARD.name, "data": dict(CARD.data)}


def texts_by_path(names):
    """Return the texts that may be typed by path: into these questions and those that they rest on, three rows each."""
    found = {}
    for of in set(chain.from_iterable(rests_on(question(name)) for name in names)):
        known = Desk({}, CARD, example=True).ask(of.name).known
        for entry, table in entries_and_columns(of):
            for row in (1, 2, 3) if table else (0,):
                text = known[key].text if (key := f"{entry.key}.{row}" if row else entry.key) in known else ""
                found[path_of(of, entry, row)] = (*([text, text.replace("0", "1")] if text else ()), *TEXTS)
    return found


@st.composite
def typing(draw, most=12):
    """What is typed on one page, key after key: path and text, or path and nothing to empty the box."""
    names = draw(st.sampled_from([[of.name for of in of_room] for of_room in rooms().values()]))
    names = draw(st.permutations(names))[: draw(st.integers(1, len(names)))]
    texts = texts_by_path(names)
    key = st.sampled_from(sorted(texts)).flatmap(lambda path: st.tuples(st.just(path), st.sampled_from(texts[path])))
    return names, draw(st.lists(key, min_size=1, max_size=most)), draw(st.sampled_from((EXAMPLE, OWN, None)))


def message(names, readings, card, example):
    wanted = [{"name": name, "opened": [], "rows": {}, "whole": True} for name in names]
    asked = {"want": "questions", "questions": wanted, "quotes": [], "card": card, "example": example}
    return json.dumps(asked | {"readings": {path: {"text": text} for path, text in readings.items()}})


def anew(asked):
    """Return the answer of a desk that takes nothing over."""
    kept = dict(browser._desk_of_page)
    browser._desk_of_page.clear()
    try:
        return browser.answer_message(asked)
    finally:
        browser._desk_of_page.clear()
        browser._desk_of_page.update(kept)


@options(max_examples=examples(25))
@given(typing(), st.booleans())
def test_a_page_answers_as_if_it_were_asked_for_the_first_time(typed, example):
    names, keys, card = typed
    browser._desk_of_page.clear()
    readings = {}
    for path, text in keys:
        readings[path] = text
        asked = message(names, readings, card, example)
        assert browser.answer_message(asked) == anew(asked), (path, text)


def asked_again(monkeypatch, first, then, card=CARD, example=True, name=RATIO):
    """Return the names of the questions that are worked out anew."""
    before = None
    for _ in range(2):  # what was taken over once can be taken over again
        before = Desk(first, CARD, example=True, before=before)
        before.ask(name)
    worked_out = []
    really = Desk._worked_out
    monkeypatch.setattr(Desk, "_worked_out", lambda desk, of: (worked_out.append(of.name), really(desk, of))[1])
    Desk(then, card, example=example, before=before).ask(name)
    return worked_out


def test_only_what_rests_on_the_changed_reading_is_worked_out_anew(monkeypatch):
    gasket = {"gasket_thickness": Reading("1 mm")}
    assert asked_again(monkeypatch, {}, gasket) == [RATIO, "compression.spacers"]
    assert asked_again(monkeypatch, gasket, gasket | {"head_torque": Reading("30")}) == []


@pytest.mark.parametrize(
    ("card", "example"), [(CARD.without("dimensions.bore"), True), (CARD, False)], ids=["card", "example"]
)
def test_nothing_stands_on_another_card_or_without_the_example(monkeypatch, card, example):
    assert RATIO in asked_again(monkeypatch, {}, {}, card=card, example=example)


def test_a_rehearsal_works_it_all_out_each_time(monkeypatch):
    """What it is for is that the browser has its fast code for all of that."""
    worked_out = []
    really = Desk._worked_out
    monkeypatch.setattr(Desk, "_worked_out", lambda desk, of: (worked_out.append(of.name), really(desk, of))[1])
    asked = json.loads(message([RATIO], {}, EXAMPLE, True))
    browser._desk_of_page.clear()
    counts = []
    for more in ({}, {}, {"anew": True}):
        worked_out.clear()
        browser.answer_message(json.dumps(asked | more))
        counts.append(len(worked_out))
    assert counts[0] == counts[2] > counts[1] == 0


def test_a_reading_is_one_value_for_all_whoever_asks_for_it_first():
    """The bore, typed with its ±: two entries read it, and both have the error of whichever read it first."""
    typed = {"bore": Reading("80.00 ± 0.02 mm")}
    before = Desk(typed, CARD, example=True)
    before.ask(RATIO)
    desk = Desk(typed, CARD, example=True, before=before)
    first, then = (desk.ask(name).known["bore"].value for name in (RING_HEAT, RATIO))
    assert first is then


def test_no_question_rests_on_itself():
    """``static_order`` raises a CycleError."""
    under = {}
    for of in questions().values():
        shared = (entry.facts.shared_as for entry, _ in entries_and_columns(of) if entry.facts.shared_as)
        under[of] = {by for path in shared if (by := provider(path.partition(".")[0]))}
    assert any(under.values())
    assert set(TopologicalSorter(under).static_order()) == under.keys()


@pytest.mark.parametrize("name", questions())
def test_every_question_stands_where_nothing_changed(monkeypatch, name):
    assert asked_again(monkeypatch, {}, {}, name=name) == []
