"""Where an edge stands into the flow: steps, areas, verdicts, shapes, and what cannot be."""

from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators.bench.asking import answered, asked_with
from calculators.bench.desk import Desk
from tests.answers import bare_number, errors_of, rows

ROUND = {"pipe_width": "36 mm", "port_width": "34 mm"}


steps = partial(answered, "ports.steps")


def test_a_smaller_port_stands_proud_all_round():
    answer = steps(**ROUND)
    (port,) = rows(answer, "steps")
    assert [port[side] for side in ("top", "right", "bottom", "left", "greatest")] == pytest.approx([1.0] * 5)
    assert answer.headline.startswith("Port 1.00 mm proud at ")
    assert port["verdict"] == "no limit"


def test_an_offset_opening_is_proud_on_one_side_and_set_back_on_the_other():
    (port,) = rows(steps(**ROUND | {"port_width": "36 mm", "port_across": "0.8 mm"}), "steps")
    # by hand: the port's left edge 0.8 to the right of the pipe's
    assert port["greatest"] == pytest.approx(0.8)
    assert port["hour"] == 9
    assert port["right"] < 0 < port["top"]


def test_the_way_of_the_gas_turns_the_steps_round():
    answer = steps(**ROUND, flow="out")
    (pipe,) = rows(answer, "steps")
    assert (pipe["edge"], pipe["greatest"]) == ("Pipe", pytest.approx(-1.0))
    assert (answer.headline, answer.says) == (
        "No edge stands into the flow",
        "No edge of 2 stands into the flow.",
    )
    assert answer.value("step").label.startswith("Nearest to the flow: pipe")
    assert answer.warnings == ()


def test_a_gasket_wider_than_pipe_and_port_hides_nothing():
    gasket, port = rows(steps(**ROUND, gasket_width="40 mm"), "steps")
    assert gasket["greatest"] == pytest.approx(-2.0)
    assert port["greatest"] == pytest.approx(1.0)


def test_a_gasket_in_the_way_is_named_with_what_to_take_off():
    answer = steps(**ROUND, gasket_width="33 mm", step_allowed="0.5 mm")
    assert answer.headline.startswith("Gasket 1.50 mm proud at ")
    assert answer.headline.endswith(": out")
    assert "take metal off the gasket there, up to the pipe." in answer.says
    assert "port" not in answer.says
    assert [caution.signal for caution in answer.warnings] == ["warning"]


@pytest.mark.parametrize(
    ("allowed", "verdict"),
    [("1.5 mm", "in"), ("1.1 mm", "too close to call"), ("0.9 mm", "too close to call"), ("0.5 mm", "out")],
)
def test_a_step_is_judged_with_the_error_of_both_edges(allowed, verdict):
    # by hand: U = 2 · √2 · 0.1 ÷ √3 = 0.163
    answer = steps(**ROUND, step_allowed=allowed, edge_error="0.1")
    (port,) = rows(answer, "steps")
    assert port["verdict"] == verdict
    assert port["chosen"] == (verdict == "out")
    assert answer.headline.endswith(verdict)
    assert any("too close" in caution.text for caution in answer.warnings) == (verdict == "too close to call")


@given(st.floats(30, 40), st.floats(0, 0.5), st.floats(0, 2))
def test_in_is_never_said_where_the_interval_crosses_what_is_allowed(width, error, allowed):
    typed = {"port_width": f"{width:.3f} mm", "edge_error": f"{error:.3f} mm", "step_allowed": f"{allowed:.3f} mm"}
    (port,) = rows(steps(**ROUND | typed), "steps")
    expanded = 2 * (2 / 3) ** 0.5 * float(f"{error:.3f}")
    if port["verdict"] == "in":
        assert port["greatest"] + expanded <= float(f"{allowed:.3f}") + 1e-6
    if port["verdict"] == "out":
        assert port["greatest"] - expanded > float(f"{allowed:.3f}") - 1e-6


def test_the_steps_doubt_comes_from_both_edges():
    assert {name for name, _ in steps(**ROUND).value("step").budget} == {"Edge of the pipe", "Edge of the port"}


def test_areas_and_what_is_open_all_the_way_through():
    answer = steps(**ROUND)
    # by hand: π ÷ 4 · 34²
    assert bare_number(answer, "shared") == pytest.approx(907.92, rel=1e-3)
    assert bare_number(answer, "shared_share") == pytest.approx(100, rel=1e-3)
    assert [row["area"] for row in rows(answer, "areas")] == pytest.approx([1017.876, 907.920], abs=1e-3)


def test_areas_go_on_with_their_uncertainty():
    worked = {one.name: one.value for one in steps(**ROUND, gasket_width="40 mm").worked}
    assert worked.keys() == {"pipe_area", "gasket_area", "port_area"}
    # by hand: each side off by 0.1: 0.1 ÷ √3 · √(2 · (34² + 34²)), twice over for k = 2
    assert 2 * worked["port_area"].magnitude.std_dev == pytest.approx(2 * 0.1 / 3**0.5 * 68, rel=1e-6)


