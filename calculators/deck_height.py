"""Work out deck heights from depth gauge readings round each piston, and tell whether a barrel stands crooked.

Takes the barrels as clamped down without spacers and each piston at its own top dead centre. A piston
rocks about its pin but not along it: what is tilted along the pin is barrel, case or rod.
"""

from __future__ import annotations

from types import SimpleNamespace

from calculators import (
    Field,
    FieldError,
    Form,
    InputErrors,
    Measure,
    Report,
    Rows,
    Section,
    Series,
    magnitude_in,
)
from calculators._fields import BORE, CYLINDERS, HEADS
from calculators._measuring.deck_report import report
from calculators._measuring.measured_decks import HIGHEST, LOWEST, read_decks

TITLE = "Deck height"

FORM = Form(
    (
        Section(
            title="The engine",
            fields=(
                CYLINDERS,
                HEADS,
                BORE,
            ),
        ),
        Rows(
            key="readings",
            title="What the depth gauge read",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            help="Piston at top dead centre, barrel clamped down without spacer. Three to eight points at equal steps "
            "round the crown's edge, all in one line. The first lies over the gudgeon pin at the pulley end.",
            fields=(
                Field(
                    key="depth",
                    instrument="depth_gauge",
                    label="Depth readings",
                    help="From the barrel's top down to the piston; minus where it stands proud.",
                    kind=Series(
                        of=Measure(own="mm", low=-10, high=200, why="barrels of engines of this kind", exact=True),
                        fewest=3,
                        most=8,
                        like="0.42 0.45 0.42 0.39",
                    ),
                    example="0.43 0.46 0.41 0.38; 0.38 0.40 0.39 0.36; 0.45 0.43 0.45 0.47; 0.41 0.43 0.42 0.40",
                ),
            ),
        ),
        Section(
            title="What is allowed",
            fields=(
                Field(
                    key="tilt_allowed",
                    label="Tilt allowed",
                    help="Of a barrel, across the bore, along the gudgeon pin.",
                    kind=Measure(own="mm", low=0, high=5, why="beyond, no head seals", exact=True),
                    card="compression.barrel_tilt",
                    default="0.05 mm",
                ),
                Field(
                    key="difference_allowed",
                    label="Difference allowed under one head",
                    help="The deepest deck less the shallowest.",
                    kind=Measure(own="mm", low=0, high=5, why="beyond, no head seals", exact=True),
                    card="compression.head_height_tolerance",
                    default="0.05 mm",
                ),
            ),
        ),
        Section(
            title="Gauge and points",
            folded=True,
            fields=(
                Field(
                    key="zero",
                    label="Gauge zero",
                    help="What the gauge reads with its tip level with the barrel's top; taken off every reading.",
                    kind=Measure(own="mm", low=-10, high=200, why="gauges and bridges", exact=True),
                    default="0 mm",
                ),
                Field(
                    key="step",
                    label="Gauge scale step",
                    help="What one mark is worth. It is read to half of it either way.",
                    kind=Measure(own="mm", low=0.0001, high=1, why="depth gauges", exact=True),
                    default="0.01 mm",
                ),
                Field(
                    key="gauge_error",
                    label="Error limit of the gauge",
                    help="Plus or minus.",
                    kind=Measure(
                        own="mm",
                        low=0,
                        high=1,
                        why="a gauge further off decides nothing",
                        exact=True,
                        plus_minus=True,
                    ),
                    default="0.02 mm",
                ),
                Field(
                    key="circle",
                    label="Diameter of the circle of points",
                    help="Empty where the points lie close to the edge of the bore.",
                    kind=Measure(own="mm", low=10, high=200, why="within the bore", exact=True),
                    optional=True,
                ),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return each deck height, and how crooked its barrel stands."""
    errors = []
    if sorted(number for head in inputs.heads for number in head) != list(range(1, inputs.cylinders + 1)):
        message = f"Cylinders under each head must name each cylinder from 1 to {inputs.cylinders} once"
        errors.append(FieldError("heads", message))
    if inputs.circle is not None and magnitude_in(inputs.circle, "mm") > magnitude_in(inputs.bore, "mm"):
        errors.append(FieldError("circle", "Diameter of the circle of points must be at most the bore"))
    decks = read_decks(inputs)
    for number, deck in enumerate(decks.barrels, 1):
        if not LOWEST <= deck.plane.middle <= HIGHEST:
            message = (
                f"Depth readings of cylinder {number} less the gauge zero must come to a deck height "
                f"between −10 mm and 20 mm"
            )
            errors.append(FieldError(f"depth.{number}", message))
    if errors:
        raise InputErrors(*errors)
    return report(inputs, decks)
