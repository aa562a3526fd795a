"""How fast a new top end may turn, and until which reading of the odometer."""

from __future__ import annotations

from collections.abc import Sequence

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    FieldError,
    InputErrors,
    Question,
    Source,
    Value,
    Worked,
    count,
    listed,
    magnitude_in,
    measure,
    number_in,
    optional,
    quantity,
    shared,
)
from calculators.bench.card_facts import CardFacts
from calculators.bench.words import word
from calculators.formulas.port_flow import piston_speed
from calculators.formulas.running_in import Ceiling, ceilings
from calculators.running_in.ceilings_shown import ceiling_table, gear_table, stair
from calculators.running_in.distances import distance, end_of_running_in, odometer, odometer_unit, taken

TWO_STROKES = Source("two strokes a turn, by definition", "identity")
_RISES = "First ceiling and rises"

first_ceiling = measure(
    "First ceiling",
    "r/min",
    300,
    20000,
    why="engines of this kind",
    exact=True,
    hint="Worked out from the highest speed, or typed.",
    shared_as="run_in_ceiling",
    said="below {}",
)


class SpeedLimit(Question):
    """Common practice for a rebuilt top end: a share of the highest speed, then even rises to all of it.

    The plan of the maker of engine, rings or camshaft wins over it.
    """

    asks = "How fast may I run the engine, and until when?"
    tells = "Speed limit for running in"
    works_out = ("run_in_ceiling", "run_in_ceilings", "run_in_ceilings_from")

    highest_speed = measure(
        "Highest speed",
        "r/min",
        500,
        20000,
        why="engines of this kind",
        exact=True,
        card=CardFacts.running.highest_speed.path,
        example="4600 r/min",
        shared_as="highest_speed",
        said="highest {}",
    )
    odometer_unit = odometer_unit()
    odometer = odometer()
    stroke = optional(shared.stroke(hint="For the piston's mean speed."))
    gears = optional(
        listed(
            measure(
                "Road speed in each gear",
                "km/h",
                2,
                100,
                why="road vehicles are geared so",
                exact=True,
                hint="At 1000 r/min, lowest gear first: gives ceilings for a dash without a revolution counter.",
                example="6.4 11.8 18.6 27.5",
                shared_as="road_speeds",
                said="gears {}",
            ),
            1,
            6,
            like="6 12 18 27",
        )
    )
    share = measure(
        "Share at first",
        "%",
        30,
        100,
        why="less labours the engine",
        exact=True,
        hint="The first ceiling, of the highest speed.",
        usual="67 %",
        shared_as="run_in_share",
        refines=_RISES,
        said="first {}",
    )
    first = distance(
        "first",
        "Distance to the first rise",
        "The first ceiling holds up to here.",
        10,
        3000,
        refines=_RISES,
        said="first rise after {}",
    )
    end = end_of_running_in(refines=_RISES)
    rises = count(
        "Number of rises",
        2,
        6,
        why="fewer means a jump, more cannot be remembered",
        hint="The last reaches the highest speed.",
        usual="5",
        shared_as="run_in_rises",
        refines=_RISES,
        said="{} rises",
    )
    mark = measure(
        "Mark of the revolution counter",
        "r/min",
        10,
        500,
        why="revolution counters are marked so",
        exact=True,
        hint="Ceilings go down to the next one.",
        usual="50 r/min",
        shared_as="revolution_counter_mark",
        refines=_RISES,
        said="marks of {}",
    )

    def answer(self) -> Answer:
        found = self._ceilings()
        first, unit = found[0], word(self.odometer_unit)
        until, end = self.odometer + (first.until or 0), self.odometer + found[-1].begin
        return Answer(
            headline=f"{first.speed:.0f} r/min until {until} {unit}",
            says=f"Stay below {first.speed:.0f} r/min until the odometer shows {until} {unit}; from {end} {unit} on "
            f"the highest speed, {found[-1].speed:.0f} r/min, is allowed.",
            drawing=stair(found, unit),
            values=self._found_values(found, f"{until} {unit}"),
            tables=(
                ceiling_table(found, self.odometer, self.odometer_unit, self.highest_speed, self.stroke),
                *((gear_table(found, self.odometer, self.odometer_unit, self.gears),) if self.gears else ()),
            ),
            notes=(
                "Never labour the engine: use a low gear and light throttle rather than a high gear and full throttle. "
                "Free "
                "revving, no steady motorway speed, no trailer, no long idling.",
                "The first share, the rises and their distances are common practice, no source.",
                "Plans from the makers of engine, rings, camshaft and oil win over this one.",
            ),
            worked=(
                Worked(name="run_in_ceiling", value=quantity(first.speed, "r/min")),
                Worked(name="run_in_ceilings", value=tuple(quantity(one.speed, "r/min") for one in found)),
                Worked(name="run_in_ceilings_from", value=tuple(one.begin for one in found)),
            ),
        )

    def _ceilings(self) -> tuple[Ceiling, ...]:
        first, end = (
            taken(key, typed, self.odometer_unit) for key, typed in (("first", self.first), ("end", self.end))
        )
        if end <= first:
            message = f"Distance to the last rise must be over {first} {word(self.odometer_unit)}"
            raise InputErrors(FieldError("end", message))
        highest, mark = magnitude_in(self.highest_speed, "r/min"), magnitude_in(self.mark, "r/min")
        found = ceilings(highest, magnitude_in(self.share, "%") / 100, first, end, self.rises, mark)
        if found[0].speed <= 0:
            raise InputErrors(FieldError("mark", "Mark of the revolution counter must be below the first ceiling"))
        return found

    def _found_values(self, found: Sequence[Ceiling], until: str) -> tuple[Value, ...]:
        first = quantity(found[0].speed, "r/min")
        ceiling = Value(
            key="ceiling",
            label=f"Highest speed until odometer {until}",
            quantity=first,
            units=("r/min",),
            formula="share · highest speed, down to the next mark of the revolution counter",
            source=COMMON_PRACTICE,
            given=(("share", self.share), ("highest speed", self.highest_speed), ("mark", self.mark)),
        )
        if self.stroke is None:
            return (ceiling,)
        return (
            ceiling,
            Value(
                key="piston_speed",
                label="Mean piston speed there",
                quantity=quantity(piston_speed(number_in(self.stroke, "mm"), found[0].speed), "m/s"),
                formula="2 · stroke · speed",
                source=TWO_STROKES,
                given=(("stroke", self.stroke), ("speed", first)),
            ),
        )
