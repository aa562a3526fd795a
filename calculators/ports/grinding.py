"""What is ground from each chamber: as a headline, chamber by chamber, and what to beware of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calculators.bench import GEOMETRY, Caution, Column, Quantity, ResultTable, TableRow, magnitude_in, quantity
from calculators.bench.answer import LONGEST_HEADLINE
from calculators.bench.units import figures
from calculators.bench.verdict import best_of
from calculators.bench.words import listed as spoken
from calculators.formulas.decision_rule import Verdict
from calculators.formulas.even_volumes import Evened
from calculators.ports.steps import GRINDING

LEAST_OUT = 0.05
"""Less than this many cm³ is not worth grinding."""


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
        return self.evened.short >= LEAST_OUT

    @property
    def how_far(self) -> str:
        if not self.is_short:
            return "even with the largest"
        return "wall not measured" if self.room is None else "stopped by the wall"


def grinding_table(
    found: Sequence[Chamber], grind_area: Quantity, least_wall: Quantity, swept: Any | None
) -> ResultTable:
    """Return what is taken out of each chamber, and its ratio then; ``swept`` is the swept volume in cm³."""
    area = magnitude_in(grind_area, "cm²")
    return ResultTable(
        key="chambers",
        title="What makes the chambers equal",
        columns=(
            Column(key="cylinder", label="Cylinder"),
            Column(key="found", label="Found", unit="cm³"),
            Column(key="out", label="Take out", unit="cm³", strong=True),
            Column(key="depth", label="Depth", unit="mm"),
            Column(key="then", label="Then", unit="cm³"),
            Column(key="ratio", label="Ratio now", places=2),
            Column(key="ratio_then", label="Ratio then", places=2),
            Column(key="why", label="Limit", wide=True),
        ),
        rows=tuple(
            TableRow(
                cells=(
                    one.number,
                    quantity(one.volume, "cm³"),
                    quantity(one.evened.out, "cm³"),
                    quantity(one.evened.out / area * 10, "mm"),
                    quantity(best_of(one.volume) + one.evened.out, "cm³"),
                    one.ratio,
                    _ratio_then(one, swept),
                    one.how_far,
                ),
                chosen=one.evened.out >= LEAST_OUT,
            )
            for one in found
        ),
        formula="largest chamber less this one, but no more than area to grind · (wall − its error limit − least "
        "wall); ratio then = 1 + swept volume ÷ (swept volume ÷ (ratio now − 1) + what is taken out)",
        source=GEOMETRY,
        given=(("least wall", least_wall), ("area to grind", grind_area)),
    )


def _ratio_then(one: Chamber, swept: Any | None) -> Any:
    """Return the ratio after grinding, None where it is not known now."""
    if one.ratio is None or swept is None:
        return None
    return 1 + swept / (swept / (one.ratio - 1) + one.evened.out)


def headline(out: Sequence[Chamber], count: int) -> str:
    """Return what to take, the most first; of many chambers only the most."""
    if not out:
        return f"Nothing to take from {count} chamber{'' if count == 1 else 's'}"
    whole = " · ".join(f"Cyl {one.number}: {figures(one.evened.out, 1)} cm³" for one in out)
    return (
        whole
        if len(whole) <= LONGEST_HEADLINE
        else f"Up to {figures(out[0].evened.out, 1)} cm³, from {len(out)} chambers"
    )


def cautions(found: Sequence[Chamber], takes: bool, verdict: Verdict | None) -> Iterator[Caution]:
    """Yield what to beware of; ``takes``: something is ground, ``verdict``: on how far they differ."""
    if takes:
        yield from [
            GRINDING,
            Caution(
                "notice",
                "Measure each wall at its thinnest, and again as you go: a head ground through, or thin under a valve "
                "seat, is scrap. Stay off the seats, the plug's thread and the sealing face.",
            ),
        ]
    if takes and verdict == "in":
        yield Caution("notice", "The chambers are within the allowed difference: nothing has to be ground.")
    short = [one.number for one in found if one.is_short]
    if short:
        yield Caution(
            "notice",
            f"Cylinder {spoken(short)} cannot be brought to the largest chamber. Correct the rest with spacers or "
            "at the piston, or find another head.",
        )
