"""The speed up to which the inlet valve lets the cylinder fill."""

from __future__ import annotations

import math
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    Figure,
    Question,
    Source,
    Value,
    magnitude_in,
    measure,
    number,
    number_in,
    printed,
    quantity,
    shared,
)
from calculators.bench.drawing import Drawing
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, verdict_on
from calculators.formulas.port_flow import mach_index, sound_speed
from calculators.ports.piston import mean_speed, piston_value

TAYLOR = Source("Taylor, The Internal Combustion Engine in Theory and Practice, volume 1, chapter 6", "memory")
ISO_2533 = Source("ISO 2533:1975, speed of sound in air as an ideal gas", "memory")
LIMIT = 0.6
"""Above it a cylinder fills badly; for the index as Taylor defines it (from memory)."""
_MARK = 50
_FLOW = "How well the valve flows"


class Filling(Question):
    """For one inlet valve a cylinder and the flow coefficient as given; no help from pressure waves in the pipe.

    At the limit of 0.6 filling begins to fall off; it does not stop.
    """

    asks = "Up to what speed does the inlet valve fill the cylinder?"
    tells = "Speed up to which the inlet fills"

    bore = shared.bore()
    stroke = shared.stroke()
    valve_head = shared.inlet_valve_head()
    engine_speed = shared.engine_speed()
    flow_coefficient = number(
        "Mean flow coefficient of the inlet valve",
        0.1,
        0.8,
        why="poppet valves",
        hint="Over the whole opening, based on the valve head's area. Common practice: 0.35.",
        usual="0.35",
        shared_as="inlet_flow_coefficient",
        refines=_FLOW,
        said="flow coefficient {}",
    )
    inlet_temperature = measure(
        "Temperature of the charge",
        "°C",
        -40,
        150,
        why="a charge that is not yet burning",
        exact=True,
        usual="40 °C",
        shared_as="charge_temperature",
        refines=_FLOW,
        said="charge {}",
    )

    def answer(self) -> Answer:
        index = mach_index(
            number_in(self.bore, "mm"),
            number_in(self.valve_head, "mm"),
            self._piston,
            self.flow_coefficient,
            self._sound,
        )
        limit = magnitude_in(self.engine_speed, "r/min") * LIMIT / index
        fills = _MARK * math.floor(best_of(limit) / _MARK)
        verdict = verdict_on(index, high=LIMIT)
        told = {
            "in": f"below {LIMIT}: the cylinder fills",
            "out": f"above {LIMIT}: the cylinder fills badly",
            "too close to call": f"too close to {LIMIT} to call",
        }[verdict]
        return Answer(
            headline=f"Fills up to about {fills} r/min",
            says=f"At {printed(self.engine_speed, 'r/min')} the inlet Mach index is {figures(best_of(index), 2)}, "
            f"{told}.",
            drawing=_valve_in_bore(
                best_of(number_in(self.bore, "mm")), best_of(number_in(self.valve_head, "mm")), best_of(index)
            ),
            values=(
                Value(
                    key="mach_index",
                    label="Inlet Mach index",
                    quantity=index,
                    places=2,
                    formula="(bore ÷ valve head)² · mean piston speed ÷ (flow coefficient · speed of sound); "
                    f"above {LIMIT} the cylinder fills badly",
                    source=TAYLOR,
                    given=(
                        ("bore", self.bore),
                        ("valve head", self.valve_head),
                        ("mean piston speed", quantity(self._piston, "m/s")),
                        ("flow coefficient", self.flow_coefficient),
                        ("speed of sound", quantity(self._sound, "m/s")),
                    ),
                ),
                Value(
                    key="filling_speed",
                    label=f"Speed at which the index is {LIMIT}",
                    quantity=quantity(limit, "r/min"),
                    formula=f"engine speed · {LIMIT} ÷ index: the index grows with the speed",
                    source=TAYLOR,
                    given=(("engine speed", self.engine_speed), ("index", index)),
                ),
                piston_value(self.stroke, self.engine_speed),
                Value(
                    key="sound_speed",
                    label="Speed of sound in the charge",
                    quantity=quantity(self._sound, "m/s"),
                    places=0,
                    formula="√(1.4 · 287.05 J/(kg·K) · temperature), air as an ideal gas",
                    source=ISO_2533,
                    given=(("temperature", self.inlet_temperature),),
                ),
            ),
            warnings=tuple(self._warnings(verdict)),
            notes=(
                "A flow coefficient of 0.35 is common practice, no source; a flow bench gives yours.",
                f"{LIMIT} is where filling begins to fall off; it does not stop. Pressure waves in the pipe are "
                "ignored.",
                "The engine maker's figures win over any figure here.",
            ),
        )

    @property
    def _piston(self) -> Any:
        return mean_speed(self.stroke, self.engine_speed)

    @property
    def _sound(self) -> float:
        return sound_speed(magnitude_in(self.inlet_temperature, "°C"))

    def _warnings(self, verdict: str) -> list[Caution]:
        if verdict != "out":
            return []
        return [
            Caution(
                "notice",
                f"The inlet Mach index is above {LIMIT} at this engine speed: the cylinder fills badly there, "
                "whatever is done to the port's edges.",
            )
        ]


def _valve_in_bore(bore: float, head: float, index: float) -> Figure:
    """Draw the valve's head in the bore, to scale from below, and the index beside the limit."""
    drawing = Drawing(340, 196)
    scale = 70.0 / max(bore, head)  # a valve wider than its bore is drawn as wide as it was typed
    radius, valve = scale * bore, scale * head
    rounds = [(82.0, radius, "part"), (82 - max(0.0, radius - valve - 6), valve, "stud")]
    for x, size, look in sorted(rounds, key=lambda one: -one[1]):  # the smaller is seen on the larger
        drawing.circle(x, 80, size, look)
    drawing.text(82, 168, f"bore {figures(bore, 1)} mm")
    drawing.text(82, 185, f"valve {figures(head, 1)} mm")
    foot, top = 158.0, 18.0
    most = max(1.0, 1.15 * index)

    def at(share: float) -> float:
        return foot - (foot - top) * share / most

    drawing.rectangle(226, at(LIMIT), 30, foot - at(LIMIT), "band")
    drawing.line(226, foot, 256, foot, "edge")
    drawing.line(226, top, 226, foot, "edge")
    drawing.line(220, at(LIMIT), 262, at(LIMIT), "route")
    drawing.text(216, at(LIMIT), figures(LIMIT, 1), anchor="end")
    drawing.line(226, at(index), 262, at(index), "arrow")
    drawing.text(268, at(index), figures(index, 2), "number", anchor="start", size=16)
    drawing.text(241, 177, "Mach index")
    return Figure(
        key="filling",
        title="Valve in its bore, to scale, and the inlet Mach index; shaded: it fills",
        svg=drawing.svg(
            f"Inlet valve of {figures(head, 1)} mm in a bore of {figures(bore, 1)} mm; inlet Mach index "
            f"{figures(index, 2)}, limit {figures(LIMIT, 1)}."
        ),
    )
