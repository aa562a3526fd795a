"""What a compression gauge should show, by the ratio, the air and the starter; and whether it does."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Column,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    Value,
    magnitude_in,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.units import figures, printed, printed_bare, reading
from calculators.bench.verdict import best_of, expanded_of
from calculators.bench.words import listed
from calculators.cylinders import gauge
from calculators.cylinders.cautions import ABOVE
from calculators.cylinders.gauge import in_bar
from calculators.cylinders.pressures_drawing import Readings, drawn, pressures_figure
from calculators.cylinders.telling import counted
from calculators.formulas.cranking_pressure import cranking_pressure
from calculators.formulas.slider_crank import effective_ratio, share_left

_CRANK = "Crank and rod"
_STARTER = "How the starter turns it"


class Cylinder(Row):
    """One cylinder's ratio and what its gauge read."""

    ratio = optional(shared.ratio(hint="To 1; from the compression ratio question, if you answered it."))
    dry = gauge.pressure("Dry pressure", "dry", "As found.", "7.4; 5.6; 7.2; 5.4")


class Expected(Question):
    """For a cylinder full of outside air when the inlet valve shuts: throttle open, air cleaner off.

    The band is wide, because nobody knows the losses to the starter's speed and the walls. Compare the cylinders with
    each other
    first.
    """

    asks = "What should the compression gauge show?"
    tells = "Gauge reading to expect"

    cylinders = shared.cylinders()
    inlet_closing = shared.inlet_closing(said="inlet shuts at {}")
    altitude = shared.altitude(said="{} up")
    each = Table(Cylinder, each="Cylinder {}", most=12, count="cylinders")
    stroke = shared.stroke(refines=_CRANK)
    rod_length = shared.rod_length(refines=_CRANK, said="rod {}")
    air_temperature = gauge.air_temperature()
    exponent = shared.polytropic_exponent(refines=_STARTER)
    exponent_error = shared.exponent_error(refines=_STARTER)
    gauge_error = gauge.gauge_error()
    gauge_scatter = gauge.gauge_scatter()

    def answer(self) -> Answer:
        if all(row.ratio is None for row in self.each):
            raise Lacking(FieldError("ratio.1", "Enter the compression ratio of cylinder 1"))
        left = self._left()
        air = gauge.air_bar(self.altitude, self.air_temperature)
        exponent = reading(self.exponent, self.exponent_error, "Polytropic exponent")
        expected = [
            None if row.ratio is None else cranking_pressure(air, effective_ratio(row.ratio, left), exponent)
            for row in self.each
        ]
        dry = [gauge.bar_of(row.dry, self.gauge_error, self.gauge_scatter) for row in self.each]
        beside = [_beside(one, should) for one, should in zip(dry, expected, strict=True)]
        headline, told = _told(expected, beside)
        return Answer(
            headline=headline,
            says=told,
            drawing=pressures_figure(
                tuple(
                    Readings(number, drawn(one), None, None, drawn(should))
                    for number, (one, should) in enumerate(zip(dry, expected, strict=True), 1)
                ),
                None,
            ),
            values=self._values(expected, left, exponent, air),
            warnings=(ABOVE,) if "above" in beside else (),
            tables=(_table(dry, expected, beside),),
            notes=(
                "The expected band is wide, because nobody knows the losses to the starter's speed and the walls. "
                "Compare the "
                "cylinders with each other first.",
                "The volume of gauge and hose lowers the reading.",
            ),
        )

    def _left(self) -> Any:
        """Return the share of the stroke that is left when the inlet valve has shut."""
        stroke, rod = magnitude_in(self.stroke, "mm"), number_in(self.rod_length, "mm")
        if best_of(rod) <= 0.5 * stroke:
            message = f"Rod length must be more than half the stroke, which is {printed(self.stroke / 2, 'mm')}"
            raise InputErrors(FieldError("rod_length", message))
        return share_left(number_in(self.inlet_closing, "°"), stroke, rod)

    def _values(self, expected: list[Any | None], left: Any, exponent: Any, air: Any) -> tuple[Value, ...]:
        known = [(should, place) for place, should in enumerate(expected) if should is not None]
        lowest, place = min(known, key=lambda pair: best_of(pair[0]))
        ratio = self.each[place].ratio
        return (
            Value(
                key="expected",
                label=f"Expected in cylinder {place + 1}",
                quantity=quantity(lowest, "bar"),
                units=("bar", "psi"),
                formula="air pressure × (effective ratio ^ exponent − 1); effective ratio = 1 + stroke left when the "
                "inlet valve shuts × (ratio − 1)",
                source=COMMON_PRACTICE,
                given=(
                    ("ratio, to 1", printed_bare(ratio, 2)),
                    ("stroke left", quantity(100 * left, "%")),
                    ("exponent", printed_bare(exponent, 2)),
                    ("air pressure", printed(quantity(air, "bar"), "kPa", 1)),
                ),
            ),
            Value(
                key="effective_ratio",
                label="Effective ratio once the inlet valve shuts, to 1",
                quantity=effective_ratio(ratio, left),
                places=2,
                formula="1 + stroke left when the inlet valve shuts × (ratio − 1)",
                source=gauge.SLIDER_CRANK,
                given=(("ratio, to 1", printed_bare(ratio, 2)), ("stroke left", quantity(100 * left, "%"))),
            ),
        )


def _beside(dry: Any | None, expected: Any | None) -> str | None:
    if dry is None or expected is None:
        return None
    apart = dry - expected
    if abs(best_of(apart)) <= expanded_of(apart):
        return "as expected"
    return "above" if best_of(apart) > 0 else "below"


def _told(expected: list[Any | None], beside: list[str | None]) -> tuple[str, str]:
    known = [should for should in expected if should is not None]
    low = min(best_of(should) - expanded_of(should) for should in known)
    high = max(best_of(should) + expanded_of(should) for should in known)
    band = f"{figures(max(low, 0), 1)} to {figures(high, 1)} bar"
    headline, told = [band], [f"A gauge should show {band} here."]
    for side in ("above", "below"):
        numbers = [number for number, one in enumerate(beside, 1) if one == side]
        if numbers:
            headline.append(f"{side}: {counted(numbers)}")
            told.append(f"{side.capitalize()} what its ratio gives: {listed(numbers)}.")
    if len(told) == 1 and any(beside):
        told.append("The readings are as expected.")
        headline.append("read as expected")
    return "; ".join(headline), " ".join(told)


def _table(dry: list[Any | None], expected: list[Any | None], beside: list[str | None]) -> ResultTable:
    return ResultTable(
        key="cylinders",
        title="Cylinder by cylinder",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="expected", label="Expected", unit="bar", strong=True),
            Column(key="dry", label="Dry", unit="bar"),
            Column(key="beside", label="Compared"),
        ),
        rows=tuple(
            TableRow(cells=(str(number), in_bar(should), in_bar(one), side), chosen=side == "above")
            for number, (one, should, side) in enumerate(zip(dry, expected, beside, strict=True), 1)
        ),
        formula="as expected: reading and expectation differ by no more than their errors allow",
        source=COMMON_PRACTICE,
    )
