"""True top dead centre by a positive stop, and what the old mark is worth."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    FieldError,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    Worked,
    length,
    optional,
    quantity,
    read_by_instrument,
    shared,
)
from calculators.bench.units import figures, magnitude_in, number_in, plain, printed
from calculators.bench.verdict import best_of, verdict_on
from calculators.bench.words import word
from calculators.formulas.rim_marks import crank_angle, rim_angle, stop_middle
from calculators.formulas.slider_crank import piston_travel
from calculators.timing import asked
from calculators.timing.cautions import ARRIVE, IT_FIRES, NO_STARTER
from calculators.timing.rim import BLIND, Rim, Stop, is_moved, millimetres, rim_of
from calculators.timing.stop_drawing import stop_drawing
from calculators.timing.stop_told import values

_WIDEST, _NARROWEST = 150.0, 4.0
"""Degrees between two readings of a stop: outside these the stop met the piston too far down, or not at all."""
_CHALK = "Chalk marks instead of a wheel"
_NOUNS = {
    "stop_forwards": "wheel reading, turning the engine's way, in degrees",
    "stop_backwards": "wheel reading, turning the other way, in degrees",
    "rim_forwards": "distance from the old mark to the first chalk mark, in millimetres",
    "rim_backwards": "distance from the old mark to the second chalk mark, in millimetres",
}


def _chalk(label: str, key: str, hint: str) -> Any:
    why = "half way round the widest rim"
    return optional(
        length(label, -500, 1000, why=why, hint=hint, shared_as=key, read_by="calliper", refines=_CHALK, said="{}")
    )


class TopDeadCentre(Question):
    """Uses a stop in the plug hole of cylinder 1, met by hand from both directions.

    Takes the bore's axis to meet the crankshaft's. An offset pin or bore, or a stop that gives, moves the middle.
    """

    asks = "Where is true top dead centre, and is the old mark right?"
    tells = "True top dead centre"
    works_out = ("old_mark_early",)

    stop_forwards = asked.wheel_reading(
        "Wheel reading, turning the engine's way",
        -360,
        360,
        why="one turn of the wheel either way",
        key="stop_forwards",
        hint="Degrees after the old mark at which the piston meets the stop; minus for before it. On a wheel of 360, "
        "325 is 35 before.",
        example="-32.5",
        said="stop at {}",
    )
    stop_backwards = asked.wheel_reading(
        "Wheel reading, turning the other way",
        -360,
        360,
        why="one turn of the wheel either way",
        key="stop_backwards",
        example="38.5",
        said="and {}",
    )
    diameter = asked.rim_diameter()
    crank_rotation = asked.rotation()
    scale_on = asked.marks_on()
    rim_forwards = _chalk(
        "Distance from the old mark to the first chalk mark",
        "rim_forwards",
        "Chalked at the pointer, turning the engine's way. Minus if both marks are on one side.",
    )
    rim_backwards = _chalk(
        "Distance from the old mark to the second chalk mark", "rim_backwards", "Chalked turning the other way."
    )
    mark_limit = asked.limit("Allowed error of the old mark", 10, "1°", shared_as="mark_limit", said="mark ± {}")
    wheel_error = asked.wheel_error()
    wheel_read_to = asked.wheel_read_to()
    rim_error = asked.rim_error()
    stroke = optional(shared.stroke(example=None, refines="How deep the stop reaches"))
    rod_length = optional(shared.rod_length(example=None, refines="How deep the stop reaches", said="rod {}"))

    def answer(self) -> Answer:
        diameter = number_in(self.diameter, "mm")
        stop = self._stop(diameter)
        rim = replace(rim_of(diameter, (), self.crank_rotation, self.scale_on), stop=stop)
        early = best_of(stop.early)
        off = figures(abs(early), 1)
        off += "° off" if off == "0.0" else "° early" if early > 0 else "° late"
        there = f"{millimetres(rim.along(early))} {word(rim.way(-early))}" if early else "at the old one"
        return Answer(
            headline=_headline(stop, off, there),
            says=self._says(stop, off, there),
            record=f"Old top mark: {off}.",
            drawing=stop_drawing(rim, early, best_of(stop.half), there),
            values=tuple(values(rim, stop)),
            warnings=(IT_FIRES, NO_STARTER, *_moved(rim)),
            notes=(
                ARRIVE,
                "The stop may be anywhere, as long as the piston meets it the same from both sides. The deeper it "
                "reaches, the less its play matters.",
            ),
            worked=(Worked(name="old_mark_early", value=quantity(stop.early, "°")),),
        )

    def _says(self, stop: Stop, off: str, there: str) -> str:
        if not is_moved(stop):
            return f"The old mark is in: it is {off}, and {plain(stop.limit)}° either way is allowed."
        sure = "" if stop.verdict == "out" else ", though that is too close to call with this instrument"
        return f"Put a new top mark {there} of the old one, which is {off}{sure}."

    def _stop(self, diameter: Any) -> Stop:
        """Read the stop.

        Raises
        ------
        Lacking
        InputErrors
        """
        first, (forwards, backwards) = self._readings(diameter)
        early, half = stop_middle(forwards, backwards)
        between = 2 * best_of(half)
        if between > _WIDEST:
            message = f"must be less than {_WIDEST:g}° apart the shorter way, not {between:.0f}°. Draw the stop back"
            raise InputErrors(FieldError(first, f"The two readings at the stop {message}"))
        if between < _NARROWEST:
            message = f"must be more than {_NARROWEST:g}° apart, not {between:.1f}°. Screw the stop further in"
            raise InputErrors(FieldError(first, f"The two readings at the stop {message}"))
        limit = magnitude_in(self.mark_limit, "°")
        return Stop(early, half, limit, verdict_on(early, -limit, limit), *self._depth(half))

    def _readings(self, diameter: Any) -> tuple[str, tuple[Any, Any]]:
        """Return the crank angles after the old mark at which the stop was met, and the entry of the first."""
        wheel, chalk = (self.stop_forwards, self.stop_backwards), (self.rim_forwards, self.rim_backwards)
        if wheel != (None, None) and chalk != (None, None):
            box = "rim_forwards" if chalk[0] is not None else "rim_backwards"
            which = "first" if chalk[0] is not None else "second"
            message = f"Distance from the old mark to the {which} chalk mark must be empty if you read the wheel"
            raise InputErrors(FieldError(box, message))
        if chalk == (None, None):
            read = read_by_instrument(
                _both(wheel, "stop_forwards", "stop_backwards"),
                "°",
                instrument="degree wheel",
                limit=self.wheel_error,
                read_to=self.wheel_read_to,
            )
            return "stop_forwards", (read[0], read[1])
        nothing = quantity(0.0, "mm")
        along = read_by_instrument(
            _both(chalk, "rim_forwards", "rim_backwards"),
            "mm",
            instrument="chalk",
            limit=nothing,  # what is common to both drops out: they are measured towards one another
            read_to=self.rim_error,
        )
        return "rim_forwards", (-rim_angle(along[0], diameter), rim_angle(along[1], diameter))

    def _depth(self, half: Any) -> tuple[Any | None, float | None]:
        """Return how far the piston was down at the stop, and how near the top a dial on it is blind."""
        if self.stroke is None or self.rod_length is None:
            return None, None
        stroke, rod = number_in(self.stroke, "mm"), number_in(self.rod_length, "mm")
        if best_of(rod) <= 0.5 * best_of(stroke):
            message = f"Rod length must be more than half the stroke, which is {printed(self.stroke / 2, 'mm')}"
            raise InputErrors(FieldError("rod_length", message))
        return piston_travel(half, stroke, rod), best_of(crank_angle(BLIND, best_of(stroke), best_of(rod)))


def _both(pair: tuple[Quantity | None, Quantity | None], *keys: str) -> list[Quantity]:
    missing = [key for key, reading in zip(keys, pair, strict=True) if reading is None]
    if missing:
        raise Lacking(*(FieldError(key, f"Enter the {_NOUNS[key]}") for key in missing))
    return [reading for reading in pair if reading is not None]


def _headline(stop: Stop, off: str, there: str) -> str:
    if not is_moved(stop):
        return f"Old mark in: {off}"
    return f"{off}: new mark {there}" if stop.verdict == "out" else f"{off}: too close to call"


def _moved(rim: Rim) -> tuple[Caution, ...]:
    if not is_moved(rim.stop):
        return ()
    text = "Every distance is from the true top mark. Anything measured from a wrong old mark is wrong too."
    return (Caution("notice", text),)
