"""The figures that questions draw, held to the book's hand: letters, widths, orientation, nothing on anything."""

from __future__ import annotations

import inspect
import itertools
import re
import sys
import time
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calculators import read_card
from calculators.bench.desk import Desk, Reading
from calculators.bench.drawing import HATCH, LETTERS, Drawing
from calculators.bench.question import questions
from calculators.drawings.kit.plate import HATCH as HATCH_OF_PLATES
from tests.bench.test_every_answer import drawings_of, inside, typed_texts
from tests.drawings.shapes import Shape, Words, faults, read
from tests.examples import examples
from tests.processor import is_within

ROOT = Path(__file__).resolve().parents[2]
CARDS = {path.stem: read_card(path) for path in sorted((ROOT / "docs" / "engines").glob("*.yml"))}
STYLESHEET = (ROOT / "docs" / "assets" / "bench.css").read_text(encoding="utf-8")
RULES = re.findall(r"([^{}]+)\{([^{}]+)\}", STYLESHEET[STYLESHEET.index("/* Drawings:") :])
PHONE, WIDE = 320, 340
every = pytest.mark.parametrize("of", [pytest.param(of, id=name) for name, of in questions().items()])


@cache
def example_on(card):
    """Return the desk with a card's example on it: each question is worked out once, for all that rest on it."""
    return Desk({}, CARDS[card], example=True)


def figures_of(of, readings=None, card="marram-f4"):
    desk = Desk(readings, CARDS[card], example=True) if readings else example_on(card)
    answer = desk.ask(of.name).answer
    return [figure for figure in (drawings_of(answer) if answer else ()) if 'class="bench-drawing"' in figure.svg]


def told(figures, typed=False):
    """Return the faults by figure; studs stand where a person puts them, also onto one another."""
    found = {figure.key: faults(figure.svg) for figure in figures if not (typed and figure.key == "stud_map")}
    return {key: said for key, said in found.items() if said}


@every
def test_nothing_lies_on_anything_in_the_example(of):
    found = {card: told(figures_of(of, card=card)) for card in CARDS}
    assert {card: said for card, said in found.items() if said} == {}


@every
@given(data=st.data())
@settings(max_examples=examples(12, nightly=400), deadline=None, suppress_health_check=list(HealthCheck))  # a question
def test_nothing_lies_on_anything_whatever_is_typed(of, data):
    readings = typed_texts(of, inside, data)
    assert told(figures_of(of, readings, data.draw(st.sampled_from(sorted(CARDS)))), typed=True) == {}


CROWDED = {
    "compression.spacers": ({"target_ratio": "3.0", "most_pieces": "3"}, "layout-flat-four-1324"),
    "fasteners.convert": ({"fasteners.convert.torque": "90388.000 N·m"}, "dunlin-f2"),
    "fits.seat": (
        {"inlet_line.1": "10.000 mm", "calliper_error": "0.000 mm", "inlet_seat_width.1": "0.000 mm"},
        "dunlin-f2",
    ),
    "measuring.chambers": (
        {"burette_capacity": "5.000 cm³", "measuring.chambers.fill.1": "216.000 cm³"},
        "dunlin-f2",
    ),
    "measuring.decks": ({"depths.1": "0.000 mm; 10.000 mm; 0.000 mm; 0.000 mm"}, "dunlin-f2"),
    "measuring.decks, eight points": (
        {"depths.1": "0 mm; 0 mm; 0 mm; 0 mm; 0 mm; 0 mm; 0 mm; 100 mm"},
        "dunlin-f2",
    ),
    "measuring.straight": ({"bore": "30.000 mm", "gauge_zero": "1.000 mm"}, "dunlin-f2"),
    "ports.filling": ({"inlet_valve_head": "95.000 mm"}, "dunlin-f2"),
    "ports.gas_speed": (
        {"engine_speed": "100.000 r/min", "gasket_area": "20.000 mm²", "pipe_area": "1168.000 mm²"},
        "dunlin-f2",
    ),
    "running_in.oil_pressure": ({"fast_idle": "10000.000 r/min; 10001.000 r/min"}, "dunlin-f2"),
    "sealing.order": ({"sealing.order.cure.1": "305.000 h"}, "dunlin-f2"),
    "sealing.seals": ({"sealing.seals.fitted.1": "0.055 mm ± 0.05"}, "dunlin-f2"),
    "springs.stress": ({"spring_wire.1": "1.000 mm", "spring_outside.1": "55.000 mm"}, "dunlin-f2"),
    "timing.cam": ({"exhaust_opens_before_bottom": "0.000 °"}, "dunlin-f2"),
    "timing.marks": ({"full_advance": "-1.000 °", "static_advance": "-1.000 °"}, "dunlin-f2"),
}
"""Readings that once crowded a figure, and the card they met."""


