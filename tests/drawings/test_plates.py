"""Every drawing of the kit: nothing touches, a leader ends where it says, and the same for any engine."""

from __future__ import annotations

import math
import re
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calculators import read_card
from calculators.bench.card import EngineCard
from calculators.drawings import drawn, follows_the_card, names
from calculators.drawings.kit.plate import CLOSED, FACE_ON, LETTERS, LOOKS, WIDTH
from tests.drawings.shapes import enters
from tests.examples import examples

ROOT = Path(__file__).resolve().parents[2]
CARDS = {path.stem: read_card(path) for path in sorted((ROOT / "docs" / "engines").glob("*.yml"))}
STYLESHEET = (ROOT / "docs" / "assets" / "bench.css").read_text(encoding="utf-8")
NAMES = names()
FOLLOWING = [name for name in NAMES if follows_the_card(name)]
STANDING = [name for name in NAMES if not follows_the_card(name)]


@cache
def of_the_book(name, card="marram-f4"):
    """Return a plate as one of the book's cards draws it."""
    return drawn(name, CARDS[card])


def faults(plate):
    """Return in words what a reader would stumble over, found by the geometry alone."""
    found = []
    boxes = [(label.words, (label.x, label.y, label.x + label.width, label.y + label.height)) for label in plate.labels]
    for words, (left, top, right, foot) in boxes:
        if left < 0 or top < 0 or right > WIDTH or foot > plate.height:
            found.append(f"{words!r} runs out of the frame")
    for (one, a), (other, b) in combinations(boxes, 2):
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]:
            found.append(f"{one!r} lies on {other!r}")
    leaders = [(label, list(pairwise(label.leader))) for label in plate.labels if label.leader]
    for label, pieces in leaders:
        found += [
            f"the leader of {label.words!r} crosses {words!r}"
            for words, frame in boxes
            if words != label.words and any(enters(piece, frame) for piece in pieces)
        ]
        ends_in = [piece for name, piece in plate.painted if name == label.part and piece.look in CLOSED]
        if not any(piece.path.holds(label.leader[-1]) for piece in ends_in):
            found.append(f"the leader of {label.words!r} does not end inside its {label.part}")
    for (one, a), (other, b) in combinations(leaders, 2):
        if any(_cross(p, q) for p in a for q in b):
            found.append(f"the leaders of {one.words!r} and {other.words!r} cross")
    shapes = [(index, _frame(p.path), p.path) for index, (_, p) in enumerate(plate.painted) if p.look in CLOSED]
    inside = [(words, (left + 1, top + 2, right - 1, foot - 2)) for words, (left, top, right, foot) in boxes]
    for index, name, line in _outlines(plate):
        for words, frame in inside:
            if enters(line, frame) and _is_seen(line, index, shapes, lambda part, frame=frame: enters(part, frame)):
                found.append(f"{words!r} lies on the outline of {name or 'an arrow'}")
        for label, pieces in leaders:
            if name in {label.part, *label.through}:
                continue
            for mine in pieces:
                if _cross(line, mine) and _is_seen(line, index, shapes, lambda part, mine=mine: _cross(part, mine)):
                    found.append(f"the leader of {label.words!r} crosses {name or 'an arrow'}")
    return sorted(set(found))


def _outlines(plate):
    """Yield each line with its place among what is painted, and the name of its part."""
    for index, (name, piece) in enumerate(plate.painted):
        if piece.look not in {"hatch", "blank", "fine"}:
            for stroke in piece.path.lines():
                for line in pairwise(stroke):
                    yield index, name, line


def _is_seen(line, index, shapes, touches):
    """Tell whether a part of a line that touches something is hidden by nothing painted later."""
    a, b = line
    count = max(1, math.ceil(math.dist(a, b) / 4))
    for k in range(count):
        p, q = _along(a, b, k / count), _along(a, b, (k + 1) / count)
        if touches((p, q)):
            middle = _along(p, q, 0.5)
            if not any(at > index and _inside(middle, frame) and path.holds(middle) for at, frame, path in shapes):
                return True
    return False


def _along(a, b, share):
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def _frame(path):
    points = [point for stroke in path.lines() for point in stroke] or [(0, 0)]
    return min(x for x, _ in points), min(y for _, y in points), max(x for x, _ in points), max(y for _, y in points)


def _inside(point, frame):
    return frame[0] < point[0] < frame[2] and frame[1] < point[1] < frame[3]


def _cross(one, other):
    (a, b), (c, d) = one, other

    def side(p, q, r):
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


@pytest.mark.parametrize("name", STANDING)
def test_nothing_touches_and_each_leader_ends_in_its_part(name):
    assert faults(of_the_book(name)) == []


