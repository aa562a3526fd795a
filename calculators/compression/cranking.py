"""What is left of the ratio once the inlet valve has shut, and what a gauge shows for it while the starter turns."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Caution,
    Column,
    FieldError,
    InputErrors,
    Question,
    ResultTable,
    Row,
    Source,
    Table,
    TableRow,
    Value,
    expanded,
    magnitude_in,
    number_in,
    quantity,
    shared,
)
from calculators.bench.drawing import Drawing, around
from calculators.bench.report import Figure
from calculators.bench.units import figures, printed, printed_bare, reading, symbol_of
from calculators.bench.verdict import best_of
from calculators.formulas.cranking_pressure import cranking_pressure
from calculators.formulas.slider_crank import effective_ratio, share_left
from calculators.formulas.standard_atmosphere import air_pressure

SLIDER_CRANK = Source("geometry of the slider-crank, bore and pin not offset", "identity")
ATMOSPHERE = Source("ISO 2533:1975, Standard atmosphere, clause 2", "memory")
AIR = "The air and the starter"


class Compressed(Row):
    """The ratio of one cylinder."""

    ratio = shared.ratio()


class Cranking(Question):
    """Throttle open, cylinder full, gauge without a long hose. The band is wide: that is the truth.

    The effective ratio starts where the inlet valve shuts. Compare cylinders with each other first.
    """

    asks = "What should a gauge show on the starter?"
    tells = "Gauge reading to expect on the starter"

    cylinders = shared.cylinders()
    rod_length = shared.rod_length()
    inlet_closing = shared.inlet_closing()
    rows = Table(Compressed, each="Cylinder {}", most=12, count="cylinders")
    stroke = shared.stroke(refines="The engine")
    altitude = shared.altitude(refines=AIR)
    air_temperature = shared.air_temperature(refines=AIR)
    exponent = shared.polytropic_exponent(refines=AIR)
    exponent_error = shared.exponent_error(refines=AIR)

    def answer(self) -> Answer:
        stroke, rod = magnitude_in(self.stroke, "mm"), number_in(self.rod_length, "mm")
        if best_of(rod) <= 0.5 * stroke:
            message = f"Rod length must be more than half the stroke, which is {printed(self.stroke / 2, 'mm')}"
            raise InputErrors(FieldError("rod_length", message))
        share = share_left(number_in(self.inlet_closing, "°"), stroke, rod)
        air = air_pressure(magnitude_in(self.altitude, "m"), number_in(self.air_temperature, "K")) / 1e5
        exponent = reading(self.exponent, self.exponent_error, "Polytropic exponent")
        left = [effective_ratio(of.ratio, share) for of in self.rows]
        best = [best_of(of.ratio) for of in self.rows]
        lowest = best.index(min(best))
        pressure = expanded(cranking_pressure(air, left[lowest], exponent))
        shown = printed(quantity(pressure.value, "bar"), "bar", 1)
        return Answer(
            headline=shown,
            says=f"A gauge should show {shown} in cylinder {lowest + 1}, which has the lowest ratio: of its "
            f"{figures(best[lowest], 2)} : 1 the inlet valve leaves {figures(best_of(left[lowest]), 2)} : 1.",
            drawing=_gauge(round(pressure.best, 2), round(pressure.spread, 2), lowest + 1),
            values=self._shown(left[lowest], share, stroke, pressure.value, air, exponent, lowest),
            warnings=(
                Caution(
                    "warning",
                    "While the starter turns, a spark can light fuel mist at the open plug holes, and belt and fan can "
                    "take off fingers. Ignition off, coil lead earthed (grounded), fuel shut; out of gear, brake on, "
                    "wheels "
                    "chocked. Nobody near the plug holes, hands and clothes away from belt and fan.",
                ),
            ),
            tables=(self._table(best_of(air), share),),
            notes=(
                "Starter speed, rings, valves and hose change the reading more than the ratio does: compare cylinders "
                "with each other first.",
                "The weather changes air pressure by about 2%; standard pressure at sea level is assumed.",
                "Cam angles are often given at a lift; the valve then shuts some degrees later.",
            ),
        )

    def _shown(
        self, left: Any, share: Any, stroke: float, pressure: Any, air: Any, exponent: Any, lowest: int
    ) -> tuple[Value, ...]:
        return (
            Value(
                key="cranking_pressure",
                label=f"Expected cranking pressure in cylinder {lowest + 1}",
                quantity=quantity(pressure, "bar"),
                units=("bar", "psi"),
                formula="air pressure × (effective ratio ^ exponent − 1), on the gauge; exponent 1.1 for a slow "
                "starter or worn rings, 1.3 for a fast one and tight rings, 1.4 without any loss; air pressure = "
                "101.325 kPa × (T ÷ (T + 0.0065 K/m × altitude)) ^ 5.2559",
                source=Source(f"{ATMOSPHERE}; the exponents: {COMMON_PRACTICE}"),
                given=(
                    ("altitude", printed(self.altitude, symbol_of(self.altitude), 0)),
                    ("T", quantity(magnitude_in(self.air_temperature, "K"), "K")),
                    ("air pressure", printed(quantity(air, "bar"), "kPa")),
                    ("effective ratio, to 1", printed_bare(left, 2)),
                    ("exponent", printed_bare(exponent, 2)),
                ),
            ),
            Value(
                key="effective_ratio",
                label=f"Effective ratio, to 1, in cylinder {lowest + 1}, the lowest",
                quantity=expanded(left).value,
                places=2,
                formula="1 + (stroke left when the inlet valve shuts ÷ stroke) × (ratio − 1)",
                source=SLIDER_CRANK,
                given=(
                    ("ratio, to 1", printed_bare(self.rows[lowest].ratio, 2)),
                    ("inlet closing after bottom dead centre", self.inlet_closing),
                    ("stroke", self.stroke),
                    ("rod length", self.rod_length),
                    ("stroke left", quantity(share * stroke, "mm")),
                ),
            ),
        )

    def _table(self, air: float, share: Any) -> ResultTable:
        left = [effective_ratio(best_of(of.ratio), best_of(share)) for of in self.rows]
        return ResultTable(
            key="gauges",
            title="Cylinder by cylinder, from the ratio alone",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                Column(key="effective", label="Effective ratio, to 1", places=2),
                Column(key="pressure", label="Gauge, bar", places=1, strong=True),
            ),
            rows=tuple(
                TableRow(cells=(str(row), ratio, cranking_pressure(air, ratio, self.exponent)))
                for row, ratio in enumerate(left, 1)
            ),
            formula="air pressure × (effective ratio ^ exponent − 1); best estimates",
            source=COMMON_PRACTICE,
            given=(("air pressure, bar", f"{air:.3f}"), ("exponent", self.exponent)),
        )


@lru_cache(maxsize=16)
def _gauge(pressure: float, spread: float, cylinder: int) -> Figure:
    """Draw a pressure gauge, its needle at what is to be expected and the ± as a band."""
    top = next((end for end in (10, 15, 20, 30, 50) if pressure + spread <= end), 100)
    drawing = Drawing(340, 210)
    x, y, radius = 170.0, 120.0, 84.0

    def turned(bar: float) -> float:
        return -120 + 240 * max(0.0, min(bar, top)) / top

    drawing.circle(x, y, radius, "part")
    low, high = turned(pressure - spread), turned(pressure + spread)
    steps = [low + (high - low) * step / 12 for step in range(13)]
    inner = [around(x, y, radius - 22, angle) for angle in steps]
    outer = [around(x, y, radius - 6, angle) for angle in reversed(steps)]
    drawing.path([*inner, *outer], "band", closed=True)
    step = top / 5
    for mark in range(6):
        angle = turned(mark * step)
        drawing.line(*around(x, y, radius - 6, angle), *around(x, y, radius, angle), "edge")
        drawing.text(*around(x, y, radius + 14, angle), figures(mark * step, 0), "words")
    drawing.arrow(x, y, *around(x, y, radius - 10, turned(pressure)))
    drawing.text(x, y + 40, f"{figures(pressure, 1)} bar", "number")
    drawing.text(x, y + 60, f"cylinder {cylinder}", "words")
    return Figure(
        key="gauge",
        title="The gauge, while the starter turns: the needle and its band",
        svg=drawing.svg(
            f"Pressure gauge to {top} bar: needle at {figures(pressure, 1)} bar, band ± {figures(spread, 1)} bar, "
            f"cylinder {cylinder}."
        ),
    )