@pytest.mark.parametrize(
    ("typed", "shape", "area"),
    [
        # by hand: π · 17²; 20 · 20 + π · 10²; 30 · 20 − (4 − π) · 5²; 30 · 20 twice
        ({"port_width": "34"}, "round", 907.920),
        ({"port_width": "40", "port_height": "20"}, "oval", 714.159),
        ({"port_width": "30", "port_height": "20", "port_corner": "5"}, "rectangle", 578.540),
        ({"port_width": "30", "port_height": "20", "port_corner": "0"}, "rectangle", 600.0),
        ({"port_width": "30", "port_height": "90", "port_trace": "0 0 30 0 30 20 0 20"}, "traced", 600.0),
    ],
)
def test_a_shape_follows_from_what_was_typed_of_it(typed, shape, area):
    answer = steps(**typed)
    (port,) = rows(answer, "areas")
    assert (port["shape"], port["area"]) == (shape, pytest.approx(area, abs=1e-3))


def test_one_opening_alone_has_area_and_no_step():
    answer = steps(port_width="34 mm")
    assert (answer.headline, answer.says) == ("Port 908 mm²", "The port alone has 908 mm².")
    assert [table.key for table in answer.tables] == ["areas"]
    assert bare_number(answer, "area") == pytest.approx(907.920, abs=1e-3)
    assert answer.drawing.title == "The opening, to scale"


def test_a_trace_is_moved_by_its_offset():
    square = {"port_trace": "-18 -18 18 -18 18 18 -18 18", "port_across": "1 mm"}
    (port,) = rows(steps(**square, pipe_width="36", pipe_height="36", pipe_corner="0"), "steps")
    assert (port["greatest"], port["left"]) == pytest.approx((1.0, 1.0))


def test_openings_beside_one_another_are_refused():
    # by hand: radii of 18 and 17 mm, so from 35 mm on nothing is open
    assert bare_number(steps(**ROUND, port_across="34 mm"), "shared") > 1
    assert errors_of(steps, **ROUND, port_across="36 mm") == [
        ("port_across", "Port offset must leave an opening: the port does not lie over the pipe")
    ]
    assert errors_of(steps, **ROUND, flow="out", port_up="36 mm") == [
        ("pipe_across", "Pipe offset must leave an opening: the pipe does not lie over the port")
    ]
    assert errors_of(steps, pipe_width="36 mm", port_trace="50 0 80 0 80 30 50 30") == [
        ("port_trace", "Port trace must leave an opening: the port does not lie over the pipe")
    ]


def test_with_nothing_measured_it_says_what_it_needs():
    asked = Desk().ask("ports.steps")
    assert (asked.answer, asked.errors) == (None, ())
    assert [error.message for error in asked.lacking] == [
        "Enter the pipe width, in millimetres",
        "Enter the port width, in millimetres",
    ]


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({"pipe_height": "30"}, ("pipe_width", "Enter the pipe width, in millimetres")),
        ({"gasket_width": "30", "gasket_corner": "2"}, ("gasket_height", "Enter the gasket height, in millimetres")),
        (
            {"port_width": "30", "port_height": "20", "port_corner": "11"},
            ("port_corner", "Port corner radius must be at most half the shorter side"),
        ),
        (
            {"port_trace": "0 0 30 0 30 20 0"},
            ("port_trace", "Port trace must have an even number of figures, each across then up"),
        ),
        ({"port_trace": "0 0 30 0 60 0"}, ("port_trace", "Port trace must enclose an area, point by point")),
        (
            {"port_trace": "0 0 30 20 30 0 0 30"},
            ("port_trace", "Port trace must not cross itself; go round the edge point by point"),
        ),
    ],
)
def test_what_cannot_be_is_refused_by_name(typed, error):
    assert errors_of(steps, **typed) == [error]


def test_a_trace_has_three_points_at_least():
    asked = asked_with("ports.steps", ["port_trace=1 2 3 4"])
    assert [(error.field, error.message) for error in asked.errors] == [
        ("port_trace", "Port trace must have 6 to 80 entries, not 4")
    ]


def test_the_drawing_says_what_it_shows():
    assert "The port stands 1.00 mm into the flow at most" in steps(**ROUND).drawing.svg


def test_a_long_trace_is_answered():
    points = " ".join(f"{step} {step * step / 40:.2f}" for step in range(40))
    assert steps(**ROUND, gasket_trace=points).value("shared")


def test_an_error_limit_may_be_typed_with_its_sign():
    plain, signed = (steps(**ROUND, step_allowed="1.1 mm", edge_error=typed) for typed in ("0.2 mm", "± 0.2 mm"))
    assert signed.as_data() == plain.as_data() != steps(**ROUND, step_allowed="1.1 mm").as_data()
