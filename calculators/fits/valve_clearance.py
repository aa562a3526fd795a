"""The room that is left between a valve and the piston, as the crank turns."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calculators.bench import (
    COMMON_PRACTICE,
    Answer,
    Caution,
    Drawing,
    Entry,
    FieldError,
    Lacking,
    Quantity,
    Question,
    Row,
    Table,
    choice,
    length,
    listed,
    optional,
)
from calculators.bench.verdict import best_of
from calculators.fits import gauges
from calculators.fits.answers import enter, judged, several
from calculators.fits.drawing import dimension, shown
from calculators.fits.fit import Fit, Kind, Part, found
from calculators.fits.verdicts import names_of

CLAY, SPRINGS = "clay", "springs"
READ_BY = {CLAY: "clay, cut and measured", SPRINGS: "checking springs and a dial at the valve"}


def _gaps(label: str, shared_as: str, **facts: Any) -> Entry[tuple[Quantity, ...] | None]:
    reading = length(label, 0, 30, why="valves of such engines", shared_as=shared_as, **facts)
    return optional(listed(reading, 1, 10, like="2.6 2.4 2.7"))


def _least(label: str, usual: str, shared_as: str) -> Entry[Quantity]:
    return length(
        label,
        0.5,
        10,
        why="less is no room, more is never asked for",
        exact=True,
        usual=usual,
        hint="From whoever made cam or pistons; this is usual, common practice, no source.",
        shared_as=shared_as,
        refines=gauges.LIMITS,
        said="",
    )


class Valves(Row):
    """The valves of one cylinder."""

    exhaust_gaps = _gaps(
        "Room between exhaust valve and piston",
        "exhaust_to_piston",
        hint="Clay: its thinnest place. Springs: the dial's reading at each place of the crank. The least counts.",
        example="3.4 2.9 2.8 3.1",
    )
    inlet_gaps = _gaps("Room between inlet valve and piston", "inlet_to_piston", example="3.6 2.7 2.5 2.6")


class ValveClearance(Question):
    """Cold and turned by hand; the limit leaves room for heat, carbon and speed.

    It says nothing of the edge of a valve's head beside its pocket.
    """

    asks = "Does each valve clear its piston?"
    tells = "Room from valve to piston"
    judges = True

    cylinders = gauges.cylinders()
    read_by = choice("Read by", READ_BY, usual=CLAY, shared_as="valve_to_piston_by", said="by {}")
    valves = Table(Valves, each="Cylinder {}", most=12, count="cylinders")
    exhaust_least = _least("Least room at the exhaust valve", "2.5 mm", "exhaust_to_piston_least")
    inlet_least = _least("Least room at the inlet valve", "2 mm", "inlet_to_piston_least")
    calliper_error = gauges.calliper_error()
    dial_error = gauges.dial_error()

    def answer(self) -> Answer:
        fits = list(self._fits())
        if not fits:
            first = enter(Valves.exhaust_gaps, "cylinder 1", 1)
            raise Lacking(FieldError(first.field, f"{first.message}, or any other"))
        tight = [fit for fit in fits if fit.verdict == "out"]
        return judged(
            fits,
            "Valves and pistons",
            shown("A valve over its piston, both cut open, the piston at its top", fits, _sketch, 130),
            told=tight,
            warnings=(_strikes(tight),) if tight else (),
            notes=(NO_LASH, EDGE),
        )

    def _fits(self) -> Iterator[Fit]:
        instrument, limit = ("calliper", self.calliper_error) if self.read_by == CLAY else ("dial", self.dial_error)
        for side, least, rows in (
            ("exhaust", self.exhaust_least, [row.exhaust_gaps for row in self.valves]),
            ("inlet", self.inlet_least, [row.inlet_gaps for row in self.valves]),
        ):
            kind = Kind(
                key="clearance",
                noun="room to the piston",
                formula="least of its readings",
                source=COMMON_PRACTICE,
                low=gauges.in_mm(least),
                limits=(f"{side}_least",),
            )
            for number, readings in enumerate(rows, 1):
                if readings is not None:
                    tightest = min(several(readings, instrument, limit), key=best_of)
                    yield found(kind, Part("valve", number, side), tightest)


NO_LASH = (
    "Measured at no lash. With a running gap the valve opens less while you measure, and the room reads too large by "
    "that gap."
)
EDGE = (
    "The edge of the valve's head wants room too, beside the wall of a pocket or of the bore: at least about 1 mm "
    "(common practice, no source)."
)


def _strikes(tight: list[Fit]) -> Caution:
    return Caution(
        "warning",
        f"{names_of(tight)}: a valve that meets its piston bends, and its head can break off and go through the "
        "piston: under way that can kill. Do not run it. Thicker spacers, or pockets cut by a machinist, then "
        "measure again.",
    )


def _sketch(drawing: Drawing, said: str) -> None:
    head = [(150, 4), (158, 4), (160, 38), (200, 52), (200, 60), (108, 60), (108, 52), (148, 38)]
    drawing.path([(float(x), float(y)) for x, y in head], "spacer", closed=True)
    drawing.path([(60, 88), (250, 88), (250, 124), (60, 124)], "part", closed=True)
    drawing.text(154, 106, "piston")
    drawing.text(100, 34, "valve", anchor="end")
    dimension(drawing, (224, 60), (224, 88), 12)
    drawing.line(200, 60, 236, 60, "thin")
    drawing.text(240, 74, said, "number", anchor="start")
