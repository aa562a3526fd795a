"""The answers of this room: from readings to fits, and from fits to an answer; what was half read is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    Answer,
    Caution,
    Entry,
    FieldError,
    Figure,
    Finding,
    FoundPart,
    InputErrors,
    Lacking,
    Quantity,
    Row,
    Value,
    Worked,
    quantity,
    read_by_instrument,
)
from calculators.bench.verdict import best_of
from calculators.bench.words import word
from calculators.fits.fit import Fit, Kind, Part, found
from calculators.fits.published import notes_on
from calculators.fits.verdicts import cautions, headline, sentence
from calculators.fits.working import table
from calculators.fits.working import values as values_of

LIMITS_WIN = "The engine maker's limits win over any figure here."
BY_EYE = (
    "Judge cracks, scores, pitting, a hammered stem tip and a worn collet groove by eye: such a part is out whatever "
    "the gauge says."
)
ANOTHER_FIT = "If one part of a fit is replaced, measure again: the fit has changed."
WHOLE_SWING = "Run-out is the whole swing of the dial, not half of it."
ONE_TEMPERATURE = (
    "Measure gauge, setting ring and part at one temperature: an aluminium piston of 80 mm grows 0.019 mm in 10 K "
    "(23.6 millionths per K; Callister, 3rd edition, Table B.6)."
)


def enter(entry: Entry[Any], part: str, row: int) -> FieldError:
    """Return what asks for a reading of a part, in the words of an empty box."""
    return FieldError(
        f"{entry.key}.{row}", f"Enter the {entry.label[0].lower()}{entry.label[1:]} of {part}{entry.kind.wanted(None)}"
    )


def one(reading: Quantity, instrument: str, limit: Quantity) -> Any:
    """Return a reading in mm, with what its instrument leaves uncertain."""
    return read_by_instrument([reading], "mm", instrument=instrument, limit=limit)[0]


def several(readings: Sequence[Quantity], instrument: str, limit: Quantity) -> tuple[Any, ...]:
    """Return readings of one instrument in mm: what it is off by is one error."""
    return read_by_instrument(readings, "mm", instrument=instrument, limit=limit)


def as_read(
    sides: Mapping[str, Entry[Any]], rows: Sequence[Row], noun: str, kind: Kind, instrument: str, limit: Quantity
) -> list[Fit]:
    """Return a fit for each reading that was given, judged as it was read; ``sides`` are the columns of the rows.

    Raises
    ------
    Lacking
        Where there is none.
    """
    fits = [
        found(kind, Part(noun, number, side), one(reading, instrument, limit))
        for side, entry in sides.items()
        for number, row in enumerate(rows, 1)
        if (reading := row.value_of(entry)) is not None
    ]
    if not fits:
        first = enter(next(iter(sides.values())), "cylinder 1", 1)
        raise Lacking(FieldError(first.field, f"{first.message}, or any other"))
    return fits


@dataclass(frozen=True, slots=True)
class Pairs:
    """Shafts in their holes on one side, one pair a row, each of one reading or of several: the columns for both."""

    side: str
    hole: Entry[Any]
    shaft: Entry[Any]
    rows: Sequence[Row]


def play(
    sides: Sequence[Pairs], noun: str, kind: Kind, names: tuple[str, str], limits: tuple[Quantity, Quantity]
) -> tuple[list[Fit], list[FieldError]]:
    """Return the clearance of each shaft in its hole: the widest reading less the narrowest; and what is half read.

    Parameters
    ----------
    names : (str, str)
        Of hole and shaft, ``("guide", "stem")``.
    limits : (Quantity, Quantity)
        Of small-bore gauge and micrometer.

    Raises
    ------
    InputErrors
        A shaft thicker than its hole.
    Lacking
        No pair is whole.
    """
    fits, missing, errors = [], [], []
    for side in sides:
        for number, row in enumerate(side.rows, 1):
            hole, shaft = row.value_of(side.hole), row.value_of(side.shaft)
            part = Part(noun, number, side.side)
            if hole is None or shaft is None:
                if hole is not None or shaft is not None:
                    missing.append(enter(side.hole if hole is None else side.shaft, part.name, number))
                continue
            wide = max(several(_all(hole), "small-bore gauge", limits[0]), key=best_of)
            narrow = min(several(_all(shaft), "micrometer", limits[1]), key=best_of)
            if best_of(narrow) > best_of(wide):
                words = f"{side.shaft.label} of {part.name} must be at most its {word(names[0])}"
                errors.append(FieldError(f"{side.shaft.key}.{number}", words))
                continue
            fits.append(found(kind, part, wide - narrow, (names[0], wide), (names[1], narrow)))
    if errors:
        raise InputErrors(*errors)
    if not fits:
        first = sides[0]
        raise Lacking(*(missing or [enter(first.hole, Part(noun, 1, first.side).name, 1)]))
    return fits, missing


def _all(readings: Quantity | tuple[Quantity, ...]) -> tuple[Quantity, ...]:
    return readings if isinstance(readings, tuple) else (readings,)


def not_crossed(key: str, noun: str, least: float | None, most: float | None) -> None:
    """Refuse a least limit above the greatest."""
    if least is not None and most is not None and least > most:
        raise InputErrors(FieldError(key, f"Least {noun} must be at most the greatest {noun}"))


def judged(
    fits: Sequence[Fit],
    heading: str,
    drawing: Figure,
    *,
    told: Sequence[Fit] = (),
    warnings: tuple[Caution, ...] = (),
    missing: Iterable[FieldError] = (),
    values: tuple[Value, ...] = (),
    figures: tuple[Figure, ...] = (),
    notes: tuple[str, ...] = (),
    worked: tuple[Worked, ...] = (),
) -> Answer:
    """Return the answer that fits give; ``told`` are those of which ``warnings`` speak."""
    asked_for = tuple(Caution("notice", f"{error.message}, to have it judged.") for error in missing)
    return Answer(
        headline=headline(fits),
        says=sentence(fits),
        drawing=drawing,
        values=(*values_of(fits), *values),
        warnings=(*warnings, *cautions(fits, told), *asked_for),
        tables=(table(fits, heading),),
        figures=figures,
        notes=(*notes, *notes_on(fits), BY_EYE, LIMITS_WIN),
        findings=tuple(_findings(fits)),
        worked=worked,
    )


_GLOSSES = {
    "wear": "how much wider the barrel is than when new",
    "taper": "one end of the barrel wider than the other",
    "out_of_round": "the barrel wider one way than the other",
    "guide_clearance": "play of the valve in its guide",
    "flatness": "how far the sealing face is from flat",
    "piston_clearance": "room between piston and barrel",
    "pushrod": "how far a pushrod is from straight",
    "narrow_gap": "gap between the ends of a piston ring",
    "wide_gap": "gap between the ends of a piston ring",
    "side_clearance": "play of a piston ring in its groove",
    "bush": "play of a rocker on its shaft",
    "width": "width of the ring on which the valve seals",
    "rim": "where on its face the valve seals",
    "inner": "where on its face the valve seals",
    "runout": "how far a valve's stem is from straight",
    "tappet": "play of a tappet in its bore",
    "hollow": "how hollow a tappet's face is worn",
    "clearance": "room between valve and piston when they come nearest",
    "margin": "thickness of the edge of the valve's head",
    "rock": "how far a valve can be rocked in its guide",
    "rocked_clearance": "play of the valve in its guide",
}
"""What each kind of fit is, for whoever owns the engine."""


def _findings(fits: Sequence[Fit]) -> Iterator[Finding]:
    """Yield the fits of each kind; where the limits of the two sides differ, each side by itself."""
    kinds: dict[Kind, list[Fit]] = {}
    for fit in fits:
        kinds.setdefault(fit.kind, []).append(fit)
    nouns = [kind.noun for kind in kinds]
    for kind, its in kinds.items():
        side = word(its[0].part.side) if nouns.count(kind.noun) > 1 and its[0].part.side else ""
        yield Finding(
            key=f"{kind.key}_{its[0].part.side}" if side else kind.key,
            what=f"{kind.noun}, {side}" if side else kind.noun,
            parts=tuple(FoundPart(fit.part.name, quantity(fit.number, "mm"), fit.verdict) for fit in its),
            units=("mm", "in"),
            places=3,
            low=None if kind.low is None else quantity(kind.low, "mm"),
            high=None if kind.high is None else quantity(kind.high, "mm"),
            limits=kind.limits,
            gloss=_GLOSSES[kind.key],
        )
