"""The gas's speed: in the port, in each opening, and where its uncertainty comes from."""

import pytest

from calculators import InputErrors
from calculators.bench.asking import answered
from tests.answers import bare_number

ENGINE = {"bore": "80 mm", "stroke": "74 mm", "engine_speed": "4600 r/min"}


def test_the_gas_is_as_much_faster_as_the_port_is_narrower():
    answer = answered("ports.gas_speed", **ENGINE, port_area="907.920 mm²")
    # by hand: 2 · 74 · 4600 ÷ 60 000; · π ÷ 4 · 80² ÷ 907.920
    assert bare_number(answer, "piston_speed") == pytest.approx(11.3467, abs=1e-4)
    assert bare_number(answer, "port_speed") == pytest.approx(62.819, abs=1e-3)
    assert answer.headline == "63 m/s in the port"
    assert answer.tables == ()


def test_the_ports_area_comes_from_its_sizes_with_their_error():
    answer = answered("ports.gas_speed", **ENGINE, port_width="34 mm", edge_error="0.2 mm")
    assert bare_number(answer, "port_speed") == pytest.approx(62.819, abs=1e-3)
    assert [name for name, _ in answer.value("port_speed").budget] == ["Edges of the port"]


def test_each_opening_that_is_known_has_its_speed():
    typed = {"pipe_width": "36", "gasket_width": "40", "port_width": "34"}
    answer = answered("ports.gas_speed", **ENGINE, **typed)
    rows = answer.tables[0].as_data()["rows"]
    # by hand: 11.3467 · (80 ÷ width)²
    assert [row["opening"] for row in rows] == ["Pipe", "Gasket", "Port"]
    assert [row["speed"] for row in rows] == pytest.approx([56.0330, 45.3867, 62.8189], abs=1e-3)
    assert "Pipe" in answer.drawing.svg


def test_a_plus_minus_typed_with_the_bore_reaches_the_speed():
    answer = answered("ports.gas_speed", **ENGINE | {"bore": "80 ± 0.1 mm"}, port_area="900")
    assert [name for name, _ in answer.value("port_speed").budget] == ["Bore"]


def test_without_a_port_it_says_what_it_needs():
    with pytest.raises(InputErrors, match="Enter the port area, in square millimetres"):
        answered("ports.gas_speed", **ENGINE)
