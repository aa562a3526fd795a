"""What both tests point to: the leak that is heard, what oil tells, neighbours low together."""

from functools import partial

import pytest

from calculators.bench.asking import answered, asked_with
from tests.answers import errors_of

ENGINE = {"cylinders": "4", "heads": "1 2 / 3 4"}
LIMITS = {"least_pressure": "6.5 bar", "most_spread": "1.2 bar"}


answer = partial(answered, "cylinders.points_to", **ENGINE)


def pointed(**typed):
    return [answer(**typed).value(f"cylinder_{number}").quantity for number in (1, 2, 3, 4)]


def test_verdicts_come_from_the_gauge_and_the_tester():
    # by hand: 5.6 lacks 1.8 and rises 1.7 less the sound 0.3; 5.4 rises 0.4; 3.6 of 5.5 held is 35 % leakage
    typed = LIMITS | {"dry": "7.4; 5.6; 7.2; 5.4", "wet": "7.8; 7.3; 7.6; 5.8"}
    assert pointed(**typed) == ["nothing", "rings or bore", "nothing", "a valve or the head joint"]
    leak = {"supply": "5.5 bar", "held.4": "3.6", "heard.4": "exhaust"}
    found = answer(**typed, **leak)
    assert found.headline == "2: rings or bore; 4: exhaust valve"
    assert found.says == "Cylinder 2: rings or bore. Cylinder 4: exhaust valve."


def test_what_is_heard_wins_over_the_wet_test():
    typed = {"by_gauge": "in; out; in; in", "by_oil": "; lifts; ;", "by_tester.2": "out", "heard.2": "exhaust"}
    assert pointed(**typed)[1] == "exhaust valve"


@pytest.mark.parametrize(
    ("typed", "points_to"),
    [
        ({"by_gauge.1": "in"}, "nothing"),
        ({"by_gauge.1": "out"}, "not told yet: wet test, then leakage test"),
        ({"by_gauge.1": "too close to call"}, "not told yet: wet test, then leakage test"),
        ({"by_gauge.1": "out", "heard.1": "inlet"}, "inlet valve"),
        ({"by_gauge.1": "out", "by_oil.1": "lifts", "heard.1": "inlet"}, "rings or bore"),
        ({"by_gauge.1": "out", "by_oil.1": "no lift"}, "a valve or the head joint"),
        ({"by_gauge.1": "out", "by_oil.1": "no lift", "heard.1": "exhaust"}, "exhaust valve"),
        ({"by_gauge.1": "out", "by_oil.1": "untold"}, "the wet test cannot tell: leakage test"),
        ({"by_gauge.1": "in", "by_oil.1": "lowers"}, "wet reads below dry: read both again"),
        ({"by_tester.1": "in", "heard.1": "oil"}, "nothing"),
        ({"by_tester.1": "out"}, "leaks, but where is not heard yet"),
        ({"by_tester.1": "too close to call"}, "too close to call: test it again"),
        ({"by_tester.1": "too close to call", "heard.1": "oil"}, "rings or bore"),
        ({"by_gauge.1": "in", "by_tester.1": "out", "heard.1": "neighbour"}, "joint between neighbours"),
        ({"by_gauge.2": "in"}, "not tested"),
    ],
)
def test_what_one_cylinder_points_to(typed, points_to):
    assert pointed(**typed)[0] == points_to


def test_neighbours_that_oil_does_not_lift_point_to_the_joint_between():
    typed = {"by_gauge": "out; out; in; in", "by_oil": "no lift; no lift; ;"}
    assert pointed(**typed) == ["the head joint between 1 and 2"] * 2 + ["nothing"] * 2
    assert answer(**typed).says == "Cylinders 1 and 2: the head joint between 1 and 2."
    assert pointed(**typed, heads="1 3 / 2 4")[:2] == ["a valve or the head joint"] * 2
    close = typed | {"by_gauge": "out; too close to call; in; in"}
    assert pointed(**close)[:2] == ["a valve or the head joint"] * 2


def test_all_sound_is_said():
    found = answer(by_gauge="in; in; in; in")
    assert found.headline == "Nothing: what was tested is sound"
    assert found.says == "Nothing: cylinders 1, 2, 3 and 4 tested sound."
    assert answer(**{"by_tester.3": "in"}).says == "Nothing: cylinder 3 tested sound."


def test_the_lash_comes_before_a_valve():
    def signals(**typed):
        return [caution.signal for caution in answer(**typed).warnings]

    assert signals(**{"by_gauge.1": "out", "by_oil.1": "no lift"}) == ["notice"]
    assert signals(**{"by_gauge.1": "out", "by_oil.1": "lifts"}) == []


def test_each_suspect_says_where_to_look_then():
    (table,) = answer(by_gauge="out; out; out; in", by_oil="no lift; no lift; lifts;").tables
    assert [row.cells[-1] for row in table.rows] == [
        "head joint and head face between the two",
        "head joint and head face between the two",
        "rings, bore, piston",
        None,
    ]


def test_the_drawing_writes_the_suspect_on_its_barrel():
    svg = answer(**{"by_gauge.4": "out", "by_oil.4": "lifts"}).drawing.svg
    assert ">rings<" in svg
    assert ">or bore<" in svg
    assert svg.count('class="band"') == 1


def test_many_suspects_are_counted_in_the_headline():
    typed = {
        "by_tester": "out; out; out; out",
        "heard": "oil; exhaust; inlet; outside",
    }
    assert answer(**typed).headline == "4 cylinders: see the drawing"


def test_without_any_finding_it_says_what_it_needs():
    asked = asked_with("cylinders.points_to", ["cylinders=4", "heads=1 2 / 3 4", "heard.1=oil"])
    assert [error.message for error in asked.lacking] == [
        "Enter what compression gauge or leakage tester found of cylinder 1"
    ]


@pytest.mark.parametrize(
    ("heads", "message"),
    [
        ("1 2 / 3", "Cylinders under each head must name each cylinder from 1 to 4 once; 4 is missing"),
        ("1 2 / 3 3 4", "Cylinders under each head must name each cylinder from 1 to 4 once; 3 comes twice"),
    ],
)
def test_heads_must_hold_each_cylinder_once(heads, message):
    assert errors_of(answer, **{"by_gauge.1": "in"}, heads=heads) == [("heads", message)]


@pytest.mark.parametrize(
    ("cylinders", "heads"), [("1", "1"), ("3", "1 2 3"), ("6", "1 2 3 / 4 5 6"), ("5", "1 2 / 3 / 4 5")]
)
def test_every_layout_is_drawn(cylinders, heads):
    found = answered("cylinders.points_to", cylinders=cylinders, heads=heads, **{"by_gauge.1": "in"})
    for number in range(1, int(cylinders) + 1):
        assert f">{number}<" in found.drawing.svg
