"""Lay pipe, gasket and port over one another, even the chambers within their walls, and tell the gas's speed.

Straight flow along the port: what a bend does, and what a flow bench would show, it does not know.
Metal that is taken out never comes back; the walls are for the reader to measure.
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

from calculators import Choice, Field, Form, Measure, Number, Report, Rows, Section, Series
from calculators._fields import BORE, CHAMBER, CROWN, CYLINDERS, MAY_DIFFER, STROKE, VALVE_LIFT
from calculators._port.openings import SHAPES
from calculators._port.report import report
from calculators._words import word

TITLE = "Port match"

_SIZE_WORDS = {"width": "width", "height": "height"}
_SIZE = Measure(own="mm", low=5, high=150, why="ports of such engines", exact=True)
_PLACE = Measure(own="mm", low=-100, high=100, why="a port is no wider", exact=True)


def _opening(name: str, hint: str, shape: str, sizes: dict[str, str]) -> Section:
    label = word(name).capitalize()

    def size(key: str, noun: str, hint: str, kind: Measure = _SIZE) -> Field:
        return Field(
            key=f"{name}_{key}",
            label=f"{label} {noun}",
            help=hint,
            kind=kind,
            optional=True,
            example=sizes.get(key),
            reading=f"{name}_{key}",
        )

    def offset(key: str, noun: str, hint: str) -> Field:
        return Field(
            key=f"{name}_{key}",
            label=f"{label} {noun}",
            help=hint,
            kind=_PLACE,
            optional=True,
            example=sizes.get(key),
            reading=f"{name}_{key}",
        )

    return Section(
        title=f"The {word(name)}",
        help=hint,
        fields=(
            Field(
                key=f"{name}_shape",
                label=f"Shape of the {word(name)}",
                kind=Choice(options=SHAPES),
                optional=True,
                example=shape,
                reading=f"{name}_shape",
            ),
            size("width", _SIZE_WORDS["width"], "Across; of a round one, its diameter."),
            size("height", _SIZE_WORDS["height"], "Upwards."),
            size(
                "corner",
                "corner radius",
                "Of a rectangle.",
                Measure(own="mm", low=0, high=75, why="half of the widest", exact=True),
            ),
            offset(
                "across",
                "offset across",
                "Its middle, right of one point that is the same for all; minus left; empty for none.",
            ),
            offset("up", "offset up", "Its middle, above that point; minus below; empty for none."),
            Field(
                key=f"{name}_trace",
                label=f"{label} trace",
                help="Points round the edge, across and up by turns: 0 0 36 0 36 30 0 30. Three to forty points.",
                kind=Series(of=_PLACE, fewest=6, most=80, like="0 0 36 0 36 30 0 30"),
                optional=True,
                reading=f"{name}_trace",
            ),
        ),
    )


_VOLUME_OFF = Measure(
    own="cm³", low=0, high=20, why="a reading further off decides nothing", exact=True, plus_minus=True
)

FORM = Form(
    (
        Section(
            title="The flow",
            fields=(
                Field(
                    key="flow",
                    label="Way of the gas",
                    kind=Choice(options={"in": "Inlet: pipe, gasket, port", "out": "Exhaust: port, gasket, pipe"}),
                    default="in",
                ),
                Field(
                    key="step_allowed",
                    label="Step allowed",
                    help="How far an edge may stand into the flow; empty where there is no limit.",
                    kind=Measure(own="mm", low=0, high=20, why="wider, the parts do not belong together", exact=True),
                    card="limits.port_step",
                    optional=True,
                ),
                Field(
                    key="edge_error",
                    label="Error limit of an edge",
                    help="Plus or minus: so far off may each edge lie from where you measured it.",
                    kind=Measure(
                        own="mm", low=0, high=5, why="further off decides nothing", exact=True, plus_minus=True
                    ),
                    default="0.1 mm",
                ),
            ),
        ),
        _opening("pipe", "", "oval", {"width": "37 mm", "height": "31 mm"}),
        _opening(
            "gasket",
            "As it lies when tightened: on its studs, not on the pipe.",
            "rounded",
            {"width": "38 mm", "height": "33 mm", "corner": "15 mm"},
        ),
        _opening("port", "", "oval", {"width": "36 mm", "height": "31 mm", "across": "0.4 mm", "up": "−0.7 mm"}),
        Section(
            title="The engine and its inlet valve",
            folded=True,
            help="For the gas's speed and the ratio; what stands empty is not worked out.",
            fields=(
                CYLINDERS,
                replace(BORE, optional=True),
                replace(STROKE, optional=True),
                Field(
                    key="engine_speed",
                    label="Engine speed",
                    kind=Measure(own="r/min", low=100, high=20000, why="engines of this kind", exact=True),
                    card="running.highest_speed",
                    example="4600 r/min",
                    optional=True,
                    reading="engine_speed",
                ),
                Field(
                    key="valve_head",
                    label="Inlet valve head",
                    kind=Measure(own="mm", low=10, high=100, why="valves of such engines"),
                    card="dimensions.inlet_valve_head",
                    optional=True,
                    reading="inlet_valve_head",
                ),
                VALVE_LIFT,
                Field(
                    key="throat",
                    label="Throat diameter",
                    help="Narrowest bore under the inlet seat.",
                    kind=Measure(own="mm", low=8, high=100, why="valves of such engines"),
                    card="dimensions.inlet_throat",
                    optional=True,
                    reading="inlet_throat",
                ),
                Field(
                    key="stem",
                    label="Stem diameter",
                    kind=Measure(own="mm", low=3, high=25, why="valves of such engines"),
                    card="dimensions.valve_stem",
                    optional=True,
                ),
                Field(
                    key="flow_coefficient",
                    label="Mean flow coefficient of the inlet valve",
                    help="Over its whole opening, referred to the valve's head. Common practice: 0.35.",
                    kind=Number(low=0.1, high=0.8, why="poppet valves", whole=False),
                    default="0.35",
                ),
                Field(
                    key="inlet_temperature",
                    label="Temperature of the charge",
                    kind=Measure(own="°C", low=-40, high=150, why="charges that are not burning", exact=True),
                    default="40 °C",
                ),
            ),
        ),
        Rows(
            key="chambers",
            title="Chambers to even",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            folded=True,
            fields=(
                replace(CHAMBER, optional=True),
                Field(
                    key="wall",
                    label="Wall found",
                    help="Where the metal would go, at its thinnest; empty: nothing is taken there.",
                    kind=Measure(own="mm", low=0.5, high=50, why="walls of such heads", exact=True),
                    example="5.2; 5.1; 5.0; 4.4",
                    optional=True,
                    reading="chamber_wall",
                ),
                Field(
                    key="clearance",
                    label="Deck clearance",
                    help="Piston to head at top dead centre, spacer and gasket included; for the ratio.",
                    kind=Measure(own="mm", low=-10, high=20, why="engines of this kind"),
                    example="1.42; 1.38; 1.45; 1.41",
                    optional=True,
                    reading="deck_clearance",
                ),
                CROWN,
            ),
        ),
        Section(
            title="How the chambers may be ground",
            folded=True,
            fields=(
                Field(
                    key="least_wall",
                    label="Least wall",
                    help="What must be left; from the engine maker or the head's own drawing, never guessed.",
                    kind=Measure(own="mm", low=0.5, high=50, why="walls of such heads", exact=True),
                    card="limits.chamber_wall",
                    optional=True,
                ),
                Field(
                    key="grind_area",
                    label="Area to grind in cm²",
                    help="Of one chamber's roof, off the seats and the sealing face.",
                    kind=Number(low=0.5, high=500, why="chambers of such engines", whole=False),
                    example="18",
                    optional=True,
                ),
                MAY_DIFFER,
                Field(
                    key="volume_error",
                    label="Error limit of the volume readings",
                    help="Plus or minus, the same for every chamber. A ± typed with a reading wins over it.",
                    kind=_VOLUME_OFF,
                    default="0.2 cm³",
                ),
                Field(
                    key="volume_scatter",
                    label="Scatter of the volume readings",
                    help="Plus or minus, when one chamber is filled again: it alone counts between chambers. "
                    "0.1 cm³ is common practice.",
                    kind=_VOLUME_OFF,
                    default="0.1 cm³",
                ),
                Field(
                    key="wall_error",
                    label="Error limit of the wall readings",
                    help="Plus or minus; taken off the wall before anything is planned.",
                    kind=Measure(
                        own="mm",
                        low=0,
                        high=5,
                        why="a reading further off decides nothing",
                        exact=True,
                        plus_minus=True,
                    ),
                    default="0.1 mm",
                ),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the steps between the openings, their areas, the gas's speed, and what evens the chambers."""
    return report(inputs)
