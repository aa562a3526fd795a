"""From the first turn on the starter to the road: minute by minute, and as steps to tick."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from calculators._report import Stage, Step, Walk
from calculators._run_in.schedule import Plan, day_words
from calculators._words import word

LOADS = {
    "road": "On the road, after a cold check",
    "rollers": "On rollers or a dynamometer, with its operator",
}
BURSTS, BURST_SECONDS = 4, 15
_STANDING = 5  # minutes at a fast idle where the load waits for the road
_WARMING = 10  # minutes of light throttle before the first pull
_LOOKS = (
    "Pressure within ten seconds, or switch off. Then: does every cylinder fire?",
    "Fuel: every hose and joint. Oil: covers, tubes, cooler, pipes, below.",
    "Timing by light, as soon as it runs evenly. Charge lamp out.",
    "Temperature, smoke, noise on both sides, drips below.",
)
_RUN_ON = "Once a minute: pressure, temperature, drips, smoke, noise. Write them down."


@dataclass(frozen=True, slots=True)
class Run:
    """How the engine is first run: the fast idle in r/min, oil's least pressure and highest temperature in words."""

    minutes: int
    load: str
    new_cam: bool
    idle: tuple[float, float]
    pressure: str
    temperature: str | None

    @property
    def hottest(self) -> str:
        return f", oil below {self.temperature}" if self.temperature else ""

    @property
    def speed(self) -> str:
        return f"{self.idle[0]:.0f} to {self.idle[1]:.0f} r/min"


@dataclass(frozen=True, slots=True)
class Spell:
    """A few minutes of the first run, and what to do and look at in them."""

    begin: int
    end: int
    deed: str
    look: str
    on_road: bool = False

    @property
    def minutes(self) -> str:
        return f"{self.begin} to {self.end}"


def spells(run: Run) -> tuple[Spell, ...]:
    """Return the first run in spells of a few minutes, shorter at its beginning.

    A new cam is held at its fast idle throughout and takes no load; where the road is to
    give the load, the engine stands for five minutes only and is driven for the others.
    """
    end = run.minutes if run.new_cam or run.load != "road" else min(run.minutes, _STANDING)
    edges = [*(edge for edge in (0, 1, 3, *range(5, 60, 5)) if edge < end), end]
    found = []
    for number, (begin, until) in enumerate(pairwise(edges)):
        loaded = begin >= edges[min(2, len(edges) - 1)] and not run.new_cam and run.load != "road"
        found.append(
            Spell(
                begin,
                until,
                "Ten seconds light load, twenty off" if loaded else "Fast idle, varied a little, no load",
                _LOOKS[number] if number < len(_LOOKS) else _RUN_ON,
            )
        )
    if end < run.minutes:
        found.append(
            Spell(end, run.minutes, "On the road after the cold check: light throttle, medium speed", _RUN_ON, True)
        )
    return tuple(found)


def run_in_walk(plan: Plan, run: Run) -> Walk:
    """Return every deed from the first turn to the last check as steps to tick, with a clock where time counts."""
    return Walk(
        key="run_in",
        title="From the first turn to handover",
        stages=(
            Stage(title="Oil pressure on the starter, plugs out", steps=tuple(_before_the_spark())),
            Stage(title="Ready to start", steps=tuple(_ready(plan, run))),
            Stage(title="The first run", steps=tuple(_first_run(run))),
            Stage(title="Shut down and look", steps=tuple(_shut_down())),
            Stage(title="Stone cold, the next day", steps=tuple(_cold(plan))),
            Stage(title="The first road run", steps=tuple(_road(plan, run))),
            Stage(title="By the odometer", steps=tuple(_later(plan))),
        ),
    )


def _before_the_spark() -> Iterator[Step]:
    yield Step(
        key="safe",
        label="No spark, no fuel",
        words="Plugs out, low-voltage lead off the coil, plug leads capped, fuel off, neutral, brake on, guard on.",
        large="No spark, no fuel",
    )
    yield Step(key="oil", label="Oil", words="Oil at the upper mark, gauge fitted.", large="Oil at the mark")
    for burst in range(1, BURSTS + 1):
        yield Step(
            key=f"burst_{burst}",
            label=f"Burst {burst}",
            words=f"Spin it for {BURST_SECONDS} seconds at the most and watch the gauge; then rest the starter for a "
            "minute." + (" Still nothing on the gauge: do not start, find out why." if burst == BURSTS else ""),
            large=f"Spin {BURST_SECONDS} s, rest 1 min",
            minutes=1,
        )
    yield Step(
        key="wet",
        label="Rockers wet",
        words="Key out. Every rocker is wet on both sides, and every joint dry to a white cloth.",
        large="Rockers wet, joints dry",
    )
    yield Step(
        key="close",
        label="Close up",
        words="Key out. Oil level again, covers on, tools off, plugs in, leads in the firing order, coil lead on.",
        large="Level, plugs, leads",
    )


