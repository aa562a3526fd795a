"""Depth gauge readings round each piston: their entries, and the planes that lie best through them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from uncertainties import ufloat

from calculators.bench import (
    Caution,
    FieldError,
    Figure,
    InputErrors,
    Row,
    Scatter,
    Source,
    Table,
    expanded,
    listed,
    magnitude_in,
    quantity,
    shared,
    symbol_of,
)
from calculators.bench.entries import Given, length
from calculators.bench.instruments import Expanded, common_error
from calculators.bench.units import printed, with_plus_minus
from calculators.formulas.best_plane import Plane, best_plane
from calculators.formulas.measured_mean import pooled_scatter
from calculators.measuring.deck_drawing import BarrelSeen, deck_map
from calculators.measuring.filling import REPEATS

FOLD = "Gauge and points"
LOWEST, HIGHEST = -10.0, 20.0
"""The deck heights that any question takes, mm."""
OFF_PLANE = 0.05
"""A reading further than this from its barrel's plane should be taken again, mm (common practice, no source)."""
FEW = 10
"""Effective degrees of freedom below which the ± is mostly due to too few readings."""
PLACES = {"mm": 3, "in": 4, "thou": 1}
PLANE = Source(f"least squares, points at equal steps; {REPEATS.name}")
_SCALE = "Reading of the scale"


class Points(Row):
    """What the gauge read round one piston."""

    depth = listed(
        length(
            "Depth readings",
            -10,
            200,
            why="barrels of engines of this kind",
            exact=True,
            hint="From the barrel's top down to the piston; minus where it stands proud.",
            example="0.43 0.46 0.41 0.38; 0.38 0.40 0.39 0.36; 0.45 0.43 0.45 0.47; 0.41 0.43 0.42 0.40",
            shared_as="depths",
            read_by="depth_gauge",
        ),
        3,
        8,
        like="0.42 0.45 0.42 0.39",
    )


def points() -> Table[Points]:
    """Ask for the readings round each piston."""
    return Table(
        Points,
        each="Cylinder {}",
        most=12,
        count="cylinders",
        hint="Piston at top dead centre, barrel clamped down without spacer. Three to eight evenly spaced points round "
        "the crown's edge, the first over the gudgeon pin at the pulley end.",
    )


@dataclass(frozen=True, slots=True)
class Barrel:
    """One barrel, [mm]: its readings less the gauge's zero, their plane, and the deck with all its influences."""

    number: int
    depths: tuple[float, ...]
    plane: Plane
    deck: Any
    judged: Expanded


class Depths(Given):
    """The gauge behind every reading, and what the readings come to."""

    cylinders = shared.cylinders()
    readings = points()
    zero = length(
        "Gauge zero",
        -10,
        200,
        why="gauges and bridges",
        exact=True,
        hint="What the gauge reads with its tip level with the barrel's top; subtracted from every reading.",
        usual="0 mm",
        shared_as="gauge_zero",
        refines=FOLD,
        said="zero {}",
    )
    step = length(
        "Gauge scale step",
        0.0001,
        1,
        why="depth gauges",
        exact=True,
        hint="What one division is worth. It is read to half a division either way.",
        usual="0.01 mm",
        shared_as="depth_step",
        refines=FOLD,
        said="marks of {}",
    )
    gauge_error = shared.depth_error(refines=FOLD)

    @cached_property
    def barrels(self) -> tuple[Barrel, ...]:
        """Every barrel.

        Raises
        ------
        InputErrors
            A deck that no engine has.
        """
        zero, step = magnitude_in(self.zero, "mm"), magnitude_in(self.step, "mm")
        series = [tuple(magnitude_in(depth, "mm") - zero for depth in of.depth) for of in self.readings]
        planes = [best_plane(depths) for depths in series]
        gauge = common_error("depth gauge", magnitude_in(self.gauge_error, "mm"))
        gauge = gauge + ufloat(0.0, step / 2 / math.sqrt(3), "Gauge zero")
        found = []
        for number, (depths, plane) in enumerate(zip(series, planes, strict=True), 1):
            deck = plane.middle + gauge + self.doubt(len(depths))
            found.append(Barrel(number, depths, plane, deck, expanded(deck)))
        errors = [
            FieldError(
                f"depth.{barrel.number}",
                f"Depth readings of cylinder {barrel.number} less the gauge zero must come to a deck height "
                "between −10 mm and 20 mm",
            )
            for barrel in found
            if not LOWEST <= barrel.plane.middle <= HIGHEST
        ]
        if errors:
            raise InputErrors(*errors)
        return tuple(found)

    @cached_property
    def scatter(self) -> tuple[float, Scatter]:
        """The scatter of one reading, mm, and its name with the degrees of freedom."""
        planes = (best_plane([magnitude_in(depth, "mm") for depth in of.depth]) for of in self.readings)
        scatter, degrees = pooled_scatter((plane.residuals for plane in planes), fitted=3)
        return scatter, Scatter("Scatter of the readings", degrees)

    def doubt(self, count: int, share: float = 1.0) -> Any:
        """Return what so many readings leave uncertain of their mean, mm; ``share`` times it of another sum of them."""
        scatter, pool = self.scatter
        share = share / math.sqrt(count)
        found = ufloat(0.0, magnitude_in(self.step, "mm") / math.sqrt(12) * share, _SCALE)
        return found + ufloat(0.0, scatter * share, pool) if scatter else found

    @property
    def symbol(self) -> str:
        """The unit that the readings were typed in."""
        typed = symbol_of(self.readings[0].depth[0])
        return typed if typed in PLACES else "mm"

    def text(self, depth: float) -> str:
        """Return a depth in mm as it is printed."""
        return printed(quantity(depth, "mm"), self.symbol, PLACES[self.symbol])

    def seen(self, stands: Sequence[str]) -> Figure:
        """Draw every piston from above; ``stands`` has a word for each barrel, or empty ones."""
        worth, places = magnitude_in(quantity(1.0, "mm"), self.symbol), PLACES[self.symbol]
        return deck_map(
            tuple(
                BarrelSeen(
                    depths=tuple(depth * worth for depth in barrel.depths),
                    deck=with_plus_minus(barrel.judged.best * worth, barrel.judged.spread * worth, places),
                    rise=barrel.plane.rise * worth,
                    deepest=barrel.plane.deepest,
                    stands=words,
                )
                for barrel, words in zip(self.barrels, stands, strict=True)
            ),
            self.symbol,
            max(1, places - 1),
        )

    def off_plane(self) -> Iterator[Caution]:
        """Yield a caution for each barrel whose readings lie on no plane, and one where none could tell."""
        for barrel in self.barrels:
            farthest = max(abs(residual) for residual in barrel.plane.residuals)
            if farthest > OFF_PLANE + 1e-9:
                yield Caution(
                    "notice",
                    f"Readings of cylinder {barrel.number} do not fit one plane: one is off by {self.text(farthest)}. "
                    "Look for carbon, a burr or a misreading: clean and read again.",
                )
        if not self.scatter[1].degrees:
            yield Caution(
                "notice",
                "Three points always lie on a plane, so a wrong reading does not show. Take four points or more.",
            )
