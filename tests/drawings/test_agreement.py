"""What drawings and figures tell of the engine: the same in all of them, and mechanically true."""

from __future__ import annotations

import math
import re
from functools import cache
from itertools import combinations

import pytest

from calculators.bench.engine_map import engine_map
from calculators.bench.question import questions
from calculators.drawings import drawn
from calculators.drawings.kit.plate import LOOKS
from tests.drawings.shapes import Shape, Words, read
from tests.drawings.test_figures import CARDS, STYLESHEET, every, figures_of

TWO_BANKS = [name for name, card in CARDS.items() if len(card.fact("layout.banks") or ()) == 2]
LINKS = dict.fromkeys(("head", "barrel", "case", "cover", "pulley"), ("1", "page/"))
RULES = re.findall(r"([^{}]+)\{([^{}]+)\}", STYLESHEET[STYLESHEET.index("/* Drawings:") :])


def on_the_engine_map(card):
    """Return where each cylinder lies on the map of the job, by its number; its pulley is at the foot."""
    banks = card.fact("layout.banks")
    painted = engine_map(banks, LINKS, "map")
    written = re.findall(r'<text class="number" x="([\d.]+)" y="([\d.]+)"[^>]*>(\d+)<', painted)
    places = {int(number): (float(x), float(y)) for x, y, number in written}
    assert sorted(places) == sorted(number for bank in banks for number in bank)
    return places


def seen_from_above(svg, numbers):
    """Return where a figure writes each cylinder's number, and its words on the pulley; none for what is no map.

    Words ``up`` are those of a head face on; a pulley seen from its own end has cylinders as marks.
    """
    words = [one for one in read(svg)[2] if isinstance(one, Words)]
    pulley = [one for one in words if "pulley" in one.text]
    places = {one.text: ((one.left + one.right) / 2, one.top) for one in words}
    once = all(sum(one.text == str(number) for one in words) == 1 for number in numbers)
    if not pulley or "up" in places or "own end" in pulley[0].text or not once:
        return None
    return {number: places[str(number)] for number in numbers}, pulley[0].top


def against(places, pulley, reference):
    """Return in words where a map from above is another than the map of the job."""
    found = []
    for one, other in combinations(sorted(reference), 2):
        for axis, said in ((0, "left of"), (1, "above")):
            wanted, got = (ground[one][axis] - ground[other][axis] for ground in (reference, places))
            if abs(wanted) > 1 and wanted * got <= 0:
                found.append(f"{one} is not {said if wanted < 0 else f'not {said}'} {other}")
    found += [f"the pulley is not below {number}" for number, (_, y) in places.items() if pulley <= y]
    return found


@every
def test_every_map_from_above_lies_as_the_map_of_the_job(of):
    for card in TWO_BANKS:
        reference = on_the_engine_map(CARDS[card])
        for figure in figures_of(of, card=card):
            if seen := seen_from_above(figure.svg, reference):
                assert against(*seen, reference) == [], (card, figure.key)


@pytest.mark.parametrize("name", ["compression.spacers", "compression.head_shift", "cylinders.points_to", "lash.plan"])
def test_maps_from_above_are_found(name):
    reference = on_the_engine_map(CARDS["marram-f4"])
    assert any(seen_from_above(figure.svg, reference) for figure in figures_of(questions()[name]))


def turned(places, middle):
    """Return where the points 1 to 4 lie about their middle, in degrees clockwise from above."""
    x, y = middle
    angles = [math.degrees(math.atan2(places[str(k)][0] - x, y - places[str(k)][1])) for k in range(1, 5)]
    return [round(angle, 2) % 360 for angle in angles]


def pulley_side(number, card):
    """Return on which side the pulley end lies for who looks at a cylinder's crown from outside, upright."""
    places = on_the_engine_map(card)
    middle = sum(x for x, _ in places.values()) / len(places)
    return "right" if places[number][0] < middle else "left"


@pytest.mark.parametrize("card", TWO_BANKS)
def test_deck_points_count_clockwise_from_the_pulley_end_of_each_bank(card):
    card = CARDS[card]
    plate = drawn("deck-points", card)
    middles = {
        label.words: (label.x + label.width / 2, label.y + label.height / 2)
        for label in plate.labels
        if not label.boxed
    }
    faces = [int(words.split()[-1]) for words in middles if words.startswith("cylinder")]
    assert [any(number in bank for number in faces) for bank in card.fact("layout.banks")] == [True, True]
    for number in faces:
        centre = middles[f"cylinder {number}"][0]
        points = {
            label.words: (label.x + label.width / 2, label.y + label.height / 2)
            for label in plate.labels
            if label.words.isdigit() and abs(label.x - centre) < 80
        }
        x, y = (sum(at[axis] for at in points.values()) / 4 for axis in (0, 1))
        turns = turned(points, (x, y))
        first = {"left": 270, "right": 90}[pulley_side(number, card)]
        assert turns == pytest.approx([(first + 90 * k) % 360 for k in range(4)])
        arrows = [label for label in plate.labels if label.words == "pulley end" and abs(label.x - centre) < 80]
        assert len(arrows) == 1


