"""What to grind from each chamber, so that all are alike, before a wall gets too thin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calculators._units import figures
from calculators._verdict import best_of, verdict_on
from calculators._words import listed as spoken
from calculators._words import word
from calculators.bench import (
    DECISION,
    GEOMETRY,
    Answer,
    Caution,
    Column,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    ResultTable,
    Row,
    Table,
    TableRow,
    Value,
    length,
    magnitude_in,
    measure,
    number,
    number_in,
    optional,
    quantity,
    read_by_instrument,
    shared,
    volume,
)
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.formulas.cylinder_volume import swept_volume
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.even_volumes import Evened, even_volumes, room_to_wall
from calculators.ports.grinding_drawing import chambers_figure
from calculators.ports.steps import GRINDING

_RATIO = "For the ratio"
_GOOD = "How good the readings are"
_LEAST_OUT = 0.05
"""Less than this many cm³ is not worth a burr."""


class Measured(Row):
    """What was measured of one chamber."""

    chamber = optional(shared.chamber())
    wall = optional(
        length(
            "Wall found",
            0.5,
            50,
            why="walls of such heads",
            exact=True,
            hint="Where the metal would go, at its thinnest; empty: nothing is taken there.",
            example="5.2; 5.1; 5.0; 4.4",
            shared_as="chamber_wall",
        )
    )
    ratio = optional(
        number(
            "Ratio now",
            1,
            30,
            why="spark-ignition engines",
            to_one=True,
            hint="To 1. Worked out from the volumes, or typed; empty: the ratio after it is left out.",
            shared_as="ratio",
        )
    )


@dataclass(frozen=True, slots=True)
class Chamber:
    """One chamber: as found in cm³, what its wall lets go (None: not measured), what it gets, its ratio now."""

    number: int
    volume: Any
    room: float | None
    evened: Evened
    ratio: Any

    @property
    def is_short(self) -> bool:
        return self.evened.short >= _LEAST_OUT

    @property
    def how_far(self) -> str:
        if not self.is_short:
            return "even with the largest"
        return "wall not measured" if self.room is None else "stopped by the wall"


class Chambers(Question):
    """Brought to the largest chamber and never beyond it; metal goes evenly from the area that is stated.

    A plan only: metal that is taken out never comes back, and the walls are for the reader to measure.
    """

    asks = "How much do I grind from each chamber to make them alike?"

    cylinders = shared.cylinders()
    least_wall = length(
        "Least wall",
        0.5,
        50,
        why="walls of such heads",
        exact=True,
        hint="What must be left; from the engine maker or the head's own drawing, never guessed.",
        card="limits.chamber_wall",
        shared_as="chamber_wall_least",
        said="walls not below {}",
    )
    grind_area = measure(
        "Area to grind",
        "cm²",
        0.5,
        500,
        why="chambers of such engines",
        exact=True,
        hint="Of one chamber's roof, off the seats and the sealing face.",
        example="18 cm²",
        shared_as="grind_area",
        said="over {}",
    )
    chambers = Table(Measured, each="Cylinder {}", most=12, count="cylinders")
    may_differ = optional(
        volume(
            "Difference allowed between chambers",
            0,
            100,
            why="further apart, heads are not a set",
            exact=True,
            hint="The largest less the smallest; empty where the engine maker gives none.",
            card="compression.chamber_difference",
            shared_as="chamber_difference",
            refines="What is allowed",
            said="{}",
        )
    )
    bore = optional(shared.bore(refines=_RATIO))
    stroke = optional(shared.stroke(refines=_RATIO))
    volumes_from = shared.volumes_from()
    burette_error = shared.burette_error()
    burette_read_to = shared.burette_read_to()
    wall_error = length(
        "Error limit of the wall readings",
        0,
        5,
        why="a reading further off decides nothing",
        exact=True,
        hint="Plus or minus; taken off the wall before anything is planned.",
        usual="0.1 mm",
        shared_as="wall_error",
        refines=_GOOD,
        said="walls ± {}",
    )

    def answer(self) -> Answer:
        found = self._found()
        out = sorted(
            (one for one in found if one.evened.out >= _LEAST_OUT), key=lambda one: (-one.evened.out, one.number)
        )
        return Answer(
            headline=_headline(out, len(found)),
            says=self._says(out, found),
            drawing=chambers_figure(
                tuple((one.number, round(one.evened.out, 3), round(one.evened.short, 3), one.room) for one in found)
            ),
            values=self._spreads(found),
            warnings=tuple(_warnings(found, bool(out), self._spread(found)[1])),
            tables=(self._table(found),),
            notes=(
                "A plan only: measure every chamber again after grinding, with plug and valves fitted.",
                "Metal is taken evenly over the area to grind, and no chamber is made larger than the largest.",
                "Every cubic centimetre taken out lowers the ratio.",
                "The engine maker's figures win over any here.",
            ),
        )

    @property
    def _area(self) -> float:
        return magnitude_in(self.grind_area, "cm²")

    def _found(self) -> list[Chamber]:
        rows = [(place, row, row.chamber) for place, row in enumerate(self.chambers, 1) if row.chamber is not None]
        if not rows:
            raise Lacking(FieldError("chamber.1", "Enter the chamber volume of cylinder 1, in cubic centimetres"))
        errors = [
            FieldError(f"ratio.{place}", f"Ratio now of cylinder {place} must be above 1 : 1")
            for place, row, _ in rows
            if row.ratio is not None and best_of(row.ratio) <= 1
        ]
        if errors:
            raise InputErrors(*errors)
        off, least = magnitude_in(self.wall_error, "mm"), magnitude_in(self.least_wall, "mm")
        rooms = [
            None if row.wall is None else room_to_wall(self._area, magnitude_in(row.wall, "mm") - off, least)
            for _, row, _ in rows
        ]
        volumes = read_by_instrument(
            [chamber for _, _, chamber in rows],
            "cm³",
            instrument="burette",
            limit=self.burette_error,
            read_to=self.burette_read_to,
            one=self.volumes_from == "one",
        )
        evened = even_volumes([best_of(found) for found in volumes], rooms)
        return [
            Chamber(place, found, room, share, row.ratio)
            for (place, row, _), found, room, share in zip(rows, volumes, rooms, evened, strict=True)
        ]

    def _says(self, out: Sequence[Chamber], found: Sequence[Chamber]) -> str:
        if not out:
            return f"Nothing to take from any of {len(found)} chambers."
        amounts = spoken(f"{figures(one.evened.out, 1)} cm³ from cylinder {one.number}" for one in out)
        if self._spread(found)[1] == "in":
            return f"They are as alike as they must be; to make them alike altogether, take {amounts}."
        return f"Take {amounts}."

    def _spread(self, found: Sequence[Chamber]) -> tuple[Any, Verdict | None]:
        """Return how far the chambers differ, in cm³, and whether they may."""
        ordered = sorted(found, key=lambda one: best_of(one.volume))
        spread = ordered[-1].volume - ordered[0].volume
        if self.may_differ is None:
            return spread, None
        return spread, verdict_on(spread, high=magnitude_in(self.may_differ, "cm³"))

    def _spreads(self, found: Sequence[Chamber]) -> tuple[Value, ...]:
        spread, verdict = self._spread(found)
        return (
            Value(
                key="spread",
                label="Chambers differ by" + (f" ({word(verdict)})" if verdict else ""),
                quantity=quantity(spread, "cm³"),
                units=("cm³",),
                formula="largest chamber less smallest; what the burette is off by drops out",
                source=DECISION,
                given=() if self.may_differ is None else (("may differ by", self.may_differ),),
            ),
            Value(
                key="spread_then",
                label="Chambers then differ by",
                quantity=quantity(max(one.evened.short for one in found), "cm³"),
                units=("cm³",),
                formula="what the walls keep the smallest short of the largest; measure again, this is a plan",
                source=GEOMETRY,
            ),
        )

    def _ratio_then(self, one: Chamber) -> Any:
        """Return the ratio after grinding, None where it is not known now."""
        if one.ratio is None or self.bore is None or self.stroke is None:
            return None
        swept = swept_volume(number_in(self.bore, "cm"), number_in(self.stroke, "cm"))
        return 1 + swept / (swept / (one.ratio - 1) + one.evened.out)

    def _table(self, found: Sequence[Chamber]) -> ResultTable:
        return ResultTable(
            key="chambers",
            title="What evens the chambers",
            columns=(
                Column(key="cylinder", label="Cylinder"),
                Column(key="found", label="Found", unit="cm³"),
                Column(key="out", label="Take out", unit="cm³", strong=True),
                Column(key="depth", label="That is deep", unit="mm"),
                Column(key="then", label="Then", unit="cm³"),
                Column(key="ratio", label="Ratio now", places=2),
                Column(key="ratio_then", label="Ratio then", places=2),
                Column(key="why", label="How far", wide=True),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        one.number,
                        quantity(one.volume, "cm³"),
                        quantity(one.evened.out, "cm³"),
                        quantity(one.evened.out / self._area * 10, "mm"),
                        quantity(best_of(one.volume) + one.evened.out, "cm³"),
                        one.ratio,
                        self._ratio_then(one),
                        one.how_far,
                    ),
                    chosen=one.evened.out >= _LEAST_OUT,
                )
                for one in found
            ),
            formula="largest chamber less this one, but no more than area to grind · (wall − its error limit − least "
            "wall); ratio then = 1 + swept volume ÷ (swept volume ÷ (ratio now − 1) + what is taken out)",
            source=GEOMETRY,
            given=(("least wall", self.least_wall), ("area to grind", self.grind_area)),
        )


def _headline(out: Sequence[Chamber], count: int) -> str:
    """Return what to take, the most first; of many chambers only the most."""
    if not out:
        return f"Nothing to take from {count} chamber{'' if count == 1 else 's'}"
    whole = " · ".join(f"Cyl {one.number}: {figures(one.evened.out, 1)} cm³" for one in out)
    return (
        whole
        if len(whole) <= LONGEST_HEADLINE
        else f"Up to {figures(out[0].evened.out, 1)} cm³, from {len(out)} chambers"
    )


def _warnings(found: Sequence[Chamber], takes: bool, verdict: Verdict | None) -> list[Caution]:
    told = []
    if takes:
        told += [
            GRINDING,
            Caution(
                "notice",
                "Measure each wall where it is thinnest and again as you go: a chamber ground through, or thin under "
                "a valve seat, is scrap. Stay off the seats, the plug's thread and the sealing face.",
            ),
        ]
    if takes and verdict == "in":
        told.append(Caution("notice", "The chambers differ by no more than they may: nothing has to be ground."))
    short = [one.number for one in found if one.is_short]
    if short:
        told.append(
            Caution(
                "notice",
                f"Cylinder {spoken(short)} cannot be brought to the largest chamber. Even what is left under the "
                "barrels or at the piston, or look for another head.",
            )
        )
    return told
