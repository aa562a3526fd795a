"""See what a moved head asks of pushrods, tubes, adjusters and flanges, side by side.

Plane geometry of one pushrod and its rocker: pushrod and tube slope alike, the pushrod stays in
the plane of the rocker, and nothing gives. Takes what was there before to have been right.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from uncertainties import UFloat

from calculators import (
    Choice,
    Field,
    FieldError,
    Form,
    InputErrors,
    Measure,
    Number,
    Report,
    Rows,
    Section,
    magnitude_in,
    printed,
)
from calculators._compression.measured_engine import best_estimate, heads_of
from calculators._compression.words import named
from calculators._fields import ADJUSTER_END, BEFORE, CYLINDERS, HEADS
from calculators._pushrods.moved_head import Moved, moves
from calculators._pushrods.report import report
from calculators._units import bare, number_in, quantity, reading
from calculators.formulas.adjuster_screw import leverage
from calculators.formulas.decision_rule import judged
from calculators.formulas.pushrod_geometry import off_square, span_after, swing

TITLE = "Pushrods and tubes"

FORM = Form(
    (
        Section(
            title="The engine",
            fields=(
                CYLINDERS,
                HEADS,
            ),
        ),
        Rows(
            key="risen",
            title="Spacers under the barrels",
            each="Cylinder {}",
            most=12,
            count="cylinders",
            fields=(
                Field(
                    key="spacer_height",
                    label="Spacers fitted now",
                    help="All under that barrel together; 0 for none.",
                    kind=Measure(own="mm", low=0, high=30, why="three of the thickest"),
                    reading="spacer_height",
                    example="1; 1; 1.25; 1.25",
                ),
            ),
        ),
        Section(
            title="Before",
            fields=(
                BEFORE,
                Field(
                    key="other_shift",
                    label="Other change of the head's place",
                    help="Longer barrels, thicker gaskets: plus. Seats cut deeper, faces skimmed: minus.",
                    kind=Measure(own="mm", low=-10, high=30, why="beyond, it is another engine"),
                    default="0 mm",
                ),
            ),
        ),
        Section(
            title="Pushrods and rockers",
            fields=(
                Field(
                    key="pushrod_length",
                    instrument="calliper",
                    label="Pushrod length",
                    help="Of those that fitted before, end to end.",
                    kind=Measure(own="mm", low=50, high=600, why="engines of this kind"),
                    reading="pushrod_length",
                    card="dimensions.pushrod_length",
                    example="276 mm",
                ),
                Field(
                    key="new_length",
                    instrument="calliper",
                    label="Length of the new pushrods",
                    help="Empty where the old ones go back.",
                    kind=Measure(own="mm", low=50, high=600, why="engines of this kind"),
                    reading="new_pushrod_length",
                    optional=True,
                ),
                Field(
                    key="rocker_ratio",
                    label="Rocker ratio",
                    help="Valve movement divided by pushrod movement.",
                    kind=Number(low=0.5, high=3, why="rockers of such engines", whole=False, to_one=True),
                    reading="rocker_ratio",
                    card="dimensions.rocker_ratio",
                    example="1.15",
                ),
                ADJUSTER_END,
                Field(
                    key="travel_in",
                    label="Adjuster travel left, screwing in",
                    help="At the old lash: how far the screw can still go towards pushrod or valve.",
                    kind=Measure(own="mm", low=0, high=30, why="screws of rockers"),
                    reading="adjuster_travel_in",
                    example="3.5 mm",
                ),
                Field(
                    key="travel_out",
                    label="Adjuster travel left, screwing out",
                    help="At the old lash: how far it can still come back.",
                    kind=Measure(own="mm", low=0, high=30, why="screws of rockers"),
                    reading="adjuster_travel_out",
                    example="2 mm",
                ),
            ),
        ),
        Section(
            title="Pushrod tubes",
            fields=(
                Field(
                    key="tube_kind",
                    label="Kind of tube",
                    kind=Choice(options={"fixed": "Of one length, seals crushed", "set": "Stretched to a length"}),
                    default="fixed",
                ),
                Field(
                    key="tube_free_length",
                    instrument="calliper",
                    label="Free length of a tube",
                    help="With its seals on, outside the engine.",
                    kind=Measure(own="mm", low=30, high=600, why="engines of this kind"),
                    reading="tube_free_length",
                    card="dimensions.tube_free_length",
                    example="203 mm",
                ),
                Field(
                    key="seat_distance",
                    instrument="calliper",
                    label="Distance between the tube's seats",
                    help="Before, head tightened down.",
                    kind=Measure(own="mm", low=30, high=600, why="engines of this kind"),
                    reading="tube_seat_distance",
                    card="dimensions.tube_seat_distance",
                    example="201 mm",
                ),
                Field(
                    key="least_crush",
                    label="Least crush of the seals",
                    help="Both ends together, from the seals' maker.",
                    kind=Measure(own="mm", low=0, high=20, why="seals of such tubes", exact=True),
                    card="dimensions.tube_least_crush",
                    default="0.5 mm",
                ),
                Field(
                    key="most_crush",
                    label="Most crush of the seals",
                    kind=Measure(own="mm", low=0, high=20, why="seals of such tubes", exact=True),
                    card="dimensions.tube_most_crush",
                    default="2.5 mm",
                ),
            ),
        ),
        Section(
            title="Angles and arms",
            folded=True,
            fields=(
                Field(
                    key="pushrod_slope",
                    label="Slope of the pushrods",
                    help="Between pushrod and the barrel's axis.",
                    kind=Measure(own="°", low=0, high=45, why="steeper ones belong to other engines", exact=True),
                    card="dimensions.pushrod_slope",
                    default="0°",
                ),
                Field(
                    key="rocker_arm",
                    label="Rocker arm at the pushrod",
                    help="From the middle of the shaft to the pushrod's end.",
                    kind=Measure(own="mm", low=5, high=100, why="rockers of such engines", exact=True),
                    card="dimensions.rocker_pushrod_arm",
                    default="24 mm",
                ),
                Field(
                    key="off_square",
                    label="Rocker off square at half lift",
                    help="Before; plus where the adjuster's end then reached too far, 0 where it was right.",
                    kind=Measure(own="°", low=-30, high=30, why="beyond, no rocker works", exact=True),
                    default="0°",
                ),
                Field(
                    key="valve_lift",
                    label="Valve lift",
                    kind=Measure(own="mm", low=2, high=30, why="engines of this kind", exact=True),
                    reading="valve_lift",
                    card="dimensions.valve_lift",
                    default="8 mm",
                ),
            ),
        ),
        Section(
            title="Inlet and exhaust flanges",
            folded=True,
            help="90° where a flange faces up, down, forwards or back; 0° where it faces away from the crank.",
            fields=(
                Field(
                    key="inlet_facing",
                    label="Facing of the inlet flange",
                    kind=Measure(own="°", low=0, high=180, why="half a turn holds every way", exact=True),
                    default="90°",
                ),
                Field(
                    key="exhaust_facing",
                    label="Facing of the exhaust flange",
                    kind=Measure(own="°", low=0, high=180, why="half a turn holds every way", exact=True),
                    default="90°",
                ),
                Field(
                    key="flange_play",
                    label="Play in the flange holes",
                    help="How far the loose pipe can be pushed to one side.",
                    kind=Measure(own="mm", low=0, high=10, why="holes for studs", exact=True),
                    default="1.5 mm",
                ),
            ),
        ),
        Section(
            title="How good the readings are",
            folded=True,
            fields=(
                Field(
                    key="length_error",
                    label="Error limit of the length readings",
                    help="Plus or minus. A ± typed with a reading wins over it; spacers are taken as typed.",
                    kind=Measure(
                        own="mm", low=0, high=2, why="further off decides nothing", exact=True, plus_minus=True
                    ),
                    default="0.1 mm",
                ),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return what each side needs."""
    heads = heads_of(inputs)
    if magnitude_in(inputs.most_crush, "mm") < magnitude_in(inputs.least_crush, "mm"):
        least = printed(inputs.least_crush, "mm")
        raise InputErrors(FieldError("most_crush", f"Most crush of the seals must be no less than the least, {least}"))
    valve_arm = magnitude_in(inputs.rocker_arm, "mm") * inputs.rocker_ratio
    swung = swing(magnitude_in(inputs.valve_lift, "mm"), valve_arm)
    if swung is None:
        most = printed(quantity(2 * valve_arm, "mm"), "mm")
        raise InputErrors(
            FieldError("valve_lift", f"Valve lift must be at most {most}, twice the rocker's arm at the valve")
        )
    readings = SimpleNamespace(
        pushrod=_measured(inputs, inputs.pushrod_length, "Pushrod length"),
        fitted=None if inputs.new_length is None else _measured(inputs, inputs.new_length, "New pushrod length"),
        free=_measured(inputs, inputs.tube_free_length, "Free length of a tube"),
        seats=_measured(inputs, inputs.seat_distance, "Distance between the tube's seats"),
        travel_in=_measured(inputs, inputs.travel_in, "Adjuster travel, screwing in"),
        travel_out=_measured(inputs, inputs.travel_out, "Adjuster travel, screwing out"),
    )
    return report(inputs, [_moved(inputs, readings, head) for head in heads], swung)


