"""Any value in every unit, which thread this is, which drill it wants, and a torque where no maker names one.

The torque is a fallback from the class and the friction alone. It knows neither the part, nor
the joint, nor the thread that the bolt goes into.
"""

from __future__ import annotations

from types import SimpleNamespace

from calculators import (
    Caution,
    Choice,
    Field,
    FieldError,
    Form,
    InputErrors,
    Measure,
    Number,
    Report,
    Section,
    Table,
    magnitude_in,
    printed,
    quantity,
    uncertainty_in,
)
from calculators._fasteners.clamp_report import steel_words
from calculators._fasteners.fastener_drawing import marks
from calculators._fasteners.fastener_report import (
    conversions,
    drill_value,
    drills,
    fallback,
    fallback_value,
    fallbacks,
    found_threads,
    mark_value,
    nearest_tenth,
)
from calculators._fasteners.tightened_stud import TightenedStud
from calculators._units import figures, limit_of, with_plus_minus
from calculators._words import word
from calculators.formulas.bolted_joint import LUBRICANTS
from calculators.formulas.thread_finder import candidates
from calculators.formulas.threads import (
    FASTENERS,
    NEIGHBOURS,
    STEELS,
    clearance_hole,
    drill_for,
    insert_major,
    nut_face,
)

TITLE = "Units and fasteners"

_ROOM = "far beyond what a workshop measures"
_KINDS = {
    "length": ("Length", Measure(own="mm", low=0, high=1e6, why=_ROOM), None),
    "torque": ("Torque", Measure(own="N·m", low=0, high=1e5, why=_ROOM), "25 lbf·ft"),
    "volume": ("Volume", Measure(own="cm³", low=0, high=1e6, why=_ROOM), None),
    "force": ("Force", Measure(own="N", low=0, high=1e7, why=_ROOM), None),
    "pressure": ("Pressure", Measure(own="bar", low=0, high=1e4, why=_ROOM), None),
}
"""What is converted: kind of unit, which is the field's key as well → label, limits, example."""

FORM = Form(
    (
        Section(
            title="The fastener",
            fields=(
                Field(
                    key="thread",
                    label="Thread",
                    kind=Choice(options={name: f"{name}, {word(thread.series)}" for name, thread in FASTENERS.items()}),
                    default="M8 × 1.25",
                ),
                Field(
                    key="steel",
                    label="Property class or grade",
                    help="By its mark. Not marked: take class 5.8 or less.",
                    kind=Choice(
                        options={name: f"{name} (SAE J429)" if steel.graded else name for name, steel in STEELS.items()}
                    ),
                    default="8.8",
                ),
                Field(
                    key="condition",
                    label="Thread condition",
                    help="Thread and face of the nut alike.",
                    kind=Choice(options={"dry": "Dry and clean", "oiled": "Oiled", "anti-seize": "Anti-seize paste"}),
                    default="oiled",
                ),
                Field(
                    key="share",
                    label="Share of full thread to tap",
                    help="75% is common; 60% in deep or hard holes.",
                    kind=Measure(own="%", low=40, high=95, why="less strips, more breaks the tap", exact=True),
                    default="75%",
                ),
            ),
        ),
        Section(
            title="A thread to find",
            help="Of a bolt or stud: outside diameter over the crests, and pitch from a gauge.",
            fields=(
                Field(
                    key="diameter",
                    label="Outside diameter",
                    kind=Measure(own="mm", low=2.5, high=21, why="the threads listed here"),
                    optional=True,
                    example="9.88 mm",
                ),
                Field(
                    key="pitch",
                    label="Pitch",
                    help="From one crest to the next: a tenth of the length of ten threads.",
                    kind=Measure(own="mm", low=0.4, high=3, why="the threads listed here"),
                    optional=True,
                    example="1.5 mm",
                ),
                Field(
                    key="per_inch",
                    label="Threads per inch",
                    help="In place of the pitch.",
                    kind=Number(low=8, high=60, why="the threads listed here", whole=False),
                    optional=True,
                ),
                Field(
                    key="caliper_error",
                    label="Error limit of the caliper",
                    help="Plus or minus. A ± typed with the diameter wins over it.",
                    kind=Measure(
                        own="mm",
                        low=0,
                        high=0.5,
                        why="a caliper further off tells no threads",
                        exact=True,
                        plus_minus=True,
                    ),
                    default="0.05 mm",
                ),
            ),
        ),
        Section(
            title="Values to convert",
            fields=tuple(
                Field(key=kind, label=label, kind=measure, optional=True, example=example)
                for kind, (label, measure, example) in _KINDS.items()
            ),
        ),
    )
)