def _ready(plan: Plan, run: Run) -> Iterator[Step]:
    yield Step(
        key="exhaust",
        label="Exhaust outside",
        words="Exhaust led into the open, doors wide open, extinguisher in the second person's hands.",
        large="Exhaust outside",
    )
    yield Step(
        key="stop_sign",
        label="The stop",
        words="Agree who switches off and by what sign: switch first, then fuel.",
        large="Agree the stop",
    )
    yield Step(
        key="odometer",
        label="Odometer",
        words=f"Odometer {plan.odometer} {word(plan.unit)} on {day_words(plan.start)}: write down what it "
        "really shows.",
        large=f"{plan.odometer} {word(plan.unit)}",
    )
    yield Step(
        key="start",
        label="Start",
        words=f"Start it and look at the gauge: pressure within ten seconds, or switch off. Then {run.speed}.",
        large="Start: gauge first",
    )


def _first_run(run: Run) -> Iterator[Step]:
    for spell in (spell for spell in spells(run) if not spell.on_road):
        limits = f"At least {run.pressure}{run.hottest}. "
        yield Step(
            key=f"minute_{spell.end}",
            label=f"To minute {spell.end}",
            words=f"{spell.deed}, {run.speed}. {limits}{spell.look}",
            large=f"To minute {spell.end}",
            minutes=spell.end - spell.begin,
        )


def _shut_down() -> Iterator[Step]:
    yield Step(key="calm", label="Idle", words="Half a minute at idle.", large="Idle 30 s", minutes=0.5)
    yield Step(key="off", label="Off", words="Switch off. Write down hours and readings.", large="Switch off")
    yield Step(
        key="look",
        label="Look",
        words="Lamp and white cloth round every joint while it cools; hands off heads, exhaust and oil.",
        large="Look for leaks",
    )
    yield Step(
        key="plugs",
        label="Plugs",
        words="When cool, read the plugs: all alike, dry, neither white nor sooty.",
        large="Read the plugs",
    )


def _cold(plan: Plan) -> Iterator[Step]:
    yield Step(key="level", label="Oil level", words="Oil level, overnight cold.", large="Oil level")
    yield Step(key="nuts", label="Head nuts", words=f"{_sentence(plan.nuts)}", large="Head nuts: the maker's sheet")
    yield Step(key="lash", label="Lash", words=f"Set cold, after the nuts: {plan.lash}.", large="Lash, cold")
    yield Step(
        key="exhaust_nuts", label="Exhaust nuts", words="Exhaust and inlet nuts, evenly, once.", large="Exhaust nuts"
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
        words="Warm: carburettors levelled, mixture and idle set, last of all.",
        large="Carburettors",
    )


def _road(plan: Plan, run: Run) -> Iterator[Step]:
    ceiling = f"{plan.ceilings[0].speed:.0f} r/min"
    warm = next((spell.end - spell.begin for spell in spells(run) if spell.on_road), _WARMING)
    yield Step(
        key="yard",
        label="Brakes and yard",
        words="Brakes, steering and lamps at walking pace; look under it from the side.",
        large="Brakes first",
    )
    yield Step(
        key="warm",
        label="Warm it",
        words=f"{warm} minutes of light throttle, medium speed: no long idling, no labouring, no more than {ceiling}.",
        large=f"Warm it gently, under {ceiling}",
        minutes=warm,
    )
    yield Step(
        key="pulls",
        label="Load and release",
        words="Ten times: half throttle on a slight rise until the speed has grown by a third, then close it and let "
        "the speed run down. Three pulls, then easy running to cool.",
        large="10 × pull and release",
    )
    yield Step(
        key="stop",
        label="Stop and look",
        words="Off the carriageway: look at both sides, and under it from the side; then go on.",
        large="Stop and look",
    )
    yield Step(
        key="home",
        label="Cool and home",
        words="The last stretch easy, half a minute at idle, off. Oil level, leaks, plugs, the log.",
        large="Cool it, look, write",
    )


def _later(plan: Plan) -> Iterator[Step]:
    for due in plan.dues:
        if due.distance:
            reading = plan.reading(due.distance)
            yield Step(
                key=f"due_{due.key}",
                label=f"{due.label}, {reading}",
                words=f"{due.label} at odometer {reading}, about {day_words(due.day)}: {due.deed}",
                large=f"{due.label} · {reading}",
            )
    yield Step(
        key="handover",
        label="Handover",
        words="Card on the dash, dates in both diaries, readings on the job sheet, old parts handed over.",
        large="Hand it over",
    )


def _sentence(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}."
