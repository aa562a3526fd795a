"""One joint and its clock: from the first bead to the last bolt, to the load, to the oil."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Clock,
    Question,
    Value,
    count,
    magnitude_in,
    optional,
    quantity,
)
from calculators.bench.units import figures, plain
from calculators.sealing import climate, sheet_times
from calculators.sealing.cautions import NOTES, UNCURED, VAPOUR
from calculators.sealing.clock_drawing import Stretch, one_joint
from calculators.sealing.joint_plan import clock


@dataclass(frozen=True, slots=True)
class Wait:
    """One time of the sheet as it is here, in minutes; ``ends`` says when it is over: a wait, or a moment."""

    key: str
    label: str
    until: str
    sheet: Any
    factor: float
    here: float
    ends: str


class Closing(Question):
    """Uses the times on the product's sheet; does not know whether a sealer suits the joint, the oil or the fuel.

    Load and oil times count from the last moment at which the joint may be closed.
    """

    asks = "How long have I to close this joint, and when may I load it?"
    tells = "Time to close the joint"

    open_time = optional(
        sheet_times.open_time(
            hint="First bead to last bolt, from the product's sheet. Empty: none given.", example="10 min"
        )
    )
    setting = optional(
        sheet_times.setting(hint="Until you may load the joint: build another on it, tighten nuts.", example="60 min")
    )
    cure = sheet_times.cure(hint="From the last bolt; 0 if the sheet gives none. Overnight is 12 h.", example="24 h")
    shop_temperature = climate.shop_temperature()
    hour = optional(
        count(
            "Hour of the first bead",
            0,
            23,
            why="a day has 24 hours",
            hint="On the 24-hour clock. Empty: the answer gives waits, not clock times.",
            example="9",
            said="first bead at {} h",
        )
    )
    minute = count("Minutes past that hour", 0, 59, why="an hour has 60 minutes", usual="0", said="{} min past")
    sheet_temperature = climate.sheet_temperature()
    doubling = climate.doubling()

    def answer(self) -> Answer:
        here = climate.climate_of(self.shop_temperature, self.sheet_temperature, self.doubling)
        waits = {wait.key: wait for wait in self._waits(here)}
        shut, load, oil = waits.get("open"), waits.get("setting"), waits["cure"]
        told = [
            f"Close the joint {shut.ends}{' of the first bead' if self.hour is None else ''}." if shut else "",
            f"It may be loaded {_after_the_bolt(load.ends)}." if load else "",
            f"Oil may touch it {_after_the_bolt(oil.ends)}.",
        ]
        return Answer(
            headline=f"Shut {shut.ends} · oil {oil.ends}" if shut else f"Oil {oil.ends}",
            says=" ".join(filter(None, told)),
            record=" ".join(filter(None, (f"Joint to be closed {shut.ends}." if shut else "", *told[1:]))),
            drawing=one_joint(
                "first bead" if self.hour is None else f"first bead {clock(self._begin)[-5:]}",
                [
                    Stretch(_DRAWN[wait.key], _drawn_end(wait), wait.key == "open")
                    for wait in sorted(waits.values(), key=lambda wait: (wait.key != "open", wait.here))
                    if wait.here
                ],
            ),
            values=(*(value for wait in waits.values() for value in self._told(wait)), *here.values()),
            clocks=tuple(_clock_of(wait) for wait in waits.values() if wait.here),
            warnings=(VAPOUR, UNCURED, *here.warnings(shut is not None)),
            notes=NOTES,
        )

    @property
    def _begin(self) -> float:
        return 60.0 * (self.hour or 0) + self.minute

    def _waits(self, here: climate.Climate) -> Iterator[Wait]:
        """Yield what the sheet names; a deadline is never said later than it is, a wait never shorter."""
        shut = self._begin
        if self.open_time is not None:
            minutes = here.shorter * magnitude_in(self.open_time, "min")
            shut += minutes
            ends = (
                f"within {_tenths(minutes, math.floor)} min" if self.hour is None else f"by {_clock(shut, math.floor)}"
            )
            yield Wait("open", "Open time", "last bolt by", self.open_time, here.shorter, minutes, ends)
        for key, label, until, sheet in (
            ("setting", "Setting time", "load from", self.setting),
            ("cure", "Cure", "oil from", self.cure),
        ):
            if sheet is None:
                continue
            minutes = here.longer * magnitude_in(sheet, "min")
            after = f"after {_wait(minutes)}"
            ends = (
                "at once"
                if not minutes
                else after
                if self.hour is None
                else f"from {_clock(shut + minutes, math.ceil)}"
            )
            yield Wait(key, label, until, sheet, here.longer, minutes, ends)

    def _told(self, wait: Wait) -> Iterator[Value]:
        yield Value(
            key=f"{wait.key}_here",
            label=f"{wait.label} here",
            quantity=quantity(wait.here, "min"),
            units={"open": ("min",), "setting": ("min", "h"), "cure": ("h", "d")}[wait.key],
            formula="time of the sheet × "
            + ("the share left by the warmth" if wait.key == "open" else "how much longer the cold makes it"),
            source=COMMON_PRACTICE,
            given=(("of the sheet", wait.sheet), ("factor", figures(wait.factor, 2))),
        )
        yield Value(
            key=wait.key,
            label=wait.until[0].upper() + wait.until[1:] if self.hour is not None else f"{wait.label} is over",
            quantity=wait.ends.removeprefix("by ").removeprefix("from "),
            formula="last bolt: first bead + open time here; load and oil: last bolt + setting or cure here",
            source=COMMON_PRACTICE,
            given=(("first bead", "not given" if self.hour is None else clock(self._begin)),),
        )


def _clock_of(wait: Wait) -> Clock:
    """Return the clock of a time: the open time from the first bead, the others from the last bolt."""
    if wait.key == "open":
        minutes = math.floor(round(wait.here, 6) * 10) / 10
        return Clock(
            waits_for="Shut the joint, last bolt",
            starts=f"First bead now: {plain(minutes)} min to shut the joint",
            minutes=minutes,
        )
    waits_for, what = {
        "setting": ("The joint may be loaded", "the wait for load"),
        "cure": ("Oil may meet the joint", "the cure"),
    }[wait.key]
    return Clock(
        waits_for=waits_for,
        starts=f"Sealed now, last bolt: start {what}, {_wait(wait.here)}",
        minutes=math.ceil(round(wait.here, 6)),
    )


def _after_the_bolt(ends: str) -> str:
    how, _, wait = ends.partition(" ")
    return f"{wait} after the last bolt" if how == "after" else ends


def _drawn_end(wait: Wait) -> tuple[str, str]:
    """Say when a stretch ends: what ends, and below it the wait or the moment."""
    how, _, moment = wait.ends.partition(" ")
    return f"{_ENDS[wait.key]} {how}", moment


_ENDS = {"open": "last bolt", "setting": "load", "cure": "oil"}
_DRAWN = {"open": "shut it", "setting": "no load", "cure": "no oil"}
_LONG = 120.0
"""Minutes from which a wait is said in hours."""


def _wait(minutes: float) -> str:
    if minutes < _LONG:
        return f"{math.ceil(round(minutes, 6))} min"
    return f"{_tenths(minutes / 60, math.ceil)} h"


def _tenths(number: float, rounded: Any) -> str:
    return plain(rounded(round(10 * number, 6)) / 10)


def _clock(moment: float, rounded: Any) -> str:
    return clock(rounded(round(moment, 6))).removeprefix("day 1, ")