@pytest.mark.parametrize("name", CROWDED)
def test_nothing_lies_on_anything_where_it_was_crowded(name):
    texts, card = CROWDED[name]
    readings = {path: Reading(text) for path, text in texts.items()}
    figures = figures_of(questions()[name.partition(",")[0]], readings, card)
    assert figures
    assert told(figures, typed=True) == {}


@every
def test_letters_are_13_pixels_high_on_the_narrowest_phone(of):
    for figure in figures_of(of):
        width, _, painted = read(figure.svg)
        if figure.size == "half":
            assert min(one.size for one in painted if isinstance(one, Words)) * 257 / width >= 13
        else:
            assert width == WIDE
            assert min((one.size for one in painted if isinstance(one, Words)), default=14) * PHONE / WIDE >= 13
    assert LETTERS * PHONE / WIDE >= 13


def test_a_figure_runs_from_edge_to_edge_of_a_phone_also_in_a_step():
    sheet = (ROOT / "docs" / "assets" / "question.css").read_text(encoding="utf-8")
    (narrow,) = re.findall(r"@media screen and \(max-width: 30rem\) \{[^\n]*\n(.*?)\n\}", sheet, re.DOTALL)
    assert ".q-figure:not(.q-half) > svg { width: calc(100% + 1.6rem); margin-inline: -0.8rem; }" in narrow
    assert "li .q-figure:not(.q-half) > svg" in narrow


def _rules(look):
    return [rule for which, rule in RULES if f".{look}" in re.split(r"[\s,()]+", which)]


def looks_drawn():
    """Return every look that a figure of an example has."""
    found = set()
    for of in questions().values():
        for figure in figures_of(of):
            _, _, painted = read(figure.svg)
            found |= {look for one in painted if isinstance(one, Shape) for look in one.looks}
    return found


def test_lines_have_four_widths_and_what_is_in_hand_the_thickest():
    widths = {}
    for look in looks_drawn() - {"first"}:
        rules = _rules(look)
        assert rules, look
        widths[look] = {float(width) for rule in rules for width in re.findall(r"stroke-width: ([\d.]+)", rule)}
    assert set().union(*widths.values()) <= {3.0, 2.2, 1.2, 1.0}
    assert widths["hand"] == widths["spacer"] == {3.0}
    assert widths["hatch"] == {1.0}


def test_no_tint_says_anything():
    fills = {fill for look in looks_drawn() for rule in _rules(look) for fill in re.findall(r"fill: ([^;]+);", rule)}
    assert fills <= {"none", "transparent", "var(--bench-paper)", "var(--bench-ink)", "var(--bench-blue)"}
    filled_blue = {look for look in looks_drawn() for rule in _rules(look) if "fill: var(--bench-blue)" in rule}
    assert filled_blue <= {"head", "hand", "blue-solid"}  # the head of an arrow, and nothing larger


def _luminance(colour):
    digits = colour.removeprefix("#")
    digits = "".join(digit * 2 for digit in digits) if len(digits) == 3 else digits
    channels = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("scheme", [":root", '[data-md-color-scheme="slate"]'])
