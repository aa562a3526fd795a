"""What to grind from each chamber, so that all are alike, before a wall gets too thin."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from calculators.bench import (
    DECISION,
    GEOMETRY,
    Answer,
    FieldError,
    InputErrors,
    Lacking,
    Question,
    Row,
    Table,
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
)
from calculators.bench.card_facts import CardFacts, card_entry
from calculators.bench.units import figures
from calculators.bench.verdict import best_of, verdict_on
from calculators.bench.words import listed as spoken
from calculators.bench.words import word
from calculators.formulas.cylinder_volume import swept_volume
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.even_volumes import even_volumes, room_to_wall
from calculators.ports.grinding import LEAST_OUT, Chamber, cautions, grinding_table, headline
from calculators.ports.grinding_drawing import chambers_figure

_RATIO = "For the ratio"
_GOOD = "How good the readings are"


class Measured(Row):
    """What was measured of one chamber."""

    chamber = optional(shared.chamber())
    wall = optional(
        length(
            "Wall found",
            0.5,
            50,
            why="no wall of such a head is thicker",
            exact=True,
            hint="At its thinnest, where you would grind. Empty: nothing is taken there.",
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
            hint="To 1. Worked out from the volumes, or typed. Empty: no ratio afterwards.",
            shared_as="ratio",
        )
    )


class Chambers(Question):
    """Every chamber is brought up to the largest and no further; metal is taken evenly over the area stated.

    A plan only: metal once removed is gone, and you must measure the walls.
    """

    asks = "How much do I grind from each chamber to make them equal?"
    tells = "Chambers made equal"

    cylinders = shared.cylinders()
    least_wall = card_entry(
        CardFacts.limits.chamber_wall,
        "Least wall",
        exact=True,
        hint="What must be left: from the engine maker or the head's drawing, never a guess.",
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
    may_differ = optional(shared.may_differ(refines="What is allowed", said="{}"))
    bore = optional(shared.bore(refines=_RATIO))
    stroke = optional(shared.stroke(refines=_RATIO))
    volumes_from = shared.volumes_from()
    burette_error = shared.burette_error()
    burette_read_to = shared.burette_read_to()
    wall_error = shared.error_limit(
        "Error limit of the wall readings",
        "mm",
        5,
        hint="Plus or minus; subtracted from the wall before planning.",
        usual="0.1 mm",
        shared_as="wall_error",
        refines=_GOOD,
        said="walls ± {}",
    )

    def answer(self) -> Answer:
        found = self._found()
        out = sorted(
            (one for one in found if one.evened.out >= LEAST_OUT), key=lambda one: (-one.evened.out, one.number)
        )
        return Answer(
            headline=headline(out, len(found)),
            says=self._says(out, found),
            record=f"The chambers were found {figures(best_of(self._spread(found)[0]), 1)} cm³ apart."
            if len(found) > 1
            else "",
            drawing=chambers_figure(
                tuple((one.number, round(one.evened.out, 3), round(one.evened.short, 3), one.room) for one in found)
            ),
            values=self._spreads(found),
            warnings=tuple(cautions(found, bool(out), self._spread(found)[1])),
            tables=(grinding_table(found, self.grind_area, self.least_wall, self._swept),),
            notes=(
                "A plan only: measure every chamber again after grinding, with plug and valves fitted.",
                "Metal is taken evenly over the area to grind, and no chamber becomes larger than the largest.",
                "Every cubic centimetre taken out lowers the ratio.",
                "The engine maker's figures win over any figure here.",
            ),
        )

    @property
    def _area(self) -> float:
        return magnitude_in(self.grind_area, "cm²")

    @property
    def _swept(self) -> Any | None:
        """The swept volume in cm³, None where bore or stroke is not known."""
        if self.bore is None or self.stroke is None:
            return None
        return swept_volume(number_in(self.bore, "cm"), number_in(self.stroke, "cm"))

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
            return f"They are within the allowed difference; to make them exactly equal, take {amounts}."
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
                formula="largest chamber less smallest; the burette's error cancels",
                source=DECISION,
                given=() if self.may_differ is None else (("allowed difference", self.may_differ),),
            ),
            Value(
                key="spread_then",
                label="Chambers differ afterwards by",
                quantity=quantity(max(one.evened.short for one in found), "cm³"),
                formula="by how much the walls keep the smallest below the largest; a plan: measure again",
                source=GEOMETRY,
            ),
        )
