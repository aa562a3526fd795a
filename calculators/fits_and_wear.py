"""Judge bores, pistons, rings, valves, seats and valve gear against their wear limits, with the gauges you have.

Diameters and gaps only: cracks, scores, pitting, hammered stem tips and worn collet grooves are for
the eye, and no reading here lets such a part back in.
"""

from __future__ import annotations

from types import SimpleNamespace

from calculators import Field, Form, Measure, Number, Report, Rows, Section, Series
from calculators._fields import CYLINDERS, optional_reading
from calculators._fits.findings import find
from calculators._fits.report import report
from calculators._words import word

TITLE = "Fits and wear"

_BORE = Measure(own="mm", low=30, high=200, why="engines of this kind")
_STEM = Measure(own="mm", low=3, high=25, why="valves of such engines")
_SHAFT = Measure(own="mm", low=5, high=80, why="valve gear of such engines")
_GAP = Measure(own="mm", low=0, high=10, why="a wider gap needs no gauge")
_WIDTH = Measure(own="mm", low=0, high=20, why="valves of such engines")
_LIMIT = Measure(own="mm", low=0, high=20, why="a limit of wear", exact=True)


def _line(
    key: str, label: str, kind: Measure, hint: str, like: str, example: str | None = None, *, instrument: str
) -> Field:
    return Field(
        key=key,
        label=label,
        help=hint,
        kind=Series(of=kind, fewest=1, most=6, like=like),
        optional=True,
        example=example,
        reading=key,
        instrument=instrument,
    )


def _limit(key: str, label: str, card: str, hint: str = "") -> Field:
    return Field(key=key, label=label, help=hint, kind=_LIMIT, card=card, optional=True)


def _gauge(key: str, label: str, default: str) -> Field:
    return Field(
        key=key,
        label=label,
        help="Plus or minus, the same in all its readings. A ± typed with a reading wins over it.",
        kind=Measure(own="mm", low=0, high=1, why="a gauge further off decides nothing", exact=True, plus_minus=True),
        default=default,
        reading=key,
    )


def _valves(kind: str, examples: dict[str, str]) -> Rows:
    return Rows(
        key=f"{kind}_valves",
        title=f"{word(kind).capitalize()} valves and seats",
        each=f"{word(kind).capitalize()} valve {{}}",
        most=12,
        count="cylinders",
        folded=True,
        fields=(
            _line(
                f"{kind}_stem",
                "Stem readings",
                _STEM,
                "Along where it runs in the guide, all in one line.",
                "7.95 7.94 7.95",
                examples.get("stem"),
                instrument="micrometer",
            ),
            _line(
                f"{kind}_guide",
                "Guide readings",
                _STEM,
                "Both ends and the middle, all in one line.",
                "8.02 8.01 8.03",
                examples.get("guide"),
                instrument="small_bore_gauge",
            ),
            optional_reading(
                f"{kind}_rock",
                "Valve rock",
                _GAP,
                "Whole swing of the dial at the valve's head, side to side.",
                examples.get("rock"),
                instrument="dial",
            ),
            optional_reading(
                f"{kind}_stem_runout",
                "Stem run-out",
                _GAP,
                "Whole swing of the dial, stem turned.",
                None,
                instrument="dial",
            ),
            optional_reading(
                f"{kind}_margin",
                "Valve margin",
                _WIDTH,
                "Rim of the head, from the face's edge to the flat.",
                examples.get("margin"),
                instrument="calliper",
            ),
            optional_reading(
                f"{kind}_seat_width",
                "Seat width",
                _WIDTH,
                "Of the contact line.",
                examples.get("width"),
                instrument="calliper",
            ),
            optional_reading(
                f"{kind}_line",
                "Line to outer edge",
                _WIDTH,
                "From the contact line out to the edge of the valve's face.",
                examples.get("line"),
                instrument="calliper",
            ),
        ),
    )


def _gear(kind: str) -> Rows:
    return Rows(
        key=f"{kind}_gear",
        title=f"{word(kind).capitalize()} rockers, tappets and pushrods",
        each=f"{word(kind).capitalize()} gear {{}}",
        most=12,
        count="cylinders",
        folded=True,
        fields=(
            optional_reading(
                f"{kind}_rocker_bush",
                "Rocker bush",
                _SHAFT,
                "Its bore, where it is widest.",
                instrument="small_bore_gauge",
            ),
            optional_reading(
                f"{kind}_rocker_shaft",
                "Rocker shaft",
                _SHAFT,
                "Under this rocker, where it is thinnest.",
                instrument="micrometer",
            ),
            optional_reading(f"{kind}_tappet_bore", "Tappet bore", _SHAFT, instrument="small_bore_gauge"),
            optional_reading(f"{kind}_tappet", "Tappet diameter", _SHAFT, instrument="micrometer"),
            optional_reading(
                f"{kind}_tappet_gap",
                "Tappet face hollow",
                _GAP,
                "Gap under a straight edge across the face.",
                instrument="feelers",
            ),
            optional_reading(
                f"{kind}_pushrod_runout",
                "Pushrod run-out",
                _GAP,
                "Whole swing of the dial, rod turned.",
                instrument="dial",
            ),
        ),
    )


