"""The cold check after the first run, and the first drive."""

from __future__ import annotations

from collections.abc import Iterator

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Figure,
    Question,
    Stage,
    Step,
    Value,
    Walk,
    count,
    optional,
    printed,
    quantity,
    shared,
)
from calculators.bench.drawing import Drawing
from calculators.running_in.cautions import BRAKES, BURNS, CARBON_MONOXIDE, CRANK, FAN
from calculators.running_in.checks_at import NUTS_WORDS, head_nuts, lash_words
from calculators.running_in.oil_pressure import SWITCH_OFF
from calculators.running_in.speed_limit import first_ceiling

PULLS = 10


class FirstDrive(Question):
    """Common practice for a rebuilt top end; the plan of the engine, ring or camshaft maker wins over it.

    Leave the engine to cool overnight after the first run.
    """

    asks = "What do I check cold, and how do I do the first drive?"
    tells = "Cold check and first drive"
    deed = "Check it cold and drive it for the first time"

    warm = count(
        "Minutes of gentle driving",
        1,
        40,
        why="longer is no warm-up",
        hint="Before the first hard pull; worked out from the first run, or typed.",
        usual="10",
        shared_as="first_drive_minutes",
        said="{} minutes gentle",
    )
    ceiling = optional(first_ceiling())
    nuts = head_nuts()
    inlet_clearance = optional(shared.inlet_clearance())
    exhaust_clearance = optional(shared.exhaust_clearance())

    def answer(self) -> Answer:
        ceiling = "" if self.ceiling is None else printed(self.ceiling, "r/min")
        return Answer(
            headline=f"{self.warm} min gently, {PULLS} pulls" + (f", under {ceiling}" if ceiling else ""),
            record=f"First drive: {_minutes(self.warm)} gently, then {PULLS} pulls"
            + (f", under {ceiling}." if ceiling else "."),
            says=f"Check it stone cold, prove the brakes, drive {_minutes(self.warm)} gently, then pull and release "
            f"{PULLS} times" + (f", never above {ceiling}." if ceiling else "."),
            drawing=_pulls(self.warm, ceiling),
            values=(
                Value(
                    key="warm",
                    label="Gentle driving before the first pull",
                    quantity=quantity(self.warm, "min"),
                    formula="what the first run leaves for the road, else ten minutes",
                    source=COMMON_PRACTICE,
                ),
                Value(
                    key="lash",
                    label="Set cold",
                    quantity=self._lash,
                    formula="the engine maker's clearances",
                    source=COMMON_PRACTICE,
                ),
            ),
            warnings=(CARBON_MONOXIDE, CRANK, FAN, BRAKES, BURNS),
            steps=Walk(
                key="first_drive",
                title="Cold check and first drive",
                stages=(
                    Stage(title="Stone cold, the next day", steps=tuple(self._cold())),
                    Stage(title="The first road run", steps=tuple(self._road(ceiling))),
                ),
            ),
            notes=(
                SWITCH_OFF,
                "Never labour the engine: use a low gear and light throttle rather than a high gear and full throttle.",
                "Plans from the makers of engine, rings, camshaft and oil win over this one.",
            ),
        )

    @property
    def _lash(self) -> str:
        return lash_words(self.inlet_clearance, self.exhaust_clearance)

    def _cold(self) -> Iterator[Step]:
        nuts = NUTS_WORDS[self.nuts]
        yield Step(key="level", label="Oil level", words="Oil level, cold from overnight.", large="Oil level")
        yield Step(
            key="nuts", label="Head nuts", words=f"{nuts[0].upper()}{nuts[1:]}.", large="Head nuts: the maker's sheet"
        )
        yield Step(key="lash", label="Lash", words=f"Set cold, after the nuts: {self._lash}.", large="Lash, cold")
        yield Step(
            key="exhaust_nuts",
            label="Exhaust nuts",
            words="Exhaust and inlet nuts: once round, evenly.",
            large="Exhaust nuts",
        )
        yield Step(
            key="timing",
            label="Timing",
            words="Points gap and timing, then start it, and timing again by light.",
            large="Timing",
        )
        yield Step(
            key="carburettors",
            label="Carburettors",
            words="Warm, last of all: balance the carburettors, set mixture and idle.",
            large="Carburettors",
        )

    def _road(self, ceiling: str) -> Iterator[Step]:
        yield Step(
            key="yard",
            label="Brakes and yard",
            words="Brakes, steering and lamps at walking pace; look under the vehicle from the side.",
            large="Brakes first",
        )
        yield Step(
            key="warm",
            label="Warm it",
            words=f"{_minutes(self.warm)} of light throttle, medium speed: no long idling, no labouring"
            + (f", no more than {ceiling}." if ceiling else "."),
            large=f"Warm it gently, under {ceiling}" if ceiling else "Warm it gently",
            minutes=self.warm,
        )
        yield Step(
            key="pulls",
            label="Load and release",
            words="Ten times: half throttle on a slight rise until the speed has risen by a third, then close it and "
            "let the speed fall. After three pulls, drive gently to cool.",
            large="10 × pull and release",
        )
        yield Step(
            key="stop",
            label="Stop and look",
            words="Off the road: look at both sides, and under the vehicle from the side; then go on.",
            large="Stop and look",
        )
        yield Step(
            key="home",
            label="Cool and home",
            words="Drive the last stretch gently, idle half a minute, switch off. Check oil level, leaks and plugs; "
            "fill in the log.",
            large="Cool it, look, write",
        )


def _minutes(count: int) -> str:
    return "1 minute" if count == 1 else f"{count} minutes"


def _pulls(warm: int, ceiling: str) -> Figure:
    """Draw the engine's speed over the drive: gentle, pulls by threes with easy running between them, gentle home."""
    drawing = Drawing(340, 150)
    foot, easy, high, limit = 104.0, 76.0, 44.0, 26.0
    points = [(10.0, foot), (16.0, easy), (76.0, easy)]
    x = 76.0
    for pull in range(PULLS):
        points += [(x + 10, high), (x + 17, easy)]
        x += 17
        if pull % 3 == 2:
            x += 12
            points.append((x, easy))
    points += [(318.0, easy), (326.0, foot)]
    drawing.line(10, foot, 330, foot, "thin")
    drawing.line(10, limit, 330, limit, "route")
    drawing.path(points, "arrow")
    drawing.text(
        330, limit - 14, f"never above {ceiling}" if ceiling else "never above the first ceiling", anchor="end"
    )
    drawing.text(12, foot + 16, f"{warm} min gently", anchor="start")
    drawing.text(192, foot + 16, f"{PULLS} pulls", "number")
    drawing.text(330, foot + 16, "home", anchor="end")
    drawing.text(170, foot + 36, "engine speed along the drive, not to scale")
    return Figure(
        key="pulls",
        title="The first drive: half throttle up by a third, then released",
        svg=drawing.svg(
            f"Engine speed along the first drive: {warm} minutes gentle, then {PULLS} pulls in threes with gentle "
            f"running between, then home{f'; never above {ceiling}' if ceiling else ''}."
        ),
    )
