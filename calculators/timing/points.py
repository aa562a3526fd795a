"""The contact breaker points: whether their dwell is right, and which gap gives the one that is wanted."""

from __future__ import annotations

from typing import Any

from calculators.bench import (
    Answer,
    Entry,
    FieldError,
    Finding,
    FoundPart,
    InputErrors,
    Lacking,
    Quantity,
    Question,
    angle,
    count,
    length,
    measure,
    optional,
    quantity,
    read_by_instrument,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.units import magnitude_in, number_in, plain
from calculators.bench.verdict import best_of, verdict_on
from calculators.formulas.ignition_timing import dwell_angle, gap_for, lobe_angle
from calculators.timing import asked
from calculators.timing import dwell_told as told
from calculators.timing.points_drawing import dwell_drawing

_TWO_GAPS = "Two gaps tried"
_WIDER = 0.5
"""Degrees by which the dwell must differ between two gaps, to tell a third (common practice, no source)."""
_LEAST_GAP, _MOST_GAP = 0.1, 1.5
"""Millimetres: contact breaker points."""


def _dwell(label: str, **facts: Any) -> Entry[Quantity | None]:
    return optional(angle(label, 1, 359, why="a part of one turn of the distributor", **facts))


def _gap(label: str, **facts: Any) -> Entry[Quantity | None]:
    why = "contact breaker points"
    return optional(length(label, _LEAST_GAP, _MOST_GAP, why=why, refines=_TWO_GAPS, said="{}", **facts))


class Points(Question):
    """For symmetrical lobes, with a meter on the running engine; the gap is found on a straight line between two.

    With a worn distributor shaft the dwell wanders, and no gap cures that.
    """

    asks = "Is the dwell right, and what gap do I set?"
    tells = "Dwell and points gap"
    judges = True

    dwell = _dwell(
        "Dwell wanted",
        hint="Degrees of the distributor with the points closed.",
        card=CardFacts.running.dwell.path,
        exact=True,
        shared_as="dwell_wanted",
        said="wanted {}",
    )
    dwell_read = _dwell("Dwell read", example="54", shared_as="dwell_read", read_by="dwell_meter", said="read {}")
    dwell_read_share = optional(
        measure(
            "Dwell read in per cent",
            "%",
            1,
            99,
            why="a part of the whole",
            hint="If the meter shows a percentage instead.",
            shared_as="dwell_read_share",
            read_by="dwell_meter",
            said="read {}",
        )
    )
    lobes = count(
        "Lobes of the distributor",
        1,
        8,
        why="distributors of such engines",
        hint="Usually one for each cylinder.",
        card=CardFacts.layout.cylinders.path,
        stands_in=True,
        example="4",
        shared_as="distributor_lobes",
        said="{} lobes",
    )
    gap_fitted = _gap(
        "Gap fitted", hint="At which the dwell was read.", card=CardFacts.running.points_gap.path, stands_in=True
    )
    gap_second = _gap(
        "Second gap",
        hint="Set another gap and read again: the two give the gap to set.",
        shared_as="gap_second",
        read_by="feelers",
    )
    dwell_second = _dwell(
        "Dwell at the second gap", shared_as="dwell_second", read_by="dwell_meter", refines=_TWO_GAPS, said="gives {}"
    )
    dwell_tolerance = asked.limit(
        "Tolerance of the dwell",
        20,
        "3°",
        card=CardFacts.running.dwell_tolerance.path,
        shared_as="dwell_tolerance",
        said="± {}",
    )
    dwell_error = asked.limit(
        "Error limit of the dwell meter",
        10,
        "1°",
        hint="Plus or minus, the same at every reading.",
        shared_as="dwell_error",
        refines=asked.READINGS,
        said="meter ± {}",
    )
    dwell_read_to = asked.limit(
        "Dwell meter read to",
        5,
        "0.5°",
        hint="Plus or minus, random at each reading.",
        shared_as="dwell_read_to",
        refines=asked.READINGS,
        said="read to ± {}",
    )

    def answer(self) -> Answer:
        self._judge_sizes()
        wanted = None if self.dwell is None else magnitude_in(self.dwell, "°")
        read = self._read()
        if wanted is None and read is None:
            raise Lacking(FieldError("dwell_read", "Enter the dwell read, in degrees"))
        tolerance = magnitude_in(self.dwell_tolerance, "°")
        verdict = None if wanted is None or read is None else verdict_on(read - wanted, -tolerance, tolerance)
        gap, tries = self._gap_to_set(wanted, read)
        dwell = told.Dwell(
            lobes=self.lobes,
            wanted=wanted,
            read=read,
            tolerance=self.dwell_tolerance,
            verdict=verdict,
            gap=gap,
            tries=tries,
        )
        return Answer(
            headline=told.headline(dwell),
            says=told.says(dwell),
            drawing=dwell_drawing(self.lobes, wanted, None if read is None else best_of(read), verdict),
            values=tuple(told.values(dwell)),
            warnings=tuple(told.cautions(verdict)),
            findings=()
            if read is None
            else (
                Finding(
                    key="dwell",
                    what="dwell of the points",
                    gloss="how long the ignition points stay shut",
                    parts=(FoundPart("", quantity(read, "°"), verdict),),
                    units=("°",),
                    places=1,
                    low=None if wanted is None else quantity(wanted - tolerance, "°"),
                    high=None if wanted is None else quantity(wanted + tolerance, "°"),
                    limits=("dwell", "dwell_tolerance"),
                ),
            ),
            notes=(
                "Each degree of dwell moves the spark by about one of the crank.",
                "A wider gap is a smaller dwell, and an earlier spark.",
            ),
        )

    def _judge_sizes(self) -> None:
        pitch = lobe_angle(self.lobes)
        errors = [
            FieldError(entry.key, f"{entry.label} must be less than {plain(round(pitch, 1))}°, from lobe to lobe")
            for entry, value in (
                (Points.dwell, self.dwell),
                (Points.dwell_read, self.dwell_read),
                (Points.dwell_second, self.dwell_second),
            )
            if value is not None and magnitude_in(value, "°") >= pitch
        ]
        if self.dwell_read is not None and self.dwell_read_share is not None:
            message = "Dwell read in per cent must be empty if it was read in degrees"
            errors.append(FieldError("dwell_read_share", message))
        if errors:
            raise InputErrors(*errors)

    def _by_meter(self, dwell: Any) -> Any:
        (read,) = read_by_instrument(
            [dwell], "°", instrument="dwell meter", limit=self.dwell_error, read_to=self.dwell_read_to
        )
        return read

    def _read(self) -> Any | None:
        if self.dwell_read is not None:
            return self._by_meter(self.dwell_read)
        if self.dwell_read_share is None:
            return None
        return self._by_meter(quantity(dwell_angle(number_in(self.dwell_read_share, "%"), self.lobes), "°"))

    def _gap_to_set(self, wanted: float | None, read: Any | None) -> tuple[Any | None, tuple[tuple[str, str], ...]]:
        """Return the gap that gives the dwell wanted, in mm, and what was tried; nothing where only one gap was.

        Raises
        ------
        Lacking
        InputErrors
        """
        if self.gap_second is None and self.dwell_second is None:
            return None, ()
        nouns = (
            ("dwell", "dwell wanted, in degrees", wanted),
            ("dwell_read", "dwell read, in degrees", read),
            ("gap_fitted", "gap fitted, in millimetres", self.gap_fitted),
            ("gap_second", "second gap, in millimetres", self.gap_second),
            ("dwell_second", "dwell at the second gap, in degrees", self.dwell_second),
        )
        if missing := [FieldError(key, f"Enter the {noun}") for key, noun, value in nouns if value is None]:
            raise Lacking(*missing)
        tries = (
            (number_in(self.gap_fitted, "mm"), read),
            (number_in(self.gap_second, "mm"), self._by_meter(self.dwell_second)),
        )
        wider = best_of(tries[1][0]) - best_of(tries[0][0])
        more = best_of(tries[1][1]) - best_of(tries[0][1])
        if wider * more >= 0 or abs(more) < _WIDER:
            message = "Dwell at the second gap must be less with the wider gap, by half a degree or more. Check both"
            raise InputErrors(FieldError("dwell_second", message))
        gap = gap_for(wanted, *tries)
        if not _LEAST_GAP <= best_of(gap) <= _MOST_GAP:
            message = f"No gap from 0.1 to 1.5 mm gives {plain(wanted or 0)}° by these two readings. Check them"
            raise InputErrors(FieldError("dwell_second", message))
        return gap, told.tries_told(self.gap_fitted, self.gap_second, self.dwell_second)
