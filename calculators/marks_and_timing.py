"""Mark a pulley's rim, find true top dead centre, and set points, spark and cam by it.

The angles wanted are the engine maker's; here they become distances, verdicts and shifts. Takes
four strokes, a distributor that turns at half the crank's speed, and a bore whose axis meets the crankshaft's.
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

from calculators import Choice, Field, Form, Measure, Number, Report, Rows, Section, Series
from calculators._fields import FIRING_INTERVALS, ROD_LENGTH, STROKE, optional_reading
from calculators._timing.cam import cam_of
from calculators._timing.marks import rim_of
from calculators._timing.report import report
from calculators._timing.spark import light_of, points_of

TITLE = "Marks and timing"

_ADVANCE = Measure(own="°", low=-30, high=75, why="no engine of this kind fires further off", exact=True)
_READ_ADVANCE = Measure(own="°", low=-60, high=90, why="no light shows more")
_WHEEL = Measure(own="°", low=-360, high=360, why="one turn of the wheel either way")
_ALONG = Measure(own="mm", low=-500, high=1000, why="half way round the widest rim")
_EVENT = Measure(own="°", low=-60, high=150, why="cams of road and racing engines")
_DWELL = Measure(own="°", low=1, high=359, why="a part of one turn of the distributor")
_SHARE = Measure(own="%", low=1, high=99, why="a part of the whole")
_GAP = Measure(own="mm", low=0.1, high=1.5, why="contact breaker points")
_SPEED = Measure(own="r/min", low=50, high=15000, why="from the starter to the fastest of such engines", exact=True)


def _limit(key: str, label: str, own: str, high: float, default: str, card: str | None = None) -> Field:
    return Field(
        key=key,
        label=label,
        help="Plus or minus.",
        kind=Measure(own=own, low=0, high=high, why="a wider limit says nothing", exact=True, plus_minus=True),
        card=card,
        default=default,
    )


def _event(key: str, label: str, fact: str, hint: str = "") -> Field:
    return Field(key=key, label=label, help=hint, kind=_EVENT, card=f"cam_events.{fact}", optional=True, reading=fact)


def _measured_event(key: str, label: str, example: str | None = None) -> Field:
    return optional_reading(key, label, _EVENT, example=example, instrument="degree_wheel")


FORM = Form(
    (
        Section(
            title="The pulley and its marks",
            fields=(
                Field(
                    key="diameter",
                    instrument="calliper",
                    label="Rim diameter",
                    help="Of the pulley or flywheel, over the face that carries the marks.",
                    kind=Measure(own="mm", low=40, high=600, why="pulleys and flywheels of such engines"),
                    card="dimensions.pulley_diameter",
                    example="168 mm",
                    reading="pulley_diameter",
                ),
                Field(
                    key="crank_rotation",
                    label="Crank rotation",
                    help="As the engine runs, seen from the side that the marks are read from.",
                    kind=Choice(options={"clockwise": "Clockwise", "anticlockwise": "Anticlockwise"}),
                    card="layout.crank_rotation",
                    example="clockwise",
                    reading="crank_rotation",
                ),
                Field(
                    key="scale_on",
                    label="Where the marks go",
                    kind=Choice(
                        options={
                            "rim": "On the rim, one pointer on the case",
                            "case": "On the case, one notch in the rim",
                        }
                    ),
                    default="rim",
                    reading="marks_on",
                ),
                Field(
                    key="firing_order",
                    label="Firing order",
                    kind=Series(of=Number(low=1, high=12, why="engines of this kind"), fewest=1, most=12, run_on=True),
                    card="layout.firing_order",
                    example="1 4 3 2",
                    reading="firing_order",
                ),
                FIRING_INTERVALS,
                Field(
                    key="static_advance",
                    label="Static advance",
                    help="Before top dead centre, engine standing still; minus for after it.",
                    kind=_ADVANCE,
                    card="running.static_advance",
                    example="7°",
                    reading="static_advance",
                ),
                Field(
                    key="full_advance",
                    label="Full advance",
                    kind=_ADVANCE,
                    card="running.full_advance",
                    example="30°",
                    reading="full_advance",
                ),
                Field(
                    key="more_marks",
                    label="More marks",
                    help="Degrees before top dead centre, all in one line; minus for after it.",
                    kind=Series(
                        of=Measure(own="°", low=-180, high=180, why="half a turn either way", exact=True),
                        fewest=1,
                        most=8,
                        like="10 20",
                    ),
                    optional=True,
                ),
            ),
        ),
        Section(
            title="True top dead centre by a positive stop",
            help="A stop in the plug hole of cylinder 1; turn to it by hand both ways. Read a degree wheel, or chalk "
            "the rim at the pointer each time and measure from the old mark.",
            folded=True,
            fields=(
                optional_reading(
                    "stop_forwards",
                    "Wheel reading, turned the engine's way",
                    _WHEEL,
                    "Degrees after the old mark; minus for before it. On a wheel of 360, 325 is 35 before.",
                    "-32.5",
                    instrument="degree_wheel",
                ),
                optional_reading(
                    "stop_backwards",
                    "Wheel reading, turned the other way",
                    _WHEEL,
                    example="38.5",
                    instrument="degree_wheel",
                ),
                optional_reading(
                    "rim_forwards",
                    "Distance from the old mark to the first chalk mark",
                    _ALONG,
                    "Instead of the wheel: chalked when turned the engine's way. Minus if both marks lie on one side.",
                    instrument="calliper",
                ),
                optional_reading(
                    "rim_backwards",
                    "Distance from the old mark to the second chalk mark",
                    _ALONG,
                    "Chalked when turned the other way.",
                    instrument="calliper",
                ),
                _limit("wheel_error", "Error limit of the wheel", "°", 5, "0.5°"),
                _limit("rim_error", "Error limit along the rim", "mm", 10, "0.5 mm"),
                _limit("mark_limit", "Allowed error of the old mark", "°", 10, "1°"),
                replace(STROKE, example=None, help="With the rod, for how deep the stop reaches.", optional=True),
                ROD_LENGTH,
            ),
        ),
        Section(
            title="Points: gap and dwell",
            folded=True,
            fields=(
                Field(
                    key="lobes",
                    label="Lobes of the distributor",
                    help="As a rule one a cylinder.",
                    kind=Number(low=1, high=8, why="distributors of such engines"),
                    card="layout.cylinders",
                    default="4",
                ),
                Field(
                    key="dwell",
                    label="Dwell wanted",
                    help="Degrees of the distributor with the points closed.",
                    kind=_DWELL,
                    card="running.dwell",
                    optional=True,
                ),
                _limit("dwell_tolerance", "Tolerance of the dwell", "°", 20, "3°", "running.dwell_tolerance"),
                optional_reading("dwell_read", "Dwell read", _DWELL, example="54", instrument="dwell_meter"),
                optional_reading(
                    "dwell_read_share",
                    "Dwell read in per cent",
                    _SHARE,
                    "Where the meter shows a share instead.",
                    instrument="dwell_meter",
                ),
                _limit("dwell_error", "Error limit of the dwell meter", "°", 10, "1°"),
                Field(
                    key="gap_fitted",
                    label="Gap fitted",
                    help="At which the dwell was read.",
                    kind=_GAP,
                    card="running.points_gap",
                    optional=True,
                ),
                optional_reading(
                    "gap_second",
                    "Second gap",
                    _GAP,
                    "Set another, read again: the two tell the gap to set.",
                    instrument="feelers",
                ),
                optional_reading("dwell_second", "Dwell at the second gap", _DWELL, instrument="dwell_meter"),
            ),
        ),
        Section(
            title="The advance curve wanted",
            help="Degrees and speeds of the crank. A sheet for the distributor alone has half of both.",
            folded=True,
            fields=(
                Field(
                    key="start_speed",
                    label="Speed at which the advance begins",
                    kind=_SPEED,
                    card="running.advance_start_speed",
                    default="1000 r/min",
                ),
                Field(
                    key="full_speed",
                    label="Speed of full advance",
                    kind=_SPEED,
                    card="running.full_advance_speed",
                    default="3000 r/min",
                ),
                _limit("tolerance", "Tolerance of the advance", "°", 15, "2°", "running.advance_tolerance"),
                Field(
                    key="light_from",
                    label="Mark that the light was read by",
                    kind=Choice(options={"true": "The true top mark", "old": "The old mark, as the stop found it"}),
                    default="true",
                    reading="light_from",
                ),
                _limit("light_error", "Error limit of the timing light", "°", 10, "1°"),
            ),
        ),
        Rows(
            key="between",
            title="Bends of the curve between",
            help="Where the curve is one straight line, none.",
            folded=True,
            each="Bend {}",
            most=6,
            fields=(
                Field(key="bend_speed", label="Speed", kind=_SPEED),
                Field(key="bend_advance", label="Advance", kind=_ADVANCE),
            ),
        ),
        Rows(
            key="light",
            title="What the timing light shows",
            help="Vacuum hose off and plugged where the maker wants it so.",
            each="Reading {}",
            most=12,
            fields=(
                Field(
                    key="light_speed",
                    label="Speed",
                    kind=_SPEED,
                    example="850; 1500; 2000; 2500; 3000; 3500",
                    reading="light_speed",
                ),
                Field(
                    key="light_advance",
                    instrument="timing_light",
                    label="Advance",
                    help="Degrees before top dead centre; minus for after it.",
                    kind=_READ_ADVANCE,
                    example="7.5; 12; 17.5; 24.5; 29; 33.5",
                    reading="light_advance",
                ),
            ),
        ),
        Section(
            title="Cam timing",
            help="Degrees of the crank, all at one lift.",
            folded=True,
            fields=(
                _event(
                    "inlet_opens",
                    "Inlet opening before top",
                    "inlet_opens_before_top",
                    "As the maker gives it; minus for after.",
                ),
                _event("inlet_closes", "Inlet closing after bottom", "inlet_closes_after_bottom"),
                _event("exhaust_opens", "Exhaust opening before bottom", "exhaust_opens_before_bottom"),
                _event("exhaust_closes", "Exhaust closing after top", "exhaust_closes_after_top"),
                _measured_event("inlet_opens_read", "Measured inlet opening before top"),
                _measured_event("inlet_closes_read", "Measured inlet closing after bottom"),
                _measured_event("exhaust_opens_read", "Measured exhaust opening before bottom"),
                _measured_event("exhaust_closes_read", "Measured exhaust closing after top"),
                Field(
                    key="cam_teeth",
                    label="Teeth of the cam gear",
                    help="Of the gear or sprocket on the camshaft.",
                    kind=Number(low=8, high=200, why="cam gears and sprockets"),
                    optional=True,
                    reading="cam_teeth",
                ),
                _limit("cam_tolerance", "Allowed error of the cam", "°", 20, "3°"),
            ),
        ),
    ),
    sets_aside=("firing_intervals", "dwell", "inlet_opens", "inlet_closes", "exhaust_opens", "exhaust_closes"),
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the marks in millimetres, and what stop, points, light and cam readings come to."""
    rim = rim_of(inputs)
    timing = light_of(inputs, rim.stop.early if rim.stop else None)
    return report(inputs, rim, points_of(inputs), timing, cam_of(inputs))
