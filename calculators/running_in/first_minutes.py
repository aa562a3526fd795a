"""The first run minute by minute: what is done and looked at, as spells of a few minutes and as steps to tick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from calculators.bench import Figure, Stage, Step, Walk
from calculators.bench.drawing import Drawing

LOADS = {
    "road": "On the road, after a cold check",
    "rollers": "On rollers or a dynamometer, with its operator",
}
BURSTS, BURST_SECONDS = 4, 15
STANDING = 5
"""Minutes at a fast idle if the load waits for the road."""
_EDGES = (0, 1, 3, *range(5, 60, 5))
_LOOK_WORDS = (
    "Pressure within ten seconds, or switch off. Then: does every cylinder fire?",
    "Fuel: every hose and joint. Oil: covers, tubes, cooler, pipes, underneath.",
    "Timing by light, as soon as it runs evenly. Charge lamp must be out.",
    "Temperature, smoke, noise on both sides, drips below.",
)
RUN_ON = "Once a minute: pressure, temperature, drips, smoke, noise. Write them down."


@dataclass(frozen=True, slots=True)
class Spell:
    """A few minutes of the first run, and what to look at in them."""

    begin: int
    end: int
    loaded: bool
    look: str

    @property
    def minutes(self) -> str:
        return f"{self.begin} to {self.end}"

    @property
    def deed(self) -> str:
        return "Ten seconds light load, twenty off" if self.loaded else "Fast idle, varied a little, no load"


def standing_minutes(minutes: int, load: str, new_cam: bool) -> int:
    """Return how many minutes it is run where it stands; the others are driven.

    Examples
    --------
    >>> standing_minutes(20, "road", False), standing_minutes(20, "road", True), standing_minutes(20, "rollers", False)
    (5, 20, 20)
    """
    return min(minutes, STANDING) if load == "road" and not new_cam else minutes


def spells(minutes: int, load: str, new_cam: bool) -> tuple[Spell, ...]:
    """Return what is run where it stands, in spells of a few minutes that are shorter at the beginning.

    A new cam is held at its fast idle throughout and takes no load.
    """
    end = standing_minutes(minutes, load, new_cam)
    edges = [*(edge for edge in _EDGES if edge < end), end]
    from_load = edges[min(2, len(edges) - 1)]
    return tuple(
        Spell(
            begin,
            until,
            begin >= from_load and not new_cam and load != "road",
            _LOOK_WORDS[number] if number < len(_LOOK_WORDS) else RUN_ON,
        )
        for number, (begin, until) in enumerate(pairwise(edges))
    )


def first_walk(found: Sequence[Spell], speed: str, limits: str) -> Walk:
    """Return every deed from the first turn to the look round the cooling engine, as steps to tick.

    Parameters
    ----------
    found : sequence of Spell
    speed : str
        The fast idle, in words.
    limits : str
        The least oil pressure and the highest temperature, as a sentence; empty where neither is known.
    """
    return Walk(
        key="first_run",
        title="The first run",
        stages=(
            Stage(title="Oil pressure on the starter, plugs out", steps=tuple(_before_the_spark())),
            Stage(title="Ready to start", steps=tuple(_ready(speed))),
            Stage(
                title="The first run",
                steps=tuple(
                    Step(
                        key=f"minute_{spell.end}",
                        label=f"To minute {spell.end}",
                        words=" ".join(filter(None, (f"{spell.deed}, {speed}.", limits, spell.look))),
                        large=f"To minute {spell.end}",
                        minutes=spell.end - spell.begin,
                    )
                    for spell in found
                ),
            ),
            Stage(title="Shut down and look", steps=tuple(_shut_down())),
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
            words=f"Spin it for {BURST_SECONDS} seconds at most and watch the gauge; then rest the starter for a "
            "minute." + (" Still nothing on the gauge: do not start, find out why." if burst == BURSTS else ""),
            large=f"Spin {BURST_SECONDS} s, rest 1 min",
            minutes=1,
        )
    yield Step(
        key="wet",
        label="Rockers wet",
        words="Key out. Check that every rocker on both sides is wet, and that a white cloth stays clean on every "
        "joint.",
        large="Rockers wet, joints dry",
    )
    yield Step(
        key="close",
        label="Close up",
        words="Key out. Oil level again, covers on, tools off, plugs in, leads in the firing order, coil lead on.",
        large="Level, plugs, leads",
    )


def _ready(speed: str) -> Iterator[Step]:
    yield Step(
        key="exhaust",
        label="Exhaust outside",
        words="Exhaust led into the open, doors wide open, extinguisher in the second person's hands.",
        large="Exhaust outside",
    )
    yield Step(
        key="stop_sign",
        label="The stop",
        words="Agree who switches off and at what sign: ignition first, then fuel.",
        large="Agree the stop",
    )
    yield Step(
        key="odometer",
        label="Odometer",
        words="Write down the date and what the odometer shows: every distance counts from here.",
        large="Write down the odometer",
    )
    yield Step(
        key="start",
        label="Start",
        words=f"Start it and look at the gauge: pressure within ten seconds, or switch off. Then {speed}.",
        large="Start: gauge first",
    )


def _shut_down() -> Iterator[Step]:
    yield Step(key="calm", label="Idle", words="Half a minute at idle.", large="Idle 30 s", minutes=0.5)
    yield Step(key="off", label="Off", words="Switch off. Write down hours and readings.", large="Switch off")
    yield Step(
        key="look",
        label="Look",
        words="Go round every joint with lamp and white cloth while it cools; keep hands off heads, exhaust and oil.",
        large="Look for leaks",
    )
    yield Step(
        key="plugs",
        label="Plugs",
        words="When cool, read the plugs: all should look the same, dry, neither white nor sooty.",
        large="Read the plugs",
    )


def minutes_strip(found: Sequence[Spell], minutes: int, speed: str) -> Figure:
    """Draw the first run as a strip, each spell as wide as the next whatever its minutes.

    Parameters
    ----------
    found : sequence of Spell
    minutes : int
        Of the whole first run; what is left of them after the last spell is driven.
    speed : str
        The fast idle, in words.
    """
    driven = minutes > found[-1].end
    looks = ["loaded" if spell.loaded else "part" for spell in found] + (["band"] if driven else [])
    edges = [0, *(spell.end for spell in found), *([minutes] if driven else [])]
    left, right, top, high = 14.0, 326.0, 12.0, 46.0
    width = (right - left) / len(looks)
    drawing = Drawing(340, 128 + 21 * (len(set(looks)) - 1))
    for place, look in enumerate(looks):
        _spell(drawing, left + place * width, top, width, high, look)
    for place, minute in enumerate(edges):
        x = left + place * width
        drawing.line(x, top + high, x, top + high + 6, "edge")
        drawing.text(x, top + high + 16, f"{minute}", "number")
    drawing.text(170, top + high + 36, "minutes after the start")
    told = {
        "part": f"{speed}, no load",
        "loaded": f"{speed}, load and release",
        "band": "on the road, after the cold check",
    }
    for row, look in enumerate(dict.fromkeys(looks)):
        y = top + high + 57 + 21 * row
        _spell(drawing, 14, y - 7, 22, 14, look)
        drawing.text(44, y, told[look], anchor="start")
    spoken = "; ".join(f"minute {spell.minutes} {told['loaded' if spell.loaded else 'part']}" for spell in found)
    road = f"; minute {found[-1].end} to {minutes} {told['band']}" if driven else ""
    return Figure(
        key="minutes",
        title="The first run (spells not to scale)",
        svg=drawing.svg(f"The first run by the minute: {spoken}{road}."),
    )


def _spell(drawing: Drawing, x: float, y: float, width: float, height: float, look: str) -> None:
    """Draw one spell of the run: under load it is hatched."""
    if look == "loaded":
        drawing.cut_box(x, y, width, height)
    else:
        drawing.rectangle(x, y, width, height, look)