def _measured(inputs: SimpleNamespace, value: Any, name: str) -> Any:
    """Return a reading in mm; unless it was typed with an error limit of its own, it takes the common one."""
    number = number_in(value, "mm")
    return number if isinstance(number, UFloat) else reading(number, number_in(inputs.length_error, "mm"), name)


def _moved(inputs: SimpleNamespace, readings: SimpleNamespace, head: tuple[int, ...]) -> Moved:
    slope = magnitude_in(inputs.pushrod_slope, "°")
    heights = [number_in(inputs.spacer_height[cylinder], "mm") for cylinder in head]
    spacers = sum(heights, start=0.0) / len(head)
    shift = spacers - number_in(inputs.before, "mm") + number_in(inputs.other_shift, "mm")
    pushrod = span_after(readings.pushrod, slope, shift)
    if readings.fitted is None:  # the old pushrod's own error drops out
        length = best_estimate(readings.pushrod)
        reach = span_after(length, slope, shift) - length
    else:
        reach = pushrod - readings.fitted
    screwed_in = reach * inputs.rocker_ratio / leverage(inputs.adjuster_end, inputs.rocker_ratio)
    goes_in = bare(screwed_in)[0] >= 0
    left = readings.travel_in - screwed_in if goes_in else readings.travel_out + screwed_in
    follows = bare(reach)[0] - (bare(screwed_in)[0] if inputs.adjuster_end == "pivot" else 0.0)
    leaning = off_square(magnitude_in(inputs.off_square, "°"), follows, magnitude_in(inputs.rocker_arm, "mm"))
    if leaning is None:
        raise InputErrors(_no_rocker_follows(inputs, head, shift, pushrod))
    seats = span_after(readings.seats, slope, shift)
    crush = readings.free - seats
    limits = magnitude_in(inputs.least_crush, "mm"), magnitude_in(inputs.most_crush, "mm")
    return Moved(
        cylinders=head,
        shift=shift,
        spacers=bare(spacers)[0],
        pushrod=pushrod,
        reach=reach,
        screwed_in=screwed_in,
        left=left,
        adjuster=judged(bare(left)[0], bare(left)[1] or 0.0, low=0.0),
        seats=seats,
        crush=crush,
        tube=judged(bare(crush)[0], bare(crush)[1] or 0.0, *limits, grain=1e-9),
        off_square=leaning,
    )


def _no_rocker_follows(inputs: SimpleNamespace, head: tuple[int, ...], shift: Any, pushrod: Any) -> FieldError:
    if inputs.new_length is not None:
        wanted = f"{bare(pushrod)[0]:.1f} mm"
        return FieldError(
            "new_length", f"Length of the new pushrods must be nearer to {wanted}, or no rocker reaches them"
        )
    way = f"the head over {named(head, 'cylinder')} {moves(shift)}"
    return FieldError("rocker_arm", f"Rocker arm at the pushrod is too short: {way}")
