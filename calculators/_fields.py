"""Fields that more than one calculator asks for: one label, one reading, one set of limits for each."""

from calculators._form import Field
from calculators._kinds import Choice, Groups, Measure, Number, Series

BORE = Field(
    key="bore",
    instrument="bore_gauge",
    label="Bore",
    reading="bore",
    kind=Measure(own="mm", low=30, high=200, why="engines of this kind"),
    card="dimensions.bore",
    example="80 mm",
)

STROKE = Field(
    key="stroke",
    label="Stroke",
    reading="stroke",
    kind=Measure(own="mm", low=20, high=250, why="engines of this kind"),
    card="dimensions.stroke",
    example="74 mm",
)

CYLINDERS = Field(
    key="cylinders",
    label="Number of cylinders",
    kind=Number(low=1, high=12, why="engines of this kind"),
    card="layout.cylinders",
    example="4",
    reading="cylinders",
)

HEADS = Field(
    key="heads",
    label="Cylinders under each head",
    help="A stroke between the heads: 1 2 / 3 4.",
    reading="banks",
    kind=Groups(of=Number(low=1, high=12, why="engines of this kind"), most=12),
    card="layout.banks",
    example="1 2 / 3 4",
)

FIRING_INTERVALS = Field(
    key="firing_intervals",
    label="Firing intervals",
    help="Crank angle from each cylinder of the firing order to the next, the last back to the first. Empty where it "
    "fires evenly.",
    reading="firing_intervals",
    kind=Series(of=Measure(own="°", low=1, high=720, why="one cycle is 720°"), fewest=1, most=12),
    card="layout.firing_intervals",
    optional=True,
)

CHAMBER = Field(
    key="chamber",
    instrument="burette",
    label="Chamber volume",
    help="In the head, plug and valves fitted, to the sealing face.",
    reading="chamber",
    kind=Measure(own="cm³", low=1, high=2000, why="engines of this kind"),
    example="49.1; 49.5; 48.2; 48.6",
)

CROWN = Field(
    key="crown",
    instrument="burette",
    label="Crown volume",
    help="Dish plus, dome minus; empty for a flat crown.",
    reading="crown",
    kind=Measure(own="cm³", low=-500, high=500, why="engines of this kind"),
    optional=True,
)

FILLED_FROM = Field(
    key="filled_from",
    label="Where the volumes come from",
    help="One burette is off alike in all of them: that adds up in chamber and crown, and drops out between cylinders.",
    kind=Choice(options={"one": "One burette", "several": "Several burettes, or none"}),
    default="one",
    reading="volumes_from",
)

ROD_LENGTH = Field(
    key="rod_length",
    label="Rod length",
    help="Middle of the big eye to middle of the small one.",
    reading="rod_length",
    kind=Measure(own="mm", low=20, high=500, why="engines of this kind"),
    card="dimensions.rod_length",
    optional=True,
)

INLET_CLOSING = Field(
    key="inlet_closing",
    label="Inlet closing after bottom dead centre",
    help="Where the valve is as good as shut; given at a lift, it shuts some degrees later.",
    reading="inlet_closing",
    kind=Measure(own="°", low=0, high=120, why="cams of road engines"),
    card="cam_events.inlet_closes_after_bottom",
    optional=True,
)

EXPONENT = Field(
    key="exponent",
    label="Polytropic exponent",
    help="1.1 for a slow starter or worn rings, 1.3 for a quick one and tight rings. Common practice.",
    kind=Number(low=1, high=1.4, why="all heat lost, and none", whole=False),
    default="1.2",
)

EXPONENT_ERROR = Field(
    key="exponent_error",
    label="Error limit of the exponent",
    help="Plus or minus.",
    kind=Number(low=0, high=0.2, why="a wider guess says nothing", whole=False, plus_minus=True),
    default="0.1",
)

ALTITUDE = Field(
    key="altitude",
    label="Altitude",
    help="Of the workshop, above the sea.",
    reading="altitude",
    kind=Measure(own="m", low=-430, high=5000, why="roads", exact=True),
    default="0 m",
)

AIR_TEMPERATURE = Field(
    key="air_temperature",
    label="Air temperature",
    reading="air_temperature",
    kind=Measure(own="°C", low=-40, high=60, why="weather"),
    default="15 °C",
)

CLEARANCE = Measure(own="mm", low=0.02, high=1, why="below, the valve gear is not set by blade; above, it is worn out")

INLET_CLEARANCE = Field(
    key="inlet_clearance",
    label="Inlet clearance",
    help="From the engine maker, at the temperature that the maker names.",
    kind=CLEARANCE,
    card="clearances.inlet",
    example="0.15 mm",
    reading="inlet_clearance",
)

EXHAUST_CLEARANCE = Field(
    key="exhaust_clearance",
    label="Exhaust clearance",
    kind=CLEARANCE,
    card="clearances.exhaust",
    example="0.20 mm",
    reading="exhaust_clearance",
)

BLADES = Field(
    key="blades",
    label="Feeler blades",
    help="Every blade of your set, once; a thickness that it holds twice, twice.",
    kind=Series(
        of=Measure(own="mm", low=0.01, high=2, why="thinner and thicker blades are not made"), fewest=1, most=20
    ),
    default="0.05 0.10 0.15 0.20 0.25 0.30 0.40 0.50",
    reading="blades",
)

MAY_DIFFER = Field(
    key="may_differ",
    label="Difference allowed between chambers",
    help="The largest less the smallest; empty where the engine maker gives none.",
    kind=Measure(own="cm³", low=0, high=100, why="further apart, heads are not a set", exact=True),
    card="compression.chamber_difference",
    optional=True,
)

ADJUSTER_END = Field(
    key="adjuster_end",
    label="Place of the adjuster",
    help="Where the screw sits that sets the lash. Told of the wrong end, its turn is out by the rocker ratio.",
    kind=Choice(
        options={
            "valve": "Valve end of the rocker",
            "pushrod": "Pushrod end of the rocker",
            "pivot": "Nut on the rocker's pivot",
        }
    ),
    card="valve_gear.adjuster_end",
    example="pushrod",
    reading="adjuster_end",
)

VALVE_LIFT = Field(
    key="valve_lift",
    label="Valve lift",
    kind=Measure(own="mm", low=1, high=30, why="valves of such engines"),
    card="dimensions.valve_lift",
    optional=True,
    reading="valve_lift",
)

BEFORE = Field(
    key="before",
    label="Spacers fitted before",
    help="Under each barrel, when tubes and pushrods last fitted; 0 for none.",
    reading="spacers_before",
    kind=Measure(own="mm", low=0, high=30, why="three of the thickest"),
    default="0 mm",
)


def optional_reading(
    key: str, label: str, kind: Measure | Number, hint: str = "", example: str | None = None, *, instrument: str
) -> Field:
    """Return a field for what is read where there is the gauge for it; the job knows it by its key."""
    return Field(
        key=key,
        label=label,
        help=hint,
        kind=kind,
        optional=True,
        example=example,
        reading=key,
        instrument=instrument,
    )