def test_what_is_drawn_stands_out_three_to_one(scheme):
    # WCAG 2.2, success criterion 1.4.11; relative luminance as its glossary defines it
    (colours,) = re.findall(re.escape(scheme) + r" \{(.*?)\n\}", STYLESHEET, re.DOTALL)[:1]
    named = dict(re.findall(r"--bench-(ink|paper|blue|danger): (#[0-9a-f]+)", colours))
    paper = _luminance(named.pop("paper"))
    for name, colour in named.items():
        light, dark = sorted((_luminance(colour), paper), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 3, name
    strokes = {
        colour
        for look in looks_drawn()
        for rule in _rules(look)
        for colour in re.findall(r"(?<![-\w])stroke: var\(--bench-(\w+)\)", rule)
    }
    assert strokes <= {"ink", "paper", "blue", "danger"}


@every
def test_each_figure_says_in_words_what_it_shows(of):
    for figure in figures_of(of):
        assert len(re.search(r'aria-label="([^"]*)"', figure.svg).group(1)) > 20


FROM_ABOVE = {
    "compression.head_shift": "barrels",
    "compression.made": "barrels",
    "compression.spacers": "barrels",
    "cylinders.points_to": "suspects",
    "lash.plan": "plan",
    "measuring.decks": "decks",
}


@pytest.mark.parametrize("name", [name for name in FROM_ABOVE if name in questions()])
def test_a_map_from_above_says_where_the_pulley_is(name):
    figures = figures_of(questions()[name])
    assert any("pulley" in one.text for figure in figures for one in read(figure.svg)[2] if isinstance(one, Words))


@pytest.mark.parametrize("name", ["torque.wrench", "torque.stud_order", "torque.rocker_posts"])
def test_a_head_seen_face_on_says_which_way_is_up_and_where_the_pulley_is(name):
    (head,) = [figure for figure in figures_of(questions()[name]) if figure.key == "stud_map"]
    words = {one.text: one for one in read(head.svg)[2] if isinstance(one, Words)}
    assert {"up", "pulley end"} <= set(words)
    # seen from its own outside, the head on the right as the pulley's side sees it has the pulley to its left
    assert words["right head"].left < words["up"].left < words["left head"].left
    assert "The pulley end is to the left on the right head" in head.svg


@pytest.mark.parametrize("name", ["compression.levers", "compression.spacers", "compression.ratio"])
def test_a_cylinder_lies_as_it_lies_in_the_engine(name):
    places = {}
    for figure in figures_of(questions()[name]):
        words = [one for one in read(figure.svg)[2] if isinstance(one, Words)]
        places |= {one.text: one.left for one in words if one.text in {"case", "head"}} if len(words) > 4 else {}
    assert places["case"] < places["head"]


def test_hatch_stays_inside_its_outline_and_stands_as_far_apart_as_that_of_the_plates():
    assert HATCH == HATCH_OF_PLATES
    drawing = Drawing(100, 100)
    drawing.cut([(0, 0), (40, 0), (40, 20), (20, 20), (20, 60), (0, 60)], "aluminium")
    (lines,) = re.findall(r'class="hatch" d="([^"]*)"', drawing.svg("A cut angle of metal"))
    pieces = [[float(number) for number in re.findall(r"[\d.]+", piece)] for piece in lines.split("M") if piece]
    levels = sorted(x + y for x, y, _, _ in pieces)
    steps = [later - sooner for sooner, later in itertools.pairwise(levels) if later - sooner > 0.5]
    assert steps == pytest.approx([6 * 2**0.5] * len(steps), abs=0.25)  # points are written to a tenth
    assert len(steps) > 5
    for x1, y1, x2, y2 in pieces:
        assert x1 + y1 == pytest.approx(x2 + y2, abs=0.25)  # at 45°
        x, y = (x1 + x2) / 2, (y1 + y2) / 2
        assert x <= 20.1 or y <= 20.1


MOST = 0.003  # s for all figures of one answer


def _draws(thing):
    """Tell whether a function returns a figure."""
    of = getattr(thing, "__wrapped__", thing)
    return inspect.isfunction(of) and of.__annotations__.get("return") == "Figure"


@pytest.fixture(scope="module")
def drawing_time():
    """Keep the time that functions which return a figure take, each worked out anew."""
    taken = {"seconds": 0.0, "inside": False}

    def timed(draw):
        def run(*given, **named):
            if taken["inside"]:
                return draw(*given, **named)
            taken["inside"] = True
            costs = []
            for _ in range(3):  # the least of them: what else the processor does only adds
                started = time.process_time()
                drawn = draw(*given, **named)
                costs.append(time.process_time() - started)
            taken["inside"] = False
            taken["seconds"] += min(costs)
            return drawn

        return run

    patch = pytest.MonkeyPatch()
    for module in [module for name, module in sys.modules.items() if name.startswith("calculators.")]:
        for name, thing in list(vars(module).items()):
            if _draws(thing):
                patch.setattr(module, name, timed(getattr(thing, "__wrapped__", thing)))
    yield taken
    patch.undo()


@every
def test_the_figures_of_an_answer_cost_three_milliseconds_at_most(of, drawing_time):
    costs = []
    for _ in range(5):
        drawing_time["seconds"] = 0.0
        assert Desk({}, CARDS["marram-f4"], example=True).ask(of.name).answer
        costs.append(drawing_time["seconds"])
        if costs[-1] < MOST:
            break
    assert is_within(min(costs), MOST)
