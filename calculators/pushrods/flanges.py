"""Whether inlet and exhaust flanges still meet their pipes once a head stands elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    DECISION,
    GEOMETRY,
    Answer,
    Caution,
    Column,
    Entry,
    Quantity,
    Question,
    ResultTable,
    Source,
    Table,
    TableRow,
    Value,
    angle,
    length,
    magnitude_in,
    number_in,
    quantity,
)
from calculators.bench.verdict import best_of, verdict_on
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.pushrod_geometry import flange_offset
from calculators.pushrods import moved_heads
from calculators.pushrods.flange_drawing import flange_drawing
from calculators.pushrods.moved_heads import in_words, named

_AGAINST_PLAY = {
    "in": "within the play of its holes",
    "out": "more than its holes allow",
    "too close to call": "too close to the play of its holes to call",
}


def _facing(which: str) -> Entry[Quantity]:
    return angle(
        f"Direction of the {which} flange",
        0,
        180,
        why="half a turn covers every direction",
        exact=True,
        hint="90° if it faces up, down, forwards or back; 0° if it faces away from the crank.",
        usual="90°",
        shared_as=f"{which}_facing",
        said=f"{which} {{}}",
    )


@dataclass(frozen=True, slots=True)
class Slid:
    """One flange of one head: how far it slides along its face and its joint opens, in mm, against the play."""

    which: str
    cylinders: tuple[int, ...]
    along: Any
    opens: Any
    verdict: Verdict


class Flanges(Question):
    """For a head that moves only along its cylinders; pipes stay where they were and do not bend."""

    asks = "Do the flanges still line up with their pipes?"
    tells = "Flanges and pipes in line"

    inlet_facing = _facing("inlet")
    exhaust_facing = _facing("exhaust")
    flange_play = length(
        "Play in the flange holes",
        0,
        10,
        why="holes for studs",
        exact=True,
        hint="How far the loose pipe can be pushed to one side.",
        example="1.5 mm",
        shared_as="flange_play",
        said="play {}",
    )
    heads = moved_heads.heads()
    shifted = Table(moved_heads.Shifted, each="Head {}", most=12, count="heads", refines=moved_heads.THE_HEADS)

    def answer(self) -> Answer:
        found = self._slid()
        worst = max(found, key=lambda one: (_WORSE.index(one.verdict), abs(best_of(one.along)), one.which == "exhaust"))
        along = in_words(abs(best_of(worst.along)))
        started = {"in": "Yes", "out": "No", "too close to call": "Too close to call"}[worst.verdict]
        return Answer(
            headline=f"{started}: {worst.which} {along} aside, play {in_words(self._play)}"
            if abs(best_of(worst.along)) >= 0.005
            else "Yes: none moves sideways",
            says=f"The {worst.which} flange at {named(worst.cylinders)} moves {along} along its face, "
            f"{_AGAINST_PLAY[worst.verdict]}.",
            drawing=flange_drawing(worst.which, best_of(worst.along), best_of(worst.opens), self._play),
            values=tuple(self._numbers(found)),
            warnings=tuple(self._warnings(found)),
            tables=(self._table(found),),
            notes=("A joint pulled into line by its nuts leaks sooner or later: change the pipe, not the flange.",),
        )

    @property
    def _play(self) -> float:
        return magnitude_in(self.flange_play, "mm")

    def _slid(self) -> list[Slid]:
        found = []
        for head, row in zip(self.heads, self.shifted, strict=True):
            for which, facing in (("inlet", self.inlet_facing), ("exhaust", self.exhaust_facing)):
                along, opens = flange_offset(number_in(row.shift, "mm"), magnitude_in(facing, "°"))
                aside = along if best_of(along) >= 0 else -along
                found.append(Slid(which, head, along, opens, verdict_on(aside, high=self._play)))
        return found

    def _numbers(self, found: Sequence[Slid]) -> Iterator[Value]:
        heads = len(self.heads)
        for place, one in enumerate(found):
            row = place // 2 + 1
            facing = self.inlet_facing if one.which == "inlet" else self.exhaust_facing
            yield Value(
                key=f"{one.which}_offset_{row}",
                label=f"{one.which.capitalize()} flange moves along its face, at {named(one.cylinders)}",
                quantity=quantity(one.along, "mm"),
                words=f"{in_words(one.along)}, {_AGAINST_PLAY[one.verdict]}",
                formula="shift × sin(angle between the way it faces and the cylinder's axis)",
                source=Source(f"{GEOMETRY}; {DECISION}"),
                given=(("angle", facing), ("play in the holes", self.flange_play)),
            )
            if abs(best_of(one.opens)) >= 0.005:
                yield Value(
                    key=f"{one.which}_gap_{row}",
                    label=f"{one.which.capitalize()} joint opens, at {named(one.cylinders)}",
                    quantity=quantity(one.opens, "mm"),
                    formula="−shift × cos(angle between the way it faces and the cylinder's axis); a minus presses it",
                    source=GEOMETRY,
                    given=(("angle", facing),),
                )
        if heads == 2:
            shifts = [number_in(row.shift, "mm") for row in self.shifted]
            yield Value(
                key="apart",
                label="The two heads stand further apart by",
                quantity=quantity(shifts[0] + shifts[1], "mm"),
                units=("mm", "in"),
                formula="sum of both shifts: what a pipe across the engine must bridge",
                source=GEOMETRY,
            )

    def _warnings(self, found: Sequence[Slid]) -> Iterator[Caution]:
        exhaust = [one for one in found if one.which == "exhaust" and one.verdict != "in"]
        inlet = [one for one in found if one.which == "inlet" and one.verdict != "in"]
        if exhaust:
            most = in_words(max(abs(best_of(one.along)) for one in exhaust))
            more = "more than its holes allow" if exhaust[0].verdict == "out" else "not sure to be within its holes"
            yield Caution(
                "danger",
                f"The exhaust flange stands {most} beside its pipe, {more}. A joint pulled into line by its nuts "
                "leaks, and exhaust gas in the heater air kills. Have the pipes changed to fit.",
            )
        if inlet:
            yield Caution(
                "notice",
                "The inlet flange is not sure to line up with its pipe. An air leak there makes the mixture lean, "
                "and a "
                "lean mixture burns pistons and valves.",
            )

    def _table(self, found: Sequence[Slid]) -> ResultTable:
        return ResultTable(
            key="flanges",
            title="Flange by flange",
            columns=(
                Column(key="head", label="Head over"),
                Column(key="flange", label="Flange"),
                Column(key="along", label="Moves sideways", unit="mm", strong=True),
                Column(key="opens", label="Joint opens", unit="mm"),
                Column(key="verdict", label="Within the play?"),
            ),
            rows=tuple(
                TableRow(
                    cells=(
                        named(one.cylinders),
                        one.which,
                        quantity(one.along, "mm"),
                        quantity(one.opens, "mm"),
                        one.verdict,
                    ),
                    chosen=one.verdict == "out",
                )
                for one in found
            ),
            formula="aside = shift × sin angle; opens = −shift × cos angle, a minus presses it; against the play of "
            "the holes",
            source=Source(f"{GEOMETRY}; {DECISION}"),
            given=(("play in the holes", self.flange_play),),
        )


_WORSE: tuple[Verdict, ...] = ("in", "too close to call", "out")
