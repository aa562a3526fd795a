"""Read compression and leakage tests: how even, what they should show, what they point to, before and after.

Compares cylinders with each other and with what ratio, air and starter predict. It points where to
look and listen next; only the eye, with the head off, proves it.
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

from calculators import Choice, Field, Form, Measure, Number, Report, Rows, Section
from calculators._cylinder_tests.findings import HEARD, find
from calculators._cylinder_tests.report import report
from calculators._fields import (
    AIR_TEMPERATURE,
    ALTITUDE,
    CYLINDERS,
    EXPONENT,
    EXPONENT_ERROR,
    HEADS,
    INLET_CLOSING,
    ROD_LENGTH,
    STROKE,
    optional_reading,
)

TITLE = "Cylinder tests"

_PRESSURE = Measure(own="bar", low=0, high=40, why="no spark-ignition engine cranks higher")
_HELD = Measure(own="bar", low=0, high=12, why="shop air")
_ERROR = Measure(own="bar", low=0, high=3, why="a gauge further off decides nothing", exact=True, plus_minus=True)


FORM = Form(
    (
        Section(
            title="The engine",
            fields=(
                CYLINDERS,
                replace(HEADS, help="A stroke between the heads: 1 2 / 3 4. Neighbours stand side by side."),
            ),
        ),
        Rows(
            key="pressures",
            title="At the compression gauge",
            help="Warm, all plugs out, throttle wide open, the same six to eight compressions for each.",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            fields=(
                optional_reading(
                    "dry",
                    "Dry pressure",
                    _PRESSURE,
                    "Before the job, as found.",
                    "7.4; 5.6; 7.2; 5.4",
                    instrument="compression_gauge",
                ),
                optional_reading(
                    "wet",
                    "Wet pressure",
                    _PRESSURE,
                    "With a teaspoon of oil in the cylinder.",
                    "7.9; 7.3; 7.6; 5.8",
                    instrument="compression_gauge",
                ),
                optional_reading(
                    "dry_after",
                    "Dry pressure after the job",
                    _PRESSURE,
                    "",
                    "7.9; 7.8; 8.0; 7.7",
                    instrument="compression_gauge",
                ),
            ),
        ),
        Rows(
            key="leaks",
            title="At the leakage tester",
            help="Piston at its firing top, crank held. Gauge behind the orifice, or the flow.",
            folded=True,
            each="Cylinder {}",
            most=12,
            count="cylinders",
            fields=(
                optional_reading(
                    "held",
                    "Held pressure",
                    _HELD,
                    "What the cylinder's gauge shows.",
                    "5.0; 4.1; 5.1; 3.6",
                    instrument="leakage_tester",
                ),
                optional_reading(
                    "flow",
                    "Flow in l/min",
                    Number(low=0, high=2000, why="shop air", whole=False),
                    "Free air, where the tester has a flow meter instead.",
                    instrument="leakage_tester",
                ),
                Field(
                    key="heard",
                    label="Place where it is heard",
                    kind=Choice(options=HEARD),
                    example="oil; oil; nowhere; exhaust",
                    optional=True,
                    reading="leak_heard",
                ),
                optional_reading(
                    "held_after",
                    "Held pressure after the job",
                    _HELD,
                    "",
                    "5.1; 5.1; 5.2; 5.0",
                    instrument="leakage_tester",
                ),
            ),
        ),
        Section(
            title="The leakage tester",
            folded=True,
            fields=(
                Field(
                    key="supply",
                    instrument="leakage_tester",
                    label="Supply pressure",
                    help="Before the orifice, air flowing.",
                    kind=Measure(own="bar", low=0.3, high=12, why="shop air"),
                    example="5.5 bar",
                    optional=True,
                    reading="leak_supply",
                ),
                Field(
                    key="orifice",
                    label="Orifice",
                    help="Its diameter; with it the leak becomes a hole of a size.",
                    kind=Measure(own="mm", low=0.2, high=6, why="leakage testers"),
                    example="1 mm",
                    optional=True,
                    reading="leak_orifice",
                ),
                Field(
                    key="discharge",
                    label="Discharge coefficient of the orifice",
                    help="0.8 for a drilled one, near 1 for a rounded one. Common practice.",
                    kind=Number(low=0.5, high=1, why="a jet is no wider than its hole", whole=False),
                    default="0.8",
                ),
                Field(
                    key="most_leakage",
                    label="Most leakage",
                    help="Common practice: below 10 % good, above 25 % poor. The maker's limit wins.",
                    kind=Measure(own="%", low=1, high=90, why="a share of the whole", exact=True),
                    default="20%",
                ),
            ),
        ),
        Section(
            title="Limits and gauges",
            folded=True,
            fields=(
                Field(
                    key="least_pressure",
                    label="Least pressure",
                    help="The maker's, for sea level.",
                    kind=Measure(own="bar", low=0.5, high=40, why="spark-ignition engines", exact=True),
                    card="limits.cranking_pressure",
                    optional=True,
                ),
                Field(
                    key="most_spread",
                    label="Most difference between cylinders",
                    kind=Measure(own="bar", low=0.1, high=20, why="spark-ignition engines", exact=True),
                    card="limits.cranking_spread",
                    optional=True,
                ),
                Field(
                    key="gauge_error",
                    label="Error limit of the compression gauge",
                    help="Plus or minus, the same in all its readings. A ± typed with a reading wins over it.",
                    kind=_ERROR,
                    default="0.2 bar",
                    reading="compression_gauge_error",
                ),
                Field(
                    key="gauge_scatter",
                    label="Scatter of the compression readings",
                    help="Plus or minus, when one cylinder is tested again: it alone counts between cylinders. "
                    "0.1 bar is common practice.",
                    kind=_ERROR,
                    default="0.1 bar",
                ),
                Field(
                    key="leak_error",
                    label="Error limit of the tester's gauges",
                    help="Plus or minus.",
                    kind=_ERROR,
                    default="0.1 bar",
                    reading="leak_gauge_error",
                ),
                Field(
                    key="flow_error",
                    label="Error limit of the flow meter",
                    help="Plus or minus, of what it shows.",
                    kind=Measure(
                        own="%", low=0, high=50, why="a meter further off decides nothing", exact=True, plus_minus=True
                    ),
                    default="5%",
                ),
            ),
        ),
        Rows(
            key="ratios",
            title="Compression ratios",
            help="For what a gauge should show. Taken from Compression and spacers, where it was worked out.",
            folded=True,
            each="Cylinder {}",
            most=12,
            count="cylinders",
            fields=(
                Field(
                    key="ratio",
                    label="Compression ratio",
                    kind=Number(low=2, high=20, why="spark-ignition engines", whole=False, to_one=True),
                    example="7.6; 7.6; 7.6; 7.6",
                    optional=True,
                    reading="ratio",
                ),
            ),
        ),
        Section(
            title="What the starter and the air make of it",
            help="Stroke, rod or inlet closing empty: not worked out.",
            folded=True,
            fields=(
                replace(STROKE, example=None, optional=True),
                replace(ROD_LENGTH, help=""),
                INLET_CLOSING,
                ALTITUDE,
                AIR_TEMPERATURE,
                EXPONENT,
                EXPONENT_ERROR,
            ),
        ),
    ),
    sets_aside=("orifice", "stroke", "rod_length", "inlet_closing", "air_temperature"),
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return what the gauges say of each cylinder, and where to look next."""
    return report(inputs, find(inputs))