def test_the_deck_answer_counts_its_points_as_the_drawing_does():
    (decks,) = [one for one in figures_of(questions()["measuring.decks"]) if one.key == "decks"]
    words = [one for one in read(decks.svg)[2] if isinstance(one, Words)]
    assert "its pulley end up" in decks.title
    numbers = [one for one in words if one.text in {"1", "2", "3", "4"}]
    assert len(numbers) == 16
    for at in range(0, 16, 4):
        places = {one.text: ((one.left + one.right) / 2, (one.top + one.foot) / 2) for one in numbers[at : at + 4]}
        x, y = (sum(place[axis] for place in places.values()) / 4 for axis in (0, 1))
        turns = turned(places, (x, y))
        assert turns == pytest.approx([0, 90, 180, 270], abs=0.5)


@cache
def fill_of(looks):
    """Return what fills a shape of these looks, as the stylesheet's later rules have it."""
    fill = ""
    for which, rule in RULES:
        selectors = [part.strip() for part in which.split(",")]
        for selector in selectors:
            last = selector.split()[-1] if selector.split() else ""
            names = set(re.findall(r"\.([\w-]+)", last))
            if ".bench-drawing" in selector and selector.count(" ") == 1 and names and names <= looks:
                fill = (re.findall(r"fill: ([^;]+);", rule) or [fill])[-1]
    return fill


def on_filled(painted):
    """Return the words that stand on ink or on blue, as the shape that is painted last below them is filled."""
    found = []
    for index, one in enumerate(painted):
        if not isinstance(one, Words):
            continue
        middle = (one.left + one.right) / 2, (one.top + one.foot) / 2
        below = [
            fill
            for shape in painted[:index]
            if isinstance(shape, Shape) and shape.closed and shape.holds(middle)
            for fill in [fill_of(shape.looks)]
            if fill not in {"", "none", "transparent"}
        ]
        if below and below[-1] in {"var(--bench-ink)", "var(--bench-blue)"}:
            found.append(one.text)
    return found


@every
def test_no_words_stand_on_ink_or_on_blue(of):
    for card in CARDS:
        for figure in figures_of(of, card=card):
            assert on_filled(read(figure.svg)[2]) == [], (card, figure.key)


def test_words_on_blue_would_be_seen():
    blue = Shape(frozenset({"hand", "head"}), ((0, 0), (40, 0), (40, 40), (0, 40)), closed=True)
    assert on_filled([blue, Words("shut it", 4, 10, 36, 24, 14)]) == ["shut it"]
    assert {"blue-solid", "ink-solid"} <= set(LOOKS.values())


def test_hot_ring_that_is_said_to_meet_is_drawn_closed():
    (figure,) = [one for one in figures_of(questions()["fits.ring_heat"]) if one.key == "cold_and_hot"]
    cold, hot = [one.points for one in read(figure.svg)[2] if isinstance(one, Shape) and "blade" in one.looks]
    assert math.dist(cold[0], cold[-1]) > 10
    assert math.dist(hot[0], hot[-1]) < 0.2
    assert sum("cross" in one.looks for one in read(figure.svg)[2] if isinstance(one, Shape)) == 2
    assert "hot: ends meet" in figure.svg


def lines_of(plate, *looks, name=""):
    """Return the points of what is painted in these looks, as straight pieces."""
    return [
        stroke
        for called, piece in plate.painted
        if piece.look in looks and (not name or called == name)
        for stroke in piece.path.lines()
    ]


def reach_of(strokes):
    xs, ys = [x for stroke in strokes for x, _ in stroke], [y for stroke in strokes for _, y in stroke]
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("card", CARDS)
def test_the_good_spring_touches_the_square_and_the_other_leans_from_it(card):
    plate = drawn("spring-lean", CARDS[card])
    squares = lines_of(plate, "outline", name="square")
    for look, square in (("outline", squares[0]), ("held", squares[1])):
        springs = lines_of(plate, look, name="spring")
        blade = max(x for x, y in square if y < 200)
        assert 0 <= reach_of(springs)[0] - blade < 2.2  # the two outlines meet
        top = min(x for stroke in springs for x, y in stroke if y < 110)
        assert (top - blade > 8) == (look == "held")