@pytest.mark.parametrize("card", CARDS)
@pytest.mark.parametrize("name", FOLLOWING)
def test_nothing_touches_whichever_engine_of_the_book_it_is_drawn_from(name, card):
    assert faults(of_the_book(name, card)) == []


def _fact(value):
    return {"value": value, "source": "thrown dice"}


@st.composite
def cards(draw):
    """Return a card of any engine that the schema allows and a workshop could meet."""
    bore = draw(st.floats(45, 130))

    def length(least, most):
        return _fact(f"{draw(st.floats(least, most)):.2f} mm")

    cylinders = draw(st.sampled_from([1, 2, 4, 6]))
    numbers = list(range(1, cylinders + 1))
    banks = [numbers] if cylinders == 1 else [numbers[: cylinders // 2], numbers[cylinders // 2 :]]
    row = draw(st.integers(2, 5))
    pitch, high = draw(st.floats(24, 110)), draw(st.floats(30, 70))
    studs = [
        {
            "name": f"{'AB'[side]}{place}",
            "x": f"{(place - (row - 1) / 2) * pitch:.1f} mm",
            "y": f"{high * (1 - 2 * side):.1f} mm",
        }
        for side in (0, 1)
        for place in range(row)
    ]
    data = {
        "format": 1,
        "name": "Thrown",
        "about": "Thrown by dice.",
        "layout": {"cylinders": _fact(cylinders), "banks": _fact(banks)},
        "dimensions": {
            "bore": _fact(f"{bore:.1f} mm"),
            "stroke": length(0.5 * bore, 1.5 * bore),
            "barrel_length": length(0.9 * bore, 2 * bore),
            "inlet_valve_head": length(0.3 * bore, 0.55 * bore),
            "exhaust_valve_head": length(0.25 * bore, 0.5 * bore),
            "valve_stem": length(5, 12),
        },
        "springs": {
            "outside_diameter": length(20, 50),
            "wire_diameter": length(2, 7),
            "total_coils": _fact(draw(st.floats(3, 11))),
        },
        "valve_gear": {"adjuster_end": _fact(draw(st.sampled_from(["pushrod", "valve"])))},
    }
    if draw(st.booleans()):
        data["studs"] = {"cylinder_head": {"source": "thrown dice", "positions": studs}}
    return EngineCard("thrown", data)


@pytest.mark.parametrize("name", FOLLOWING)
@settings(max_examples=examples(20, nightly=500), deadline=None)  # of each plate
@given(card=cards())
def test_nothing_touches_for_any_engine(name, card):
    assert faults(drawn(name, card)) == []


@pytest.mark.parametrize("name", NAMES)
def test_face_on_says_which_way_is_up_and_where_the_pulley_is(name):
    plate = of_the_book(name)
    said = {label.words for label in plate.labels}
    assert plate.pose != FACE_ON or {"up", "pulley end"} <= said


@pytest.mark.parametrize("name", NAMES)
def test_says_in_words_what_it_shows_and_keeps_its_labels_few(name):
    plate = of_the_book(name)
    assert len(plate.shows) > 2 * len(plate.title)
    assert sum(bool(label.leader) for label in plate.labels) <= 9
    assert LETTERS * 288 / WIDTH >= 13


def test_a_figure_follows_its_card():
    for name in FOLLOWING:
        assert len({of_the_book(name, card).svg() for card in CARDS}) > 1, name


RULES = re.findall(r"([^{}]+)\{([^{}]+)\}", STYLESHEET[STYLESHEET.index("/* plates of the drawing kit") :])


def _rules(look):
    return [rule for which, rule in RULES if f".{look}" in re.split(r"[\s,()]+", which)]


def test_only_four_widths_are_drawn_and_blue_is_the_thickest():
    widths = {}
    for look in {*LOOKS.values(), "leader"}:
        found = [float(width) for rule in _rules(look) for width in re.findall(r"stroke-width: ([\d.]+)", rule)]
        widths[look] = found[0] if found else None
    assert set(widths.values()) == {None, 3.0, 2.2, 1.2, 1.0}
    assert widths["blue-outline"] == widths["blue-line"] == 3.0 > widths["ink-outline"] == widths["ink-line"]


def test_no_tint_carries_meaning():
    fills = {fill for look in LOOKS.values() for rule in _rules(look) for fill in re.findall(r"fill: ([^;]+);", rule)}
    assert fills == {"none", "var(--bench-paper)", "var(--bench-ink)", "var(--bench-blue)"}


def test_a_card_without_studs_gets_no_order_of_another_engine():
    plate = drawn("head-map", CARDS["layout-single"])
    assert "no studs on the card" in {label.words for label in plate.labels}
    assert not [label for label in plate.labels if label.words.isdigit()]