def compute(inputs: SimpleNamespace) -> Report:
    """Return drills, marks and fallback torques; the threads found; the values converted."""
    thread, steel = FASTENERS[inputs.thread], STEELS[inputs.steel]
    friction = LUBRICANTS[inputs.condition]
    share = magnitude_in(inputs.share, "%") / 100
    stud = TightenedStud(thread=thread, steel=steel, face=nut_face(thread), hole=clearance_hole(thread), torque=0.0)
    threads, likely = _found(inputs)
    typed = [(kind, getattr(inputs, kind)) for kind in _KINDS if getattr(inputs, kind) is not None]
    own, inserted = (
        figures(nearest_tenth(drill_for(major, thread.pitch, share)), 1)
        for major in (thread.major, insert_major(thread.major, thread.pitch))
    )
    torque = printed(quantity(fallback(stud, friction) / 1000, "N·m"), "N·m")
    return Report(
        lead=(
            f"{thread.name}: drill {own} mm to tap it, {inserted} mm for a wire insert. Without a maker's figure, "
            f"not over {torque} for {steel_words(steel)}, {word(inputs.condition)}.{likely}"
        ),
        values=(
            drill_value(thread, share, False),
            drill_value(thread, share, True),
            fallback_value(stud, friction),
            *(value for kind, quantity in typed for value in conversions(kind, quantity)),
            mark_value(steel),
        ),
        tables=(*threads, drills(thread, share), fallbacks(stud, friction)),
        figures=(marks(steel),),
        cautions=_CAUTIONS,
        notes=(
            "One diameter and one pitch can belong to two systems. Run a nut of the thread on by hand: it must turn "
            "freely over its whole length.",
            "A wire insert wants its own tap, which is wider than the stud's.",
        ),
        plus_minus="± is converted as it was typed: as the most that the reading may be off by.",
    )


_CAUTIONS = (
    Caution(
        "warning",
        "A fallback torque is not for cylinder heads, connecting rods, brakes, steering, or anything else that a maker "
        "gives a figure for. A wrong clamp lets go there, and that can kill. Get the maker's figure.",
    ),
    Caution(
        "caution",
        "In aluminium, magnesium or plastic the hole's thread may strip below this torque. Work it out in Stud clamp "
        "before you tighten.",
    ),
    Caution(
        "notice",
        "A nut of a near thread starts, then binds and tears both threads. Stop where it first turns hard.",
    ),
)


def _found(inputs: SimpleNamespace) -> tuple[tuple[Table, ...], str]:
    """Return the table of threads found, if a diameter was typed, and a sentence on the likely one."""
    if inputs.pitch is not None and inputs.per_inch is not None:
        raise InputErrors(
            FieldError("per_inch", "Threads per inch must be empty where the pitch is typed, or the pitch")
        )
    if inputs.diameter is None:
        if inputs.pitch is not None or inputs.per_inch is not None:
            raise InputErrors(FieldError("diameter", "Enter the outside diameter too, in millimetres"))
        return (), ""
    diameter = magnitude_in(inputs.diameter, "mm")
    typed_error = uncertainty_in(inputs.diameter, "mm")
    error = limit_of(typed_error) if typed_error else magnitude_in(inputs.caliper_error, "mm")
    pitch, pitch_error = None, 0.0
    measured: tuple[tuple[str, object], ...] = (("diameter", f"{with_plus_minus(diameter, error, 3)} mm"),)
    if inputs.pitch is not None:
        pitch = magnitude_in(inputs.pitch, "mm")
        pitch_error = limit_of(uncertainty_in(inputs.pitch, "mm") or 0.0)
        measured += (("pitch", with_plus_minus(pitch, pitch_error, 3) + " mm"),)
    elif inputs.per_inch is not None:
        pitch = 25.4 / inputs.per_inch
        measured += (("threads per inch", inputs.per_inch),)
    found = candidates((*FASTENERS.values(), *NEIGHBOURS), diameter, error, pitch, pitch_error)
    if not found:
        what = f"{figures(diameter, 2)} mm and this pitch" if pitch else f"{figures(diameter, 2)} mm"
        message = f"No thread listed here comes near {what}. Measure over the crests, and the pitch over ten threads."
        raise InputErrors(FieldError("diameter", message))
    likely = [candidate.thread.name for candidate in found if candidate.fit != "near, but not it"]
    words = f"can be {' or '.join(likely)}" if likely else f"is none listed here; nearest is {found[0].thread.name}"
    return (found_threads(found, measured),), f" The thread measured {words}."
