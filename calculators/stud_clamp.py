"""What a torque makes of a stud: its pull, least and most, against its own strength and that of the case.

Says what a given figure does; it does not find one. For steel studs of 60° thread whose nut
turns once on clean, whole threads; not for fasteners tightened by angle. Joint settling, gas
load and heat come on top.
"""

from __future__ import annotations

from types import SimpleNamespace

from calculators import Choice, Field, FieldError, Form, InputErrors, Measure, Number, Report, Section, magnitude_in
from calculators._fasteners.clamp_report import CASES, report
from calculators._fasteners.tightened_stud import Ends, Joint, TightenedStud
from calculators._units import figures, plain
from calculators._words import word
from calculators.formulas.bolted_joint import LUBRICANTS
from calculators.formulas.threads import FASTENERS, STEELS, clearance_hole, nut_face

TITLE = "Stud clamp"

_FRICTION = Number(low=0.03, high=0.6, why="no paste is slicker, no dry thread rougher that still turns", whole=False)
_STRENGTH = Number(low=20, high=600, why="softer than any case, stronger than any casting", whole=False)

FORM = Form(
    (
        Section(
            title="The stud",
            fields=(
                Field(
                    key="thread",
                    label="Thread",
                    kind=Choice(options={name: f"{name}, {word(thread.series)}" for name, thread in FASTENERS.items()}),
                    card="studs.cylinder_head.thread",
                    example="M10 × 1.5",
                    reading="stud_thread",
                ),
                Field(
                    key="steel",
                    label="Property class or grade",
                    help="Marked on the stud's end or known from the maker. Not marked: take class 5.8 or less.",
                    kind=Choice(
                        options={name: f"{name} (SAE J429)" if steel.graded else name for name, steel in STEELS.items()}
                    ),
                    card="studs.cylinder_head.property_class",
                    example="8.8",
                    reading="stud_steel",
                ),
                Field(
                    key="studs",
                    label="Number of studs",
                    help="That hold one head. Empty: as many as the engine card has.",
                    kind=Number(low=1, high=40, why="more studs hold no head"),
                    optional=True,
                ),
            ),
        ),
        Section(
            title="The tightening",
            fields=(
                Field(
                    key="torque",
                    label="Final torque",
                    help="From the engine maker, for this nut.",
                    kind=Measure(
                        own="N·m", low=1, high=400, why="below and above, workshop wrenches do not reach", exact=True
                    ),
                    card="torques.cylinder_head",
                    example="34 N·m",
                    reading="head_torque",
                ),
                Field(
                    key="condition",
                    label="Thread condition",
                    help="As you fit it: thread and face of the nut alike.",
                    kind=Choice(
                        options={
                            "dry": "Dry and clean",
                            "oiled": "Oiled",
                            "anti-seize": "Anti-seize paste",
                            "own": "Own friction, typed below",
                        }
                    ),
                    card="studs.cylinder_head.thread_condition",
                    default="oiled",
                    reading="stud_condition",
                ),
                Field(
                    key="meant_for",
                    label="Condition that the figure is meant for",
                    kind=Choice(
                        options={
                            "same": "The same as you fit it",
                            "dry": "Dry and clean",
                            "oiled": "Oiled",
                            "anti-seize": "Anti-seize paste",
                        }
                    ),
                    default="same",
                ),
                Field(
                    key="wrench_error",
                    label="Error limit of the wrench",
                    help="Plus or minus, of what is set. 4% is a good one with a current calibration.",
                    kind=Measure(
                        own="%", low=0, high=25, why="a wrench further off is broken", exact=True, plus_minus=True
                    ),
                    default="4%",
                ),
            ),
        ),
        Section(
            title="The thread in the case",
            fields=(
                Field(
                    key="engagement",
                    label="Length of thread in the case",
                    help="Full threads in contact only: without the chamfer and the run-out.",
                    kind=Measure(own="mm", low=2, high=80, why="shorter holds nothing, longer gains nothing"),
                    card="studs.cylinder_head.engagement",
                    example="20 mm",
                    reading="stud_engagement",
                ),
                Field(
                    key="case",
                    label="Metal of the case",
                    kind=Choice(
                        options={
                            "unknown": "Not known, aluminium or magnesium",
                            "cast aluminium": "Cast aluminium",
                            "cast magnesium": "Cast magnesium",
                            "own": "Own strength, typed below",
                        }
                    ),
                    card="materials.case",
                    default="unknown",
                ),
                Field(
                    key="insert",
                    label="Thread in the case now",
                    kind=Choice(options={"bare": "Cut in the case itself", "insert": "A wire thread insert"}),
                    default="bare",
                ),
            ),
        ),
        Section(
            title="Own friction, nut face and case strength",
            folded=True,
            fields=(
                Field(key="least_friction", label="Least friction", kind=_FRICTION, optional=True),
                Field(key="most_friction", label="Most friction", kind=_FRICTION, optional=True),
                Field(
                    key="face",
                    label="Nut face diameter",
                    help="Outside of the ring on which nut or washer turns. Empty: an ordinary hexagon nut.",
                    kind=Measure(own="mm", low=5, high=60, why="nuts of these threads", exact=True),
                    optional=True,
                ),
                Field(
                    key="hole",
                    label="Hole under the nut",
                    help="Empty: an ordinary clearance hole.",
                    kind=Measure(own="mm", low=4, high=50, why="holes for these threads", exact=True),
                    optional=True,
                ),
                Field(
                    key="least_strength",
                    label="Least shear strength of the case, in MPa",
                    kind=_STRENGTH,
                    optional=True,
                ),
                Field(
                    key="most_strength",
                    label="Most shear strength of the case, in MPa",
                    kind=_STRENGTH,
                    optional=True,
                ),
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return the pull of one stud and of all, and what stud and case make of it."""
    counted = len(inputs.card.studs("studs.cylinder_head")) if inputs.card else 0
    return report(
        Joint(
            stud=_stud(inputs),
            condition=inputs.condition,
            meant_for=inputs.meant_for,
            friction=_range(inputs, "condition", "friction", LUBRICANTS),
            case=inputs.case,
            strength=_range(inputs, "case", "strength", CASES),
            length=inputs.engagement,
            inserted=inputs.insert == "insert",
            studs=inputs.studs or counted,
            torque=inputs.torque,
        )
    )


def _range(inputs: SimpleNamespace, key: str, what: str, known: dict[str, Ends]) -> Ends:
    """Return the ends of the friction or of the strength: of the choice made, or as typed."""
    chosen = getattr(inputs, key)
    if chosen != "own":
        return known[chosen]
    keys = (f"least_{what}", f"most_{what}")
    labels = {field.key: field.label for field in FORM.fields}
    missing = [
        FieldError(one, f"Enter the {labels[one][0].lower()}{labels[one][1:]}")
        for one in keys
        if getattr(inputs, one) is None
    ]
    if missing:
        raise InputErrors(*missing)
    least, most = (getattr(inputs, one) for one in keys)
    if least > most:
        message = f"{labels[keys[0]]} must not be above the most, {plain(most)}"
        raise InputErrors(FieldError(keys[0], message))
    return least, most


def _stud(inputs: SimpleNamespace) -> TightenedStud:
    thread = FASTENERS[inputs.thread]
    hole = magnitude_in(inputs.hole, "mm") if inputs.hole is not None else clearance_hole(thread)
    face = magnitude_in(inputs.face, "mm") if inputs.face is not None else nut_face(thread)
    if hole < thread.major:
        message = f"Hole under the nut must be wider than the thread, {figures(thread.major, 2)} mm"
        raise InputErrors(FieldError("hole", message))
    if face <= hole:
        message = f"Nut face diameter must be more than the hole under the nut, {figures(hole, 2)} mm"
        if inputs.face is None:
            message = f"Enter the nut face diameter too: an ordinary nut's, {figures(face, 2)} mm, is within this hole"
        raise InputErrors(FieldError("face", message))
    return TightenedStud(
        thread=thread,
        steel=STEELS[inputs.steel],
        face=face,
        hole=hole,
        torque=1000 * magnitude_in(inputs.torque, "N·m"),
        error=magnitude_in(inputs.wrench_error, "%") / 100,
    )
