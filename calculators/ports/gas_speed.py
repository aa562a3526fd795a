"""How fast the gas goes through the port, and through what is bolted to it."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    GEOMETRY,
    Answer,
    Column,
    Entry,
    Figure,
    Quantity,
    Question,
    ResultTable,
    TableRow,
    Value,
    measure,
    number_in,
    optional,
    printed,
    quantity,
    shared,
)
from calculators.bench.drawing import Drawing
from calculators.bench.units import figures
from calculators.bench.verdict import best_of
from calculators.bench.words import word
from calculators.formulas.port_flow import gas_speed
from calculators.ports.piston import mean_speed, piston_value

_OTHERS = "The openings before and after it"
_FORMULA = "mean piston speed · bore area ÷ area of the opening"


def _area(label: str, **facts: Any) -> Entry[Quantity]:
    return measure(label, "mm²", 20, 23000, why="ports of such engines", **facts)


class GasSpeed(Question):
    """The mean over the stroke, at constant density; the highest speed in the stroke is 1.6 times as much or more.

    On the exhaust side, use it only to compare passages.
    """

    asks = "How fast does the gas go through the port?"
    tells = "Gas speed in the port"

    bore = shared.bore()
    stroke = shared.stroke()
    engine_speed = shared.engine_speed()
    port_area = _area(
        "Port area",
        hint="Worked out from the port's width and height, or typed.",
        example="910 mm²",
        shared_as="port_area",
        said="port {}",
    )
    pipe_area = optional(_area("Pipe area", shared_as="pipe_area", refines=_OTHERS, said="pipe {}"))
    gasket_area = optional(_area("Gasket area", shared_as="gasket_area", refines=_OTHERS, said="gasket {}"))

    def answer(self) -> Answer:
        speeds = {name: self._speed_in(area) for name, area in self._areas.items()}
        port = figures(best_of(speeds["port"]), 0)
        return Answer(
            headline=f"{port} m/s in the port",
            says=f"At {printed(self.engine_speed, 'r/min')} the gas goes through the port at {port} m/s on average.",
            drawing=_passage({name: best_of(number_in(area, "mm²")) for name, area in self._areas.items()}, speeds),
            values=(
                piston_value(self.stroke, self.engine_speed),
                Value(
                    key="port_speed",
                    label="Mean gas speed in the port",
                    quantity=quantity(speeds["port"], "m/s"),
                    formula=_FORMULA,
                    source=GEOMETRY,
                    given=(
                        ("mean piston speed", quantity(self._piston, "m/s")),
                        ("bore", self.bore),
                        ("port area", self.port_area),
                    ),
                ),
            ),
            tables=(self._table(speeds),) if len(speeds) > 1 else (),
            notes=(
                "Density is taken as constant along the passage.",
                "The highest speed in the stroke is 1.6 times as much or more.",
                "On the exhaust side, use it only to compare passages.",
            ),
        )

    @property
    def _areas(self) -> dict[str, Quantity]:
        areas = {"pipe": self.pipe_area, "gasket": self.gasket_area, "port": self.port_area}
        return {name: area for name, area in areas.items() if area is not None}

    @property
    def _piston(self) -> Any:
        return mean_speed(self.stroke, self.engine_speed)

    def _speed_in(self, area: Quantity) -> Any:
        return gas_speed(self._piston, number_in(self.bore, "mm"), number_in(area, "mm²"))

    def _table(self, speeds: dict[str, Any]) -> ResultTable:
        return ResultTable(
            key="speeds",
            title="Gas speed in each opening",
            columns=(
                Column(key="opening", label="Opening"),
                Column(key="area", label="Area", unit="mm²"),
                Column(key="speed", label="Mean gas speed", unit="m/s", strong=True),
            ),
            rows=tuple(
                TableRow(cells=(word(name).capitalize(), self._areas[name], quantity(speed, "m/s")))
                for name, speed in speeds.items()
            ),
            formula=_FORMULA,
            source=GEOMETRY,
            given=(("mean piston speed", quantity(self._piston, "m/s")), ("bore", self.bore)),
        )


def _passage(areas: dict[str, float], speeds: dict[str, Any]) -> Figure:
    """Draw the passage from the side, each part as high as a round hole of its area is wide."""
    tallest = max(areas.values()) ** 0.5
    drawing = Drawing(340, 150)
    width, middle = 264 / len(areas), 74.0
    for place, (name, area) in enumerate(areas.items()):
        left, half = 38 + place * width, 44 * area**0.5 / tallest
        for side in (-1, 1):
            drawing.line(left, middle + side * half, left + width, middle + side * half, "edge")
            if place:
                drawing.line(left, middle + side * half, left, middle + side * 54, "thin")
        drawing.text(left + width / 2, 12, word(name).capitalize(), "number")
        level = middle if half > 12 else middle + half + 14  # under a passage too narrow for the words
        drawing.text(left + width / 2, level, f"{figures(best_of(speeds[name]), 0)} m/s", "number", size=16)
    drawing.arrow(6, middle, 34, middle)
    drawing.arrow(306, middle, 334, middle)
    drawing.text(170, 138, "widths of round holes of equal area, to scale")
    told = ", ".join(f"{word(name)} {figures(best_of(speed), 0)} m/s" for name, speed in speeds.items())
    return Figure(
        key="passage",
        title="Mean gas speed along the passage, from the side",
        svg=drawing.svg(f"Mean gas speed along the passage: {told}."),
    )
