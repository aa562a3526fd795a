"""Drawings whose tags are the names of parts: each tag has room for a finger, lies right, and leads to its part."""

from __future__ import annotations

import re
from itertools import combinations

import pytest
from hypothesis import given, settings

from calculators.drawings import drawn, names
from calculators.drawings.kit.plate import CLOSED, NAMES, WIDTH, reach_of
from scripts.part_names import parts
from tests.drawings.test_plates import CARDS, cards
from tests.examples import examples

NAMED = [name for name in names() if drawn(name, CARDS["marram-f4"]).named]
LEADS = re.compile(r'<a ([^>]*)xlink:href="([^"]+)">(.*?)</a>', re.DOTALL)


def tags_of(plate):
    return [label for label in plate.labels if label.boxed]


def faults(plate):
    """Return in words what a finger or an eye would stumble over."""
    found = []
    reaches = [(label.words, reach_of(label)) for label in tags_of(plate)]
    for words, (left, _, width, height) in reaches:
        if min(width, height) * 288 / WIDTH < 48:
            found.append(f"{words!r} is too small for a finger")
        if left < 0 or left + width > WIDTH:
            found.append(f"{words!r} is touched outside the frame")
    for (one, a), (other, b) in combinations(reaches, 2):
        if a[0] < b[0] + b[2] and b[0] < a[0] + a[2] and a[1] < b[1] + b[3] and b[1] < a[1] + a[3]:
            found.append(f"a finger on {one!r} touches {other!r}")
    for label in tags_of(plate):
        if not label.leader:
            own = [p.path for name, p in plate.painted if name == label.part and p.look in CLOSED]
            corners = [(label.x + dx * label.width, label.y + dy * label.height) for dx in (0, 1) for dy in (0, 1)]
            if not all(any(path.holds(corner) for path in own) for corner in corners):
                found.append(f"{label.words!r} does not lie on its {label.part}")
    return found


def test_there_is_an_exploded_top_end_and_a_section():
    assert {"exploded-top-end", "top-end-section"} <= set(NAMED)


@pytest.mark.parametrize("card", CARDS)
@pytest.mark.parametrize("name", NAMED)
def test_each_tag_has_room_for_a_finger_and_lies_on_its_part(name, card):
    assert faults(drawn(name, CARDS[card])) == []


@pytest.mark.parametrize("name", NAMED)
@settings(max_examples=examples(50), deadline=None)
@given(card=cards())
def test_each_tag_has_room_for_a_finger_for_any_engine(name, card):
    assert faults(drawn(name, card)) == []


@pytest.mark.parametrize("name", NAMED)
def test_each_tag_is_a_part_that_the_book_tells_of_and_leads_there_by_touch_and_by_key(name):
    plate = drawn(name, CARDS["marram-f4"])
    said = {label.words for label in tags_of(plate)}
    assert said <= set(parts())
    by_key = {address.removeprefix(NAMES) for how, address, _ in LEADS.findall(plate.inside()) if 'tabindex="0"' in how}
    assert by_key == said


@pytest.mark.parametrize("name", NAMED)
def test_keys_go_from_tag_to_tag_down_the_drawing(name):
    plate = drawn(name, CARDS["marram-f4"])
    stops = [float(top) for top in re.findall(r'class="reach" x="[-\d.]+" y="([-\d.]+)"', plate.inside())]
    assert len(stops) >= 7
    assert stops == sorted(stops)


@pytest.mark.parametrize("name", NAMED)
def test_a_part_leads_where_its_tag_does_and_no_key_stops_at_it(name):
    plate = drawn(name, CARDS["marram-f4"])
    painted = {part for part, _ in plate.painted} & {label.words for label in tags_of(plate)}
    shapes = [(how, address) for how, address, inside in LEADS.findall(plate.inside()) if "<text" not in inside]
    assert {address.removeprefix(NAMES) for _, address in shapes} == painted
    assert len(painted) >= 6
    assert all('tabindex="-1"' in how and 'aria-hidden="true"' in how for how, _ in shapes)


def test_each_part_that_the_book_tells_of_is_tagged_in_a_drawing():
    tagged = {label.words for name in NAMED for label in tags_of(drawn(name, CARDS["marram-f4"]))}
    assert tagged == set(parts())


def test_a_drawing_that_names_no_parts_leads_nowhere():
    for name in set(names()) - set(NAMED):
        assert "<a " not in drawn(name, CARDS["marram-f4"]).inside()


def test_the_screw_is_drawn_at_the_end_of_the_rocker_that_the_card_names():
    """The tag's dot: with the pushrod where the card says pushrod, on the valve's axis where it says valve."""
    heights = {}
    for card in ("marram-f4", "samphire-f6"):
        plate = drawn("top-end-section", CARDS[card])
        dots = {label.words: label.leader[-1] for label in tags_of(plate)}
        heights[card] = (dots["adjuster"][1], dots["valve"][1], dots["cam"][1])
    screw, valve, cam = heights["marram-f4"]
    assert abs(screw - cam) < 10 < abs(screw - valve)
    screw, valve, cam = heights["samphire-f6"]
    assert abs(screw - valve) < 10 < abs(screw - cam)


@pytest.mark.parametrize(("card", "barrels"), [("layout-single", 1), ("marram-f4", 2), ("samphire-f6", 3)])
def test_the_exploded_case_has_a_hole_for_each_cylinder_of_the_bank(card, barrels):
    plate = drawn("exploded-top-end", CARDS[card])
    frames = [p.path.lines()[0] for name, p in plate.painted if name == "crankcase"]
    wide = [max(x for x, _ in frame) - min(x for x, _ in frame) for frame in frames]
    assert sum(60 < width < 75 for width in wide) == barrels