FORM = Form(
    (
        Section(
            title="The engine",
            help="Fill in what you measured. What stands empty is not judged.",
            fields=(
                CYLINDERS,
                Field(
                    key="bore_new",
                    label="Bore when new",
                    help="The size that the barrels were last finished to.",
                    kind=Measure(own="mm", low=30, high=200, why="engines of this kind", exact=True),
                    card="dimensions.bore",
                    optional=True,
                ),
            ),
        ),
        Rows(
            key="barrels",
            title="Barrels and pistons",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            help="Top, middle and bottom of the rings' travel, all in one line, the top first.",
            fields=(
                _line(
                    "bore_across",
                    "Bore across the thrust",
                    _BORE,
                    "Square to the gudgeon pin.",
                    "80.06 80.04 80.02",
                    "80.06 80.04 80.02; 80.05 80.04 80.02; 80.11 80.07 80.04; 80.06 80.05 80.03",
                    instrument="bore_gauge",
                ),
                _line(
                    "bore_along",
                    "Bore along the pin",
                    _BORE,
                    "At the same depths.",
                    "80.04 80.03 80.02",
                    "80.04 80.03 80.02; 80.04 80.03 80.02; 80.08 80.05 80.03; 80.03 80.03 80.02",
                    instrument="bore_gauge",
                ),
                optional_reading(
                    "piston",
                    "Piston diameter",
                    _BORE,
                    "At its gauge point, as the engine maker gives it; usually low on the skirt, square to the pin.",
                    "79.93; 79.94; 79.90; 79.92",
                    instrument="micrometer",
                ),
            ),
        ),
        Rows(
            key="rings",
            title="Rings",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            help="All rings of a piston in one line, the top one first.",
            folded=True,
            fields=(
                _line(
                    "end_gap",
                    "Ring end gaps",
                    _GAP,
                    "Ring square in its own barrel, below the wear.",
                    "0.42 0.40 0.38",
                    "0.48 0.44 0.40; 0.46 0.45 0.41; 0.62 0.55 0.48; 0.50 0.46 0.31",
                    instrument="feelers",
                ),
                _line(
                    "side_gap",
                    "Ring side clearances",
                    _GAP,
                    "Clean ring in its clean groove.",
                    "0.06 0.05 0.05",
                    "0.07 0.06 0.05; 0.07 0.05 0.05; 0.13 0.08 0.06; 0.08 0.06 0.05",
                    instrument="feelers",
                ),
            ),
        ),
        _valves("inlet", {}),
        _valves(
            "exhaust",
            {
                "stem": "7.93 7.92 7.93; 7.93 7.93 7.92; 7.92 7.91 7.92; 7.93 7.92 7.93",
                "guide": "8.04 8.02 8.05; 8.04 8.02 8.05; 8.06 8.03 8.10; 8.05 8.02 8.06",
                "rock": "0.31; 0.30; 0.46; 0.34",
                "margin": "1.3; 1.2; 0.9; 1.3",
                "width": "1.6; 1.7; 2.1; 1.7",
                "line": "0.6; 0.6; 0.5; 0.6",
            },
        ),
        _gear("inlet"),
        _gear("exhaust"),
        Rows(
            key="heads",
            title="Head faces",
            each="Head {}",
            most=6,
            folded=True,
            fields=(
                _line(
                    "face_gaps",
                    "Gaps under the straight edge",
                    _GAP,
                    "Along, across and over both diagonals, in one line; 0 where no blade goes in.",
                    "0 0.03 0.04 0",
                    instrument="feelers",
                ),
            ),
        ),
        Section(
            title="Rings when hot, and the rock of a valve",
            folded=True,
            fields=(
                Field(
                    key="ring_temperature",
                    label="Temperature of the hottest ring",
                    help="Common practice: 250 °C for an air-cooled engine under load.",
                    kind=Measure(own="°C", low=0, high=500, why="rings that still spring", exact=True),
                    default="250 °C",
                ),
                Field(
                    key="barrel_temperature",
                    label="Temperature of the barrel then",
                    help="The cooler it is, the more the gap closes.",
                    kind=Measure(own="°C", low=0, high=400, why="barrels that still hold oil", exact=True),
                    default="150 °C",
                ),
                Field(
                    key="cold_temperature",
                    label="Temperature when measured",
                    kind=Measure(own="°C", low=-20, high=60, why="workshops", exact=True),
                    default="20 °C",
                ),
                Field(
                    key="ring_expansion",
                    label="Expansion of the ring in millionths per K",
                    help="Grey iron 11.4, steel 11.7.",
                    kind=Number(low=1, high=40, why="metals", whole=False),
                    default="11.4",
                ),
                Field(
                    key="barrel_expansion",
                    label="Expansion of the barrel in millionths per K",
                    help="Grey iron 11.4, aluminium 23.6.",
                    kind=Number(low=1, high=40, why="metals", whole=False),
                    default="11.4",
                ),
                Field(
                    key="temperature_error",
                    label="Error limit of either temperature",
                    help="Plus or minus, in degrees Celsius; 20 is common practice.",
                    kind=Number(low=0, high=200, why="a wider guess says nothing", whole=False, plus_minus=True),
                    default="20",
                ),
                Field(
                    key="expansion_error",
                    label="Error limit of either expansion",
                    help="Plus or minus, of its figure; 5 % is common practice.",
                    kind=Measure(
                        own="%", low=0, high=50, why="a wider guess says nothing", exact=True, plus_minus=True
                    ),
                    default="5 %",
                ),
                Field(
                    key="guide_length",
                    label="Guide length",
                    kind=Measure(own="mm", low=10, high=150, why="guides of such engines", exact=True),
                    card="valve_gear.guide_length",
                    optional=True,
                ),
                Field(
                    key="overhang",
                    label="Guide's end to dial",
                    help="Along the stem, valve held off its seat as for the rock.",
                    kind=Measure(own="mm", low=0, high=150, why="valves of such engines", exact=True),
                    example="34 mm",
                    optional=True,
                    reading="guide_to_dial",
                ),
                _limit("inlet_face", "Width of the inlet valve's face", "seats.inlet_face_width"),
                _limit("exhaust_face", "Width of the exhaust valve's face", "seats.exhaust_face_width"),
            ),
        ),
        Section(
            title="Limits",
            help="The engine maker's. What stands empty is shown and not judged.",
            folded=True,
            fields=(
                _limit("wear_most", "Greatest bore wear", "limits.bore_wear"),
                _limit("taper_most", "Greatest bore taper", "limits.bore_taper", "A difference of diameters."),
                _limit("round_most", "Greatest out-of-round", "limits.bore_out_of_round", "A difference of diameters."),
                _limit("clearance_least", "Least piston clearance", "limits.piston_clearance_least"),
                _limit("clearance_most", "Greatest piston clearance", "limits.piston_clearance"),
                _limit("gap_least", "Least ring end gap", "rings.end_gap_least"),
                _limit("gap_most", "Greatest ring end gap", "limits.ring_end_gap"),
                _limit("side_most", "Greatest ring side clearance", "limits.ring_side_clearance"),
                _limit("guide_clearance_most", "Greatest guide clearance", "limits.guide_clearance"),
                _limit("rock_most", "Greatest valve rock", "limits.valve_rock"),
                _limit("runout_most", "Greatest stem run-out", "limits.valve_stem_runout"),
                _limit("margin_least", "Least valve margin", "limits.valve_margin"),
                _limit("inlet_width_least", "Least inlet seat width", "seats.inlet_width_least"),
                _limit("inlet_width_most", "Greatest inlet seat width", "seats.inlet_width_greatest"),
                _limit("exhaust_width_least", "Least exhaust seat width", "seats.exhaust_width_least"),
                _limit("exhaust_width_most", "Greatest exhaust seat width", "seats.exhaust_width_greatest"),
                _limit(
                    "edge_least",
                    "Least distance of the line from an edge",
                    "seats.contact_from_edge",
                    "To either edge of the valve's face.",
                ),
                _limit("bush_most", "Greatest rocker bush clearance", "limits.rocker_bush_clearance"),
                _limit("tappet_most", "Greatest tappet clearance", "limits.tappet_clearance"),
                _limit("hollow_most", "Greatest tappet face hollow", "limits.tappet_face_hollow"),
                _limit("pushrod_most", "Greatest pushrod run-out", "limits.pushrod_runout"),
                _limit("flatness_most", "Greatest gap under the straight edge", "limits.head_flatness"),
            ),
        ),
        Section(
            title="How good the gauges are",
            folded=True,
            fields=(
                _gauge("bore_error", "Error limit of the bore gauge", "0.005 mm"),
                Field(
                    key="bore_scatter",
                    label="Scatter of the bore gauge",
                    help="Plus or minus, when one place is read again: it alone counts in taper and out-of-round. "
                    "0.003 mm is common practice.",
                    kind=Measure(
                        own="mm", low=0, high=1, why="a gauge further off decides nothing", exact=True, plus_minus=True
                    ),
                    default="0.003 mm",
                ),
                _gauge("micrometer_error", "Error limit of the micrometer", "0.004 mm"),
                _gauge("guide_error", "Error limit of the small-bore gauge", "0.01 mm"),
                _gauge("feeler_error", "Error limit of the feelers", "0.01 mm"),
                _gauge("dial_error", "Error limit of the dial", "0.01 mm"),
                _gauge("calliper_error", "Error limit of the calliper", "0.05 mm"),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return what was found of each part, with its verdict."""
    return report(inputs, find(inputs))
