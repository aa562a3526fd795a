"""Which threads a measured bolt or stud can have, and which it is taken for."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    Column,
    FieldError,
    InputErrors,
    Question,
    ResultTable,
    Source,
    TableRow,
    Value,
    Worked,
    length,
    number,
    optional,
    quantity,
    shared,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import EXPANSION, figures, magnitude_in, printed, spread_alone, symbol_of, uncertainty_in
from calculators.fasteners.thread_drawing import profiles
from calculators.formulas.thread_finder import Candidate, candidates
from calculators.formulas.threads import FASTENERS, NEIGHBOURS

_LISTS = Source("ISO 261, ISO 228-1, ASME B1.1, ASME B1.20.1, BS 84 and BS 93; tolerance 6g of ISO 965-1", "memory")
_FITS = (
    "fits: diameter between nominal and the least of an ordinary fit, pitch within 1%, each with its full error; may "
    "fit: with part of it"
)
_LISTED = "the threads listed here"
NEAR = Caution(
    "notice",
    "A nut with a similar thread starts, then binds and tears both threads. Stop as soon as it turns hard.",
)

MEASURE_PITCH = Caution(
    "notice", "The diameter alone does not identify a thread. Measure ten threads, or count the threads per inch."
)


class WhichThread(Question):
    """Covers metric M3 to M20, unified, Whitworth, British Association, pipe.

    A worn, plated or stretched thread is outside its limits; measure a good length of it.
    """

    asks = "Which thread is this?"
    tells = "Which thread it is"
    works_out = ("fastener_thread",)

    diameter = length(
        "Outside diameter",
        2.5,
        21,
        why=_LISTED,
        hint="Of the bolt or stud, over the crests.",
        example="9.88 mm",
        read_by="calliper",
        said="{} over the crests",
    )
    pitch = optional(
        length(
            "Pitch",
            0.4,
            3,
            why=_LISTED,
            hint="From one crest to the next: a tenth of the length of ten threads.",
            example="1.5 mm",
            said="pitch {}",
        )
    )
    per_inch = optional(
        number("Threads per inch", 8, 60, why=_LISTED, hint="In place of the pitch.", said="{} to the inch")
    )
    caliper_error = shared.error_limit(
        "Error limit of the calliper",
        "mm",
        0.5,
        why="a less accurate calliper cannot tell threads apart",
        hint="Plus or minus. A ± typed with the diameter wins over it.",
        usual="0.05 mm",
        shared_as="calliper_error",
        refines="How good the calliper is",
        said="calliper ± {}",
    )

    def answer(self) -> Answer:
        found = self._found()
        likely = [of for of in found if of.fit != "near, but not it"]
        sure = [of for of in likely if of.fit == "fits"]
        names = " or ".join(of.thread.name for of in likely)
        alone = likely[0].thread.name if len(likely) == len(sure) == 1 else None
        return Answer(
            headline=_headline(likely, found[0]),
            says=f"The thread can be {names}."
            if likely
            else f"No thread listed here fits; the nearest is {found[0].thread.name}.",
            drawing=profiles(found[:3]),
            values=tuple(
                Value(
                    key=f"thread_{number}",
                    label=f"{of.thread.name}, {of.thread.series}",
                    quantity=of.fit,
                    formula=_FITS,
                    source=_LISTS,
                    given=(
                        ("diameter", quantity(of.thread.major, "mm")),
                        ("ten threads", quantity(10 * of.thread.pitch, "mm")),
                        ("flanks", quantity(of.thread.flanks, "°")),
                    ),
                )
                for number, of in enumerate(found, 1)
            ),
            warnings=(NEAR, *((MEASURE_PITCH,) if len(likely) > 1 and not self._has_pitch else ())),
            tables=(_table(found, self._measured()),),
            notes=(
                "One diameter and one pitch can belong to two systems. Run a nut of the thread on by hand: it must "
                "turn freely over its whole length.",
                "Threads of nearly the same diameter and pitch differ in flank angle: hold the thread gauge's blade in "
                "the thread against the light.",
                "A taper pipe thread has no single diameter. Compare two places on it.",
                "A worn, plated or stretched thread is outside its limits. Measure a good length of it.",
            ),
            worked=(Worked(name="fastener_thread", value=alone),) if alone in FASTENERS else (),
        )

    @property
    def _has_pitch(self) -> bool:
        return self.pitch is not None or self.per_inch is not None

    @property
    def _error(self) -> float:
        typed = uncertainty_in(self.diameter, "mm")
        return typed / EXPANSION * 3**0.5 if typed else magnitude_in(self.caliper_error, "mm")

    def _found(self) -> tuple[Candidate, ...]:
        if self.pitch is not None and self.per_inch is not None:
            message = "Threads per inch must be empty if you type the pitch, or the pitch empty"
            raise InputErrors(FieldError("per_inch", message))
        pitch, pitch_error = None, 0.0
        if self.pitch is not None:
            pitch = magnitude_in(self.pitch, "mm")
            pitch_error = (uncertainty_in(self.pitch, "mm") or 0.0) / EXPANSION * 3**0.5
        elif self.per_inch is not None:
            pitch = 25.4 / self.per_inch
        diameter = magnitude_in(self.diameter, "mm")
        found = candidates((*FASTENERS.values(), *NEIGHBOURS), diameter, self._error, pitch, pitch_error)
        if not found:
            what = f"{figures(diameter, 2)} mm{' and this pitch' if pitch else ''}"
            message = f"No thread listed here is near {what}. Measure over the crests, and the pitch over ten threads."
            raise InputErrors(FieldError("diameter", message))
        return found

    def _measured(self) -> tuple[tuple[str, object], ...]:
        diameter = f"{figures(magnitude_in(self.diameter, 'mm'), 3)} ± {spread_alone(self._error, 3)} mm"
        measured: tuple[tuple[str, object], ...] = (("diameter", diameter),)
        if self.pitch is not None:
            measured += (("pitch", printed(self.pitch, symbol_of(self.pitch))),)
        elif self.per_inch is not None:
            measured += (("threads per inch", self.per_inch),)
        return measured


def _headline(likely: list[Candidate], nearest: Candidate) -> str:
    if not likely:
        return f"None listed; nearest {nearest.thread.name}"
    names = " or ".join(of.thread.name for of in likely)
    return names if len(names) <= LONGEST_HEADLINE else f"{likely[0].thread.name} or {len(likely) - 1} others"


def _table(found: Sequence[Candidate], measured: tuple[tuple[str, Any], ...]) -> ResultTable:
    """Return the threads that a measured one can be, and those that are taken for it."""
    rows = (
        TableRow(
            cells=(
                candidate.thread.name,
                candidate.fit,
                quantity(candidate.thread.major, "mm"),
                quantity(10 * candidate.thread.pitch, "mm"),
                quantity(candidate.thread.flanks, "°"),
                candidate.thread.series,
            ),
            chosen=candidate.fit == "fits",
        )
        for candidate in found
    )
    return ResultTable(
        key="threads",
        title="What the thread can be, and what it is mistaken for",
        columns=(
            Column(key="thread", label="Thread", strong=True),
            Column(key="fit", label="By what you measured"),
            Column(key="diameter", label="Nominal diameter", unit="mm", places=3),
            Column(key="ten", label="Ten threads are", unit="mm"),
            Column(key="flanks", label="Flanks", unit="°", places=1),
            Column(key="series", label="Series"),
        ),
        rows=tuple(rows),
        formula=_FITS,
        source=_LISTS,
        given=measured,
    )
