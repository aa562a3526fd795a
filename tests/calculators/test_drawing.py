"""Drawings: plain, well-formed SVG with looks by class name only."""

import math
from xml.etree import ElementTree

import pytest

from calculators import Drawing, around

SVG = "{http://www.w3.org/2000/svg}"


def drawn(draw):
    drawing = Drawing(340, 200)
    draw(drawing)
    return ElementTree.fromstring(drawing.svg("what it shows"))  # noqa: S314 (our own text)


def points(path):
    return [tuple(map(float, pair.split())) for pair in path.get("d").strip("MZ").split(" L")]


def test_drawing_says_what_it_shows_and_how_large_it_is():
    root = drawn(lambda drawing: None)
    assert root.tag == f"{SVG}svg"
    assert root.get("viewBox") == "0 0 340 200"
    assert (root.get("role"), root.get("aria-label")) == ("img", "what it shows")


def test_looks_are_class_names_and_nothing_else():
    def all_shapes(drawing):
        drawing.line(0, 0, 1, 1)
        drawing.rectangle(0, 0, 10, 10)
        drawing.circle(5, 5, 2, "stud first")
        drawing.path([(0, 0), (1, 1)])
        drawing.arc(10, 10, 5, 0, 90)
        drawing.arrow(0, 0, 50, 0)
        drawing.text(0, 0, "A")

    shapes = list(drawn(all_shapes))
    assert len(shapes) == 8
    for shape in shapes:
        assert shape.get("class")
        assert not {"style", "fill", "stroke", "id"} & set(shape.keys())


def test_words_are_escaped_and_come_back_whole():
    hostile = '<script>alert("1")</script> & more'
    root = drawn(lambda drawing: drawing.text(1, 2, hostile))
    assert root[0].text == hostile
    assert len(root[0]) == 0
    drawing = Drawing(10, 10)
    assert ElementTree.fromstring(drawing.svg(hostile)).get("aria-label") == hostile  # noqa: S314


def test_text_stands_with_its_middle_at_the_height_given():
    text = drawn(lambda drawing: drawing.text(10, 100, "A", size=20, anchor="start"))[0]
    assert (float(text.get("x")), float(text.get("y"))) == (10, 107)
    assert (text.get("font-size"), text.get("text-anchor")) == ("20", "start")


def test_text_is_fourteen_units_high_unless_told():
    assert drawn(lambda drawing: drawing.text(0, 0, "A"))[0].get("font-size") == "14"


def test_rectangle_of_negative_size_is_flat_instead():
    shape = drawn(lambda drawing: drawing.rectangle(1, 2, -3, 4))[0]
    assert (shape.get("width"), shape.get("height")) == ("0", "4")


def test_closed_path_ends_where_it_began():
    shape = drawn(lambda drawing: drawing.path([(0, 0), (10, 0), (5, 5)], closed=True))[0]
    assert shape.get("d") == "M0 0 L10 0 L5 5Z"


@pytest.mark.parametrize(
    ("angle", "expected"), [(0, (10, 5)), (90, (15, 10)), (180, (10, 15)), (270, (5, 10)), (-90, (5, 10))]
)
def test_around_counts_clockwise_from_the_top(angle, expected):
    assert around(10, 10, 5, angle) == pytest.approx(expected)


@pytest.mark.parametrize("turn", [90, -90, 359, 5])
def test_arc_stays_on_its_circle_and_turns_as_told(turn):
    shape = drawn(lambda drawing: drawing.arc(50, 50, 20, 30, turn))[0]
    for x, y in points(shape):
        assert math.hypot(x - 50, y - 50) == pytest.approx(20, abs=0.02)
    assert points(shape)[0] == pytest.approx(around(50, 50, 20, 30), abs=0.01)
    assert points(shape)[-1] == pytest.approx(around(50, 50, 20, 30 + turn), abs=0.01)


@pytest.mark.parametrize("heading", [0, 90, 200])
def test_arrow_ends_at_its_tip_and_points_along_its_line(heading):
    tip = (100 + 50 * math.cos(math.radians(heading)), 100 + 50 * math.sin(math.radians(heading)))
    shaft, head = drawn(lambda drawing: drawing.arrow(100, 100, *tip))
    assert points(head)[0] == pytest.approx(tip, abs=0.01)
    assert "head" in head.get("class").split()
    back = [(x - tip[0], y - tip[1]) for x, y in points(head)[1:]]
    for x, y in back:
        along = x * math.cos(math.radians(heading)) + y * math.sin(math.radians(heading))
        assert along < 0
    end = (float(shaft.get("x2")), float(shaft.get("y2")))
    assert math.dist(end, (100, 100)) < 50
