"""The compression gauge, the air around it, and the sources that both rest on."""

from __future__ import annotations

from typing import Any

from calculators.bench import Entry, Quantity, Source, magnitude_in, measure, optional, quantity, shared
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.instruments import read_by_instrument
from calculators.bench.units import number_in
from calculators.formulas.standard_atmosphere import air_pressure

ATMOSPHERE = Source("ISO 2533:1975, Standard atmosphere, clause 2", "memory")
SLIDER_CRANK = Source("slider-crank geometry", "identity")
MAY_DIFFER = (
    "On other engines cylinders may differ by 10 psi (0.69 bar) at 90 to 110 psi, US Army TM 5-1185; by 25 psi "
    "(1.72 bar) at 405 to 445 psi on a diesel, US Army TM 5-3895-359-14&P. The lowest must keep 75 % of the highest, "
    "TM 5-4210-230-14&P-1; on aircraft none may be 20 % below the average, TM 1-1500-204-23-1."
)
LIMITS_WIN = "The engine maker's limits win over any figure here."
_AIR = "The air here"
_GOOD = "How good the gauge is"


def pressure(label: str, key: str, hint: str = "", example: str | None = None) -> Entry[Quantity | None]:
    """Ask for a reading of the compression gauge."""
    return optional(
        measure(
            label,
            "bar",
            0,
            40,
            why="no spark-ignition engine cranks higher",
            hint=hint,
            example=example,
            shared_as=key,
            read_by="compression_gauge",
        )
    )


least_pressure = optional(
    card_entry(
        CardFacts.limits.cranking_pressure,
        "Least pressure",
        exact=True,
        hint="The maker's figure, for sea level.",
        shared_as="least_cranking_pressure",
        said="at least {}",
    )
)

most_spread = optional(
    card_entry(
        CardFacts.limits.cranking_spread,
        "Most difference between cylinders",
        exact=True,
        shared_as="most_cranking_spread",
        said="within {}",
    )
)

altitude = shared.altitude(refines=_AIR, said="{} up")

air_temperature = shared.air_temperature(refines=_AIR, said="{}")


def _error(label: str, hint: str, usual: str, **facts: Any) -> Entry[Quantity]:
    return shared.error_limit(label, "bar", 3, why="a less accurate gauge is no use", hint=hint, usual=usual, **facts)


gauge_error = _error(
    "Error limit of the compression gauge",
    "Plus or minus, the same in all its readings. A ± typed with a reading wins over it.",
    "0.2 bar",
    shared_as="compression_gauge_error",
    refines=_GOOD,
    said="gauge ± {}",
)

gauge_scatter = _error(
    "Scatter of the compression readings",
    "Plus or minus, when one cylinder is tested again; only this counts between cylinders. 0.1 bar is common practice.",
    "0.1 bar",
    shared_as="compression_gauge_scatter",
    refines=_GOOD,
    said="scatter ± {}",
)

tester_error = _error(
    "Error limit of the tester's gauges",
    "Plus or minus.",
    "0.1 bar",
    shared_as="leak_gauge_error",
    refines="How good the tester is",
    said="gauges ± {}",
)


def bar_of(value: Quantity | None, error: Quantity, scatter: Quantity) -> Any | None:
    """Return a reading in bar with its uncertainty; None where there is none."""
    if value is None:
        return None
    return read_by_instrument([value], "bar", instrument="compression gauge", limit=error, read_to=scatter)[0]


def air_bar(altitude: Quantity, temperature: Quantity) -> Any:
    """Return the pressure of the air, in bar, with its uncertainty if the temperature has one."""
    return air_pressure(magnitude_in(altitude, "m"), number_in(temperature, "K")) / 1e5


def in_bar(number: Any | None) -> Any | None:
    """Return a quantity in bar, None as it is."""
    return None if number is None else quantity(number, "bar")


def in_percent(number: Any | None) -> Any | None:
    """Return a quantity in per cent, None as it is."""
    return None if number is None else quantity(number, "%")
