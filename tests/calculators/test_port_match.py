"""Port match: steps, areas, speeds, chambers, and what cannot be."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calculators import InputErrors, magnitude_in, read_card, uncertainty_in
from calculators._catalogue import Calculator
from calculators._text import report_text
from calculators._units import bare
from calculators.port_match import FORM, TITLE, compute

MARRAM = read_card(Path(__file__).parents[2] / "docs/engines/marram-f4.yml")
PORTS = Calculator("port-match", TITLE, "", FORM, compute)
ROUND = {"pipe_shape": "round", "pipe_width": "36 mm", "port_shape": "round", "port_width": "34 mm"}
CHAMBERS = {"chamber": "49.1; 49.5; 48.2; 48.6", "wall": "5; 5; 5; 4.4", "least_wall": "4 mm", "grind_area": "18"}
ENGINE = {"bore": "80 mm", "stroke": "74 mm", "engine_speed": "4600 r/min"}


def answer(**typed):
    return PORTS.answer({"cylinders": "4"} | typed)


def number(report, key, unit=None):
    found = next(value for value in report.values if value.key == key).quantity
    return magnitude_in(found, unit) if unit else bare(found)[0]


def rows(report, key):
    return next(table for table in report.tables if table.key == key).as_data()["rows"]


def told(report):
    return [caution.text for caution in report.cautions]


def errors_of(**typed):
    with pytest.raises(InputErrors) as caught:
        answer(**typed)
    return [(error.field, error.message) for error in caught.value.errors]


def test_a_smaller_port_stands_proud_all_round():
    (port,) = rows(answer(**ROUND), "steps")
    assert [port[side] for side in ("top", "right", "bottom", "left", "greatest")] == pytest.approx([1.0] * 5)


def test_an_offset_opening_is_proud_on_one_side_and_set_back_on_the_other():
    (port,) = rows(answer(**ROUND | {"port_width": "36 mm", "port_across": "0.8 mm"}), "steps")
    # by hand: the port's left edge 0.8 to the right of the pipe's
    assert port["greatest"] == pytest.approx(0.8)
    assert port["hour"] == 9
    assert port["right"] < 0 < port["top"]


def test_the_way_of_the_gas_turns_the_steps_round():
    (pipe,) = rows(answer(**ROUND, flow="out"), "steps")
    assert pipe["edge"] == "Pipe"
    assert pipe["greatest"] == pytest.approx(-1.0)
    assert answer(**ROUND, flow="out").lead == "No edge of 2 stands into the flow."


def test_a_gasket_wider_than_pipe_and_port_hides_nothing():
    report = answer(**ROUND | {"gasket_shape": "round", "gasket_width": "40 mm"})
    gasket, port = rows(report, "steps")
    assert gasket["greatest"] == pytest.approx(-2.0)
    assert port["greatest"] == pytest.approx(1.0)


def test_a_gasket_in_the_way_is_named_in_the_lead():
    report = answer(**ROUND | {"gasket_shape": "round", "gasket_width": "33 mm", "step_allowed": "0.5 mm"})
    assert report.lead.startswith("Gasket 1.50 mm into the flow at ")
    assert "(out)" in report.lead
    assert "port" not in report.lead


@pytest.mark.parametrize(
    ("allowed", "error", "verdict"),
    [
        ("1.5 mm", "0.1", "in"),
        ("1.1 mm", "0.1", "too close to call"),
        ("0.9 mm", "0.1", "too close to call"),
        ("0.5 mm", "0.1", "out"),
    ],
)
def test_a_step_is_judged_with_the_error_of_both_edges(allowed, error, verdict):
    # by hand: U = 2 · √2 · 0.1 ÷ √3 = 0.163
    (port,) = rows(answer(**ROUND, step_allowed=allowed, edge_error=error), "steps")
    assert port["verdict"] == verdict


@given(st.floats(30, 40), st.floats(0, 0.5), st.floats(0, 2))
def test_in_is_never_said_where_the_interval_crosses_what_is_allowed(width, error, allowed):
    typed = {"port_width": f"{width:.3f} mm", "edge_error": f"{error:.3f} mm", "step_allowed": f"{allowed:.3f} mm"}
    report = answer(**ROUND | typed)
    (port,) = rows(report, "steps")
    expanded = 2 * (2 / 3) ** 0.5 * float(f"{error:.3f}")
    if port["verdict"] == "in":
        assert port["greatest"] + expanded <= float(f"{allowed:.3f}") + 1e-6
    if port["verdict"] == "out":
        assert port["greatest"] - expanded > float(f"{allowed:.3f}") - 1e-6


def test_the_step_s_doubt_comes_from_both_edges():
    step = next(value for value in answer(**ROUND).values if value.key == "step")
    assert {name for name, _ in step.budget} == {"Edge of the pipe", "Edge of the port"}


def test_areas_and_what_is_open_all_the_way_through():
    report = answer(**ROUND)
    # by hand: π ÷ 4 · 34²
    assert number(report, "shared") == pytest.approx(907.92, rel=1e-3)
    assert number(report, "shared_share", "%") == pytest.approx(100, rel=1e-3)
    assert [row["area"] for row in rows(report, "areas")] == pytest.approx([1017.876, 907.920], abs=1e-3)


def test_shapes_are_read_by_their_sizes_or_points():
    square = {"port_shape": "traced", "port_trace": "0 0 30 0 30 20 0 20"}
    report = answer(**square, pipe_shape="oval", pipe_width="40 mm", pipe_height="20 mm")
    pipe, port = rows(report, "areas")
    # by hand: 20 · 20 + π · 10²; 30 · 20
    assert (pipe["area"], port["area"]) == pytest.approx((714.159, 600.0), abs=1e-3)
    rounded = answer(port_shape="rounded", port_width="30 mm", port_height="20 mm", port_corner="5 mm")
    assert rows(rounded, "areas")[0]["area"] == pytest.approx(600 - (4 - 3.14159265) * 25)


def test_a_trace_is_moved_by_its_offset():
    square = {"port_shape": "traced", "port_trace": "-18 -18 18 -18 18 18 -18 18", "port_across": "1 mm"}
    report = answer(**square, pipe_shape="rounded", pipe_width="36 mm", pipe_height="36 mm", pipe_corner="0 mm")
    (port,) = rows(report, "steps")
    assert (port["greatest"], port["left"]) == pytest.approx((1.0, 1.0))


def test_openings_beside_one_another_are_refused():
    # by hand: radii of 18 and 17 mm, so from 35 mm on nothing is open
    assert number(answer(**ROUND, port_across="34 mm"), "shared") > 1
    assert errors_of(**ROUND, port_across="36 mm") == [
        ("port_across", "Port offset must leave a way through: the port does not lie over the pipe")
    ]
    assert errors_of(**ROUND, flow="out", port_up="36 mm") == [
        ("pipe_across", "Pipe offset must leave a way through: the pipe does not lie over the port")
    ]
    traced = {"port_shape": "traced", "port_trace": "50 0 80 0 80 30 50 30"}
    assert errors_of(pipe_shape="round", pipe_width="36 mm", **traced) == [
        ("port_trace", "Port trace must leave a way through: the port does not lie over the pipe")
    ]


def test_one_opening_alone_has_area_and_no_step():
    report = answer(port_shape="round", port_width="34 mm")
    assert report.lead == "Port 908 mm²."
    assert [table.key for table in report.tables] == ["areas"]
    assert report.figures[0].title == "The opening, to scale"


def test_speeds_and_areas_of_the_valve():
    report = answer(**ROUND, **ENGINE, valve_head="34 mm", valve_lift="8 mm", throat="30 mm", stem="8 mm")
    # by hand: 2 · 74 · 4600 ÷ 60 000; · (80 ÷ 34)²; π · 34 · 8; π ÷ 4 · (30² − 8²)
    assert number(report, "piston_speed") == pytest.approx(11.3467, abs=1e-4)
    assert number(report, "port_speed") == pytest.approx(62.819, abs=1e-3)
    assert number(report, "curtain") == pytest.approx(854.513, abs=1e-3)
    assert number(report, "throat") == pytest.approx(656.593, abs=1e-3)
    assert number(report, "full_lift", "mm") == pytest.approx(656.593 / (3.14159265 * 34), abs=1e-4)
    assert number(report, "narrowest", "%") == pytest.approx(100 * 656.593 / 907.920, abs=1e-2)


def test_at_low_lift_the_curtain_is_the_narrow_place():
    report = answer(**ROUND, **ENGINE, valve_head="34 mm", valve_lift="4 mm", throat="30 mm")
    assert next(value for value in report.values if value.key == "narrowest").label == "Curtain against port"


def test_the_exhaust_side_has_no_inlet_valve():
    keys = {value.key for value in answer(**ROUND, **ENGINE, flow="out", valve_head="34 mm").values}
    assert "port_speed" in keys
    assert not {"mach_index", "curtain", "throat"} & keys


def test_a_high_index_is_told():
    fast = answer(**ROUND, **ENGINE | {"engine_speed": "9000 r/min"}, valve_head="30 mm")
    assert any("Mach index is above 0.6" in text for text in told(fast))
    slow = answer(**ROUND, **ENGINE | {"engine_speed": "2000 r/min"}, valve_head="38 mm")
    assert not any("Mach index" in text for text in told(slow))


def test_a_plus_minus_typed_with_the_bore_reaches_the_speed():
    report = answer(**ROUND, **ENGINE | {"bore": "80 ± 0.1 mm"})
    speed = next(value for value in report.values if value.key == "port_speed")
    assert "Bore" in dict(speed.budget)


def test_chambers_are_evened_to_the_largest_and_stop_at_the_wall():
    report = answer(**CHAMBERS, wall_error="0.1 mm", clearance="1.4; 1.4; 1.4; 1.4", **ENGINE)
    found = rows(report, "chambers")
    # by hand: 18 cm² · (4.4 − 0.1 − 4.0) mm = 0.54 cm³, where 0.9 would even it
    assert [row["out"] for row in found] == pytest.approx([0.4, 0.0, 1.3, 0.54])
    assert [row["why"] for row in found] == ["even with the largest"] * 3 + ["stopped by the wall"]
    assert found[2]["depth"] == pytest.approx(1.3 / 18 * 10)
    assert number(report, "spread", "cm³") == pytest.approx(1.3)
    assert number(report, "spread_then", "cm³") == pytest.approx(0.36)
    # by hand: bore 8 cm, stroke 7.4 cm: 371.964 cm³; 48.2 + 50.2655 · 0.14 = 55.237; + 1.3
    assert found[2]["ratio"] == pytest.approx(1 + 371.964 / 55.2372, abs=1e-4)
    assert found[2]["ratio_then"] == pytest.approx(1 + 371.964 / 56.5372, abs=1e-4)
    assert any("Cylinder 4 cannot be brought" in text for text in told(report))


def test_a_wall_that_was_not_measured_is_left_alone():
    report = answer(**CHAMBERS | {"wall": "5; 5; ; 5"})
    assert rows(report, "chambers")[2]["why"] == "wall not measured"
    assert rows(report, "chambers")[2]["out"] == 0


def test_chambers_that_are_alike_need_nothing():
    report = answer(**CHAMBERS | {"chamber": "49; 49; 49; 49"})
    assert report.lead == "Nothing to take from any of 4 chambers."
    assert not any("Grinding" in text for text in told(report))


@pytest.mark.parametrize(
    ("allowed", "verdict"), [("2 cm³", "in"), ("1.3 cm³", "too close to call"), ("0.5 cm³", "out")]
)
def test_the_difference_of_the_chambers_is_judged(allowed, verdict):
    spread = next(value for value in answer(**CHAMBERS, may_differ=allowed).values if value.key == "spread")
    assert spread.label == f"Chambers differ by ({verdict})"


def test_what_one_burette_is_off_by_drops_out_between_chambers():
    typed = CHAMBERS | {"volume_error": "2 cm³", "volume_scatter": "0.1 cm³"}
    spread = next(value for value in answer(**typed).values if value.key == "spread").quantity
    # JCGM 100:2008, 5.2.4; by hand, 2 · 0.1 · √2 ÷ √3
    assert uncertainty_in(spread, "cm³") == pytest.approx(2 * 0.1 * 2**0.5 / 3**0.5)


def test_a_chamber_keeps_its_number_where_others_are_empty():
    report = answer(**CHAMBERS | {"chamber": "49; ; 48; 49", "wall": "5; ; 5; 5"})
    assert [row["cylinder"] for row in rows(report, "chambers")] == [1, 3, 4]


def test_grinding_is_warned_of_before_it_is_planned():
    report = answer(**CHAMBERS)
    assert [caution.signal for caution in report.cautions][:2] == ["warning", "caution"]


def test_figures_say_what_they_show():
    openings, chambers = answer(**ROUND, **CHAMBERS).figures
    assert "The port stands 1.00 mm into the flow at most" in openings.svg
    assert "cylinder 4: 0.5 cm³, 0.4 short, wall lets 0.5 go" in chambers.svg


def test_a_long_trace_is_answered():
    points = " ".join(f"{step} {step * step / 40:.2f}" for step in range(40))
    report = answer(**ROUND, gasket_shape="traced", gasket_trace=points)
    assert report_text(TITLE, report)


@pytest.mark.parametrize(
    ("typed", "error"),
    [
        ({}, ("port_shape", "Enter the shape of the port, of the gasket or of the pipe, or the chamber volumes")),
        ({"pipe_shape": "round"}, ("pipe_width", "Enter the pipe width, in millimetres")),
        ({"gasket_shape": "oval", "gasket_width": "30"}, ("gasket_height", "Enter the gasket height, in millimetres")),
        (
            {"port_shape": "rounded", "port_width": "30", "port_height": "20"},
            ("port_corner", "Enter the port corner radius, in millimetres"),
        ),
        (
            {"port_shape": "rounded", "port_width": "30", "port_height": "20", "port_corner": "11"},
            ("port_corner", "Port corner radius must be at most half the shorter side"),
        ),
        ({"port_shape": "traced"}, ("port_trace", "Enter the port trace, in millimetres")),
        (
            {"port_shape": "traced", "port_trace": "0 0 30 0 30 20 0"},
            ("port_trace", "Port trace must have an even count of numbers, across and up by turns"),
        ),
        (
            {"port_shape": "traced", "port_trace": "0 0 30 0 60 0"},
            ("port_trace", "Port trace must go round an area, point by point"),
        ),
        (
            {"port_shape": "traced", "port_trace": "0 0 30 20 30 0 0 30"},
            ("port_trace", "Port trace must not cross itself; go round the edge point by point"),
        ),
        ({**CHAMBERS, "least_wall": ""}, ("least_wall", "Enter the least wall, in millimetres")),
        ({**CHAMBERS, "grind_area": ""}, ("grind_area", "Enter the area to grind in cm²")),
        (
            {**CHAMBERS, **ENGINE, "clearance": "1; 1; -10; 1"},
            ("clearance.3", "Deck clearance of cylinder 3 must leave room above the piston"),
        ),
        (
            {**ROUND, **ENGINE, "valve_head": "34 mm", "throat": "8 mm", "stem": "9 mm"},
            ("stem", "Stem diameter must be below the throat diameter"),
        ),
    ],
)
def test_what_cannot_be_is_refused_by_name(typed, error):
    assert errors_of(**typed) == [error]


@pytest.mark.parametrize(
    ("field", "text", "message"),
    [
        ("step_allowed", "21", "Step allowed must be between 0 mm and 20 mm"),
        ("edge_error", "6", "Error limit of an edge must be between 0 mm and 5 mm"),
        ("pipe_shape", "star", "Shape of the pipe must be one of: none, round, oval, rounded, traced"),
        ("pipe_width", "4", "Pipe width must be between 5 mm and 150 mm"),
        ("gasket_height", "151", "Gasket height must be between 5 mm and 150 mm"),
        ("port_corner", "76", "Port corner radius must be between 0 mm and 75 mm"),
        ("port_across", "101", "Port offset across must be between −100 mm and 100 mm"),
        ("port_up", "-101", "Port offset up must be between −100 mm and 100 mm"),
        ("port_trace", "1 2 3 4", "Port trace must have 6 to 80 entries, not 4"),
        ("cylinders", "0", "Number of cylinders must be between 1 and 12"),
        ("bore", "29", "Bore must be between 30 mm and 200 mm"),
        ("stroke", "19", "Stroke must be between 20 mm and 250 mm"),
        ("engine_speed", "99", "Engine speed must be between 100 r/min and 20000 r/min"),
        ("valve_head", "9", "Inlet valve head must be between 10 mm and 100 mm"),
        ("valve_lift", "31", "Valve lift must be between 1 mm and 30 mm"),
        ("throat", "7", "Throat diameter must be between 8 mm and 100 mm"),
        ("stem", "2", "Stem diameter must be between 3 mm and 25 mm"),
        ("flow_coefficient", "0.9", "Mean flow coefficient of the inlet valve must be between 0.1 and 0.8"),
        ("inlet_temperature", "151", "Temperature of the charge must be between −40 °C and 150 °C"),
        ("chamber.1", "0.5", "Chamber volume of cylinder 1 must be between 1 cm³ and 2000 cm³"),
        ("wall.2", "51", "Wall found of cylinder 2 must be between 0.5 mm and 50 mm"),
        ("clearance.1", "21", "Deck clearance of cylinder 1 must be between −10 mm and 20 mm"),
        ("crown.1", "501", "Crown volume of cylinder 1 must be between −500 cm³ and 500 cm³"),
        ("least_wall", "0.4", "Least wall must be between 0.5 mm and 50 mm"),
        ("grind_area", "0.4", "Area to grind in cm² must be between 0.5 and 500"),
        ("may_differ", "101", "Difference allowed between chambers must be between 0 cm³ and 100 cm³"),
        ("volume_scatter", "21", "Scatter of the volume readings must be between 0 cm³ and 20 cm³"),
        ("volume_error", "21", "Error limit of the volume readings must be between 0 cm³ and 20 cm³"),
        ("wall_error", "6", "Error limit of the wall readings must be between 0 mm and 5 mm"),
    ],
)
def test_each_field_is_refused_beyond_its_limits(field, text, message):
    assert (field, message) in errors_of(**{field: text})


def test_the_worked_example_shows_all_of_it():
    report = PORTS.answer(FORM.prefilled(MARRAM, example=True), MARRAM)
    assert {table.key for table in report.tables} == {"steps", "areas", "chambers"}
    assert [figure.key for figure in report.figures] == ["openings", "grinding"]