@pytest.mark.parametrize("card", CARDS)
def test_the_blade_stands_in_the_gap_and_both_ends_of_the_ring_touch_it(card):
    plate = drawn("ring-square", CARDS[card])
    (blade,) = lines_of(plate, "solid", name="blade")
    ring = lines_of(plate, "held", name="ring")[-1]
    middle = (160.0, 372.0)
    angles = sorted(math.degrees(math.atan2(x - 160, 372 - y)) % 360 for x, y in ring if math.dist((x, y), middle) > 70)
    gap = min(angle for angle in angles if angle > 60) - max(angle for angle in angles if angle < 60)
    ends = [math.dist(middle, point) for point in blade]
    across = math.dist(blade[0], blade[3])
    assert max(ends) > 75  # as far out as the ring
    assert math.radians(gap) * 72 - across < 3.5  # what is left on both sides is the width of the outline


def test_nobody_is_led_in_front_of_the_vehicle_or_behind_it():
    plate = drawn("first-start-places", CARDS["marram-f4"])
    _, front, _, rear = reach_of(lines_of(plate, "outline", name="vehicle"))
    walks = [stroke for stroke in lines_of(plate, "held-open") if len(stroke) == 2 and stroke[0][0] == stroke[1][0]]
    assert len(walks) == 2
    assert all(front < y < rear for stroke in walks for _, y in stroke)
    directions = [stroke[1][1] - stroke[0][1] for stroke in walks]
    assert min(directions) < 0 < max(directions)


def test_skirt_bears_on_the_fork_and_the_fork_on_the_case():
    plate = drawn("closing-the-rings", CARDS["marram-f4"])
    case, fork = (reach_of(lines_of(plate, "outline", name=name)) for name in ("case", "fork"))
    skirt = reach_of(lines_of(plate, "outline", name="piston")[:1])
    assert fork[0] - case[2] == pytest.approx(0, abs=1.5)
    assert skirt[0] - fork[2] == pytest.approx(0, abs=1.5)


def test_the_gasket_lies_in_its_recess_and_touches_the_even_flange():
    plate = drawn("flange-even", CARDS["marram-f4"])
    gaskets = [reach_of([stroke]) for stroke in lines_of(plate, "held-solid", name="gasket")]
    flange = reach_of(lines_of(plate, "outline", name="flange"))
    heads = [piece.path for name, piece in plate.painted if name == "head"]
    assert len(gaskets) == 2
    for left, top, right, foot in gaskets:
        assert flange[0] - right == pytest.approx(1, abs=0.5)
        middle = (top + foot) / 2
        assert not any(head.holds((left + 5, middle)) for head in heads)  # the recess
        assert any(head.holds((left - 3, middle)) for head in heads)  # its floor


def test_the_wrong_eye_sits_on_the_case():
    plate = drawn("hollow-bolt", CARDS["marram-f4"])
    eyes = [reach_of([stroke]) for stroke in lines_of(plate, "outline", name="eye")]
    face = reach_of(lines_of(plate, "outline", name="case"))[1]
    good, wrong = (max(foot for left, _, _, foot in eyes if (left > 160) == side) for side in (False, True))
    assert face - wrong == pytest.approx(0.5, abs=0.1)
    assert face - good == pytest.approx(10, abs=0.1)


def test_the_clip_cannot_pass_the_bore_of_a_tappet():
    plate = drawn("two-tappets", CARDS["marram-f4"])
    left, top, right, foot = reach_of(lines_of(plate, "held", name="clip"))
    cases = [reach_of([stroke]) for stroke in lines_of(plate, "outline", name="case")][2:]
    body = reach_of(lines_of(plate, "outline", name="tappet")[-1:])
    assert body[2] > right + 10  # it grips the body, and is no lid over its end
    assert 0 <= left - max(case[2] for case in cases) < 3
    upper, lower = sorted(cases, key=lambda case: case[1])
    assert top < upper[3] - 3
    assert foot > lower[1] + 3


def test_the_chaser_stands_in_a_hole_of_the_head():
    plate = drawn("cleaning-tools", CARDS["marram-f4"])
    edges = lines_of(plate, "open", name="plug hole")
    shank, _ = lines_of(plate, "held", name="chaser")
    inside = [point for point in shank if point[0] < 280]
    assert len(edges) == 2
    for x, y in inside:
        levels = [a[1] + (x - a[0]) / (b[0] - a[0]) * (b[1] - a[1]) for a, b in edges]
        assert min(levels) < y < max(levels)
