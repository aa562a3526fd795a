"""What is left of the ratio once the inlet valve has shut, and what a gauge shows for it while the starter turns."""

from __future__ import annotations

from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

from calculators._compression.measured_engine import best_estimate
from calculators._errors import FieldError, InputErrors
from calculators._report import COMMON_PRACTICE, Column, Row, Source, Table, Value
from calculators._units import magnitude_in, number_in, printed, printed_bare, quantity, reading, symbol_of
from calculators.formulas.cranking_pressure import cranking_pressure
from calculators.formulas.slider_crank import effective_ratio, share_left
from calculators.formulas.standard_atmosphere import air_pressure

SLIDER_CRANK = Source("geometry of the slider-crank, bore and pin not offset", "identity")
ATMOSPHERE = Source("ISO 2533:1975, Standard atmosphere, clause 2", "memory")


def cranking(
    inputs: SimpleNamespace, ratios: Sequence[Any], best: Sequence[float]
) -> tuple[tuple[Value, ...], tuple[Table, ...]]:
    """Return the values and the table; none where rod length or inlet closing was left empty.

    Parameters
    ----------
    inputs : SimpleNamespace
    ratios : sequence of float or ufloat
        Of the cylinders.
    best : sequence of float
        Their best estimates.

    Raises
    ------
    InputErrors
        A rod shorter than half the stroke cannot turn.
    """
    if inputs.rod_length is None or inputs.inlet_closing is None:
        return (), ()
    stroke, rod = magnitude_in(inputs.stroke, "mm"), number_in(inputs.rod_length, "mm")
    if magnitude_in(inputs.rod_length, "mm") <= 0.5 * stroke:
        message = f"Rod length must be more than half the stroke, which is {printed(inputs.stroke / 2, 'mm')}"
        raise InputErrors(FieldError("rod_length", message))
    share = share_left(number_in(inputs.inlet_closing, "°"), stroke, rod)
    warmth = magnitude_in(inputs.air_temperature, "K")
    air = quantity(air_pressure(magnitude_in(inputs.altitude, "m"), warmth) / 1e5, "bar")
    outside = magnitude_in(air, "bar")
    lowest = min(range(len(best)), key=best.__getitem__)
    effective = effective_ratio(ratios[lowest], share)
    exponent = reading(inputs.exponent, inputs.exponent_error, "Polytropic exponent")
    values = (
        Value(
            key="effective_ratio",
            label=f"Effective ratio, to 1, in cylinder {lowest + 1}, the lowest",
            quantity=effective,
            places=2,
            formula="1 + (stroke left when the inlet valve shuts ÷ stroke) × (ratio − 1)",
            source=SLIDER_CRANK,
            given=(
                ("ratio, to 1", printed_bare(ratios[lowest], 2)),
                ("inlet closing after bottom dead centre", inputs.inlet_closing),
                ("stroke", inputs.stroke),
                ("rod length", inputs.rod_length),
                ("stroke left", quantity(share * stroke, "mm")),
            ),
        ),
        Value(
            key="cranking_pressure",
            label=f"Cranking pressure to expect in cylinder {lowest + 1}",
            quantity=quantity(cranking_pressure(outside, effective, exponent), "bar"),
            units=("bar", "psi"),
            formula="air pressure × (effective ratio ^ exponent − 1), on the gauge; exponent 1.1 for a slow starter or "
            "worn rings, 1.3 for a quick one and tight rings, 1.4 without any loss; air pressure = 101.325 kPa × "
            "(T ÷ (T + 0.0065 K/m × altitude)) ^ 5.2559",
            source=Source(f"{ATMOSPHERE}; the exponents: {COMMON_PRACTICE}"),
            given=(
                ("altitude", printed(inputs.altitude, symbol_of(inputs.altitude), 0)),
                ("T", quantity(warmth, "K")),
                ("air pressure", printed(air, "kPa")),
                ("effective ratio, to 1", printed_bare(effective, 2)),
                ("exponent", printed_bare(exponent, 2)),
            ),
        ),
    )
    return values, (_gauges(best, share, outside, inputs.exponent),)


def _gauges(best: Sequence[float], share: Any, outside: float, exponent: float) -> Table:
    left = best_estimate(share)
    effective = [effective_ratio(ratio, left) for ratio in best]
    rows = (
        (str(number), ratio, cranking_pressure(outside, ratio, exponent)) for number, ratio in enumerate(effective, 1)
    )
    return Table(
        key="gauges",
        title="At the cranking gauge, cylinder by cylinder, by the ratio alone",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="effective", label="Effective ratio, to 1", places=2),
            Column(key="pressure", label="Gauge, bar", places=1),
        ),
        rows=tuple(Row(cells=cells) for cells in rows),
        formula="air pressure × (effective ratio ^ exponent − 1); best estimates",
        source=COMMON_PRACTICE,
        given=(("air pressure, bar", f"{outside:.3f}"), ("exponent", exponent)),
        folded=True,
    )
