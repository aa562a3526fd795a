"""Work out chamber and crown volumes from burette readings or dimensions, and how far they can be trusted.

Takes the parts as they lie: valves and plug fitted, faces clean, no bubble left. What the
volumes mean for the compression ratio is another calculator's matter.
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

from calculators import Choice, Field, Form, Measure, Number, Report, Rows, Section, Series
from calculators._fields import BORE, CYLINDERS, MAY_DIFFER
from calculators._measuring.chamber_report import report
from calculators._measuring.chamber_shapes import read_chambers

TITLE = "Chamber volume"


def _fills(key: str, label: str, **more: str) -> tuple[Field, Field]:
    """Return the columns of burette readings and of the marks that they started from."""
    return (
        Field(
            key=key,
            label=label,
            kind=Series(
                of=Measure(own="cm³", low=0, high=2000, why="engines of this kind", exact=True),
                fewest=1,
                most=10,
                like="49.2 49.1 49.0",
            ),
            optional=True,
            instrument="burette",
            **more,
        ),
        Field(
            key=f"{key}_start",
            label="Starting marks" if key == "fill" else "Starting marks on the crown",
            help="Empty where each fill starts at 0; else one for all, or one each.",
            kind=Series(
                of=Measure(own="cm³", low=0, high=2000, why="within the burette", exact=True),
                fewest=1,
                most=10,
                like="0.2 0.4 0.1",
            ),
            optional=True,
            instrument="burette",
        ),
    )


def _length(key: str, label: str, said: str = "", low: float = 0.1, high: float = 250) -> Field:
    return Field(
        key=key,
        label=label,
        help=said,
        kind=Measure(own="mm", low=low, high=high, why="heads and pistons of engines of this kind", exact=True),
        optional=True,
    )


def _limit(key: str, label: str, own: str, default: str, high: float, said: str = "Plus or minus.") -> Field:
    return Field(
        key=key,
        label=label,
        help=said,
        kind=Measure(
            own=own, low=0, high=high, why="an instrument further off decides nothing", exact=True, plus_minus=True
        ),
        default=default,
    )


def _temperature(key: str, label: str) -> Field:
    return Field(
        key=key,
        label=label,
        kind=Measure(own="°C", low=0, high=60, why="a workshop", exact=True),
        default="20 °C",
    )


FORM = Form(
    (
        Section(
            title="The engine",
            fields=(
                CYLINDERS,
                MAY_DIFFER,
            ),
        ),
        Rows(
            key="fills",
            title="What the burette read",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            help="Chamber up, plug and valves fitted, plate greased on. One line a chamber, three fills or more.",
            fields=_fills(
                "fill",
                "Burette readings",
                help="At the end of each fill, all in one line: 49.2 49.1 49.0.",
                example="49.2 49.1 49.0; 49.5 49.5 49.6; 48.2 48.3 48.1; 48.6 48.6 48.7",
            ),
        ),
        Section(
            title="Burette, plate and liquid",
            folded=True,
            fields=(
                Field(
                    key="step",
                    label="Burette scale step",
                    help="What one mark is worth. A meniscus is read to half of it either way.",
                    kind=Measure(own="cm³", low=0.001, high=10, why="burettes and syringes", exact=True),
                    default="0.1 cm³",
                ),
                _limit(
                    "burette_error",
                    "Error limit of the burette",
                    "cm³",
                    "0.1 cm³",
                    20,
                    "Plus or minus, as printed on it. Of 50 cm³: 0.05 in class A, 0.1 in class B.",
                ),
                Field(
                    key="capacity",
                    label="Burette capacity",
                    help="A larger volume is filled in several goes, and each go adds its errors.",
                    kind=Measure(own="cm³", low=5, high=2000, why="burettes and syringes", exact=True),
                    default="50 cm³",
                ),
                Field(
                    key="hole",
                    label="Hole in the plate",
                    help="Its diameter; 0 where the liquid's level is read without a hole.",
                    kind=Measure(own="mm", low=0, high=20, why="wider, its level cannot be judged", exact=True),
                    default="6 mm",
                ),
                Field(
                    key="level",
                    label="Liquid stands",
                    kind=Choice(options={"under": "at the underside of the plate", "top": "at the top of the hole"}),
                    default="under",
                ),
                Field(
                    key="plate",
                    label="Plate thickness",
                    kind=Measure(own="mm", low=0.5, high=50, why="plates", exact=True),
                    default="6 mm",
                ),
                Field(
                    key="liquid",
                    label="Liquid",
                    kind=Choice(
                        options={
                            "oil": "Thin oil",
                            "paraffin": "Paraffin (kerosene)",
                            "spirit": "Spirit (alcohol)",
                            "water": "Water",
                        }
                    ),
                    default="oil",
                ),
                _temperature("liquid_temperature", "Temperature of the liquid"),
                _temperature("head_temperature", "Temperature of the head"),
                Field(
                    key="temperature_error",
                    label="Error limit of the thermometer",
                    help="Plus or minus, in degrees Celsius.",
                    kind=Number(low=0, high=20, why="a hand feels more", whole=False, plus_minus=True),
                    default="1",
                ),
            ),
        ),
        Section(
            title="Chamber by its dimensions",
            help="For cylinders without burette readings: a dome over a cone over a straight step, those there are.",
            folded=True,
            fields=(
                _length("dome_diameter", "Dome diameter", "Of its round edge."),
                _length("dome_height", "Dome height"),
                _length("cone_wide", "Cone diameter at the wide end"),
                _length("cone_narrow", "Cone diameter at the narrow end", "0 where it comes to a point.", low=0),
                _length("cone_height", "Cone height"),
                _length("step_diameter", "Step diameter"),
                _length("step_height", "Step height"),
                Field(
                    key="parts",
                    label="Valves, plug and pockets",
                    help="Together: pockets plus, what stands into the chamber minus.",
                    kind=Measure(own="cm³", low=-100, high=100, why="parts of a chamber"),
                    optional=True,
                ),
                _limit("dimension_error", "Error limit of the dimensions", "mm", "0.1 mm", 5),
            ),
        ),
        Section(
            title="Bore and crowns",
            help="Only where crowns are not flat.",
            folded=True,
            fields=(
                replace(BORE, optional=True),
                _length("crown_diameter", "Diameter of dome or dish", "Empty where it is the bore's.", low=5),
                _limit("bore_error", "Error limit of the bore reading", "mm", "0.02 mm", 1),
                _limit("depth_error", "Error limit of the depth readings", "mm", "0.02 mm", 1),
            ),
        ),
        Rows(
            key="crowns",
            title="Crowns that are not flat",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            help="Either the piston set down a known depth, sealed and filled, or the dome or dish by its depth.",
            folded=True,
            fields=(
                Field(
                    key="piston_depth",
                    instrument="depth_gauge",
                    label="Piston depth",
                    help="From the barrel's top down to the crown's edge, for the fill.",
                    kind=Measure(own="mm", low=0, high=150, why="barrels of engines of this kind"),
                    optional=True,
                ),
                *_fills("crown_fill", "Burette readings on the crown", help="At the end of each fill."),
                Field(
                    key="crown_depth",
                    instrument="depth_gauge",
                    label="Crown depth",
                    help="In place of a fill: at the middle, from the edge; dish plus, dome minus.",
                    kind=Measure(own="mm", low=-60, high=60, why="pistons of engines of this kind"),
                    optional=True,
                ),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the volume of each chamber, and of each crown that was measured."""
    return report(inputs, read_chambers(inputs))
